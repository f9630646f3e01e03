"""The plan: the schedule that lasts longest, then wears out evenly, then moves the fewest wheels.

Lives within half a unit of distance count as equal, and spreads within 0.02 mm. The bound and the
search are exact: where the search ends within its steps, no schedule of this interval lasts longer.
"""

from collections.abc import Sequence
from itertools import permutations
from math import ceil

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.bound import Bound, Classes, bound, classes
from castlenut.domain.tires.rotation.order import Ordered, in_order, in_places
from castlenut.domain.tires.rotation.tables import Budget, Search, Table
from castlenut.domain.tires.rotation.walk import best_walk
from castlenut.domain.tires.rotation.wearing import (
    EQUAL_LIFE,
    EQUAL_SPREAD_MM,
    Arrangement,
    Course,
    Task,
    all_moves,
    run,
)

MOST_STINTS = 2000
_PROVED_STINTS = 16
_TAIL_STINTS = 8
_STEPS = 2_000_000
_PROBE = 5_000
_MOVE_STEPS = 20_000
_ORDER_STEPS = 20_000
_FIRST_STEP = 1e-4
_FINER_LIFE = 0.05
_FINER_SPREAD_MM = 0.005


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A schedule and how good it is known to be.

    `is_proved`: no schedule with these moves at this interval lasts longer, nor as long with less
    spread. `is_moves_proved`: none as good moves fewer wheels.
    """

    course: Course
    moves: int
    bound: float
    is_proved: bool
    is_moves_proved: bool

    @property
    def gap(self) -> float:
        """Give how far the life is below the bound, as a share of it."""
        return max(0.0, 1 - self.course.life / self.bound)


def plan(task: Task, *, steps: Sequence[Arrangement] | None = None) -> Plan:
    """Plan the rotations of a set.

    With `steps`, only these may be done at a rotation, or nothing: each gives, by place, the place
    its wheel goes to. Without, any wheel may go anywhere it may stand.

    Raises:
        BadInput: more rotations in the life of the set than can be planned.
    """
    alike = classes(task)
    limit = bound(task, alike)
    most = ceil(limit.life / task.interval * (1 - 1e-12)) - 1
    if most > MOST_STINTS:
        raise BadInput(
            Fault(
                f"{task.interval:g} makes {most:,} rotations in the life of the set",
                "interval",
                f"give one that makes {MOST_STINTS:,} at most",
            )
        )
    if steps is not None:
        walked = best_walk(task, steps)
        return Plan(
            course=run(task, walked.stints),
            moves=all_moves(task, walked.stints),
            bound=limit.life,
            is_proved=walked.is_proved,
            is_moves_proved=walked.is_moves_proved,
        )
    before = (
        _in_proportion(task, alike, limit, most - _TAIL_STINTS) if most > _PROVED_STINTS else ()
    )
    tail = _after(task, before) if before else task
    ordered, is_proved = _best(tail, alike, bound(tail, alike) if before else limit)
    stints = (*before, *ordered.stints)
    course = run(task, stints)
    is_at_bound = limit.life - course.life <= EQUAL_LIFE
    return Plan(
        course=course,
        moves=all_moves(task, stints),
        bound=limit.life,
        is_proved=is_proved and (not before or is_at_bound),
        is_moves_proved=is_proved and not before and ordered.is_proved,
    )


def _best(task: Task, alike: Classes, limit: Bound) -> tuple[Ordered, bool]:
    """Give the best schedule of any moves, and whether it is proved."""
    budget = Budget(_STEPS)
    found = _longest(task, alike, limit, budget)
    if found is None:
        most = ceil(limit.life / task.interval)
        stints = run(task, _in_proportion(task, alike, limit, most)).stints
        return Ordered(stints=stints, moves=all_moves(task, stints), is_proved=False), False
    search, table = found
    last = max(0.0, table.last_stint(task, alike) - EQUAL_LIFE)
    table = _evenest(task, alike, search, table, last, budget)
    is_proved = not budget.is_spent
    return _calmest(task, alike, search, table, last), is_proved


def _longest(
    task: Task, alike: Classes, limit: Bound, budget: Budget
) -> tuple[Search, Table] | None:
    """Find the longest schedule: the most full stints first, then the longest last stint."""
    below = _FIRST_STEP * limit.life
    for full in range(ceil(limit.life / task.interval * (1 - 1e-12)) - 1, -1, -1):
        search = Search(task, alike, limit, full=full, budget=budget)
        rest = limit.life - full * task.interval
        table: Table | None = None
        while table is None and below < rest:
            asked = rest - below
            table = search.table(last=asked, within=_PROBE) if asked < task.interval else None
            below = below if table else 2 * below
        table = table or search.table(last=0.0)
        if table is not None:
            return search, _climbed(task, alike, search, table, most=min(task.interval, rest))
        if budget.is_spent:
            return None
    return None


def _climbed(task: Task, alike: Classes, search: Search, table: Table, *, most: float) -> Table:
    """Make the last stint as long as can be, `most` at the most.

    To find a schedule takes few steps where there is one, to prove that there is none takes many.
    So those that are not found in a few are passed over, and only what lies next above the longest
    found is proved away; if it is there after all, more steps are allowed.
    """
    probe = _PROBE
    reached = table.last_stint(task, alike)
    while most - reached > 1.5 * _FINER_LIFE and not search.budget.is_spent:
        failed = most
        while failed - reached > 1.5 * _FINER_LIFE:
            near = failed - reached < 1
            asked = reached + _FINER_LIFE if near else (failed + reached) / 2
            better = search.table(last=asked, within=probe)
            if better is None:
                failed = asked
            else:
                table, reached = better, better.last_stint(task, alike)
        better = search.table(last=reached + _FINER_LIFE)
        if better is None:
            break
        table, reached = better, better.last_stint(task, alike)
        probe *= 4
    return table


def _evenest(
    task: Task, alike: Classes, search: Search, table: Table, last: float, budget: Budget
) -> Table:
    """Find the schedule with the least spread among those that last as long."""
    spread = table.spread_mm(task, alike)
    least = min(spread, search.least_spread_mm(last=last)) - _FINER_SPREAD_MM
    while spread - least > _FINER_SPREAD_MM and not budget.is_spent:
        middle = (least + spread) / 2
        better = search.table(last=last, spread_mm=middle)
        if better is None:
            least = middle
        else:
            table, spread = better, min(middle, better.spread_mm(task, alike))
    return table


def _calmest(task: Task, alike: Classes, search: Search, table: Table, last: float) -> Ordered:
    """Find the schedule that moves the fewest wheels among those as long and as even.

    Tables are tried by how often their tires change class at least, so that the first whose order
    needs no more moves than that is proved to be the best.
    """
    spread = table.spread_mm(task, alike) + EQUAL_SPREAD_MM
    search.budget, orders = Budget(_MOVE_STEPS), Budget(_ORDER_STEPS)
    best = in_order(task, table, alike, budget=orders)
    seen = {table}
    changes = search.least_changes(last=last, spread_mm=spread)
    while changes < best.moves and not search.budget.is_spent and not orders.is_spent:
        for other in search.tables(last=last, spread_mm=spread, changes=changes):
            if other in seen:
                continue
            seen.add(other)
            order = in_order(task, other, alike, budget=orders, below=best.moves)
            best = order or best
            if best.moves <= changes or orders.is_spent:
                break
        changes += 1
    is_proved = best.moves <= changes and not search.budget.is_spent and not orders.is_spent
    return Ordered(stints=best.stints, moves=best.moves, is_proved=is_proved)


def _after(task: Task, stints: Sequence[Arrangement]) -> Task:
    """Give what is left to plan after full stints."""
    return Task(
        rests_mm=run(task, stints).rests_mm,
        rates=task.rates,
        allowed=task.allowed,
        interval=task.interval,
        start=stints[-1],
    )


def _in_proportion(task: Task, alike: Classes, limit: Bound, full: int) -> tuple[Arrangement, ...]:
    """Fill stints so that each tire runs in each class nearly as far as it would at the bound."""
    places = [place for place, _ in enumerate(task.rates)]
    choices = [
        choice
        for choice in dict.fromkeys(
            tuple(alike.of[place] for place in order) for order in permutations(places)
        )
        if all(alike.allowed[tire][kind] for tire, kind in enumerate(choice))
    ]
    shares = [[share / limit.life for share in row] for row in limit.shares]
    owed = [[0.0] * len(row) for row in shares]
    taken: list[tuple[int, ...]] = []
    for _ in range(full):
        for tire, row in enumerate(shares):
            for kind, share in enumerate(row):
                owed[tire][kind] += share
        best = max(choices, key=lambda each: sum(owed[i][kind] for i, kind in enumerate(each)))
        for tire, kind in enumerate(best):
            owed[tire][kind] -= 1
        taken.append(best)
    return in_places(task, sorted(taken), alike)
