"""Schedules that may only be walked step by step: each rotation is one of a few patterns, or none.

Few arrangements can be reached, at most 8 of four tires and 5 with the spare, and the order of
stints does not matter for the tires. So a schedule is how many full stints each kind of
arrangement has, and the last one; a walk of legal steps through them must exist. Arrangements that
wear alike are one kind.
"""

from collections.abc import Sequence
from heapq import heappop, heappush

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.bound import Optimum, maximize
from castlenut.domain.tires.rotation.drift import long_walk
from castlenut.domain.tires.rotation.splits import Choice, Counts, Ground, Halves, choices, halves
from castlenut.domain.tires.rotation.tables import Budget
from castlenut.domain.tires.rotation.wearing import (
    EQUAL_LIFE,
    EQUAL_SPREAD_MM,
    Arrangement,
    Task,
    all_moves,
    kept_up,
    moved,
    run,
)

_STEPS = 400_000
_MOVE_STEPS = 100_000
_FIRST_STEP = 1e-3
_FURTHER = 3
_THOUSAND = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """The arrangements of a schedule, stint by stint, and whether it is proved to be the best.

    `is_moves_proved` tells whether none as good moves fewer wheels.
    """

    stints: tuple[Arrangement, ...]
    is_proved: bool
    is_moves_proved: bool


def best_walk(task: Task, steps: Sequence[Arrangement]) -> Walk:
    """Give the walk that lasts longest, then has the least spread, then moves the fewest wheels.

    Each step gives, by place, the place its wheel goes to.
    """
    ground = _ground(task, steps)
    budget = Budget(_STEPS)
    for full in range(int(ground.limit / task.interval), -1, -1):
        split = halves(task, ground, full, budget)
        walked = _longest(task, ground, split, budget)
        if budget.is_spent:
            break
        if walked is not None:
            least = walked[0].life - EQUAL_LIFE
            long = list(choices(task, ground, split, least, budget))
            return _calmest(task, ground, long, budget) or _unproved(walked[1])
    rotations = int(ground.limit / task.interval)
    far = long_walk(task, ground.price, ground.following, rotations=rotations)
    same = [kept_up(task, step) for step in (tuple(range(task.count)), *steps)]
    courses = [run(task, far), *(course for course in same if course is not None)]
    return _unproved(max(courses, key=lambda course: (course.life, -course.spread_mm)).stints)


def _unproved(stints: tuple[Arrangement, ...]) -> Walk:
    return Walk(stints=stints, is_proved=False, is_moves_proved=False)


def _longest(
    task: Task, ground: Ground, split: Halves, budget: Budget
) -> tuple[Choice, tuple[Arrangement, ...]] | None:
    """Find the longest walk of so many full stints: just under the limit first, then further down.

    The further down, the more choices there are, so most of them are never made.
    """
    driven = split.full * task.interval
    below = _FIRST_STEP * ground.limit
    while True:
        least = max(ground.limit - below, driven)
        long = sorted(choices(task, ground, split, least, budget), key=lambda each: -each.life)
        walked = _first(task, ground, long, budget)
        if walked is not None or least <= driven or budget.is_spent:
            return walked
        below *= _FURTHER


def _first(
    task: Task, ground: Ground, long: Sequence[Choice], budget: Budget
) -> tuple[Choice, tuple[Arrangement, ...]] | None:
    """Give the first choice that can be walked, with its walk."""
    for choice in long:
        stints = _walk(task, ground, choice, budget)
        if stints is not None:
            return choice, stints
    return None


