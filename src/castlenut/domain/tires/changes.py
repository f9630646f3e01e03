"""When other tires or wheels last came onto a car; that they change places is no change."""

from collections.abc import Sequence
from itertools import groupby

from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot
from castlenut.domain.wheels import Placement


def before_latest_change(
    placements: Sequence[Placement], *, by_job: bool = False
) -> Sequence[Placement]:
    """Give the placements before the day, or the job, by which what is on the car changed last.

    What changes it: a tire or wheel that comes on or goes off, another wheel under a tire, a tire
    turned on its rim. That wheels change places does not. Empty where there was no set before.
    """
    days = _by_job(placements) if by_job else _by_day(placements)
    now = _Mounted()
    states = [now.pairs()]
    for day in days:
        for each in day:
            now.take(each)
        states.append(now.pairs())
    for number in range(len(days), 0, -1):
        if states[number] != states[number - 1]:
            return [each for day in days[: number - 1] for each in day]
    return []


def _by_day(placements: Sequence[Placement]) -> list[list[Placement]]:
    return [list(day) for _, day in groupby(placements, key=lambda each: each.on)]


def _by_job(placements: Sequence[Placement]) -> list[list[Placement]]:
    """Part placements by job; what comes off without one goes with what comes on after it."""
    jobs = [each.job for each in placements]
    for number in range(len(placements) - 2, -1, -1):
        here, after = placements[number], placements[number + 1]
        if jobs[number] is None and here.spot is None and here.on == after.on:
            jobs[number] = jobs[number + 1]
    keys = iter([(each.on, job) for each, job in zip(placements, jobs, strict=True)])
    return [list(done) for _, done in groupby(placements, key=lambda _: next(keys))]


class _Mounted:
    """What is on the car, placement by placement."""

    def __init__(self) -> None:
        self._tires: dict[RecordId, tuple[Spot, str | None]] = {}
        self._wheels: dict[RecordId, Spot] = {}

    def take(self, placement: Placement) -> None:
        """Go on by one placement."""
        if placement.tire is not None:
            turns = placement.turns
            if turns is None and placement.tire in self._tires:
                turns = self._tires[placement.tire][1]
            if placement.spot is None:
                self._tires.pop(placement.tire, None)
            else:
                self._tires[placement.tire] = (placement.spot, turns)
        if placement.wheel is not None:
            if placement.spot is None:
                self._wheels.pop(placement.wheel, None)
            else:
                self._wheels[placement.wheel] = placement.spot

    def pairs(self) -> frozenset[tuple[RecordId | None, RecordId | None, str | None]]:
        """Give every tire with the wheel it stands on and the side it turns for."""
        at = {spot: wheel for wheel, spot in self._wheels.items()}
        tires = {(tire, at.get(spot), turns) for tire, (spot, turns) in self._tires.items()}
        shod = {spot for spot, _ in self._tires.values()}
        bare = {(None, wheel, None) for wheel, spot in self._wheels.items() if spot not in shod}
        return frozenset(tires | bare)
