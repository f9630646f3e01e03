"""What does not fit about the tires and wheels on record, and should be looked at."""

from typing import TypeAlias

from castlenut.domain.errors import Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot
from castlenut.domain.tires.axle import Axle
from castlenut.domain.tires.size import Construction


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoAtOnePlace:
    """Several tires, or several wheels, stand at one place; the one put there last is shown."""

    spot: Spot
    kind: str
    records: tuple[RecordId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WheelWithoutTire:
    """A wheel stands at a place without a tire on it."""

    spot: Spot
    wheel: RecordId


@dataclass(frozen=True, slots=True, kw_only=True)
class TireWithoutWheel:
    """Of the wheel that a tire stands on nothing is recorded."""

    spot: Spot
    tire: RecordId


@dataclass(frozen=True, slots=True, kw_only=True)
class NoSuchPlace:
    """Something stands at a place that the car does not have."""

    spot: Spot
    kind: str
    record: RecordId


@dataclass(frozen=True, slots=True, kw_only=True)
class NotRead:
    """A size or service description that cannot be read, and why."""

    spot: Spot
    tire: RecordId
    fault: Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureNotRead:
    """The car's own figure of what an axle takes is in words that mean nothing, and why."""

    axle: Axle
    fault: Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherConstruction:
    """The construction recorded is not the one that the size is marked with."""

    spot: Spot
    recorded: Construction
    marked: Construction


@dataclass(frozen=True, slots=True, kw_only=True)
class DriveNotKnown:
    """Which wheels are driven is not recorded: judged as all-wheel drive, the strictest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeeperThanNew:
    """A tire measured deeper than it was when new."""

    spot: Spot
    tire: RecordId
    depth_mm: float
    new_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TreadGrew:
    """A tire measured deeper than the time before."""

    spot: Spot
    tire: RecordId
    by_mm: float


Amiss: TypeAlias = (
    TwoAtOnePlace
    | WheelWithoutTire
    | TireWithoutWheel
    | NoSuchPlace
    | NotRead
    | FigureNotRead
    | OtherConstruction
    | DriveNotKnown
    | DeeperThanNew
    | TreadGrew
)
