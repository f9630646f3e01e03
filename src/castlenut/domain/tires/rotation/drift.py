"""Walks of very many stints: states are carried from one to the next, the most hopeful kept."""

from collections.abc import Mapping, Sequence
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.wearing import (
    EQUAL_LIFE,
    SLACK_MM,
    Arrangement,
    Task,
    moved,
)

_FEWEST_STATES = 30
_STATES = 6000
_PARTS = 4

_Key: TypeAlias = tuple[Arrangement, tuple[float, ...]]


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


def long_walk(
    task: Task,
    price: Sequence[float],
    following: Mapping[Arrangement, Sequence[Arrangement]],
    *,
    rotations: int,
) -> tuple[Arrangement, ...]:
    """Give a good walk of many stints, which need not be the best.

    `price` tells what a mm of each tire is worth in distance, `following` where the tires may
    stand after each arrangement. From stint to stint a number of states is kept: those that can
    still run farthest, and of these the most even.
    """
    ends = _ends(task, price, following, max(_FEWEST_STATES, _STATES // (rotations + 1)))
    longest = max(end.life for end in ends)
    long = [end for end in ends if end.life >= longest - EQUAL_LIFE]
    best = min(long, key=lambda end: (end.spread_mm, end.moves))
    found = [best.arrangement]
    path: _Path | None = best.before
    while path is not None and path.before is not None:
        found.append(path.arrangement)
        path = path.before
    return tuple(reversed(found))


def _ends(
    task: Task,
    price: Sequence[float],
    following: Mapping[Arrangement, Sequence[Arrangement]],
    states: int,
) -> list[_End]:
    """Give the schedules that states kept from stint to stint end in."""
    layer = [_Path(0, task.start, task.rests_mm, None)]
    ends: list[_End] = []
    driven = 0.0
    while layer:
        after: dict[_Key, _Path] = {}
        for path in layer:
            for arrangement in following[path.arrangement]:
                moves = path.moves + moved(path.arrangement, arrangement)
                rates = [task.rates[place] for place in arrangement]
                rests = tuple(
                    rest - task.interval * rate
                    for rest, rate in zip(path.rests_mm, rates, strict=True)
                )
                if min(rests) <= SLACK_MM:
                    ends.append(_end(task, path, arrangement, rates, moves, driven))
                    continue
                key = (arrangement, tuple(round(rest, 7) for rest in rests))
                known = after.get(key)
                if known is None or moves < known.moves:
                    after[key] = _Path(moves, arrangement, rests, path)
        layer = sorted(after.values(), key=lambda path: _rank(task, price, path))[:states]
        driven += task.interval
    return ends


def _rank(task: Task, price: Sequence[float], path: _Path) -> tuple[float, float, int]:
    worth = sum(each * rest for each, rest in zip(price, path.rests_mm, strict=True))
    uneven = max(path.rests_mm) - min(path.rests_mm)
    return -round(_PARTS * worth / task.interval), uneven, path.moves


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
