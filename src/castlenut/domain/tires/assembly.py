"""A tire on its wheel, where it stands, and what each axle of a car takes."""

from collections.abc import Callable
from enum import Enum
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Spot
from castlenut.domain.tires.axle import Axle, Side, axle_of, beside
from castlenut.domain.tires.reasons import Code
from castlenut.domain.tires.size import Construction, Size
from castlenut.domain.vehicle import Drive

LEAST_TREAD_MM = 1.6  # 2/32 in
GREATEST_DIFFERENCE_MM = 2.4  # 3/32 in, the trade's figure (4.30)
SLACK_MM = 1e-6
"""Depths and their differences are compared with this slack: 8.4 - 6.0 is over 2.4 in binary."""


class Tread(Enum):
    """The pattern of the tread."""

    SYMMETRIC = "symmetric"
    ASYMMETRIC = "asymmetric"
    DIRECTIONAL = "directional"


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """A tire on its wheel. What is not known is None.

    `turns` is the side on which its arrow points forward as mounted. `is_studded` is for a studded
    tire, or a run-in winter tire that keeps its direction. `age_years` counts from manufacture.
    Of the grooves measured the thinnest counts; none is not measured.
    """

    id: str
    at: Spot
    size: Size | None = None
    construction: Construction | None = None
    rim_width_in: float | None = None
    rim_diameter_in: float | None = None
    offset_mm: float | None = None
    tread: Tread | None = None
    turns: Side | None = None
    load_index: int | None = None
    speed_symbol: str | None = None
    is_marked_temporary: bool = False
    is_studded: bool = False
    age_years: float | None = None
    depths_mm: tuple[float, ...] = ()

    @property
    def is_temporary(self) -> bool:
        """Tell whether it is a temporary spare, by its size or by its mark."""
        return self.is_marked_temporary or (self.size is not None and self.size.is_temporary)

    @property
    def thinnest_mm(self) -> float | None:
        """Give the depth of the thinnest groove."""
        return min(self.depths_mm) if self.depths_mm else None


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleNeeds:
    """What is stated for an axle: None is not stated. Loads and speeds are of one tire."""

    size: Size | None = None
    construction: Construction | None = None
    rim_width_in: float | None = None
    rim_diameter_in: float | None = None
    offset_mm: float | None = None
    need_kg: float | None = None
    need_kmh: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CarWheels:
    """All wheels of a car, each at a place of its own, and what decides about their moves.

    `max_age_years` is the greatest age of a spare that joins; None is not asked. `front_limit_mm`
    is the limit of tread on the front axle where it is another (1.12); None is the same.
    """

    assemblies: tuple[Assembly, ...]
    drive: Drive
    limit_mm: float = LEAST_TREAD_MM
    front_limit_mm: float | None = None
    max_difference_mm: float = GREATEST_DIFFERENCE_MM
    max_age_years: float | None = None
    front: AxleNeeds = AxleNeeds()
    rear: AxleNeeds = AxleNeeds()

    def at(self, spot: Spot) -> Assembly | None:
        """Give what stands at a place."""
        return next((each for each in self.assemblies if each.at is spot), None)

    def on(self, axle: Axle) -> tuple[Assembly, ...]:
        """Give what stands on an axle now."""
        return tuple(each for each in self.road if axle_of(each.at) is axle)

    @property
    def road(self) -> tuple[Assembly, ...]:
        """Give what stands on the road."""
        return tuple(each for each in self.assemblies if each.at is not Spot.SP)

    @property
    def has_duals(self) -> bool:
        """Tell whether the rear wheels stand in pairs."""
        return any(beside(each.at) for each in self.assemblies)

    def limit_on(self, axle: Axle) -> float:
        """Give the least tread on an axle."""
        if axle is Axle.FRONT and self.front_limit_mm is not None:
            return self.front_limit_mm
        return self.limit_mm

    def needs(self, axle: Axle) -> AxleNeeds:
        """Give what is stated for an axle."""
        return self.front if axle is Axle.FRONT else self.rear


Trait: TypeAlias = str | float | None
"""A figure by which a wheel fits an axle or does not; None is not known."""


def size_key(of: Assembly | AxleNeeds) -> Trait:
    """Give the size as it is compared."""
    return None if of.size is None else of.size.key


def _construction(of: Assembly | AxleNeeds) -> Trait:
    return None if of.construction is None else of.construction.value


TRAITS: tuple[tuple[Code, Callable[[Assembly | AxleNeeds], Trait]], ...] = (
    (Code.SIZE, size_key),
    (Code.CONSTRUCTION, _construction),
    (Code.RIM_WIDTH, lambda of: of.rim_width_in),
    (Code.RIM_DIAMETER, lambda of: of.rim_diameter_in),
    (Code.OFFSET, lambda of: of.offset_mm),
)
"""What must be the same to go on an axle, size and construction first."""