def _calmest(task: Task, ground: Ground, long: Sequence[Choice], budget: Budget) -> Walk | None:
    """Give the walk with the least spread, and of those as even the one with the fewest moves."""
    ranked = sorted(long, key=lambda each: each.spread_mm)
    first = _first(task, ground, ranked, budget)
    if first is None:
        return None
    found = [first[1]]
    moves = Budget(_MOVE_STEPS)
    for choice in ranked[ranked.index(first[0]) + 1 :]:
        if choice.spread_mm > first[0].spread_mm + EQUAL_SPREAD_MM or moves.is_spent:
            break
        stints = _walk(task, ground, choice, moves)
        if stints is not None:
            found.append(stints)
    return Walk(
        stints=min(found, key=lambda stints: all_moves(task, stints)),
        is_proved=not budget.is_spent,
        is_moves_proved=not budget.is_spent and not moves.is_spent,
    )


def _ground(task: Task, steps: Sequence[Arrangement]) -> Ground:
    following: dict[Arrangement, tuple[Arrangement, ...]] = {}
    queue = [task.start]
    for arrangement in queue:
        stepped = dict.fromkeys(tuple(step[place] for place in arrangement) for step in steps)
        following[arrangement] = (
            arrangement,
            *(
                after
                for after in stepped
                if after != arrangement
                and all(task.allowed[tire][place] for tire, place in enumerate(after))
            ),
        )
        queue.extend(each for each in following[arrangement] if each not in queue)
    wears = {each: tuple(task.rates[place] for place in each) for each in following}
    kinds = list(dict.fromkeys(wears.values()))
    limit = _limit(task, kinds)
    return Ground(
        following=following,
        kind_of={arrangement: kinds.index(wear) for arrangement, wear in wears.items()},
        rates=tuple(kinds),
        limit=limit.best,
        price=limit.dual,
    )


def _limit(task: Task, kinds: Sequence[Sequence[float]]) -> Optimum:
    """Give the distance that no walk can pass, and what a mm of each tire is worth in distance."""
    found = maximize(
        [1.0] * len(kinds),
        [[_THOUSAND * wear[tire] for wear in kinds] for tire in range(task.count)],
        task.rests_mm,
    )
    return Optimum(
        best=_THOUSAND * found.best,
        values=tuple(_THOUSAND * value for value in found.values),
        dual=tuple(_THOUSAND * price for price in found.dual),
    )


def _walk(
    task: Task, ground: Ground, choice: Choice, budget: Budget
) -> tuple[Arrangement, ...] | None:
    """Give the walk with the fewest moves that has these stints, or None where there is none.

    Each visit takes one stint or more of its kind, so a kind is visited at most as often as it has
    stints, and once at least; stints left over are spent staying.
    """
    stints = tuple(count + (kind == choice.last) for kind, count in enumerate(choice.counts))
    none: Counts = (0,) * len(stints)
    queue: list[tuple[int, int, tuple[Arrangement, ...], Counts]] = [(0, 0, (), none)]
    seen: set[tuple[Arrangement | None, Counts]] = set()
    pushed = 0
    while queue and budget.spend():
        moves, _, path, visits = heappop(queue)
        here = path[-1] if path else None
        if (here, visits) in seen:
            continue
        seen.add((here, visits))
        if (
            here is not None
            and ground.kind_of[here] == choice.last
            and all(visit for visit, count in zip(visits, stints, strict=True) if count)
        ):
            return _stayed(path, stints, ground)
        for after in ground.following[here or task.start]:
            kind = ground.kind_of[after]
            if after == here or visits[kind] == stints[kind]:
                continue
            pushed += 1
            heappush(
                queue,
                (
                    moves + moved(here or task.start, after),
                    pushed,
                    (*path, after),
                    tuple(visit + (kind == other) for other, visit in enumerate(visits)),
                ),
            )
    return None


def _stayed(
    path: Sequence[Arrangement], stints: Sequence[int], ground: Ground
) -> tuple[Arrangement, ...]:
    """Give the path with the stints left over spent staying where a kind is visited first."""
    left = list(stints)
    for each in path:
        left[ground.kind_of[each]] -= 1
    found: list[Arrangement] = []
    for each in path:
        kind = ground.kind_of[each]
        found.extend([each] * (1 + left[kind]))
        left[kind] = 0
    return tuple(found)
