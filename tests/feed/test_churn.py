"""When a published day moves."""

from datetime import date

import pytest

from castlenut.feed.churn import published_day

AS_OF = date(2026, 11, 23)


def moved(natural: str, published: str | None, *, is_exact: bool = False) -> date:
    return published_day(
        date.fromisoformat(natural),
        None if published is None else date.fromisoformat(published),
        is_exact=is_exact,
        as_of=AS_OF,
    )


def test_a_new_event_stands_on_its_own_day() -> None:
    assert moved("2027-03-01", None) == date(2027, 3, 1)


def test_a_new_event_that_was_reached_stands_in_the_past() -> None:
    assert moved("2026-06-01", None) == date(2026, 6, 1)


def test_an_exact_day_moves_at_once() -> None:
    assert moved("2027-03-02", "2027-03-01", is_exact=True) == date(2027, 3, 2)


@pytest.mark.parametrize(
    ("natural", "stands"),
    [
        # 100 days ahead: published 2027-03-03; 10 days earlier and 20 later are the margins
        ("2027-02-21", "2027-03-03"),
        ("2027-02-20", "2027-02-20"),
        ("2027-03-23", "2027-03-03"),
        ("2027-03-24", "2027-03-24"),
    ],
)
def test_a_day_far_ahead_moves_past_a_tenth_earlier_or_a_fifth_later(
    natural: str, stands: str
) -> None:
    assert moved(natural, "2027-03-03") == date.fromisoformat(stands)


@pytest.mark.parametrize(
    ("natural", "stands"),
    [
        # 10 days ahead: 3 days earlier and 7 later are the margins
        ("2026-11-30", "2026-12-03"),
        ("2026-11-29", "2026-11-29"),
        ("2026-12-10", "2026-12-03"),
        ("2026-12-11", "2026-12-11"),
    ],
)
def test_a_day_near_ahead_moves_past_three_days_earlier_or_seven_later(
    natural: str, stands: str
) -> None:
    assert moved(natural, "2026-12-03") == date.fromisoformat(stands)


def test_a_part_of_a_day_in_the_margin_is_a_whole_one() -> None:
    """41 days ahead: a tenth is 4.1 days, so 5 days earlier still stays."""
    assert moved("2026-12-29", "2027-01-03") == date(2027, 1, 3)
    assert moved("2026-12-28", "2027-01-03") == date(2026, 12, 28)


def test_what_was_reached_stays_on_its_past_day() -> None:
    assert moved("2026-10-20", "2026-10-01") == date(2026, 10, 1)


def test_what_was_reached_before_its_published_day_comes_to_this_day() -> None:
    assert moved("2026-10-20", "2027-02-01") == AS_OF


def test_a_day_in_the_past_moves_on_when_the_point_turns_out_later() -> None:
    assert moved("2026-11-28", "2026-11-20") == date(2026, 11, 28)
    assert moved("2026-11-27", "2026-11-20") == date(2026, 11, 20)
