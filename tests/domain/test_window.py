"""Windows: their ends, what comes next, and how today stands to them."""

from datetime import date
from fractions import Fraction

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.interval import Interval, Point
from castlenut.domain.window import (
    NO_ALLOWANCE,
    USUAL_ALLOWANCE,
    Allowance,
    NextFrom,
    Side,
    Standing,
    Window,
    binding_side,
    days_allowed,
    distance_allowed,
    due_point,
    inside_at,
    inside_on,
    months_allowed,
    next_base,
    standing,
    window_around,
)

TEN_PERCENT = Allowance(percent=Fraction(10))
BOTH = Interval(months=12, distance=6000.0)
DUE = Point(on=date(2026, 6, 10), at=50000.0)
WINDOW = window_around(DUE.on, DUE.at, BOTH, lead=USUAL_ALLOWANCE, tolerance=USUAL_ALLOWANCE)


def test_usual_allowance_is_capped_at_30_days_and_500() -> None:
    """Ten percent of 12 months would be 36 days, of 6,000 miles 600."""
    assert days_allowed(BOTH, USUAL_ALLOWANCE) == 30
    assert distance_allowed(BOTH, USUAL_ALLOWANCE) == 500.0


def test_part_days_are_dropped() -> None:
    """Ten percent of 19 days."""
    assert days_allowed(Interval(days=19), TEN_PERCENT) == 1


def test_side_that_is_not_there_is_allowed_nothing() -> None:
    assert days_allowed(Interval(distance=6000.0), TEN_PERCENT) == 0
    assert distance_allowed(Interval(months=6), TEN_PERCENT) == 0.0


def test_factor_acts_before_the_tolerance() -> None:
    """4 months 6 days are 126 days: 12 allowed, where 6 months would have 18."""
    assert days_allowed(Interval(months=4, days=6), TEN_PERCENT) == 12


def test_whole_months_drop_the_part_of_a_month() -> None:
    assert months_allowed(Interval(months=12), TEN_PERCENT) == 1
    assert months_allowed(Interval(months=6), TEN_PERCENT) == 0


def test_whole_months_keep_the_cap_in_days() -> None:
    assert months_allowed(Interval(months=120), Allowance(percent=Fraction(10), cap_days=180)) == 6


def test_window_of_whole_months_is_cut_to_the_last_day() -> None:
    allowance = Allowance(percent=Fraction(10), whole_months=True)

    window = window_around(
        date(2026, 3, 31), None, Interval(months=12), lead=allowance, tolerance=allowance
    )

    assert window == Window(opens_on=date(2026, 2, 28), closes_on=date(2026, 4, 30))


def test_without_allowance_the_window_is_its_due_point() -> None:
    window = window_around(DUE.on, DUE.at, BOTH, lead=NO_ALLOWANCE, tolerance=NO_ALLOWANCE)

    assert window == Window(
        opens_on=date(2026, 6, 10), closes_on=date(2026, 6, 10), opens_at=50000.0, closes_at=50000.0
    )


def test_lead_and_tolerance_are_two_sides() -> None:
    window = window_around(DUE.on, DUE.at, BOTH, lead=USUAL_ALLOWANCE, tolerance=NO_ALLOWANCE)

    assert window.opens_on == date(2026, 5, 11)
    assert window.closes_on == date(2026, 6, 10)
    assert window.opens_at == 49500.0
    assert window.closes_at == 50000.0


def test_side_without_due_point_has_no_window() -> None:
    window = window_around(None, 50000.0, BOTH, lead=TEN_PERCENT, tolerance=TEN_PERCENT)

    assert window.opens_on is None
    assert window.closes_on is None


