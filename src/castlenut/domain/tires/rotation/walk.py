"""Schedules that may only be walked step by step: each rotation is one of a few patterns, or none.

Few arrangements can be reached, at most 8 of four tires and 5 with the spare, and the order of
stints does not matter for the tires. So a schedule is how many full stints each kind of
arrangement has, and the last one; a walk of legal steps through them must exist. Arrangements that
wear alike are one kind.
"""

from collections.abc import Iterator, Mapping, Sequence
from heapq import heappop, heappush
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.bound import Optimum, maximize
from castlenut.domain.tires.rotation.drift import long_walk
from castlenut.domain.tires.rotation.tables import COST_SLACK, Budget
from castlenut.domain.tires.rotation.wearing import (
    EQUAL_LIFE,
    EQUAL_SPREAD_MM,
    SLACK_MM,
    Arrangement,
    Task,
    moved,
)

_STEPS = 150_000
_THOUSAND = 1000.0

_Counts: TypeAlias = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """The arrangements of a schedule, stint by stint, and whether it is proved to be the best."""

    stints: tuple[Arrangement, ...]
    is_proved: bool


@dataclass(frozen=True, slots=True)
class _Choice:
    """Full stints by kind and the kind of the last stint, with what they come to."""

    life: float
    spread_mm: float
    counts: _Counts
    last: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ground:
    """All that can be walked: what may follow what, of which kind it is, and how each kind wears.

    `price` is what a mm of each tire is worth in distance, `cost` what a unit run in each kind
    loses against `limit`, the distance that no walk can pass.
    """

    following: Mapping[Arrangement, tuple[Arrangement, ...]]
    kind_of: Mapping[Arrangement, int]
    rates: tuple[tuple[float, ...], ...]
    limit: float
    price: tuple[float, ...]
    cost: tuple[float, ...]


def best_walk(task: Task, steps: Sequence[Arrangement]) -> Walk:
    """Give the walk that lasts longest, then has the least spread, then moves the fewest wheels.

    Each step gives, by place, the place its wheel goes to.
    """
    ground = _ground(task, steps)
    budget = Budget(_STEPS)
    for full in range(int(ground.limit / task.interval), -1, -1):
        choices = sorted(_choices(task, ground, full, budget), key=lambda each: -each.life)
        walked = _first(task, ground, choices, budget)
        if budget.is_spent:
            break
        if walked is not None:
            longest = walked[0].life
            long = [each for each in choices if each.life >= longest - EQUAL_LIFE]
            stints = _calmest(task, ground, long, budget)
            return Walk(stints=stints or walked[1], is_proved=not budget.is_spent)
    rotations = int(ground.limit / task.interval)
    stints = long_walk(task, ground.price, ground.following, rotations=rotations)
    return Walk(stints=stints, is_proved=False)


def _first(
    task: Task, ground: _Ground, choices: Sequence[_Choice], budget: Budget
) -> tuple[_Choice, tuple[Arrangement, ...]] | None:
    """Give the first choice that can be walked, with its walk."""
    for choice in choices:
        stints = _walk(task, ground, choice, budget)
        if stints is not None:
            return choice, stints
    return None


def _calmest(
    task: Task, ground: _Ground, choices: Sequence[_Choice], budget: Budget
) -> tuple[Arrangement, ...] | None:
    """Give the walk with the least spread, and of those as even the one with the fewest moves."""
    ranked = sorted(choices, key=lambda each: each.spread_mm)
    first = _first(task, ground, ranked, budget)
    if first is None:
        return None
    found = [first[1]]
    for choice in ranked[ranked.index(first[0]) + 1 :]:
        if choice.spread_mm > first[0].spread_mm + EQUAL_SPREAD_MM:
            break
        stints = _walk(task, ground, choice, budget)
        if stints is not None:
            found.append(stints)
    return min(
        found,
        key=lambda stints: sum(
            moved(before, after)
            for before, after in zip((task.start, *stints[:-1]), stints, strict=True)
        ),
    )


def _ground(task: Task, steps: Sequence[Arrangement]) -> _Ground:
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
    return _Ground(
        following=following,
        kind_of={arrangement: kinds.index(wear) for arrangement, wear in wears.items()},
        rates=tuple(kinds),
        limit=limit.best,
        price=limit.dual,
        cost=tuple(
            max(0.0, sum(p * rate for p, rate in zip(limit.dual, wear, strict=True)) - 1)
            for wear in kinds
        ),
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


def _choices(task: Task, ground: _Ground, full: int, budget: Budget) -> Iterator[_Choice]:
    """Give every split of the full stints on kinds that leaves all tires above the limit."""
    may_cost = ground.limit - full * task.interval + COST_SLACK
    # Costly kinds first: they take few stints, and what is left is soon told.
    order = sorted(range(len(ground.rates)), key=lambda kind: -ground.cost[kind])

    def split(
        depth: int, counts: _Counts, free: int, left: tuple[float, ...], cost: float
    ) -> Iterator[tuple[_Counts, tuple[float, ...]]]:
        kind = order[depth]
        is_last = depth == len(order) - 1
        for stints in range(free if is_last else 0, free + 1):
            if not budget.spend():
                return
            run = stints * task.interval
            rests = tuple(
                rest - run * rate for rest, rate in zip(left, ground.rates[kind], strict=True)
            )
            spent = cost + run * ground.cost[kind]
            if min(rests) <= SLACK_MM or spent > may_cost:
                return
            if is_last:
                yield (*counts, stints), rests
            else:
                yield from split(depth + 1, (*counts, stints), free - stints, rests, spent)

    for counts, rests in split(0, (), full, task.rests_mm, 0.0):
        by_kind = tuple(counts[order.index(kind)] for kind in range(len(order)))
        for kind, rates in enumerate(ground.rates):
            last = min(
                task.interval,
                *(rest / rate for rest, rate in zip(rests, rates, strict=True) if rate > 0),
            )
            ends = [rest - last * rate for rest, rate in zip(rests, rates, strict=True)]
            yield _Choice(full * task.interval + last, max(ends) - min(ends), by_kind, kind)


def _walk(
    task: Task, ground: _Ground, choice: _Choice, budget: Budget
) -> tuple[Arrangement, ...] | None:
    """Give the walk with the fewest moves that has these stints, or None where there is none.

    Each visit takes one stint or more of its kind, so a kind is visited at most as often as it has
    stints, and once at least; stints left over are spent staying.
    """
    stints = tuple(count + (kind == choice.last) for kind, count in enumerate(choice.counts))
    none: _Counts = (0,) * len(stints)
    queue: list[tuple[int, int, tuple[Arrangement, ...], _Counts]] = [(0, 0, (), none)]
    seen: set[tuple[Arrangement | None, _Counts]] = set()
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
    path: Sequence[Arrangement], stints: Sequence[int], ground: _Ground
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
