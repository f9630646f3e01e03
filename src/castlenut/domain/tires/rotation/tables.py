"""Schedules that may move any wheel: one row of counts a tire, and its place in the last stint.

Depth only falls, so a set that is above the limit after its full stints was so before, in any
order of them. Hence a schedule is, for each tire, how many full stints it stands in each class of
places and where it stands in the last, with as many tires in each class as that has places; every
such table splits into arrangements, one a stint (Birkhoff), in any order.

A search at a life of L uses the prices of the bound: the costs of all rows together are exactly
what L lies below the bound, and none is below 0, so rows that cost more are left out; and how much
a set of tires has cost already follows from what it left of the columns, so that remainders that
failed once need no second look.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from typing import NamedTuple, TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.bound import Bound, Classes
from castlenut.domain.tires.rotation.wearing import SLACK_MM, Task

Counts: TypeAlias = tuple[int, ...]
"""By class, full stints."""

COST_SLACK = 0.001
"""In units of distance. With 1e-6 true optima were lost to the rounding of prices (measured)."""

_ROUNDING_MM = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What one tire does: full stints by class, the class of its last, and what that leaves."""

    counts: Counts
    last: int
    left_mm: float
    """Above the limit when the full stints are over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A row for each tire."""

    rows: tuple[Row, ...]
    full: int

    def last_stint(self, task: Task, alike: Classes) -> float:
        """Give how far the last stint runs, until a tire is at the limit, one interval at most."""
        return min(
            task.interval,
            *(
                row.left_mm / alike.rates[row.last]
                for row in self.rows
                if alike.rates[row.last] > 0
            ),
        )

    def spread_mm(self, task: Task, alike: Classes) -> float:
        """Give the deepest less the thinnest at the end."""
        last = self.last_stint(task, alike)
        ends = [row.left_mm - last * alike.rates[row.last] for row in self.rows]
        return max(ends) - min(ends)


class Budget:
    """How many steps of a search are left. Counted, not timed: an answer depends on its input."""

    def __init__(self, steps: int) -> None:
        self.left = steps
        self.is_spent = False

    def spend(self, steps: int = 1) -> bool:
        """Take steps off, and tell whether there were that many."""
        self.left -= steps
        self.is_spent = self.is_spent or self.left < 0
        return not self.is_spent


