"""What a car's set has before it: verdicts, the plan, its bound, and what it is compared with."""

from collections.abc import Mapping, Sequence
from enum import Enum
from random import Random
from statistics import quantiles

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import SLACK_MM, Assembly, CarWheels
from castlenut.domain.tires.legality import (
    PatternVerdict,
    Verdict,
    may_stand,
    pattern_verdicts,
    spare_joins,
    verdicts,
)
from castlenut.domain.tires.reasons import Answer
from castlenut.domain.tires.rotation.moves import MOVES, Pattern, pattern_of, usual
from castlenut.domain.tires.rotation.plan import Plan, plan
from castlenut.domain.tires.rotation.tread import WearRates, rate_at
from castlenut.domain.tires.rotation.wearing import Arrangement, Task, held_life, kept_up

_THOUSAND = 1000.0
_AT_LIMIT_MM = 1e-4
_DRAWS = 200
_FIVE = frozenset({Pattern.FIVE_REARWARD_CROSS, Pattern.FIVE_FORWARD_CROSS})


class MoveSet(Enum):
    """What may be done at one rotation."""

    ANY = "any"
    PATTERNS = "patterns"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """From one rotation to the next: who stands where, and how that was come to.

    `moves` are the wheels moved at its start; `pattern` is None where that is no pattern.
    """

    since: float
    until: float
    places: Mapping[Spot, str]
    moves: int
    pattern: Pattern | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Prospect:
    """Verdicts and plan of a set; lives in the unit of the rates.

    `joins` tells whether the spare is one of the set. `life_none` is without any rotation,
    `life_usual` with the usual pattern of the drive at every rotation from now: None where that
    may not be done to the end. `greatest_difference_mm` is that between road tires at any time.
    """

    verdicts: tuple[Verdict, ...]
    patterns: tuple[PatternVerdict, ...]
    joins: bool
    plan: Plan
    stints: tuple[Stint, ...]
    end_depths_mm: Mapping[str, float]
    ends_with: tuple[str, ...]
    greatest_difference_mm: float
    life_none: float
    life_usual: float | None


def prospect(
    wheels: CarWheels,
    rates: Mapping[Spot, float],
    *,
    interval: float,
    moves: MoveSet = MoveSet.ANY,
    use_spare: bool = True,
) -> Prospect:
    """Judge all moves and plan the rotations of the set.

    `rates` are mm per 1,000 of distance by road place.

    Raises:
        BadInput: a road tire that is not measured or at the limit, or too short an interval.
    """
    _check(wheels)
    patterns = pattern_verdicts(wheels)
    joins = use_spare and spare_joins(wheels)
    members = _members(wheels, joins=joins)
    spots = [each.at for each in members]
    task = Task(
        rests_mm=tuple((each.thinnest_mm or 0.0) - wheels.limit_mm for each in members),
        rates=tuple(rates.get(spot, 0.0) / _THOUSAND for spot in spots),
        allowed=tuple(tuple(may_stand(wheels, each, spot) for spot in spots) for each in members),
        interval=interval,
        start=tuple(range(len(members))),
    )
    allowed = {each.pattern for each in patterns if each.answer is Answer.YES}
    steps = None
    if moves is MoveSet.PATTERNS:
        steps = [
            _step(pattern, spots) for pattern in _offered(wheels, joins=joins) if pattern in allowed
        ]
    planned = plan(task, steps=steps)
    stints = _stints(planned, task, members, spots)
    pattern = usual(wheels.drive, with_spare=joins)
    habit = kept_up(task, _step(pattern, spots)) if pattern in allowed else None
    return Prospect(
        verdicts=verdicts(wheels),
        patterns=patterns,
        joins=joins,
        plan=planned,
        stints=stints,
        end_depths_mm={
            each.id: rest + wheels.limit_mm
            for each, rest in zip(members, planned.course.rests_mm, strict=True)
        },
        ends_with=tuple(
            each.id
            for each, rest in zip(members, planned.course.rests_mm, strict=True)
            if rest <= _AT_LIMIT_MM
        ),
        greatest_difference_mm=_greatest_difference(planned, task, spots),
        life_none=min(
            _THOUSAND * ((each.thinnest_mm or 0.0) - wheels.limit_mm) / rates[each.at]
            for each in wheels.road
        ),
        life_usual=None if habit is None else habit.life,
    )


