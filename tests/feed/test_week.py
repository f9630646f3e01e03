"""The day a car is reckoned for, and the week it holds."""

from datetime import date

import pytest

from castlenut.feed.feeds import GARAGE_FEED, owner_feed, vehicle_feed
from castlenut.feed.week import as_of, latest_record, monday_of
from tests.builders import car, exposed, job, part, reading
from tests.feed.made import VEHICLE_ID

MONDAY = date(2026, 11, 23)


@pytest.mark.parametrize("today", ["2026-11-23", "2026-11-25", "2026-11-29"])
def test_without_a_record_this_week_every_day_counts_as_its_monday(today: str) -> None:
    assert as_of(date.fromisoformat(today), date(2026, 11, 20)) == MONDAY
    assert as_of(date.fromisoformat(today), None) == MONDAY


def test_a_record_of_this_week_moves_the_day_on_to_it() -> None:
    assert as_of(date(2026, 11, 29), date(2026, 11, 25)) == date(2026, 11, 25)


def test_a_record_dated_later_moves_it_no_further_than_sunday() -> None:
    assert as_of(date(2026, 11, 24), date(2027, 3, 1)) == date(2026, 11, 29)


def test_a_sunday_belongs_to_the_week_before_its_monday() -> None:
    assert monday_of(date(2027, 1, 3)) == date(2026, 12, 28)


def test_the_latest_record_is_of_any_table_and_no_plan() -> None:
    this = car(
        part("engine oil", on="2026-01-01", removed_on="2026-09-03"),
        readings=(reading("2026-08-01", 50000),),
        jobs=(job("2026-08-20", 50100),),
        exposures=(exposed("laid up", "2026-09-02", "2027-04-01"),),
    )

    assert latest_record(this) == date(2026, 9, 3)


def test_a_car_without_a_dated_record_has_no_latest() -> None:
    assert latest_record(car()) is None


def test_the_garage_sees_twelve_months_ahead_and_others_eighteen() -> None:
    assert GARAGE_FEED.until(MONDAY) == date(2027, 11, 30)
    assert vehicle_feed(VEHICLE_ID).until(MONDAY) == date(2028, 5, 31)
    assert owner_feed("Ada Fennimore").until(MONDAY) == date(2028, 5, 31)