class Search:
    """All rows of a task for a number of full stints, and searches among them."""

    def __init__(
        self, task: Task, alike: Classes, limit: Bound, *, full: int, budget: Budget
    ) -> None:
        self._task = task
        self._alike = alike
        self._bound = limit
        self.full = full
        self.budget = budget
        self._kinds = range(len(alike.sizes))
        self._width = (max(full, 1) * max(alike.sizes)).bit_length() + 1
        self._packed: dict[Counts, tuple[int, int]] = {}
        self._reaching: tuple[float, list[list[_Option]]] | None = None
        self._rows = [self._rows_of(tire) for tire in range(task.count)]

    def table(
        self, *, last: float, spread_mm: float | None = None, within: int | None = None
    ) -> Table | None:
        """Find a schedule whose last stint runs at least so far, or None.

        With `spread_mm`, one that has at most so much left on any tire at that point. With
        `within`, None also where so many steps did not find one.
        """
        options = self._options(last, spread_mm)
        whole = self.budget
        self.budget = part = whole if within is None else Budget(min(within, whole.left))
        before = part.left
        found = next(self._tables(options, self._may_cost(last), _ENDLESS), None)
        if part is not whole:
            whole.spend(before - part.left)
        self.budget = whole
        return found

    def tables(self, *, last: float, spread_mm: float, changes: int) -> Iterator[Table]:
        """Find every schedule that changes classes at most so often, each once."""
        return self._tables(self._options(last, spread_mm), self._may_cost(last), changes)

    def least_changes(self, *, last: float, spread_mm: float) -> int:
        """Give a number of changes of class that no schedule can do with less than."""
        return sum(
            min((option.changes for option in each), default=0)
            for each in self._options(last, spread_mm)
        )

    def least_spread_mm(self, *, last: float) -> float:
        """Give a spread that no schedule can be under: some tire has so much left in any case."""
        return max(
            min((option.end_mm for option in each), default=0.0)
            for each in self._options(last, None)
        )

    def _may_cost(self, last: float) -> float:
        return self._bound.life - self.full * self._task.interval - last + COST_SLACK

    def _rows_of(self, tire: int) -> list[tuple[float, Counts, float]]:
        """Give the rows a tire may have, by what they cost, each with what it leaves, mm."""
        task, alike = self._task, self._alike
        price, cost = self._bound.price[tire], self._bound.cost[tire]
        rows: list[tuple[float, Counts, float]] = []

        def extend(kind: int, counts: Counts, free: int, left: float, spent: float) -> None:
            if left <= SLACK_MM or not self.budget.spend():
                return
            if kind == len(alike.sizes) - 1:
                if free and not alike.allowed[tire][kind]:
                    return
                left -= free * task.interval * alike.rates[kind]
                if left > SLACK_MM:
                    spent += free * task.interval * cost[kind]
                    rows.append((spent + price * left, (*counts, free), left))
                return
            for stints in range(free + 1 if alike.allowed[tire][kind] else 1):
                run = stints * task.interval
                extend(
                    kind + 1,
                    (*counts, stints),
                    free - stints,
                    left - run * alike.rates[kind],
                    spent + run * cost[kind],
                )

        extend(0, (), self.full, task.rests_mm[tire], 0.0)
        rows.sort()
        return rows

    def _options(self, last: float, spread_mm: float | None) -> list[list["_Option"]]:
        """Give by tire the rows that reach so far at no more than what all may cost together."""
        if self._reaching is None or self._reaching[0] != last:
            options = [self._options_of(tire, last) for tire in range(self._task.count)]
            self._reaching = last, options
        options = self._reaching[1]
        if spread_mm is None:
            return options
        return [[option for option in each if option.end_mm <= spread_mm] for each in options]

    def _options_of(self, tire: int, last: float) -> list["_Option"]:
        alike, rows = self._alike, self._rows[tire]
        price, cost = self._bound.price[tire], self._bound.cost[tire]
        may_cost = self._may_cost(last)
        ends = [
            (kind, last * alike.rates[kind], last * (cost[kind] - price * alike.rates[kind]))
            for kind in self._kinds
            if alike.allowed[tire][kind]
        ]
        least = min(extra for _, _, extra in ends)
        until = bisect_right(rows, may_cost - least, key=lambda row: row[0])
        self.budget.spend(until)
        found = [
            self._option(counts, kind, left, left - wear, spent + extra, tire)
            for spent, counts, left in rows[:until]
            for kind, wear, extra in ends
            if spent + extra <= may_cost and left - wear >= -_ROUNDING_MM
        ]
        found.sort(key=lambda option: option.cost)
        return found

    def _option(
        self, counts: Counts, last: int, left: float, end: float, cost: float, tire: int
    ) -> "_Option":
        # the same row comes again with every last stint that is asked for
        packed, visited = self._packed.get(counts) or self._pack(counts)
        others = (visited | 1 << last) & ~(1 << self._alike.of[self._task.start[tire]])
        return _Option(
            counts,
            last,
            left,
            end,
            cost,
            others.bit_count(),
            packed | 1 << (self._width * (len(self._kinds) + last)),
        )

    def _pack(self, counts: Counts) -> tuple[int, int]:
        """Put full stints into one whole number, a field a class, and a bit for each class visited.

        Above them is a field a class for the last stint. Fields have room for a guard above them,
        so that one subtraction takes a row from what the columns still take, and shows whether it
        went.
        """
        packed = sum(each << (self._width * kind) for kind, each in enumerate(counts))
        visited = sum(1 << kind for kind, each in enumerate(counts) if each)
        self._packed[counts] = packed, visited
        return packed, visited

    def _tables(
        self, options: list[list["_Option"]], may_cost: float, may_change: int
    ) -> Iterator[Table]:
        """Choose a row for each tire, those with the fewest options first; the last is forced."""
        if not all(options):
            return
        order = sorted(range(len(options)), key=lambda tire: len(options[tire]))
        by_depth = [options[tire] for tire in order]
        columns = self._least_by_column(by_depth, may_cost)
        forced = {option.packed: option for option in by_depth.pop()}
        least_cost = _sums_from_here([[each.cost for each in rows] for rows in by_depth])
        least_changes = _sums_from_here([[each.changes for each in rows] for rows in by_depth])
        cost_of_forced = min(option.cost for option in forced.values())
        changes_of_forced = min(option.changes for option in forced.values())
        sizes = self._alike.sizes
        guards = sum(1 << (self._width * (place + 1) - 1) for place in range(2 * len(sizes)))
        room = sum(
            each << (self._width * place)
            for place, each in enumerate((*(self.full * size for size in sizes), *sizes))
        )
        mask = (1 << self._width) - 1
        failed: dict[tuple[int, int], float] = {}
        chosen: list[_Option] = []

        def place(depth: int, free: int, spent: float, changes: float) -> Iterator[Table]:
            if not self.budget.spend():
                return
            if depth == len(by_depth):
                found = forced.get(free)
                if found is not None and found.changes <= changes:
                    rows = dict(zip(order, (*chosen, found), strict=True))
                    yield Table(
                        rows=tuple(
                            Row(counts=row.counts, last=row.last, left_mm=row.left_mm)
                            for row in (rows[tire] for tire in range(len(order)))
                        ),
                        full=self.full,
                    )
                return
            key = (depth, free)
            if failed.get(key, -1.0) >= changes:
                return
            for full, ends, least in columns[depth]:
                takes = (free >> full & mask) | (free >> ends & mask) << self._width
                if least.get(takes, _ENDLESS) > may_cost - spent:
                    failed[key] = changes
                    return
            cost_left = may_cost - spent - least_cost[depth + 1] - cost_of_forced
            changes_left = changes - least_changes[depth + 1] - changes_of_forced
            has_found = False
            for option in by_depth[depth]:
                if option.cost > cost_left:
                    break
                if option.changes > changes_left:
                    continue
                after = (free | guards) - option.packed
                if after & guards != guards:
                    continue
                chosen.append(option)
                for table in place(
                    depth + 1, after ^ guards, spent + option.cost, changes - option.changes
                ):
                    has_found = True
                    yield table
                chosen.pop()
            if not has_found:
                failed[key] = changes

        yield from place(0, room, 0.0, may_change)

    def _least_by_column(
        self, by_depth: Sequence[Sequence["_Option"]], may_cost: float
    ) -> list[list[tuple[int, int, dict[int, float]]]]:
        """Give, by depth and class, what the tires from there on cost at least to fill the class.

        By the full and the last stints that they take of it, in one number; with the places of
        both in the packed one. All other classes are left out of account, so it is a lower bound.
        What would cost more than may be spent is left out.
        """
        columns: list[list[tuple[int, int, dict[int, float]]]] = [[] for _ in by_depth]
        for kind in self._kinds:
            sums = {0: 0.0}
            for depth in range(len(by_depth) - 1, -1, -1):
                own: dict[int, float] = {}
                for option in by_depth[depth]:  # the cheapest first
                    takes = option.counts[kind] + (int(option.last == kind) << self._width)
                    if takes not in own:
                        own[takes] = option.cost
                after: dict[int, float] = {}
                rests = sorted(sums.items(), key=lambda each: each[1])
                for takes, cost in own.items():
                    free = may_cost - cost
                    for taken, rest in rests:
                        if rest > free:
                            break
                        both, whole = takes + taken, cost + rest
                        if whole < after.get(both, _ENDLESS):
                            after[both] = whole
                sums = after
                columns[depth].append(
                    (self._width * kind, self._width * (kind + len(self._kinds)), sums)
                )
        return columns


_ENDLESS = 10**9


class _Option(NamedTuple):
    """A row and its last class: what is left before the last stint and at the end, mm, its cost.

    `changes` counts how often at least the tire changes its class.
    """

    counts: Counts
    last: int
    left_mm: float
    end_mm: float
    cost: float
    changes: int
    packed: int


def _sums_from_here(values: Sequence[Sequence[float]]) -> list[float]:
    """Give, from each place to the end, the sum of the least values."""
    sums = [0.0]
    for each in reversed(values):
        sums.append(sums[-1] + min(each))
    return sums[::-1]
