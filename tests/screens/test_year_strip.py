"""A year as a row of cells: months above, windows and days below them."""

from datetime import date

from castlenut.screens.widgets.year_strip import BOOKED, LAID_UP, Year

FORTNIGHTS = Year(first=date(2026, 11, 25), cells=26)
WEEKS = Year(first=date(2026, 11, 25), cells=52)


def test_months_stand_at_their_first_days() -> None:
    assert FORTNIGHTS.months() == "D J F M  A M J J A  S O N "
    assert WEEKS.months().startswith("Dec  Jan ")


def test_a_window_is_drawn_with_the_day_it_is_due() -> None:
    """28 days on is the fourth week, counted from 0; 42 and 14 days the sixth and the second."""
    row = WEEKS.window(date(2026, 12, 9), date(2026, 12, 23), date(2027, 1, 6))

    assert row == "  ==o==" + " " * 45


def test_what_began_before_today_points_back() -> None:
    assert WEEKS.window(date(2026, 10, 1), date(2026, 12, 2), None) == "<o" + " " * 50
    assert WEEKS.window(None, date(2026, 10, 1), None) == "<" + " " * 51


def test_what_lies_beyond_the_year_is_not_drawn() -> None:
    assert WEEKS.window(date(2027, 12, 1), date(2027, 12, 15), date(2028, 1, 1)) == " " * 52
    assert WEEKS.last == date(2027, 11, 23)


def test_a_span_is_cut_at_both_ends_of_the_year() -> None:
    row = FORTNIGHTS.span(date(2026, 1, 1), date(2026, 12, 22), LAID_UP)

    assert row == "~~" + " " * 24
    assert FORTNIGHTS.days([date(2026, 12, 23), date(2030, 1, 1)], BOOKED) == "  #" + " " * 23
