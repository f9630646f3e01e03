"""The owner's own checks: one event a month."""

from datetime import date

import pytest

from castlenut.domain.ids import RecordId
from castlenut.domain.item import Item
from castlenut.domain.vehicle import LAID_UP, Exposure
from castlenut.domain.working import State
from castlenut.feed.candidate import Candidate
from castlenut.feed.own_checks import first_saturday, own_check_candidates
from tests.feed.made import FACTS, MONDAY, car, item, rule

UNTIL = date(2027, 10, 31)


def pressure(base_on: str | None = "2026-11-02", months: int | None = 1) -> Item:
    of = rule("tire-pressure", "tire pressure, cold, spare too", own=True, check="placard")
    return item(
        "2026-12-02",
        of=of,
        months=months,
        base=None if base_on is None else "job-1",
        base_on=base_on,
        state=State.DUE,
    )


def checks(*items: Item, exposures: tuple[Exposure, ...] = ()) -> list[Candidate]:
    this = car(*items, exposures=exposures)
    return list(own_check_candidates(this, FACTS, monday=MONDAY, until=UNTIL))


@pytest.mark.parametrize(
    ("month", "saturday"),
    [
        (date(2026, 8, 31), date(2026, 8, 1)),
        (date(2026, 11, 1), date(2026, 11, 7)),
        (date(2026, 12, 15), date(2026, 12, 5)),
        (date(2027, 1, 1), date(2027, 1, 2)),
    ],
)
def test_the_first_saturday_of_a_month(month: date, saturday: date) -> None:
    assert first_saturday(month) == saturday


def test_a_monthly_check_stands_once_a_month_over_a_year() -> None:
    days = [each.on for each in checks(pressure())]

    assert days[:3] == [date(2026, 10, 3), date(2026, 11, 7), date(2026, 12, 5)]
    assert len(days) == 13
    assert all(day.weekday() == 5 and day.day <= 7 for day in days)


def test_title_and_list() -> None:
    lights = item(
        "2026-12-02",
        of=rule("lights", "lights", own=True, check="all work", danger=1),
        months=3,
        base_on="2026-09-10",
    )

    december = next(each for each in checks(pressure(), lights) if each.on.month == 12)

    assert december.summary == "Blue wagon: own checks, 2"
    assert december.category == "Own checks"
    assert december.description("") == (
        "Lights: all work\n"
        "Tire pressure, cold, spare too: placard\n"
        "Penmarrow Garage, 3 Quay Lane, 555 0142."
    )
    assert december.alarms == ()


def test_a_check_every_three_months_has_its_turn_counted_from_the_month_it_was_done() -> None:
    days = [each.on for each in checks(pressure("2026-09-28", months=3))]

    assert [(day.year, day.month) for day in days] == [
        (2026, 12),
        (2027, 3),
        (2027, 6),
        (2027, 9),
    ]


def test_a_check_without_record_has_its_turn_each_month() -> None:
    assert len(checks(pressure(None, months=3))) == 13


def test_a_check_by_distance_alone_is_in_no_event() -> None:
    assert checks(pressure(months=None)) == []


def test_a_recorded_check_leaves_the_same_events() -> None:
    before = {each.uid for each in checks(pressure("2026-10-05"))}
    after = {each.uid for each in checks(pressure("2026-11-24"))}

    assert before == after


def test_of_a_car_laid_up_only_the_checks_of_storage_are_told() -> None:
    battery = item(
        "2026-12-02",
        of=rule("layup-battery", "battery of a laid-up car", own=True, storage=True),
        months=1,
        base_on="2026-11-01",
    )
    laid_up = Exposure(
        record=RecordId("x"), name=LAID_UP, since=date(2026, 11, 1), until=date(2027, 3, 31)
    )

    found = checks(pressure(), battery, exposures=(laid_up,))

    texts = {each.on: each.description("").split("\n")[0] for each in found}
    assert texts[date(2026, 10, 3)] == "Tire pressure, cold, spare too: placard"
    assert texts[date(2026, 12, 5)] == "Battery of a laid-up car"
    assert texts[date(2027, 4, 3)] == "Tire pressure, cold, spare too: placard"


def test_thirty_checks_are_listed_to_twenty_five() -> None:
    many = [
        item("2026-12-02", of=rule(f"c{n:02}", f"check {n:02}", own=True), months=1)
        for n in range(30)
    ]

    text = checks(*many)[0].description("").split("\n")

    assert text[24:26] == ["Check 24", "and 5 more"]


def test_a_sold_car_has_no_checks() -> None:
    this = car(pressure(), sold_on=date(2026, 11, 1))

    assert list(own_check_candidates(this, FACTS, monday=MONDAY, until=UNTIL)) == []