def _check(wheels: CarWheels) -> None:
    faults: list[Fault] = []
    for each in wheels.road:
        depth = each.thinnest_mm
        if depth is None:
            faults.append(
                Fault("is not measured", f"{each.id} at {each.at.value}", "measure it first")
            )
        elif depth <= wheels.limit_mm + SLACK_MM:
            faults.append(
                Fault(
                    f"has {depth:g} mm: at the limit",
                    f"{each.id} at {each.at.value}",
                    "renew it first",
                )
            )
    if faults:
        raise BadInput(*faults)


def _members(wheels: CarWheels, *, joins: bool) -> tuple[Assembly, ...]:
    order = {spot: number for number, spot in enumerate(Spot)}
    return tuple(
        sorted(
            (each for each in wheels.assemblies if each.at is not Spot.SP or joins),
            key=lambda each: order[each.at],
        )
    )


def _offered(wheels: CarWheels, *, joins: bool) -> list[Pattern]:
    """Give the patterns a plan may use: with the spare in the set only that of the drive."""
    if joins:
        return [usual(wheels.drive, with_spare=True)]
    return [pattern for pattern in Pattern if pattern not in _FIVE]


def _step(pattern: Pattern, spots: Sequence[Spot]) -> Arrangement:
    """Give, by number of place, where the wheel of each place goes."""
    moves = MOVES[pattern]
    return tuple(spots.index(moves.get(spot, spot)) for spot in spots)


def _stints(
    planned: Plan, task: Task, members: Sequence[Assembly], spots: Sequence[Spot]
) -> tuple[Stint, ...]:
    found: list[Stint] = []
    before = task.start
    for number, arrangement in enumerate(planned.course.stints):
        changed = {
            spots[start]: spots[to]
            for start, to in zip(before, arrangement, strict=True)
            if start != to
        }
        since = number * task.interval
        is_last = number == len(planned.course.stints) - 1
        stands = {spots[place]: members[tire].id for tire, place in enumerate(arrangement)}
        found.append(
            Stint(
                since=since,
                until=planned.course.life if is_last else since + task.interval,
                places={spot: stands[spot] for spot in spots},
                moves=len(changed),
                pattern=pattern_of(changed),
            )
        )
        before = arrangement
    return tuple(found)


def _greatest_difference(planned: Plan, task: Task, spots: Sequence[Spot]) -> float:
    """Give the greatest difference between road tires at the ends of any stint."""
    rests = list(task.rests_mm)
    greatest = 0.0
    for number, arrangement in enumerate(planned.course.stints):
        is_last = number == len(planned.course.stints) - 1
        length = planned.course.last if is_last else task.interval
        after = [
            rest - length * task.rates[place]
            for rest, place in zip(rests, arrangement, strict=True)
        ]
        for depths in (rests, after):
            road = [
                depth
                for depth, place in zip(depths, arrangement, strict=True)
                if spots[place] is not Spot.SP
            ]
            greatest = max(greatest, max(road) - min(road))
        rests = after
    return greatest


def life_band(
    wheels: CarWheels, found: Prospect, wear: WearRates, *, interval: float, chance: Random
) -> tuple[float, float]:
    """Give P10 and P90 of the life of the plan held fixed, from 200 draws of the wear by place."""
    depths = {each.id: each.thinnest_mm or 0.0 for each in wheels.assemblies}
    spots = list(found.stints[0].places)
    tires = list(found.stints[0].places.values())
    stints = []
    for stint in found.stints:
        stands = {tire: spot for spot, tire in stint.places.items()}
        stints.append(tuple(spots.index(stands[tire]) for tire in tires))
    lives: list[float] = []
    for _ in range(_DRAWS):
        rates = wear.draw(chance)
        task = Task(
            rests_mm=tuple(depths[tire] - wheels.limit_mm for tire in tires),
            rates=tuple(rate_at(rates, spot) / _THOUSAND for spot in spots),
            allowed=(),
            interval=interval,
            start=(),
        )
        lives.append(held_life(task, stints))
    tenths = quantiles(lives, n=10)
    return tenths[0], tenths[-1]
