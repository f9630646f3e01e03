"""Laws of calendar months, intervals and seasons."""

from calendar import monthrange
from datetime import date
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.months import after_span, months_after, scaled_months
from castlenut.domain.season import Season, next_season, shifted
from castlenut.domain.tires.tin import Week, first_day, last_day, made

DAYS = st.dates(date(1900, 1, 1), date(2200, 12, 31))
FACTORS = st.integers(1, 100).map(lambda hundredths: Fraction(hundredths, 100))
DAYS_OF_YEAR = st.dates(date(2000, 1, 1), date(2000, 12, 31)).map(lambda day: (day.month, day.day))
SEASONS = st.lists(st.tuples(DAYS_OF_YEAR, DAYS_OF_YEAR), min_size=1, max_size=3).map(
    lambda parts: Season(parts=tuple(parts))
)


@given(DAYS, st.integers(-1200, 1200))
def test_months_land_in_the_month_counted(anchor: date, months: int) -> None:
    """7.27: the day is cut to the month's last, and the month is never left."""
    reached = months_after(anchor, months)

    count = anchor.year * 12 + anchor.month - 1 + months
    assert (reached.year, reached.month) == (count // 12, count % 12 + 1)
    assert reached.day == min(anchor.day, monthrange(reached.year, reached.month)[1])


@given(DAYS, st.integers(0, 600), st.integers(1, 600))
def test_more_months_are_later(anchor: date, months: int, more: int) -> None:
    """Counting on never comes back, as the anchor stays the same (7.31)."""
    assert months_after(anchor, months) < months_after(anchor, months + more)


@given(st.integers(1, 1200), FACTORS)
def test_scaled_months_are_within_half_a_day_of_the_product(months: int, factor: Fraction) -> None:
    """Whole calendar months, the rest in 30-day months rounded to the day."""
    whole, days = scaled_months(months, factor)

    assert abs(whole * 30 + days - months * 30 * factor) <= Fraction(1, 2)
    assert 0 <= days <= 30


@given(SEASONS, DAYS, st.integers(1, 60))
def test_next_season_is_the_first_that_ends_half_an_interval_on(
    season: Season, base: date, months: int
) -> None:
    """Against walking day by day: no earlier day at or after the half ends a part."""
    first, last = next_season(base, months, season)

    earliest = after_span(base, *scaled_months(months, Fraction(1, 2)))
    assert first <= last
    assert earliest <= last
    assert season.is_inside(first)
    assert season.is_inside(last)
    ends = {end for _, end in season.parts}
    day = earliest
    while day < last:
        short_leap_day = (2, 29) in ends and (day.month, day.day) == (2, 28)
        is_end = (day.month, day.day) in ends or (
            short_leap_day and monthrange(day.year, 2)[1] == 28
        )
        assert not is_end
        day = after_span(day, 0, 1)


@given(SEASONS)
def test_a_year_of_shifting_brings_the_season_back(season: Season) -> None:
    """12 months on is the same season; the last of February stays the last."""
    back = shifted(season, 12)

    february = {(2, 28): (2, 29)}
    assert back.parts == tuple(
        tuple(february.get(day, day) for day in part) for part in season.parts
    )


@given(st.integers(1, 53), st.integers(2000, 2069))
def test_four_digits_read_back_the_week_they_were_made_from(number: int, year: int) -> None:
    """2.05, 2.06: full weeks from Sunday to Saturday, the first of the year is 1."""
    code = f"{number:02}{year % 100:02}"
    week = Week(year=year, number=number)

    exists = first_day(week).year == year
    assert (week in made(code).weeks) == exists
    assert first_day(week).isoweekday() == 7
    assert (last_day(week) - first_day(week)).days == 6
