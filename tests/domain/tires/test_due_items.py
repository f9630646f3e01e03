"""What is due on tires: by the own wear of each, by age, and the rotation that cannot be."""

from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.due import CarToday, items_today
from castlenut.domain.item import Item
from castlenut.domain.tires.reasons import Code
from castlenut.domain.working import From, Judged, NoRotation, NotKnown, Result, State
from castlenut.store.revisions import StoredRecord
from tests.builders import book, the_item
from tests.domain.tires.recorded import TODAY, a_tire, car_with, kept, measured, put, shod


def due(*records: StoredRecord, on: date = TODAY) -> CarToday:
    return items_today(car_with(*records), book(), today=on)


def judged(item: Item) -> Judged:
    return next(step for step in item.working if isinstance(step, Judged))


def test_a_tire_is_forecast_by_its_own_wear_wherever_it_stood() -> None:
    """8.0 mm new at 50,000, 7.0 at 50,500 at LF, 6.0 at 51,000 at RR: 2.0 mm per 1,000.

    2/32 in are 1.5875 mm; 4.4125 mm are left: 2,206.25 mi, at 53,206 on the dial.
    """
    found = due(
        *shod(),
        measured("tire-LF", "2026-02-20", 50500, 7.0),
        put("tire-LF+wheel-LF", "RR", on="2026-02-20", at=50500),
        put("tire-RR+wheel-RR", "LF", on="2026-02-20", at=50500),
        measured("tire-LF", "2026-04-11", 51000, 6.0),
    )

    item = the_item(found, "tire-tread", "RR")
    step = judged(item)
    assert step.rate_per_1000 == pytest.approx(2.0 * 32 / 25.4)  # in 1/32 in
    assert step.reached_at == 53206


def test_distance_in_the_shed_is_no_wear() -> None:
    """Off from 50,200 to 50,800: 400 mi rolled, 1.0 mm lost, 2.5 mm per 1,000."""
    found = due(
        *shod(),
        put("tire-LF+wheel-LF", None, on="2026-01-21", at=50200),
        put("tire-LF+wheel-LF", "LF", on="2026-03-22", at=50800),
        measured("tire-LF", "2026-04-11", 51000, 7.0),
    )

    step = judged(the_item(found, "tire-tread", "LF"))
    assert step.rate_per_1000 == pytest.approx(2.5 * 32 / 25.4)


def test_what_was_measured_before_a_winter_off_still_counts() -> None:
    found = due(
        *shod(),
        measured("tire-LF", "2026-01-11", 50100, 7.5),
        put("tire-LF+wheel-LF", None, on="2026-01-21", at=50200),
        put("tire-LF+wheel-LF", "LF", on="2026-03-22", at=50800),
    )

    step = judged(the_item(found, "tire-tread", "LF"))
    assert step.on == date(2026, 1, 11)


def test_a_measurement_of_a_place_is_not_of_a_tire_that_lay_off_the_car() -> None:
    off = put("tire-LF+wheel-LF", None, on="2026-01-21", at=50200)
    other = kept(
        "measurement",
        "of the place",
        measure="tread_depth",
        place="LF",
        value=5,
        unit="mm",
        on="2026-02-20",
        at=50500,
    )

    found = due(*shod(), off, other, put("tire-LF+wheel-LF", "LF", on="2026-03-22", at=50800))

    assert judged(the_item(found, "tire-tread", "LF")).record is None


def test_a_worn_tire_at_the_spares_place_is_not_forecast_to_wear() -> None:
    found = due(
        *shod(),
        a_tire("tire-SP"),
        put("tire-SP", "LF", on="2025-01-01", at=40000),
        put("tire-SP", "SP", on="2025-12-01", at=49000),
        measured("tire-SP", "2025-12-01", 49000, 5.0),
    )

    step = judged(the_item(found, "tire-tread", "SP"))
    assert step.value == Decimal("6.29921")  # 5.0 mm in 1/32 in
    assert step.reached_at is None


def test_a_tire_at_the_limit_is_overdue() -> None:
    found = due(*shod(), measured("tire-LF", "2026-04-11", 51000, 1.5))

    assert the_item(found, "tire-tread", "LF").state is State.OVERDUE


def test_age_counts_from_the_number_and_the_spare_is_not_forgotten() -> None:
    """Week 28 of 2019 began on 14 July: ten years end on 2029-07-14."""
    found = due(
        *shod(places=("LF", "RF", "LR", "RR", "SP"), tires={"SP": {"tin": "ABCD EFG 2819"}})
    )

    item = the_item(found, "tire-age", "SP")
    assert item.due_on == date(2029, 7, 14)
    assert item.baseline is not None
    assert item.baseline.how is From.MADE


def test_of_several_decades_the_youngest_is_counted_and_said() -> None:
    """Week 28, year ending in 9: 1979, 1989 or 1999. All are over ten years old."""
    found = due(*shod(tires={"LF": {"tin": "ABCD EFG 289"}}))

    item = the_item(found, "tire-age", "LF")
    assert item.state is State.OVERDUE
    assert item.due_on == date(2009, 7, 11)
    told = [step for step in item.working if isinstance(step, NotKnown)]
    assert [(step.what, step.remedy) for step in told] == [
        (
            "the year of make: its number says 1979, 1989, 1999",
            "counted from 1999, the youngest it can be",
        )
    ]


def test_a_winter_in_the_shed_makes_a_tire_no_younger() -> None:
    """No number: counted from the day it first came onto the car."""
    found = due(
        *shod(),
        put("tire-LF+wheel-LF", None, on="2026-01-21", at=50200),
        put("tire-LF+wheel-LF", "LF", on="2026-03-22", at=50800),
    )

    assert the_item(found, "tire-age", "LF").due_on == date(2036, 1, 1)


def test_an_old_tire_is_looked_at_from_five_years_on() -> None:
    found = due(*shod(tires={"LF": {"tin": "ABCD EFG 2819"}}))

    item = the_item(found, "tire-age-look", "LF")
    assert item.due_on == date(2024, 7, 14)
    assert item.state is State.OVERDUE


def test_a_rotation_that_cannot_be_stays_and_says_why() -> None:
    found = due(*shod(wheels={"LF": {"offset": None}, "LR": {"offset": None}}))

    item = the_item(found, "tire-rotate")
    assert {reason.code for reason in item.against} == {Code.OFFSET}
    steps = [type(step) for step in item.working]
    assert steps.index(NoRotation) + 1 == steps.index(Result)


def test_a_rotation_that_can_be_has_nothing_against_it() -> None:
    item = the_item(due(*shod()), "tire-rotate")

    assert item.against == ()
    assert NoRotation not in [type(step) for step in item.working]


def test_side_to_side_alone_is_a_rotation() -> None:
    wide = {place: {"size": "225/60R15"} for place in ("LR", "RR")}

    assert the_item(due(*shod(tires=wide)), "tire-rotate").against == ()
