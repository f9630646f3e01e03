"""Intervals with tolerance: aviation and Army texts, and what they count the next one from."""

from datetime import date
from fractions import Fraction

import pytest

from castlenut.domain.interval import Interval, Point
from castlenut.domain.months import end_of_month_after, months_after
from castlenut.domain.window import (
    Allowance,
    NextFrom,
    Window,
    days_allowed,
    distance_allowed,
    due_point,
    next_base,
    window_around,
)

SPECIAL = "TM 1-1500-328-23, recurring special inspections"
PERCENT = Fraction(10)
AVIATION = Allowance(percent=PERCENT, cap_days=30, cap_distance=5.0)
TEN_PERCENT = Allowance(percent=PERCENT)


def around(due: Point, interval: Interval, allowance: Allowance) -> Window:
    return window_around(due.on, due.at, interval, lead=allowance, tolerance=allowance)


def after(
    done: Point,
    due: Point,
    interval: Interval,
    allowance: Allowance,
    next_from: NextFrom = NextFrom.SCHEDULE,
) -> Point:
    window = around(due, interval, allowance)
    return due_point(next_base(done, due, window, next_from), interval, next_from)


@pytest.mark.published("7.01", basis="R", source=SPECIAL)
def test_25_hours_have_2_5_either_side() -> None:
    window = around(Point(at=1472.7), Interval(distance=25.0), AVIATION)

    assert (window.opens_at, window.closes_at) == (1470.2, 1475.2)


@pytest.mark.published("7.02", basis="R", source=SPECIAL)
def test_75_hours_have_5_flat_and_count_from_the_due_point() -> None:
    due = Point(at=1609.4)
    window = around(due, Interval(distance=75.0), AVIATION)

    assert (window.opens_at, window.closes_at) == (1604.4, 1614.4)
    assert after(Point(at=1612.0), due, Interval(distance=75.0), AVIATION).at == 1684.4


@pytest.mark.published("7.03", basis="R", source=SPECIAL)
def test_done_before_the_window_counts_from_the_job() -> None:
    following = after(Point(at=1299.9), Point(at=1306.4), Interval(distance=50.0), AVIATION)

    assert following.at == 1349.9


@pytest.mark.published("7.04", basis="R", source=SPECIAL)
def test_six_months_have_18_days_either_side() -> None:
    """Ten percent of 6 x 30 days."""
    window = around(Point(on=date(1999, 1, 31)), Interval(months=6), AVIATION)

    assert window.opens_on == date(1999, 1, 13)
    assert window.closes_on == date(1999, 2, 18)


@pytest.mark.published("7.04", basis="R", source=SPECIAL)
@pytest.mark.parametrize("done", [date(1999, 1, 13), date(1999, 2, 15), date(1999, 2, 18)])
def test_done_inside_the_window_the_next_is_31_july(done: date) -> None:
    following = after(Point(on=done), Point(on=date(1999, 1, 31)), Interval(months=6), AVIATION)

    assert following.on == date(1999, 7, 31)


@pytest.mark.published("7.05", basis="R", source=SPECIAL)
def test_twelve_months_have_30_days_flat() -> None:
    window = around(Point(on=date(1999, 2, 6)), Interval(months=12), AVIATION)

    assert (window.opens_on, window.closes_on) == (date(1999, 1, 7), date(1999, 3, 8))


@pytest.mark.published("7.06", basis="C", source="computed from TM 1-1500-328-23")
def test_tolerance_and_due_date_count_months_two_ways() -> None:
    """180 days from 31 January 1999 would be 30 July."""
    assert days_allowed(Interval(months=6), TEN_PERCENT) == 18
    assert months_after(date(1999, 1, 31), 6) == date(1999, 7, 31)


@pytest.mark.published("7.07", basis="R", source=SPECIAL)
def test_two_sides_are_each_computed_alone() -> None:
    """Every 14 days or 10 hours; 1.4 days are cut to 1."""
    interval = Interval(days=14, distance=10.0)

    due = due_point(Point(on=date(1997, 5, 22), at=1709.0), interval)

    assert due == Point(on=date(1997, 6, 5), at=1719.0)
    assert around(due, interval, AVIATION) == Window(
        opens_on=date(1997, 6, 4), closes_on=date(1997, 6, 6), opens_at=1718.0, closes_at=1720.0
    )


