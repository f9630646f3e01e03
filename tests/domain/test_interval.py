"""Intervals, where they end, and points after a start."""

from datetime import date
from fractions import Fraction

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.interval import (
    Interval,
    due_at,
    due_on,
    exact,
    length_days,
    points_after,
    scaled,
)


def test_interval_without_a_side_is_refused() -> None:
    with pytest.raises(BadInput, match="every: has no side"):
        Interval()


@pytest.mark.parametrize(
    ("months", "days", "distance", "where"),
    [
        (0, None, None, "every.months"),
        (1201, None, None, "every.months"),
        (None, -1, None, "every.days"),
        (None, 36526, None, "every.days"),
        (None, None, 0.0, "every.distance"),
        (None, None, float("nan"), "every.distance"),
        (None, None, float("inf"), "every.distance"),
    ],
)
def test_side_that_no_car_reaches_is_refused(
    months: int | None, days: int | None, distance: float | None, where: str
) -> None:
    with pytest.raises(BadInput, match=where):
        Interval(months=months, days=days, distance=distance)


def test_every_bad_side_is_told_at_once() -> None:
    with pytest.raises(BadInput) as raised:
        Interval(months=0, distance=-5.0)

    assert [fault.where for fault in raised.value.faults] == ["every.months", "every.distance"]


def test_both_sides_end_on_their_own() -> None:
    interval = Interval(months=18, distance=15000.0)

    assert due_on(date(2025, 3, 31), interval) == date(2026, 9, 30)
    assert due_at(41250.0, interval) == 56250.0


def test_missing_side_has_no_end() -> None:
    assert due_on(date(2025, 3, 31), Interval(distance=5000.0)) is None
    assert due_at(41250.0, Interval(days=14)) is None


def test_sum_of_decimals_is_the_decimal_that_was_meant() -> None:
    """1299.9 + 50 must not fall a hair beside 1349.9, or the end of a window is missed."""
    assert due_at(0.1, Interval(distance=0.2)) == 0.3
    assert exact(4.35 * 100) == 435.0


def test_factor_acts_on_both_sides() -> None:
    shortened = scaled(Interval(months=6, distance=3000.0), Fraction(7, 10))

    assert shortened == Interval(months=4, days=6, distance=2100.0)


def test_factor_on_days_rounds_to_the_day() -> None:
    assert scaled(Interval(days=7), Fraction(1, 2)) == Interval(days=4)


def test_month_halved_has_days_only() -> None:
    assert scaled(Interval(months=1), Fraction(1, 2)) == Interval(days=15)


def test_time_side_never_falls_below_a_day() -> None:
    assert scaled(Interval(days=1), Fraction(1, 100)) == Interval(days=1)


def test_factor_of_one_changes_nothing() -> None:
    interval = Interval(months=6, distance=3000.0)

    assert scaled(interval, Fraction(1)) is interval


@pytest.mark.parametrize("factor", [Fraction(0), Fraction(-1, 2), Fraction(11, 10)])
def test_factor_outside_0_to_1_is_refused(factor: Fraction) -> None:
    with pytest.raises(BadInput, match="factor"):
        scaled(Interval(months=6), factor)


def test_scaled_interval_is_counted_from_the_anchor() -> None:
    """4 months and 6 days from 31 January: 31 May, then 6 days."""
    shortened = scaled(Interval(months=6), Fraction(7, 10))

    assert due_on(date(2025, 1, 31), shortened) == date(2025, 6, 6)


def test_length_counts_months_as_30_days() -> None:
    assert length_days(Interval(months=6)) == 180
    assert length_days(Interval(months=4, days=6)) == 126
    assert length_days(Interval(distance=5000.0)) is None


def test_points_without_a_step_end_with_the_first_ones() -> None:
    assert points_after(100.0, (50.0, 500.0), every=None, count=5) == (150.0, 600.0)


def test_count_cuts_the_first_points() -> None:
    assert points_after(100.0, (50.0, 500.0), every=1000.0, count=1) == (150.0,)


def test_step_alone_counts_from_the_start() -> None:
    assert points_after(100.0, (), every=1000.0, count=3) == (1100.0, 2100.0, 3100.0)


def test_first_points_that_do_not_rise_are_refused() -> None:
    with pytest.raises(BadInput, match="does not rise"):
        points_after(0.0, (500.0, 500.0), every=None, count=2)


def test_the_longest_interval_that_may_be_is_one() -> None:
    """100 years, or ten million: a figure above that is a slip of the hand."""
    assert Interval(months=1200, days=36525, distance=10_000_000.0).distance == 10_000_000.0


def test_a_side_of_0_days_is_refused() -> None:
    with pytest.raises(BadInput, match=r"every\.days: 0 is not possible"):
        Interval(days=0)


def test_a_side_that_cannot_be_is_the_only_fault_of_its_interval() -> None:
    with pytest.raises(BadInput) as refused:
        Interval(months=0)

    assert [fault.where for fault in refused.value.faults] == ["every.months"]


def test_ten_days_end_ten_days_later() -> None:
    assert due_on(date(2026, 1, 1), Interval(days=10)) == date(2026, 1, 11)


def test_a_sum_is_put_back_on_its_sixth_decimal() -> None:
    assert exact(1.2345674) == 1.234567
