"""Weeks of make. The published figures are in tests/published/. Numbers here are invented."""

from datetime import date

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.tires.tin import TinNote, Week, first_day, last_day, made


def years(tin: str, *, looked_at: date | None = None) -> list[int]:
    return [week.year for week in made(tin, looked_at=looked_at).weeks]


def test_whole_number_is_read_from_its_end() -> None:
    assert made("DOT U2LL LMLR 5107").weeks == (Week(year=2007, number=51),)


def test_whole_number_may_be_written_together() -> None:
    assert made("dotU2LLLMLR5107").weeks == (Week(year=2007, number=51),)


def test_group_of_three_digits_is_the_older_code() -> None:
    """The digit before it belongs to another group."""
    assert years("DOT U2LL AB12 317") == [1977, 1987, 1997]


def test_letter_before_three_digits_tells_the_older_code() -> None:
    assert years("DOT U2LLLMLR317") == [1977, 1987, 1997]


def test_code_read_off_in_two_parts_is_one_code() -> None:
    assert made("25 01").weeks == (Week(year=2001, number=25),)


def test_tire_cannot_be_made_after_it_was_looked_at() -> None:
    assert years("439", looked_at=date(1990, 1, 1)) == [1979, 1989]


def test_tire_may_be_looked_at_on_the_first_day_of_its_week() -> None:
    assert years("439", looked_at=date(1989, 10, 22)) == [1979, 1989]
    assert years("439", looked_at=date(1989, 10, 21)) == [1979]


def test_known_years_tell_the_decade() -> None:
    result = made("439", years=(1985, 1990))

    assert result.weeks == (Week(year=1989, number=43),)
    assert result.notes == ()


def test_decade_that_is_not_told_is_said() -> None:
    assert made("439").notes == (TinNote.DECADE_NOT_TOLD,)


def test_triangle_marks_the_1990s() -> None:
    result = made("439◄")

    assert result.weeks == (Week(year=1999, number=43),)
    assert result.notes == (TinNote.TRIANGLE,)


def test_four_digits_beside_a_possible_old_code_say_how_they_were_read() -> None:
    assert made("2501").notes == (TinNote.OLD_FORM_POSSIBLE,)
    assert made("2501", years=(1995, 2005)).notes == ()


def test_four_digits_from_after_the_day_are_the_old_form() -> None:
    result = made("4125", looked_at=date(1980, 6, 1))

    assert result.weeks == (Week(year=1975, number=12),)
    assert result.notes == (TinNote.READ_AS_OLD_FORM,)


def test_year_from_70_to_98_is_the_old_form() -> None:
    """1273: day 1, week 27 of a year that ends in 3."""
    assert years("1273") == [1973, 1983, 1993]


@pytest.mark.parametrize("tin", ["0021", "5421", "DOT U2LL LMLR 5421", "5318"])
def test_week_that_there_is_not_is_said(tin: str) -> None:
    """2018 had 52 weeks that began in it; 5421 alone is no tire of 1981."""
    result = made(tin, looked_at=date(2026, 11, 25))

    assert result.weeks == ()
    assert result.notes == (TinNote.NO_SUCH_WEEK_NOW,)


def test_week_54_is_day_week_and_year_where_the_tire_is_known_to_be_old() -> None:
    assert made("5421", years=(1975, 1985)).weeks == (Week(year=1981, number=42),)
    assert years("5421", looked_at=date(1985, 1, 1)) == [1971, 1981]


def test_last_weeks_of_1999_have_four_digits() -> None:
    assert made("4899").weeks == (Week(year=1999, number=48),)


@pytest.mark.parametrize("tin", ["0001", "00", "541", "9999", "DOT U2LL", "A"])
def test_number_without_a_date_has_no_week(tin: str) -> None:
    assert made(tin).weeks == ()


def test_partial_number_sends_one_to_the_other_side() -> None:
    assert made("DOT U2LL LMLR").notes == (TinNote.NO_DATE,)


def test_code_that_fits_nothing_known_is_said() -> None:
    assert made("439", years=(1960, 1970)).notes == (TinNote.NOT_IN_KNOWN_YEARS,)


def test_three_digits_ended_in_2000() -> None:
    """Week 40 of 2000 came after three digits were given up."""
    assert years("100") == [1980, 1990, 2000]
    assert years("400") == [1980, 1990]


def test_retread_is_told_by_its_mark_or_by_seven_symbols() -> None:
    assert made("DOT-R ABC 2317").is_retread
    assert made("ABC2317").is_retread
    assert TinNote.RETREAD in made("ABC2317").notes
    assert not made("DOT U2LL LMLR 2317").is_retread


def test_week_53_exists_where_a_year_has_53_sundays_after_its_first() -> None:
    """2017 began on a Sunday; 2018 did not."""
    assert made("5317").weeks == (Week(year=2017, number=53),)
    assert Week(year=2018, number=53) not in made("5318").weeks


def test_year_that_begins_on_a_sunday_begins_its_first_week_that_day() -> None:
    assert first_day(Week(year=2017, number=1)) == date(2017, 1, 1)
    assert last_day(Week(year=2017, number=1)) == date(2017, 1, 7)


@pytest.mark.parametrize("tin", ["", "  ", "25/01", "é439", "1" * 41, "◄"])
def test_text_that_is_no_number_is_refused(tin: str) -> None:
    with pytest.raises(BadInput, match="tin"):
        made(tin)


def test_years_that_run_backward_are_refused() -> None:
    with pytest.raises(BadInput, match="vehicle_years"):
        made("439", years=(1990, 1980))