@pytest.mark.published("7.07", basis="R", source=SPECIAL)
def test_window_affects_only_the_side_that_is_in_it() -> None:
    interval = Interval(days=14, distance=10.0)
    due = Point(on=date(1997, 6, 5), at=1719.0)

    following = after(Point(on=date(1997, 6, 6), at=1715.0), due, interval, AVIATION)

    assert following == Point(on=date(1997, 6, 19), at=1725.0)


@pytest.mark.published("7.08", basis="R", source="TM 1-1500-328-23, component page")
@pytest.mark.parametrize(
    ("hours", "percent", "opens", "closes"),
    [(1000.0, Fraction(15, 2), 925.0, 1075.0), (300.0, PERCENT, 270.0, 330.0)],
)
def test_components_have_75_on_1000_and_30_on_300_hours(
    hours: float, percent: Fraction, opens: float, closes: float
) -> None:
    window = around(Point(at=hours), Interval(distance=hours), Allowance(percent=percent))

    assert (window.opens_at, window.closes_at) == (opens, closes)


@pytest.mark.published("7.09", basis="R", source="DA PAM 750-8 as told in PS Magazine 18 Dec 2019")
def test_annual_has_36_days_either_side() -> None:
    assert days_allowed(Interval(months=12), TEN_PERCENT) == 36


@pytest.mark.published("7.10", basis="R", source="PS Magazine 18 Dec 2019")
def test_inside_counts_from_the_scheduled_date_outside_from_the_actual() -> None:
    """Dates invented; the rule is the published part."""
    due = Point(on=date(2019, 6, 1))
    annual = Interval(months=12)

    assert after(Point(on=date(2019, 7, 7)), due, annual, TEN_PERCENT).on == date(2020, 6, 1)
    assert after(Point(on=date(2019, 7, 8)), due, annual, TEN_PERCENT).on == date(2020, 7, 8)


@pytest.mark.published("7.12", basis="C", source="PS 569 (2000) p.32, whose 10 April is a slip")
def test_36_days_before_15_may_are_9_april() -> None:
    window = around(Point(on=date(2000, 5, 15)), Interval(months=12), TEN_PERCENT)

    assert (window.opens_on, window.closes_on) == (date(2000, 4, 9), date(2000, 6, 20))


@pytest.mark.published(
    "7.14", basis="R", source="HMMWV TM 9-2320-387-24-1 para 2-9; TM 9-2320-280-20-1"
)
def test_semiannual_has_10_percent_on_its_mileage() -> None:
    assert distance_allowed(Interval(months=6, distance=3000.0), TEN_PERCENT) == 300.0


@pytest.mark.published("7.18", basis="R2", source="14 CFR 91.409(b) as quoted")
def test_hours_over_100_count_in_the_next_100() -> None:
    following = after(Point(at=102.0), Point(at=100.0), Interval(distance=100.0), TEN_PERCENT)

    assert following.at == 200.0


@pytest.mark.published("7.19", basis="R2", source="aviation legal column 2015, example four")
def test_15_hours_over_leave_85() -> None:
    """Counted from the due point however far over, so the window is made wide enough for it."""
    wide = Allowance(percent=Fraction(15))

    following = after(Point(at=115.0), Point(at=100.0), Interval(distance=100.0), wide)

    assert following.at == 115.0 + 85.0


@pytest.mark.published("7.20", basis="R2", source="operator technical note 2021")
def test_tolerances_do_not_add_up() -> None:
    thirty = Allowance(percent=Fraction(30))

    following = after(Point(at=130.0), Point(at=100.0), Interval(distance=100.0), thirty)

    assert following.at == 130.0 + 70.0


@pytest.mark.published("7.21", basis="R2", source="Part-ML, ML.A.302(d)(1)(a) and AMC")
def test_next_may_count_from_when_it_was_done() -> None:
    following = after(
        Point(at=2010.0), Point(at=2000.0), Interval(distance=100.0), TEN_PERCENT, NextFrom.DONE
    )

    assert following.at == 2110.0


@pytest.mark.published("7.22", basis="R2", source="ED 2015/024/R Annex I, former AMC M.A.302(i)")
def test_next_may_count_from_when_it_was_scheduled() -> None:
    following = after(Point(at=2010.0), Point(at=2000.0), Interval(distance=100.0), TEN_PERCENT)

    assert following.at == 2100.0