@pytest.mark.parametrize(
    ("percent", "cap_days", "cap_distance", "where"),
    [
        (Fraction(-1), None, None, "percent"),
        (Fraction(101), None, None, "percent"),
        (Fraction(10), -1, None, "cap_days"),
        (Fraction(10), None, -1.0, "cap_distance"),
        (Fraction(10), None, float("nan"), "cap_distance"),
    ],
)
def test_allowance_that_cannot_be_is_refused(
    percent: Fraction, cap_days: int | None, cap_distance: float | None, where: str
) -> None:
    with pytest.raises(BadInput, match=where):
        Allowance(percent=percent, cap_days=cap_days, cap_distance=cap_distance)


def test_both_ends_lie_inside() -> None:
    assert inside_on(WINDOW, date(2026, 5, 11)) is True
    assert inside_on(WINDOW, date(2026, 7, 10)) is True
    assert inside_at(WINDOW, 49500.0) is True
    assert inside_at(WINDOW, 50500.0) is True


def test_a_step_beyond_the_ends_lies_outside() -> None:
    assert inside_on(WINDOW, date(2026, 5, 10)) is False
    assert inside_on(WINDOW, date(2026, 7, 11)) is False
    assert inside_at(WINDOW, 50500.1) is False


def test_what_is_not_known_is_neither_inside_nor_outside() -> None:
    assert inside_on(WINDOW, None) is None
    assert inside_at(Window(), 5.0) is None


def test_by_schedule_each_side_looks_at_its_own_window() -> None:
    """Done in time by date, early by distance: the date keeps its grid, the distance does not."""
    done = Point(on=date(2026, 6, 20), at=47000.0)

    base = next_base(done, DUE, WINDOW, NextFrom.SCHEDULE)

    assert base == Point(on=date(2026, 6, 10), at=47000.0)


def test_from_done_ignores_the_window() -> None:
    done = Point(on=date(2026, 6, 20), at=50100.0)

    assert next_base(done, DUE, WINDOW, NextFrom.DONE) == done


def test_side_of_the_job_that_is_not_known_stays_unknown() -> None:
    base = next_base(Point(on=date(2026, 6, 20)), DUE, WINDOW, NextFrom.SCHEDULE)

    assert due_point(base, BOTH) == Point(on=date(2027, 6, 10))


def test_end_of_month_leaves_the_distance_alone() -> None:
    due = due_point(Point(on=date(2025, 6, 6), at=100.0), BOTH, NextFrom.END_OF_MONTH)

    assert due == Point(on=date(2026, 6, 30), at=6100.0)


@pytest.mark.parametrize(
    ("today", "at_today", "expected"),
    [
        (date(2026, 5, 10), 49499.9, Standing.AHEAD),
        (date(2026, 5, 11), 49000.0, Standing.DUE),
        (date(2026, 5, 1), 49500.0, Standing.DUE),
        (date(2026, 7, 10), 50500.0, Standing.DUE),
        (date(2026, 7, 11), 49000.0, Standing.OVERDUE),
        (date(2026, 5, 1), 50500.1, Standing.OVERDUE),
        (date(2026, 5, 1), None, Standing.AHEAD),
        (None, 50600.0, Standing.OVERDUE),
        (None, None, None),
    ],
)
def test_side_further_along_decides(
    today: date | None, at_today: float | None, expected: Standing | None
) -> None:
    assert standing(WINDOW, today=today, at_today=at_today) is expected


@pytest.mark.parametrize(
    ("today", "at_today", "expected"),
    [
        (date(2026, 7, 11), 49600.0, Side.DATE),
        (date(2026, 1, 1), 49600.0, Side.DISTANCE),
        (date(2025, 12, 12), 45000.0, Side.DATE),
        (date(2025, 12, 12), 48000.0, Side.DISTANCE),
        (date(2025, 12, 12), 47000.0, Side.DATE),
        (date(2025, 12, 12), None, Side.DATE),
        (None, 48000.0, Side.DISTANCE),
        (None, None, None),
    ],
)
def test_what_binds_is_the_side_further_along_then_the_smaller_share_left(
    today: date | None, at_today: float | None, expected: Side | None
) -> None:
    """180 of 360 days and 3,000 of 6,000 miles left are equal shares: the date binds."""
    assert binding_side(DUE, WINDOW, BOTH, today=today, at_today=at_today) is expected


