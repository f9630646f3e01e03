"""Where a tire or wheel stood, over which true distances, and how far it ran at each place."""

from collections.abc import Iterable, Mapping, Sequence

from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot
from castlenut.domain.units import Distance
from castlenut.domain.wheels import Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """From one placement to the next. `spot` None is off the car.

    Distances are true ones; `since` None is not known, `until` None is not known or still now.
    """

    placement: Placement
    spot: Spot | None
    since: Distance | None
    until: Distance | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """How far something ran, by place, those it never stood at left out.

    `is_whole`: all of it is known, from the first placement on.
    """

    by_spot: Mapping[Spot, float]
    is_whole: bool

    @property
    def on_road(self) -> float:
        """Give how far it rolled: what it was carried as a spare is none of it."""
        return sum(far for spot, far in self.by_spot.items() if spot is not Spot.SP)


def placements_of(record: RecordId, placements: Iterable[Placement]) -> tuple[Placement, ...]:
    """Give the placements of a tire or wheel, in their order."""
    return tuple(each for each in placements if record in {each.tire, each.wheel})


def distance_of(placement: Placement, ground: Ground) -> Distance | None:
    """Give the true distance at a placement: by the dial, else that of its day."""
    if placement.at is not None:
        return ground.distance_of(placement.at, placement.on)
    band = None if placement.on is None else ground.use.distance_on(placement.on)
    return None if band is None else band.p50


def stints(placements: Sequence[Placement], ground: Ground) -> tuple[Stint, ...]:
    """Give the stints that the placements of one tire or wheel make, the earliest first."""
    distances = [distance_of(each, ground) for each in placements]
    return tuple(
        Stint(
            placement=each,
            spot=each.spot,
            since=distances[number],
            until=distances[number + 1] if number + 1 < len(placements) else None,
        )
        for number, each in enumerate(placements)
    )


def run(course: Sequence[Stint], *, since: float = 0.0, until: Distance | None) -> Run:
    """Give how far it ran between two true distances, `until` being that of today.

    What cannot be told is left out. A distance that falls counts as none.
    """
    found: dict[Spot, float] = {}
    is_whole = until is not None
    for number, stint in enumerate(course):
        if stint.spot is None:
            continue
        end = stint.until if number + 1 < len(course) else until
        if stint.since is None or end is None:
            is_whole = False
            continue
        upto = end if until is None else min(end, until)
        far = max(0.0, upto - max(stint.since, since))
        found[stint.spot] = found.get(stint.spot, 0.0) + far
    return Run(by_spot=found, is_whole=is_whole)


def came_new(first: Stint) -> bool:
    """Tell whether a tire's first stint began by fitting it: not one that was found on the car."""
    return first.placement.job is not None or first.placement.at is not None
