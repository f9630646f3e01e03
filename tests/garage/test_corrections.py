"""Corrections, records struck and restored."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.corrections import draft_correction, draft_restore, draft_strike
from castlenut.garage.changes.readings import draft_reading
from tests.garage.conftest import CAR, Shop


@pytest.fixture
def reading(shop: Shop) -> str:
    """Give the id of a reading of 61,600."""
    shop.save(draft_reading(shop.garage, CAR, "61600", note="by telephone"))
    return shop.ids("reading")[0]


def refusals(shop: Shop, record: str, **fields: str) -> list[str]:
    with pytest.raises(BadInput) as raised:
        draft_correction(shop.garage, CAR, record, fields)
    return [str(fault) for fault in raised.value.faults]


def test_a_field_is_corrected_and_the_former_value_stays_in_the_history(
    shop: Shop, reading: str
) -> None:
    shop.save(draft_correction(shop.garage, CAR, reading[-8:], {"figure": "61660", "note": ""}))

    assert shop.table("reading") == [{"figure": 61660, "on": "2026-11-25", "unit": "mi"}]
    record = shop.garage.file(CAR).record("reading", reading)
    assert record is not None
    assert len(record.revisions) == 2


def test_a_value_as_it_stands_changes_nothing(shop: Shop, reading: str) -> None:
    saved = shop.save(draft_correction(shop.garage, CAR, reading, {"figure": "61600"}))

    assert saved.change is None
    assert saved.records == ()


def test_the_vehicle_is_corrected_by_its_name(shop: Shop) -> None:
    shop.save(draft_correction(shop.garage, CAR, "vehicle", {"year": "1971", "drive": "rear"}))

    vehicle = shop.garage.car(CAR).car.vehicle
    assert vehicle.year == 1971


def test_every_fault_is_told_and_nothing_changed(shop: Shop, reading: str) -> None:
    found = refusals(shop, reading, figur="1", on="2026-02-30", unit="league")

    assert len(found) == 3
    assert "did you mean figure?" in found[0]
    assert shop.table("reading")[0]["figure"] == 61600


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"on": "2026-12-24"}, "on: 2026-12-24 is after today, 2026-11-25;"),
        ({"on": "1950-01-01"}, "on: 1950-01-01 is before the car was made, 1970;"),
        ({"figure": "123456"}, "figure: '123456' has more digits than the dial"),
        ({}, "record: nothing to correct is given;"),
    ],
)
def test_what_cannot_be_true_is_refused(
    shop: Shop, reading: str, fields: dict[str, str], sentence: str
) -> None:
    assert refusals(shop, reading, **fields)[0].startswith(sentence)


def test_the_short_name_stays(shop: Shop) -> None:
    assert refusals(shop, "vehicle", slug="other")[0].startswith("slug: the short name is")


def test_a_struck_record_is_out_of_the_count_and_can_be_restored(shop: Shop, reading: str) -> None:
    shop.save(draft_strike(shop.garage, CAR, reading, why="typed twice"))
    assert shop.garage.car(CAR).car.readings == ()

    assert refusals(shop, reading, figure="1")[0].startswith(f"record: reading {reading[-8:]} is")
    shop.save(draft_restore(shop.garage, CAR, reading))

    assert len(shop.garage.car(CAR).car.readings) == 1


def test_striking_twice_or_restoring_what_stands_is_refused(shop: Shop, reading: str) -> None:
    with pytest.raises(BadInput, match=r"is not struck"):
        draft_restore(shop.garage, CAR, reading)

    shop.save(draft_strike(shop.garage, CAR, reading))

    with pytest.raises(BadInput, match=r"is struck already"):
        draft_strike(shop.garage, CAR, reading)


def test_the_vehicle_itself_cannot_be_struck(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"the vehicle's own record cannot be struck"):
        draft_strike(shop.garage, CAR, "vehicle")


def test_an_unknown_record_is_refused(shop: Shop) -> None:
    assert refusals(shop, "ffffffff", figure="1")[0].startswith(
        "record: 'ffffffff' is no record of tollgate;"
    )
