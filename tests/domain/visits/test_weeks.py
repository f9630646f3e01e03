"""The garage's hours: the example of the planner's page, and what overflows."""

from datetime import date

from castlenut.domain.visits.line import Calendar
from castlenut.domain.visits.weeks import Wanted, load

MAY = Calendar(today=date(2032, 5, 3), until=date(2032, 5, 9))


def wanted(name: str, hours: float, begin: int, end: int) -> Wanted:
    return Wanted(id=name, hours=hours, from_on=date(2032, 5, begin), by_on=date(2032, 5, end))


THREE = (wanted("P", 10, 3, 4), wanted("Q", 12, 3, 5), wanted("R", 4, 4, 4))


def test_the_earliest_closing_is_worked_first() -> None:
    found = load(THREE, MAY, day_hours=8, days={})

    assert {each.id: [(s.on.day, s.hours) for s in each.work] for each in found.visits} == {
        "P": [(3, 8), (4, 2)],
        "Q": [(4, 2), (5, 8)],
        "R": [(4, 4)],
    }
    assert [each.unplaced for each in found.visits] == [0, 2, 0]


def test_the_hours_that_do_not_fit_are_those_missing_in_a_span() -> None:
    (over,) = load(THREE, MAY, day_hours=8, days={}).over

    assert (over.from_on.day, over.by_on.day) == (3, 5)
    assert (over.hours, over.capacity, over.short) == (26, 24, 2)
    assert over.visits == ("P", "Q", "R")


def test_a_day_with_more_hours_makes_them_fit() -> None:
    found = load(THREE, MAY, day_hours=8, days={date(2032, 5, 5): 10})

    assert found.over == ()
    assert all(each.unplaced == 0 for each in found.visits)


def test_a_week_counts_its_open_days() -> None:
    (week,) = load(THREE, MAY, day_hours=8, days={}).weeks

    assert (week.monday, week.hours, week.capacity) == (date(2032, 5, 3), 24, 40)
    assert week.share == 0.6


def test_a_week_that_is_closed_has_no_share() -> None:
    calendar = Calendar(today=date(2032, 5, 8), until=date(2032, 5, 9))

    (week,) = load((), calendar, day_hours=8, days={}).weeks

    assert week.capacity == 0
    assert week.share is None


def test_two_spans_that_are_short_are_both_named() -> None:
    visits = (wanted("P", 9, 3, 3), wanted("Q", 10, 5, 5))

    found = load(visits, MAY, day_hours=8, days={})

    assert [(each.visits, each.short) for each in found.over] == [(("P",), 1), (("Q",), 2)]
