"""Tire identification numbers: 49 CFR 574.5 and makers' manuals that explain it."""

from datetime import date

import pytest

from castlenut.domain.tires.tin import TinNote, Week, first_day, last_day, made


@pytest.mark.published("2.01", basis="R", source="49 CFR 574.5(a), text of 10 Oct 2024")
@pytest.mark.parametrize("tin", ["ABCD317", "AB12CD317", "DOT ABC 12345 2317", "ABC1234562317"])
def test_numbers_of_any_length_are_read(tin: str) -> None:
    """Older numbers have 8 to 13 characters, so length proves nothing. Numbers invented."""
    assert made(tin).weeks


@pytest.mark.published("2.01", basis="R", source="49 CFR 574.5(a)(2), text of 10 Oct 2024")
def test_seven_symbols_with_a_date_of_four_digits_are_a_retread() -> None:
    assert made("ABC2317").is_retread


@pytest.mark.published("2.02", basis="R", source="80 FR 19553 (13 Apr 2015)")
@pytest.mark.parametrize("plant", ["AB", "1AB"])
def test_plant_code_of_two_or_three_symbols_leaves_the_date_alone(plant: str) -> None:
    assert made(f"DOT {plant} 12CDEF 2317").weeks == (Week(year=2017, number=23),)


@pytest.mark.published(
    "2.03", basis="R", source="64 FR 36807; Dodge Sprinter 2006 owner's manual p.197"
)
def test_three_digits_last_until_about_july_2000() -> None:
    assert made("200").weeks[-1] == Week(year=2000, number=20)
    assert made("350").weeks[-1] == Week(year=1990, number=35)


@pytest.mark.published("2.04", basis="R", source="Lincoln and Dodge owner's manual text")
@pytest.mark.parametrize(
    ("tin", "week"), [("2501", Week(year=2001, number=25)), ("0301", Week(year=2001, number=3))]
)
def test_four_digits_are_week_and_year(tin: str, week: Week) -> None:
    assert made(tin).weeks == (week,)


@pytest.mark.published("2.04", basis="R", source="Lincoln and Dodge owner's manual text")
def test_three_digits_are_week_and_year_of_the_decade() -> None:
    """317 is printed as week 31 of 1997; the code alone leaves the decade open."""
    assert Week(year=1997, number=31) in made("317").weeks


@pytest.mark.published("2.04", basis="R", source="Lincoln and Dodge owner's manual text")
def test_031_is_the_third_week_of_1981_or_1991() -> None:
    assert made("031").weeks == (Week(year=1981, number=3), Week(year=1991, number=3))


@pytest.mark.published("2.05", basis="R", source="Subaru owner's manual; Dodge 2006 p.197")
def test_week_1_is_the_first_full_week() -> None:
    """2001 began on a Monday: its first full week begins on 7 January."""
    assert made("0101").weeks == (Week(year=2001, number=1),)
    assert first_day(Week(year=2001, number=1)) == date(2001, 1, 7)


@pytest.mark.published("2.06", basis="M", source="49 CFR 574.5(b)(3), from memory")
def test_weeks_run_from_sunday_to_saturday() -> None:
    """ISO week 25 of 2001 would be 18 to 24 June."""
    week = Week(year=2001, number=25)

    assert (first_day(week), last_day(week)) == (date(2001, 6, 24), date(2001, 6, 30))


@pytest.mark.published("2.06", basis="M", source="49 CFR 574.5(b)(3), from memory")
def test_last_week_runs_into_the_next_year() -> None:
    (week,) = made("5220").weeks

    assert (first_day(week), last_day(week)) == (date(2020, 12, 27), date(2021, 1, 2))


@pytest.mark.published("2.07", basis="R2", source="reference and how-to texts")
def test_decade_of_439_is_kept_open() -> None:
    result = made("439")

    assert [(week.year, week.number) for week in result.weeks] == [
        (1979, 43),
        (1989, 43),
        (1999, 43),
    ]
    assert TinNote.DECADE_NOT_TOLD in result.notes


@pytest.mark.published("2.07", basis="R2", source="reference and how-to texts")
def test_triangle_tells_the_1990s() -> None:
    assert made("439 △").weeks == (Week(year=1999, number=43),)


@pytest.mark.published("2.08", basis="R", source="NHTSA interpretation nht73-3.16, 24 Jan 1973")
def test_four_digits_of_a_1970s_tire_are_day_week_and_year() -> None:
    """4125 on a tire of the 1970s is not week 41 of 2025."""
    assert made("4125", years=(1971, 1979)).weeks == (Week(year=1975, number=12),)