@pytest.mark.published("7.24", basis="R2", source="Rotax 912 style engine maintenance text")
@pytest.mark.parametrize(("done", "following"), [(110.0, 200.0), (87.0, 187.0)])
def test_late_does_not_move_the_grid_and_too_early_does(done: float, following: float) -> None:
    result = after(Point(at=done), Point(at=100.0), Interval(distance=100.0), TEN_PERCENT)

    assert result.at == following


@pytest.mark.published("7.25", basis="R", source="Pilatus PC-12/47E maintenance manual ch. 5")
def test_300_hours_inside_keep_their_grid() -> None:
    capped = Allowance(percent=PERCENT, cap_days=180, cap_distance=500.0)
    interval = Interval(distance=300.0)

    window = around(Point(at=300.0), interval, capped)
    following = after(Point(at=325.0), Point(at=300.0), interval, capped)

    assert (window.opens_at, window.closes_at) == (270.0, 330.0)
    assert following.at == 600.0


@pytest.mark.published("7.25", basis="R", source="Pilatus PC-12/47E maintenance manual ch. 5")
def test_12_months_run_from_11_to_13_and_the_next_is_24() -> None:
    """Counted in whole calendar months."""
    months = Allowance(percent=PERCENT, cap_days=180, whole_months=True)
    due = Point(on=date(2026, 5, 20))

    window = around(due, Interval(months=12), months)

    assert (window.opens_on, window.closes_on) == (date(2026, 4, 20), date(2026, 6, 20))
    assert after(Point(on=date(2026, 6, 20)), due, Interval(months=12), months).on == date(
        2027, 5, 20
    )


@pytest.mark.published("7.26", basis="R2", source="FAA practice, restated")
def test_24_calendar_months_end_with_the_month() -> None:
    assert end_of_month_after(date(2020, 7, 22), 24) == date(2022, 7, 31)


@pytest.mark.published("7.26", basis="R2", source="FAA practice, restated")
def test_annual_of_6_june_is_due_30_june() -> None:
    due = due_point(Point(on=date(2025, 6, 6)), Interval(months=12), NextFrom.END_OF_MONTH)

    assert due.on == date(2026, 6, 30)


@pytest.mark.published("7.27", basis="R", source="java.time documentation and examples")
@pytest.mark.parametrize(
    ("anchor", "months", "expected"),
    [
        (date(2011, 1, 31), 1, date(2011, 2, 28)),
        (date(2012, 1, 31), 1, date(2012, 2, 29)),
        (date(2013, 10, 31), 4, date(2014, 2, 28)),
        (date(2012, 2, 29), 12, date(2013, 2, 28)),
    ],
)
def test_day_is_cut_to_the_last_valid_one(anchor: date, months: int, expected: date) -> None:
    assert months_after(anchor, months) == expected


@pytest.mark.published("7.28", basis="R2", source="Java developer note")
def test_a_month_on_and_back_is_not_the_same_day() -> None:
    assert months_after(months_after(date(2020, 1, 31), 1), -1) == date(2020, 1, 29)


@pytest.mark.published("7.29", basis="R", source="Oracle ADD_MONTHS, whose rule is another")
def test_last_day_of_a_month_does_not_stick_to_the_last() -> None:
    """The other rule would give 31 August."""
    assert months_after(date(2025, 2, 28), 6) == date(2025, 8, 28)


@pytest.mark.published("7.30", basis="C", source="dateutil relativedelta, computed")
@pytest.mark.parametrize("day", [28, 29, 30, 31])
def test_four_days_of_august_lead_to_one_of_february(day: int) -> None:
    assert months_after(date(2026, 8, day), 6) == date(2027, 2, 28)


@pytest.mark.published("7.31", basis="C", source="dateutil relativedelta, computed")
def test_anchored_months_do_not_lose_their_day() -> None:
    """Chained they would be 28 February, 28 March, 28 April."""
    anchored = [months_after(date(2025, 1, 31), months) for months in (1, 2, 3)]

    assert anchored == [date(2025, 2, 28), date(2025, 3, 31), date(2025, 4, 30)]


@pytest.mark.published("7.33", basis="R", source="TM 9-2320-365-20-5 app. H")
def test_interval_without_a_time_side_is_legitimate() -> None:
    due = due_point(Point(on=date(2026, 1, 1), at=10000.0), Interval(distance=6000.0))

    assert due == Point(on=None, at=16000.0)
