"""The order of a schedule's stints: all are as good for the tires, this one moves least wheels."""

from collections.abc import Collection, Iterator, Sequence
from heapq import heappop, heappush
from typing import TypeAlias, overload

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.bound import Classes
from castlenut.domain.tires.rotation.tables import Budget, Counts, Table
from castlenut.domain.tires.rotation.wearing import Arrangement, Task

Assigned: TypeAlias = tuple[int, ...]
"""By tire, the class it stands in."""
_State: TypeAlias = tuple[int, Assigned]


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
    steps = _Steps(table, alike)
    standing = tuple(alike.of[place] for place in task.start)
    start: _State = (steps.packed, standing)
    least_at_start = steps.least(standing)
    queue: list[tuple[int, int, int, _State]] = [(least_at_start, table.full, 0, start)]
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
            state = _straight_on(state, steps, came_from, spent)
            break
        here = spent[state]
        following = steps.after(state)
        budget.spend(len(following))
        for moves, still, after in following:
            cost = here + moves
            if cost < spent.get(after, cost + 1):
                spent[after] = cost
                came_from[after] = state
                pushed += 1
                heappush(queue, (cost + still, left - 1, -pushed, after))
    path = [state]
    while path[-1] in came_from:
        path.append(came_from[path[-1]])
    assigned = [*[each for _, each in reversed(path)][1:], steps.lasts]
    return Ordered(
        stints=in_places(task, assigned, alike),
        moves=spent[state] + _moved(state[1], steps.lasts),
        is_proved=not budget.is_spent,
    )


def _moved(before: Assigned, after: Assigned) -> int:
    return sum(one != other for one, other in zip(before, after, strict=True))


class _Steps:
    """What may follow a state, and how many wheels are still to be moved from there at least.

    The full stints left to each tire in each class are one whole number, a field for each of them
    with a guard above it: one subtraction does a stint and shows whether it could be done.
    """

    def __init__(self, table: Table, alike: Classes) -> None:
        self.lasts: Assigned = tuple(row.last for row in table.rows)
        self._kinds = len(alike.sizes)
        self._width = table.full.bit_length() + 1
        self._row_width = self._width * self._kinds
        self._row_mask = (1 << self._row_width) - 1
        fields = range(len(table.rows) * self._kinds)
        self._guards = sum(1 << (self._width * (field + 1) - 1) for field in fields)
        self.packed = sum(
            self._row(row.counts) << (self._row_width * tire) for tire, row in enumerate(table.rows)
        )
        used = [{kind for kind, count in enumerate(row.counts) if count} for row in table.rows]
        self._ways = [
            (
                assigned,
                sum(1 << (self._width * field) for field in way),
                way,
            )
            for assigned in _assignments(alike.sizes, used)
            for way in [tuple(tire * self._kinds + kind for tire, kind in enumerate(assigned))]
        ]
        self._seen: list[dict[tuple[int, int], tuple[tuple[int, ...], tuple[int, ...]]]] = [
            {} for _ in table.rows
        ]

    def least(self, standing: Assigned) -> int:
        """Give how many changes of class the whole table takes at least."""
        return sum(
            _still(self._counts(self.packed >> (self._row_width * tire)), now, self.lasts[tire])
            for tire, now in enumerate(standing)
        )

    def after(self, state: _State) -> list[tuple[int, int, _State]]:
        """Give every state one stint on, with the wheels moved and those still to be at least.

        What is left always splits further, so none is a dead end.
        """
        packed, standing = state
        moves: list[int] = []
        still: list[int] = []
        for tire, now in enumerate(standing):
            row = packed >> (self._row_width * tire) & self._row_mask
            seen = self._seen[tire]
            found = seen.get((row, now))
            if found is None:
                found = seen[row, now] = self._of_tire(row, now, self.lasts[tire])
            moves += found[0]
            still += found[1]
        guards = self._guards
        guarded = packed | guards
        return [
            (
                sum([moves[field] for field in way]),
                sum([still[field] for field in way]),
                (rest ^ guards, assigned),
            )
            for assigned, stint, way in self._ways
            if (rest := guarded - stint) & guards == guards
        ]

    def _of_tire(self, row: int, now: int, last: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Give by class whether going there is a move, and the changes still to come after it."""
        counts = self._counts(row)
        kinds = range(self._kinds)
        return (
            tuple(int(kind != now) for kind in kinds),
            tuple(
                _still((*counts[:kind], counts[kind] - 1, *counts[kind + 1 :]), kind, last)
                if counts[kind]
                else 0
                for kind in kinds
            ),
        )

    def _row(self, counts: Counts) -> int:
        return sum(each << (self._width * kind) for kind, each in enumerate(counts))

    def _counts(self, row: int) -> Counts:
        mask = (1 << self._width) - 1
        return tuple(row >> (self._width * kind) & mask for kind in range(self._kinds))


def _assignments(sizes: Sequence[int], used: Sequence[Collection[int]]) -> Iterator[Assigned]:
    """Give every way to put the tires into classes that each may use, as full as they are."""

    def choose(tire: int, free: tuple[int, ...], chosen: Assigned) -> Iterator[Assigned]:
        if tire == len(used):
            yield chosen
            return
        for kind in sorted(used[tire]):
            if free[kind]:
                less = (*free[:kind], free[kind] - 1, *free[kind + 1 :])
                yield from choose(tire + 1, less, (*chosen, kind))

    return choose(0, tuple(sizes), ())


def _still(counts: Counts, now: int, last: int) -> int:
    """Count the changes of class still to come at least: one for each class still to be visited."""
    return len(counts) - counts.count(0) + (not counts[last]) - bool(counts[now] or now == last)


def _straight_on(
    state: _State, steps: _Steps, came_from: dict[_State, _State], spent: dict[_State, int]
) -> _State:
    """Go on from a state to its end, at each stint with the fewest wheels moved."""
    while state[0]:
        moves, _, after = min(steps.after(state), key=lambda each: each[0])
        spent[after] = spent[state] + moves
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
