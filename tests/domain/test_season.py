"""Parts of the year."""

from datetime import date

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.season import Season, next_season, shifted

AUTUMN = Season(parts=(((9, 1), (10, 31)),))
TWICE = Season(parts=(((9, 1), (10, 31)), ((3, 1), (4, 30))))
WINTER = Season(parts=(((11, 15), (2, 29)),))


def test_job_done_in_its_season_is_next_due_a_year_on() -> None:
    assert next_season(date(2025, 10, 1), 12, AUTUMN) == (date(2026, 9, 1), date(2026, 10, 31))


def test_job_done_in_spring_is_due_the_same_autumn() -> None:
    """12 March plus 6 months is 12 September, before the season ends."""
    assert next_season(date(2025, 3, 12), 12, AUTUMN) == (date(2025, 9, 1), date(2025, 10, 31))


def test_season_that_ends_exactly_half_an_interval_on_counts() -> None:
    assert next_season(date(2025, 4, 30), 12, AUTUMN) == (date(2025, 9, 1), date(2025, 10, 31))
    assert next_season(date(2025, 5, 1), 12, AUTUMN) == (date(2026, 9, 1), date(2026, 10, 31))


def test_two_parts_take_turns() -> None:
    assert next_season(date(2025, 10, 1), 6, TWICE) == (date(2026, 3, 1), date(2026, 4, 30))
    assert next_season(date(2026, 3, 20), 6, TWICE) == (date(2026, 9, 1), date(2026, 10, 31))


def test_season_may_cross_the_new_year() -> None:
    assert next_season(date(2026, 7, 1), 6, WINTER) == (date(2026, 11, 15), date(2027, 2, 28))


def test_season_that_began_last_year_still_counts() -> None:
    assert next_season(date(2026, 1, 1), 1, WINTER) == (date(2025, 11, 15), date(2026, 2, 28))


def test_29_february_is_kept_in_a_leap_year() -> None:
    assert next_season(date(2027, 12, 1), 2, WINTER) == (date(2027, 11, 15), date(2028, 2, 29))


def test_scaled_interval_adds_its_days() -> None:
    """Half of 4 months and 6 days after 28 August: 31 October, the last day of the season."""
    assert next_season(date(2025, 8, 28), 4, AUTUMN, interval_days=6)[1] == date(2025, 10, 31)
    assert next_season(date(2025, 8, 29), 4, AUTUMN, interval_days=6)[1] == date(2026, 10, 31)


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (date(2026, 11, 14), False),
        (date(2026, 11, 15), True),
        (date(2027, 1, 1), True),
        (date(2027, 2, 28), True),
        (date(2028, 2, 29), True),
        (date(2027, 3, 1), False),
    ],
)
def test_both_ends_of_a_part_lie_inside(day: date, *, expected: bool) -> None:
    assert WINTER.is_inside(day) is expected


def test_in_the_south_it_is_six_months_later() -> None:
    assert shifted(AUTUMN, 6) == Season(parts=(((3, 1), (4, 30)),))


def test_the_last_of_a_month_stays_the_last_there_and_back() -> None:
    assert shifted(shifted(AUTUMN, 6), 6) == AUTUMN
    assert shifted(WINTER, 6) == Season(parts=(((5, 15), (8, 31)),))


def test_day_in_the_middle_keeps_its_number() -> None:
    assert shifted(Season(parts=(((8, 30), (10, 15)),)), 6) == Season(parts=(((2, 29), (4, 15)),))


@pytest.mark.parametrize("day", [(2, 30), (13, 1), (0, 1), (4, 31), (1, 0)])
def test_day_no_year_has_is_refused(day: tuple[int, int]) -> None:
    with pytest.raises(BadInput, match="season"):
        Season(parts=((day, (10, 31)),))


def test_season_without_a_part_is_refused() -> None:
    with pytest.raises(BadInput, match="has no part"):
        Season(parts=())


def test_calendar_that_ends_before_the_season_is_bad_input() -> None:
    with pytest.raises(BadInput, match="no season ends"):
        next_season(date(9999, 10, 1), 3, AUTUMN)


def test_first_years_of_the_calendar_have_their_seasons() -> None:
    assert next_season(date(1, 1, 1), 12, AUTUMN) == (date(1, 9, 1), date(1, 10, 31))
