"""Room round a wheel: how a tire's edges move with width, offset and spacer, and what is left."""

from collections.abc import Iterator, Sequence
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.geometry import diameter_mm
from castlenut.domain.tires.rim import rim_range, section_width_mm
from castlenut.domain.tires.size import Size, read_size

LEAST_LEFT_MM = 3.0
"""Less room than this is said."""

_NEAR_DIAMETER = 0.03
_WIDTHS_MM = range(135, 336, 10)
_ASPECTS = range(30, 86, 5)


class When(Enum):
    """How the wheel stood when a gap was measured."""

    STRAIGHT = "straight"
    FULL_LOCK = "full lock"
    BUMP = "bump"
    DROOP = "droop"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gaps:
    """Measured room at one place. `outer_mm` None is not measured."""

    inner_mm: float
    outer_mm: float | None
    when: When


@dataclass(frozen=True, slots=True, kw_only=True)
class Stance:
    """How a tire stands: its section width on its rim, the wheel's offset, a spacer under it."""

    section_width_mm: float
    offset_mm: float
    spacer_mm: float = 0.0

    @property
    def inner_edge_mm(self) -> float:
        """Give how far the tire reaches inward of the hub face."""
        return self.section_width_mm / 2 + self.offset_mm - self.spacer_mm

    @property
    def outer_edge_mm(self) -> float:
        """Give how far the tire reaches outward of the hub face."""
        return self.section_width_mm / 2 - self.offset_mm + self.spacer_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeChange:
    """How much nearer the edges of a tire come, inside and outside; below 0 is farther away."""

    inner_mm: float
    outer_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomLeft:
    """What is left of measured room. `is_full_lock` tells whether it was taken at full lock."""

    inner_mm: float
    outer_mm: float | None
    is_full_lock: bool

    @property
    def is_tight(self) -> bool:
        """Tell whether less than 3 mm are left on a side."""
        sides = (self.inner_mm,) if self.outer_mm is None else (self.inner_mm, self.outer_mm)
        return min(sides) < LEAST_LEFT_MM


def edge_change(now: Stance, then: Stance) -> EdgeChange:
    """Give how the edges of the tire move when another is fitted."""
    return EdgeChange(
        inner_mm=then.inner_edge_mm - now.inner_edge_mm,
        outer_mm=then.outer_edge_mm - now.outer_edge_mm,
    )


def room_left(gaps: Gaps, change: EdgeChange) -> RoomLeft:
    """Give the measured gaps less the change."""
    return RoomLeft(
        inner_mm=gaps.inner_mm - change.inner_mm,
        outer_mm=None if gaps.outer_mm is None else gaps.outer_mm - change.outer_mm,
        is_full_lock=gaps.when is When.FULL_LOCK,
    )


def widest(
    now: Size, *, rim_width_in: float, places: Sequence[tuple[Stance, Gaps]]
) -> tuple[Size, ...]:
    """Give the sizes that would fit all round on these rims, the widest first.

    Those within 3 % of the diameter that keep 3 mm of the room measured at every place, and whose
    rim range holds the rim. A size for which no range is known is left out. Empty where the
    diameter of the present size is not known.
    """
    across = diameter_mm(now)
    if across is None:
        return ()
    found = [
        size
        for size in _near(now, across)
        if _keeps_room(size, rim_width_in=rim_width_in, places=places)
    ]
    return tuple(sorted(found, key=lambda size: (-(size.width_mm or 0.0), abs(_off(size, across)))))


def _near(now: Size, across: float) -> Iterator[Size]:
    for width in _WIDTHS_MM:
        for aspect in _ASPECTS:
            size = read_size(f"{width}/{aspect}R{now.rim_in:g}")
            if abs(_off(size, across)) <= _NEAR_DIAMETER * across:
                yield size


def _off(size: Size, across: float) -> float:
    return (diameter_mm(size) or 0.0) - across


def _keeps_room(size: Size, *, rim_width_in: float, places: Sequence[tuple[Stance, Gaps]]) -> bool:
    takes = rim_range(size)
    width = section_width_mm(size, rim_width_in=rim_width_in)
    if takes is None or width is None or not takes.holds(rim_width_in):
        return False
    return not any(
        room_left(
            gaps,
            edge_change(
                stance,
                Stance(
                    section_width_mm=width,
                    offset_mm=stance.offset_mm,
                    spacer_mm=stance.spacer_mm,
                ),
            ),
        ).is_tight
        for stance, gaps in places
    )
