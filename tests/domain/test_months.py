"""Calendar months and spans."""

from datetime import date
from fractions import Fraction

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.months import (
    after_span,
    end_of_month_after,
    last_of_month,
    months_after,
    rounded_days,
    scaled_months,
)


def test_day_the_month_does_not_have_becomes_its_last() -> None:
    assert months_after(date(2023, 1, 31), 1) == date(2023, 2, 28)


def test_leap_day_plus_a_year_is_28_february() -> None:
    assert months_after(date(2024, 2, 29), 12) == date(2025, 2, 28)


def test_months_are_taken_before_days() -> None:
    """31 January plus 1 month and 1 day is 1 March, not 3 March."""
    assert after_span(date(2025, 1, 31), 1, 1) == date(2025, 3, 1)


def test_span_runs_backward_too() -> None:
    assert after_span(date(2025, 3, 31), -1, -3) == date(2025, 2, 25)


def test_end_of_month_is_the_last_day_of_the_month_reached() -> None:
    assert end_of_month_after(date(2023, 12, 6), 2) == date(2024, 2, 29)


def test_last_of_month_keeps_the_last_day() -> None:
    assert last_of_month(date(2025, 4, 30)) == date(2025, 4, 30)


@pytest.mark.parametrize(
    ("anchor", "months", "days"),
    [
        (date(9999, 12, 1), 1, 0),
        (date(9999, 12, 31), 0, 1),
        (date(1, 1, 31), -1, 0),
        (date(2000, 1, 1), 10**12, 0),
        (date(2000, 1, 1), 0, 10**12),
    ],
)
def test_span_that_leaves_the_calendar_is_bad_input(anchor: date, months: int, days: int) -> None:
    with pytest.raises(BadInput, match="leave the calendar"):
        after_span(anchor, months, days)


@pytest.mark.parametrize(
    ("months", "factor", "expected"),
    [
        (6, Fraction(7, 10), (4, 6)),
        (12, Fraction(1, 2), (6, 0)),
        (3, Fraction(1, 2), (1, 15)),
        (1, Fraction(1, 2), (0, 15)),
        (12, Fraction(7, 10), (8, 12)),
        (18, Fraction(7, 10), (12, 18)),
    ],
)
def test_scaled_months_are_whole_months_and_days_of_a_30_day_month(
    months: int, factor: Fraction, expected: tuple[int, int]
) -> None:
    assert scaled_months(months, factor) == expected


def test_half_a_day_is_rounded_upward() -> None:
    assert rounded_days(Fraction(3, 2)) == 2
    assert rounded_days(Fraction(5, 2)) == 3
    assert rounded_days(Fraction(149, 100)) == 1
