"""The order of a schedule's stints: all are as good for the tires, this one moves least wheels."""

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush
from typing import TypeAlias, overload

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.bound import Classes
from castlenut.domain.tires.rotation.tables import Budget, Counts, Table
from castlenut.domain.tires.rotation.wearing import Arrangement, Task

Assigned: TypeAlias = tuple[int, ...]
"""By tire, the class it stands in."""
_State: TypeAlias = tuple[tuple[Counts, ...], Assigned]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """The stints of a table in an order, with the wheels moved; proved when none moves fewer."""

    stints: tuple[Arrangement, ...]
    moves: int
    is_proved: bool


@overload
def in_order(task: Task, table: Table, alike: Classes, *, budget: Budget) -> Ordered: ...


@overload
def in_order(
    task: Task, table: Table, alike: Classes, *, budget: Budget, below: int
) -> Ordered | None: ...


def in_order(
    task: Task, table: Table, alike: Classes, *, budget: Budget, below: int | None = None
) -> Ordered | None:
    """Put the stints in the order that moves the fewest wheels (a search by least cost first).

    Where the budget ends first, on from the most promising state by staying as long as can be.
    With `below`, None where no order moves fewer wheels than that, or none was found in time.
    """
    lasts = tuple(row.last for row in table.rows)
    standing = tuple(alike.of[place] for place in task.start)
    start: _State = (tuple(row.counts for row in table.rows), standing)
    queue: list[tuple[int, int, int, _State]] = [(_at_least(start, lasts), table.full, 0, start)]
    spent: dict[_State, int] = {start: 0}
    came_from: dict[_State, _State] = {}
    state, pushed = start, 0
    while queue:
        least, left, _, state = heappop(queue)
        if below is not None and least >= below:
            return None
        if left == 0:
            break
        if budget.is_spent:
            if below is not None:
                return None
            state = _straight_on(state, alike, came_from, spent)
            break
        for after in _next(state, alike):
            budget.spend()
            cost = spent[state] + _moved(state[1], after[1])
            if cost < spent.get(after, cost + 1):
                spent[after] = cost
                came_from[after] = state
                pushed += 1
                heappush(queue, (cost + _at_least(after, lasts), left - 1, -pushed, after))
    path = [state]
    while path[-1] in came_from:
        path.append(came_from[path[-1]])
    assigned = [*[each for _, each in reversed(path)][1:], lasts]
    return Ordered(
        stints=in_places(task, assigned, alike),
        moves=spent[state] + _moved(state[1], lasts),
        is_proved=not budget.is_spent,
    )


def _at_least(state: _State, lasts: Assigned) -> int:
    """Count the changes of class still to come at least: one for each class still to be visited."""
    rows, assigned = state
    return sum(
        len(row) - row.count(0) + (not row[last]) - bool(row[now] or now == last)
        for row, now, last in zip(rows, assigned, lasts, strict=True)
    )


def _moved(before: Assigned, after: Assigned) -> int:
    return sum(one != other for one, other in zip(before, after, strict=True))


def _next(state: _State, alike: Classes) -> Iterator[_State]:
    """Give every state one stint on. What is left always splits further, so none is a dead end."""
    rows, _ = state

    def choose(tire: int, free: tuple[int, ...], chosen: Assigned) -> Iterator[Assigned]:
        if tire == len(rows):
            yield chosen
            return
        for kind, stints in enumerate(rows[tire]):
            if stints and free[kind]:
                yield from choose(tire + 1, _one_less(free, kind), (*chosen, kind))

    for assigned in choose(0, alike.sizes, ()):
        yield tuple(map(_one_less, rows, assigned)), assigned


def _one_less(counts: Counts, kind: int) -> Counts:
    return (*counts[:kind], counts[kind] - 1, *counts[kind + 1 :])


def _straight_on(
    state: _State, alike: Classes, came_from: dict[_State, _State], spent: dict[_State, int]
) -> _State:
    """Go on from a state to its end, at each stint with the fewest wheels moved."""
    while any(state[0][0]):
        after = min(_next(state, alike), key=lambda each: _moved(state[1], each[1]))
        spent[after] = spent[state] + _moved(state[1], after[1])
        came_from[after] = state
        state = after
    return state


def in_places(task: Task, assigned: Sequence[Assigned], alike: Classes) -> tuple[Arrangement, ...]:
    """Give each tire a place of its class: who stays in a class keeps the place."""
    now = list(task.start)
    found: list[Arrangement] = []
    for kinds in assigned:
        staying = {now[tire] for tire, kind in enumerate(kinds) if alike.of[now[tire]] == kind}
        free = [place for place in range(len(now)) if place not in staying]
        for tire, kind in enumerate(kinds):
            if alike.of[now[tire]] != kind:
                place = next(each for each in free if alike.of[each] == kind)
                free.remove(place)
                now[tire] = place
        found.append(tuple(now))
    return tuple(found)
