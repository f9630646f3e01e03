"""One item moved to another visit, or a visit to another day; the line of the planner's page."""

from datetime import date

import pytest

from castlenut.domain.visits.line import AccessPrice, Calendar, Every, Line, PlannedItem
from castlenut.domain.visits.moving import Moving
from castlenut.domain.visits.plan import plan_visits

APRIL, JUNE, DECEMBER = date(2031, 4, 10), date(2031, 6, 5), date(2031, 12, 4)


def item(name: str, hours: float, parts: float, on: date, months: int, *access: str) -> PlannedItem:
    return PlannedItem(
        id=name,
        hours=hours,
        parts=parts,
        access=access,
        due_on=on,
        due_at=None,
        every=Every(months=months),
    )


LINE = Line(
    calendar=Calendar(today=date(2031, 1, 6), until=date(2032, 1, 6)),
    visit_cost=60,
    hourly_rate=50,
    access={
        "lift": AccessPrice(hours=0.5),
        "wheel LF": AccessPrice(hours=0.5, under=("lift",)),
    },
    items=(
        item("A", 1, 30, APRIL, 24, "wheel LF"),
        item("B", 1.5, 25, JUNE, 12, "wheel LF"),
        item("C", 0.8, 20, DECEMBER, 24),
    ),
)


@pytest.fixture
def moving() -> Moving:
    """Give the best plan, all three on 10 April 2031, as one to be moved about in."""
    return Moving(LINE, plan_visits(LINE, may_go_on=lambda: True))


def test_an_item_moved_to_its_own_last_day_costs_a_visit_and_keeps_its_life(
    moving: Moving,
) -> None:
    """60 x 238/731 = 19.53 of C's life is kept for a visit of 60."""
    found = moving.moved("C", APRIL, DECEMBER)

    assert found.more.visits == 60
    assert found.more.access == 0
    assert found.more.life == pytest.approx(-19.53, abs=0.005)
    assert found.visits == 1
    assert found.past is None
    assert [each.on for each in found.plan.visits] == [APRIL, DECEMBER]
    assert found.plan.cost.total == pytest.approx(185.30, abs=0.01)


def test_an_item_moved_away_opens_what_it_needs_once_more(moving: Moving) -> None:
    """B: a visit of 60, lift and wheel for 50 more, 100 x 56/366 = 15.30 of life kept."""
    found = moving.moved("B", APRIL, JUNE)

    assert (found.more.visits, found.more.access, found.hours) == (60, 50, 1.0)
    assert found.more.life == pytest.approx(-15.30, abs=0.005)


def test_past_its_window_is_told_with_the_day_it_closed(moving: Moving) -> None:
    assert moving.moved("A", APRIL, JUNE).past == APRIL
    assert moving.moved("B", APRIL, JUNE).past is None


def test_it_may_go_to_the_other_visits_and_to_its_last_day(moving: Moving) -> None:
    assert moving.days_for("C", APRIL) == (DECEMBER,)
    assert moving.days_for("A", APRIL) == ()


def test_a_day_on_which_the_car_is_in_anyway_costs_no_visit_and_nothing_that_is_open() -> None:
    plan = plan_visits(LINE, may_go_on=lambda: True)
    moving = Moving(LINE, plan, in_anyway={JUNE: frozenset({"lift"})})

    found = moving.moved("B", APRIL, JUNE)

    assert JUNE in moving.days_for("B", APRIL)
    assert (found.more.visits, found.more.access, found.hours) == (0, 25, 0.5)


def test_what_follows_keeps_its_window_after_a_doing_that_came_sooner() -> None:
    """Done on 10 April instead of 5 June, the next closes a year after that and not before."""
    line = Line(
        calendar=Calendar(today=date(2031, 1, 6), until=date(2033, 1, 5)),
        visit_cost=60,
        hourly_rate=50,
        access={},
        items=(item("A", 1, 30, APRIL, 24), item("B", 1.5, 500, JUNE, 12)),
    )
    moving = Moving(line, plan_visits(line, may_go_on=lambda: True))

    found = moving.moved("B", JUNE, APRIL)

    assert [each.on for each in found.plan.done_on("B")] == [APRIL, date(2032, 4, 9)]


def test_a_visit_a_week_later_gives_up_less_of_what_is_early() -> None:
    """B and C are early on 10 April, by 56 and 238 days: 7 days fewer of each, A loses none."""
    plan = plan_visits(LINE, may_go_on=lambda: True)

    more = Moving(LINE, plan).life_on(plan.visits[0], date(2031, 4, 17))

    saved = 100 * 7 / 366 + 60 * 7 / 731
    late = 80 * 7 / 731  # past its window, A gives up nothing, and gains as many days
    assert more == pytest.approx(-(saved + late), abs=0.05)
