"""Laws of plans of visits, each quoting what it proves."""

from datetime import date
from itertools import pairwise
from random import Random

from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.frozen import replace
from castlenut.domain.visits.line import Calendar, Line, PlannedItem, Use
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import Plan, plan_visits
from castlenut.domain.visits.series import Series
from castlenut.domain.visits.weeks import Wanted, load
from tests.domain.visits.definition import random_line
from tests.laws.examples import examples

LINES = (
    st.integers(min_value=5000, max_value=9000)
    .map(random_line)
    .filter(lambda line: bool(OpenDays(line.calendar).all))
)
FEW = examples(15)


def planned(line: Line) -> Plan:
    return plan_visits(line, may_go_on=lambda: True)


@FEW
@given(LINES)
def test_the_bound_is_never_above_the_plan(line: Line) -> None:
    """Bound <= total, however little time there was."""
    plan = plan_visits(line, may_go_on=lambda: False)

    assert plan.bound <= plan.cost.total + 1e-9
    assert plan.bound <= planned(line).cost.total + 0.005


@FEW
@given(LINES)
def test_nothing_is_past_its_window_unless_it_is_said(line: Line) -> None:
    """No plan puts an item past its window unless it is said to be unavoidable."""
    plan = planned(line)

    said = {(each.item, each.planned_on) for each in plan.cannot}
    for visit in plan.visits:
        for doing in visit.doings:
            assert doing.on <= doing.closes_on or (doing.item, doing.on) in said


@FEW
@given(LINES, st.integers(min_value=0, max_value=10_000))
def test_names_and_order_change_nothing(line: Line, seed: int) -> None:
    """Plans do not depend on the order of items or their names."""
    shuffled = list(line.items)
    Random(seed).shuffle(shuffled)
    renamed = tuple(
        replace(item, id=f"{len(shuffled) - place} {item.id[::-1]}")
        for place, item in enumerate(shuffled)
    )

    one, other = planned(line), planned(replace(line, items=renamed))

    assert abs(one.cost.total - other.cost.total) < 0.005
    assert [each.on for each in one.visits] == [each.on for each in other.visits]


@FEW
@given(LINES, st.floats(min_value=1, max_value=200))
def test_a_dearer_visit_never_gives_more_visits(line: Line, more: float) -> None:
    dearer = planned(replace(line, visit_cost=line.visit_cost + more))

    assert len(dearer.visits) <= len(planned(line).visits)


@FEW
@given(LINES, st.floats(min_value=0, max_value=60))
def test_a_cheaper_visit_never_makes_the_total_dearer(line: Line, less: float) -> None:
    cheaper = planned(replace(line, visit_cost=max(0.0, line.visit_cost - less)))

    assert cheaper.cost.total <= planned(line).cost.total + 0.005


@FEW
@given(LINES)
def test_an_item_more_never_costs_less(line: Line) -> None:
    fewer = planned(replace(line, items=line.items[:-1]))

    assert fewer.cost.total <= planned(line).cost.total + 0.005


@FEW
@given(LINES)
def test_what_is_opened_never_rises_by_an_item_that_needs_what_is_open(line: Line) -> None:
    """Opening up costs never rise when an item is added to an open visit."""
    for visit in planned(line).visits:
        opened = line.closure(visit.access)
        assert opened == frozenset(visit.access)
        for item in line.items:
            if line.closure(item.access) <= opened:
                assert line.closure((*visit.access, *item.access)) == opened


@FEW
@given(LINES)
def test_twenty_eight_years_change_nothing_but_the_dates(line: Line) -> None:
    """The calendar comes round: weekdays and leap years are the same 28 years on."""
    later = replace(
        line,
        calendar=_shifted(line.calendar),
        use=None
        if line.use is None
        else Use(
            dates=tuple(_later(each) for each in line.use.dates),
            expected=line.use.expected,
            fast=line.use.fast,
        ),
        items=tuple(_due_later(item) for item in line.items),
    )

    one, other = planned(line), planned(later)

    assert [_later(each.on) for each in one.visits] == [each.on for each in other.visits]
    assert abs(one.cost.total - other.cost.total) < 1e-6


def _later(day: date) -> date:
    return day + relativedelta(years=28)


def _shifted(calendar: Calendar) -> Calendar:
    return replace(
        calendar,
        today=_later(calendar.today),
        until=_later(calendar.until),
        closed=tuple((_later(first), _later(last)) for first, last in calendar.closed),
        laid_up=tuple((_later(first), _later(last)) for first, last in calendar.laid_up),
    )


def _due_later(item: PlannedItem) -> PlannedItem:
    return item if item.due_on is None else replace(item, due_on=_later(item.due_on))


@FEW
@given(LINES)
def test_later_work_never_brings_the_next_window_forward(line: Line) -> None:
    """Next day, opens, closes and share left are monotone in the base; a fixed series too."""
    days = OpenDays(line.calendar)
    for item in line.items:
        series = Series(item, line, days)
        for before, after in pairwise(days.all):
            assert series.left(before) <= series.left(after) + 1e-12
            one, other = series.after(before), series.after(after)
            if one is not None and other is not None and item.next_from.value == "done":
                assert one.closes <= other.closes
                assert one.latest <= other.latest
            assert one is not None or other is None


VISITS = st.lists(
    st.tuples(
        st.floats(min_value=0.5, max_value=30),
        st.integers(min_value=0, max_value=27),
        st.integers(min_value=0, max_value=13),
    ),
    max_size=12,
)


@given(VISITS)
def test_what_is_missing_in_the_spans_is_what_does_not_fit(
    given_visits: list[tuple[float, int, int]],
) -> None:
    """The sum of `short` equals the unplaced hours, which proves that no more fits."""
    begin = date(2032, 5, 3)
    visits = [
        Wanted(
            id=str(number),
            hours=hours,
            from_on=begin + relativedelta(days=start),
            by_on=begin + relativedelta(days=start + length),
        )
        for number, (hours, start, length) in enumerate(given_visits)
    ]
    calendar = Calendar(today=begin, until=date(2032, 6, 20))

    found = load(visits, calendar, day_hours=8, days={})

    missing = sum(each.short for each in found.over)
    assert abs(missing - sum(each.unplaced for each in found.visits)) < 1e-6
    assert all(one.by_on < other.from_on for one, other in pairwise(found.over))
