"""Figures in words: the only place that rounds."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.dial import Dial
from castlenut.domain.units import Unit
from castlenut.domain.use.estimate import DateBand
from castlenut.words import figures

MILES = Dial(unit=Unit.MI, digits=5, tenths=False)
TENTHS = Dial(unit=Unit.KM, digits=6, tenths=True)
TODAY = date(2026, 3, 10)


def band(p10: str | None, p50: str | None, p90: str | None) -> DateBand:
    days = [None if text is None else date.fromisoformat(text) for text in (p10, p50, p90)]
    return DateBand(p10=days[0], p50=days[1], p90=days[2])


def test_distances_have_separators_and_the_places_of_the_dial() -> None:
    assert figures.with_unit(Decimal(61530), MILES) == "61,530 mi"
    assert figures.with_unit(Decimal("8046.72"), MILES) == "8,047 mi"
    assert figures.with_unit(Decimal("8046.72"), TENTHS) == "8,046.7 km"


def test_a_half_goes_up() -> None:
    assert figures.shown(Decimal("0.5"), MILES) == "1"
    assert figures.shown(Decimal("1.5"), MILES) == "2"


def test_numbers_for_other_programs_are_whole_where_they_can_be() -> None:
    assert figures.plain_number(Decimal("61530.0"), TENTHS) == 61530
    assert figures.plain_number(Decimal("61530.25"), TENTHS) == 61530.3
    assert type(figures.plain_number(61530.0, MILES)) is int


@pytest.mark.parametrize(
    ("distance", "left"),
    [("120.3", 121), ("-79.7", -79), ("-80.0", -80), ("-0.3", 0), ("120.00001", 120)],
)
def test_what_is_left_adds_up_with_dials_that_cut_off(distance: str, left: int) -> None:
    """At 61,609.7 the dial shows 61,609: from there to 61,730 are 121."""
    assert figures.left(Decimal(distance), MILES) == left
    assert f"{figures.left(Decimal('-0.3'), MILES)}" == "0"


def test_a_measured_figure_keeps_what_was_entered() -> None:
    assert figures.quantity(Decimal("4.50"), "mm") == "4.5 mm"
    assert figures.quantity(Fraction(1, 8), "in") == "0.125 in"
    assert figures.quantity(Decimal(200), "ppm") == "200 ppm"
    assert figures.quantity(Decimal(5), "1/32 in") == "5/32 in"


def test_a_converted_figure_is_cut_to_what_can_be_measured() -> None:
    """4.5 mm are 0.177165 in; nobody reads a gauge to that."""
    assert figures.quantity(Decimal("0.1771653543"), "in") == "0.1772 in"


def test_spans_count_months_and_days() -> None:
    assert figures.span(4, 6) == "4 months 6 days"
    assert figures.span(1, None) == "1 month"
    assert figures.span(None, 45) == "45 days"
    assert figures.span(None, None) == ""


def test_hours_money_and_percent() -> None:
    assert figures.hours(Fraction(3, 10)) == "0.3 h"
    assert figures.hours(Fraction(1, 3)) == "0.33 h"
    assert figures.money(Decimal("1250.5")) == "1,250.50"
    assert figures.in_currency(Decimal("1250.5"), "$") == "$1,250.50"
    assert figures.in_currency(Decimal("1250.5"), "EUR") == "1,250.50 EUR"
    assert figures.in_currency(Decimal("1250.5"), "") == "1,250.50"
    assert figures.percent(Fraction(10)) == "10 %"


def test_a_rate_is_told_by_the_day_or_the_year() -> None:
    assert figures.rate(10.0, "mi") == "10 mi a day"
    assert figures.rate(9.72, "mi") == "9.7 mi a day"
    assert figures.rate(0.5, "mi") == "183 mi a year"


def test_a_band_under_six_weeks_has_days() -> None:
    assert (
        figures.about(band("2026-05-28", "2026-06-12", "2026-06-30"), today=TODAY)
        == "about 12 Jun (28 May to 30 Jun)"
    )


def test_a_band_under_a_year_has_parts_of_months() -> None:
    assert (
        figures.about(band("2026-04-28", "2026-06-12", "2026-09-15"), today=TODAY)
        == "about 12 Jun (late Apr to mid Sep)"
    )


def test_a_longer_band_has_months_and_years() -> None:
    assert (
        figures.about(band("2026-04-28", "2027-06-12", "2028-09-15"), today=TODAY)
        == "about Jun 2027 (Apr 2026 to Sep 2028)"
    )


def test_a_far_day_tells_its_year() -> None:
    same = band("2027-06-12", "2027-06-12", "2027-06-12")

    assert figures.about(same, today=TODAY) == "12 Jun 2027"
    assert figures.about(same, today=date(2027, 1, 1)) == "12 Jun"


def test_what_is_beyond_ten_years_has_no_date() -> None:
    assert figures.about(band(None, None, None), today=TODAY) == "not within ten years"
    assert (
        figures.about(band("2031-04-01", None, None), today=TODAY)
        == "not within ten years, at the earliest Apr 2031"
    )
    assert (
        figures.about(band("2031-04-01", "2033-02-01", None), today=TODAY)
        == "about Feb 2033 (Apr 2031, or not within ten years)"
    )


def test_a_band_in_full_has_iso_days() -> None:
    assert (
        figures.dates(band("2026-11-15", "2026-11-17", "2026-11-19"))
        == "2026-11-17 (2026-11-15 to 2026-11-19)"
    )
    assert figures.dates(band("2026-11-17", "2026-11-17", "2026-11-17")) == "2026-11-17"
    assert (
        figures.dates(band("2031-04-01", "2033-02-01", None))
        == "2033-02-01 (2031-04-01 to not within ten years)"
    )