def test_side_without_an_interval_binds_only_where_it_is_further_along() -> None:
    """A due date given beside an interval that counts distance only."""
    interval = Interval(distance=6000.0)

    assert (
        binding_side(DUE, WINDOW, interval, today=date(2026, 1, 1), at_today=45000.0)
        is Side.DISTANCE
    )


def test_due_point_that_is_not_known_binds_no_side() -> None:
    assert binding_side(Point(), WINDOW, BOTH, today=date(2026, 1, 1), at_today=45000.0) is None


@pytest.mark.parametrize(
    ("percent", "cap_days", "cap_distance"),
    [(100, None, None), (Fraction(199, 2), None, None), (10, 0, None), (10, None, 0.0)],
)
def test_all_of_an_interval_and_a_cap_of_nothing_may_be_allowed(
    percent: int | Fraction, cap_days: int | None, cap_distance: float | None
) -> None:
    given = Allowance(percent=Fraction(percent), cap_days=cap_days, cap_distance=cap_distance)

    assert given.percent == percent


def test_half_a_mile_is_a_cap() -> None:
    assert distance_allowed(BOTH, Allowance(percent=Fraction(10), cap_distance=0.5)) == 0.5


def test_without_a_time_side_all_of_it_is_no_day() -> None:
    assert days_allowed(Interval(distance=6000.0), Allowance(percent=Fraction(100))) == 0


def test_a_share_with_a_fraction_is_taken_exactly() -> None:
    """12.5 percent: of 80 days 10, of 24 months of 30 days 90 days or 3 months, of 1,000 mi 125."""
    eighth = Allowance(percent=Fraction(25, 2))

    assert days_allowed(Interval(days=80), eighth) == 10
    assert months_allowed(Interval(months=24), eighth) == 3
    assert distance_allowed(Interval(distance=1000.0), eighth) == 125.0


def test_ten_percent_of_ten_months_are_one_month_to_the_day() -> None:
    assert months_allowed(Interval(months=10), TEN_PERCENT) == 1


def test_a_cap_of_45_days_is_one_whole_month() -> None:
    capped = Allowance(percent=Fraction(50), cap_days=45, whole_months=True)

    window = window_around(
        date(2026, 6, 10), None, Interval(months=12), lead=capped, tolerance=capped
    )

    assert window == Window(opens_on=date(2026, 5, 10), closes_on=date(2026, 7, 10))


def test_two_whole_months_reach_two_months_to_either_side() -> None:
    two = Allowance(percent=Fraction(20), whole_months=True)

    window = window_around(date(2026, 6, 10), None, Interval(months=12), lead=two, tolerance=two)

    assert window == Window(opens_on=date(2026, 4, 10), closes_on=date(2026, 8, 10))


def test_a_window_of_one_end_holds_nothing_that_is_known() -> None:
    half = Window(closes_on=date(2026, 6, 10), closes_at=100.0)

    assert inside_on(half, date(2026, 6, 1)) is None
    assert inside_at(half, 90.0) is None
    assert standing(half, today=date(2026, 6, 20), at_today=200.0) is None


def test_a_side_whose_base_is_not_known_has_no_due_point() -> None:
    assert due_point(Point(at=100.0), BOTH) == Point(at=6100.0)


@pytest.mark.parametrize("due", [Point(on=date(2026, 6, 10)), Point(at=50000.0)])
def test_with_a_due_point_half_known_neither_side_binds(due: Point) -> None:
    side = binding_side(due, WINDOW, BOTH, today=date(2026, 1, 1), at_today=40000.0)

    assert side is None


def test_the_only_side_of_an_interval_binds() -> None:
    on, at = date(2026, 1, 1), 40000.0

    assert binding_side(DUE, WINDOW, Interval(months=12), today=on, at_today=at) is Side.DATE
    assert binding_side(DUE, WINDOW, Interval(distance=6e3), today=on, at_today=at) is Side.DISTANCE
