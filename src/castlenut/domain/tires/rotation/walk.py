"""Schedules that may only be walked step by step: each rotation is one of a few patterns, or none.

All states that can still last long enough are carried from stint to stint: where the tires stand
and what they have left. The prices of a linear program over the reachable arrangements tell how
far a state can still run at most.
"""

from collections.abc import Sequence
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.bound import maximize
from castlenut.domain.tires.rotation.wearing import SLACK_MM, Arrangement, Task, moved

_EQUAL_LIFE = 0.5
_EQUAL_SPREAD_MM = 0.02
_ROUGH_STATES = 40
_STATES = 60_000
_THOUSAND = 1000.0

_Key: TypeAlias = tuple[Arrangement, tuple[float, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """The arrangements of a schedule, stint by stint."""

    stints: tuple[Arrangement, ...]
    is_proved: bool


@dataclass(frozen=True, slots=True)
class _Path:
    """How a state was come to."""

    moves: int
    arrangement: Arrangement
    rests_mm: tuple[float, ...]
    before: "_Path | None"


@dataclass(frozen=True, slots=True)
class _End:
    """A schedule that is over."""

    life: float
    spread_mm: float
    moves: int
    arrangement: Arrangement
    before: _Path


def best_walk(task: Task, steps: Sequence[Arrangement]) -> Walk:
    """Give the walk that lasts longest, then has the least spread, then moves the fewest wheels.

    Each step gives, by place, the place its wheel goes to.
    """
    price = _prices(task, _reachable(task, steps))
    rough, _ = _ends(task, steps, price, at_least=0.0, states=_ROUGH_STATES)
    longest = max(end.life for end in rough)
    stints = int(longest / task.interval) + 1
    ends, is_whole = _ends(
        task,
        steps,
        price,
        at_least=longest - _EQUAL_LIFE,
        states=max(_ROUGH_STATES, _STATES // stints),
    )
    best = _chosen(ends)
    found = [best.arrangement]
    path: _Path | None = best.before
    while path is not None and path.before is not None:
        found.append(path.arrangement)
        path = path.before
    return Walk(stints=tuple(reversed(found)), is_proved=is_whole)


def _chosen(ends: Sequence[_End]) -> _End:
    longest = max(end.life for end in ends)
    long = [end for end in ends if end.life >= longest - _EQUAL_LIFE]
    least = min(end.spread_mm for end in long)
    even = [end for end in long if end.spread_mm <= least + _EQUAL_SPREAD_MM]
    return min(even, key=lambda end: (end.moves, -end.life))


def _next(task: Task, steps: Sequence[Arrangement], arrangement: Arrangement) -> list[Arrangement]:
    """Give where the tires may stand next: as they are, or after a step in which all may go."""
    stepped = [tuple(step[place] for place in arrangement) for step in steps]
    return [
        arrangement,
        *(
            after
            for after in dict.fromkeys(stepped)
            if after != arrangement
            and all(task.allowed[tire][place] for tire, place in enumerate(after))
        ),
    ]


def _reachable(task: Task, steps: Sequence[Arrangement]) -> list[Arrangement]:
    found = [task.start]
    for arrangement in found:
        found.extend(each for each in _next(task, steps, arrangement) if each not in found)
    return found


def _prices(task: Task, arrangements: Sequence[Arrangement]) -> tuple[float, ...]:
    """Give what a mm of each tire is worth in distance, over all these arrangements."""
    found = maximize(
        [1.0] * len(arrangements),
        [
            [_THOUSAND * task.rates[arrangement[tire]] for arrangement in arrangements]
            for tire in range(task.count)
        ],
        task.rests_mm,
    )
    return tuple(_THOUSAND * price for price in found.dual)


def _ends(
    task: Task,
    steps: Sequence[Arrangement],
    price: tuple[float, ...],
    *,
    at_least: float,
    states: int,
) -> tuple[list[_End], bool]:
    """Give the schedules that last so long, and whether none was left out for want of room.

    Each stint keeps at most so many states, those that can still run farthest.
    """
    first = _Path(0, task.start, task.rests_mm, None)
    layer: dict[_Key, _Path] = {(task.start, task.rests_mm): first}
    following = {
        arrangement: _next(task, steps, arrangement) for arrangement in _reachable(task, steps)
    }
    ends: list[_End] = []
    is_whole = True
    driven = 0.0
    while layer:
        after: dict[_Key, _Path] = {}
        for path in layer.values():
            for arrangement in following[path.arrangement]:
                moves = path.moves + moved(path.arrangement, arrangement)
                rates = [task.rates[place] for place in arrangement]
                rests = tuple(
                    rest - task.interval * rate
                    for rest, rate in zip(path.rests_mm, rates, strict=True)
                )
                if min(rests) <= SLACK_MM:
                    end = _end(task, path, arrangement, rates, moves, driven)
                    if end.life >= at_least:
                        ends.append(end)
                    continue
                if driven + task.interval + _worth(price, rests) < at_least - _EQUAL_LIFE:
                    continue
                key = (arrangement, tuple(round(rest, 7) for rest in rests))
                known = after.get(key)
                if known is None or moves < known.moves:
                    after[key] = _Path(moves, arrangement, rests, path)
        if len(after) > states:
            is_whole = False
            ranked = sorted(
                after.items(),
                key=lambda item: (-_worth(price, item[1].rests_mm), item[1].moves),
            )
            after = dict(ranked[:states])
        layer = after
        driven += task.interval
    return ends, is_whole


def _worth(price: tuple[float, ...], rests: tuple[float, ...]) -> float:
    return sum(each * rest for each, rest in zip(price, rests, strict=True))


def _end(
    task: Task,
    path: _Path,
    arrangement: Arrangement,
    rates: Sequence[float],
    moves: int,
    driven: float,
) -> _End:
    last = min(
        task.interval,
        *(rest / rate for rest, rate in zip(path.rests_mm, rates, strict=True) if rate > 0),
    )
    left = [rest - last * rate for rest, rate in zip(path.rests_mm, rates, strict=True)]
    return _End(driven + last, max(left) - min(left), moves, arrangement, path)
