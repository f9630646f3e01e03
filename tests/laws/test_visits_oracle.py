"""Plans of lines too large for plain recursion, against a general solver (HiGHS)."""

from collections.abc import Sequence

import highspy
import pytest
from highspy.highs import highs_linear_expression, highs_var

from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import opening_costs, plan_visits
from castlenut.domain.visits.series import Series
from castlenut.domain.visits.task import FINISHED, Entered, Row, Task, task
from tests.bench.bench_visits import line

pytestmark = pytest.mark.long


def tables(given: Line) -> tuple[Task, float]:
    """Give the tables, and the life each item uses alone, which the tables count too."""
    days = OpenDays(given.calendar)
    series = [Series(item, given, days) for item in given.items]
    made = task(
        [
            Entered(series=each, begin=each.first(), needs=given.closure(each.item.access))
            for each in series
        ],
        opening=opening_costs(given),
        visit_cost=given.visit_cost,
        until=days.until,
        open_days=days.all,
    )
    return made, sum(each.cost * each.least_used() for each in series)


def cheapest_by_flow(given: Line) -> float:
    """Give the least total: one flow an item through its windows, an opening for what it uses.

    What is opened on a day is a whole number; the flows follow.
    """
    made, counted = tables(given)
    solver = highspy.Highs()  # type: ignore[no-untyped-call] # the package types only some of it
    solver.silent()
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 1e-4)
    opened: dict[tuple[int, int], highs_var] = {}
    parts: list[highs_linear_expression] = []
    for row in made.rows:
        parts.extend(_flow(solver, row, opened))
    for (resource, day), variable in opened.items():
        price = given.visit_cost if resource == 0 else made.prices[resource][day]
        parts.append(price * variable)
    solver.minimize(_sum(parts))
    return float(solver.getObjectiveValue()) - counted


def _flow(
    solver: highspy.Highs, row: Row, opened: dict[tuple[int, int], highs_var]
) -> list[highs_linear_expression]:
    """Send one unit through the windows of an item, and give the parts of what it costs."""
    into: dict[int, list[highs_var]] = {}
    uses: dict[int, list[highs_var]] = {}
    parts: list[highs_linear_expression] = []
    for number, window in enumerate(row.windows):
        if window is None or (number and number not in into):
            continue
        out: list[highs_var] = []
        for day in range(window.low, window.high + 1):
            flow = solver.addVariable(lb=0, ub=1)
            out.append(flow)
            uses.setdefault(day, []).append(flow)
            paid = row.cost + window.lateness(day)
            following = row.after(number, day)
            if following == FINISHED:
                paid -= row.credit(number, day)
            else:
                into.setdefault(following, []).append(flow)
            parts.append(paid * flow)
        if number:
            solver.addConstr(_sum(out) == _sum(into[number]))
        else:
            solver.addConstr(_sum(out) == 1)
    for day, flows in uses.items():
        for resource in row.needs:
            if (resource, day) not in opened:
                opened[resource, day] = solver.addBinary()
            solver.addConstr(_sum(flows) <= opened[resource, day])
    return parts


def _sum(parts: Sequence[highs_var | highs_linear_expression]) -> highs_linear_expression:
    whole = highs_linear_expression()
    for part in parts:
        whole += part
    return whole


@pytest.mark.parametrize("seed", range(100, 108))
def test_no_plan_of_twelve_items_over_a_year_costs_less(seed: int) -> None:
    given = line(seed, count=12, months=12)

    plan = plan_visits(given, may_go_on=lambda: True)

    assert plan.is_proved
    assert plan.cost.total == pytest.approx(cheapest_by_flow(given), abs=0.01)


@pytest.mark.parametrize("seed", range(100, 103))
def test_no_plan_of_twenty_items_over_a_year_costs_less(seed: int) -> None:
    given = line(seed, count=20, months=12)

    plan = plan_visits(given, may_go_on=lambda: True)

    assert plan.is_proved
    assert plan.cost.total == pytest.approx(cheapest_by_flow(given), abs=0.01)
