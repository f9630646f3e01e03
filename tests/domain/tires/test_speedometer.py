"""The factor that follows from another size on the wheels that drive the dial: offered, once."""

from datetime import date

import pytest

from castlenut.domain.tires.speedometer import FactorOffered
from castlenut.store.revisions import StoredRecord
from castlenut.store.values import Value
from tests.domain.tires.recorded import a_tire, kept, put, shod, tires

# 205/60R15: 15 x 25.4 + 2 x 205 x 0.60 = 627.0 mm; 225/60R15: 651.0; 185/65R15: 621.5
WIDE = {"size": "225/60R15"}


def renewed(*places: str, on: str = "2026-03-01", **fields: Value) -> list[StoredRecord]:
    return [
        each
        for place in places
        for each in (
            put(f"tire-{place}", None, on=on, at=50590),
            a_tire(f"new-{place}", **fields),
            put(f"new-{place}", place, on=on, at=50590),
        )
    ]


def offered(*records: StoredRecord) -> FactorOffered | None:
    return tires(*records).factor_offered


def test_a_larger_size_on_the_driven_axle_is_offered_from_its_day() -> None:
    found = offered(*shod(), *renewed("LR", "RR", **WIDE))

    assert found is not None
    assert found.factor == pytest.approx(651.0 / 627.0)
    assert (found.was.key, found.size.key) == ("205/60R15", "225/60R15")
    assert found.since == date(2026, 3, 1)
    assert not found.is_calibrated


def test_in_front_of_a_rear_drive_it_changes_nothing() -> None:
    assert offered(*shod(), *renewed("LF", "RF", **WIDE)) is None


def test_in_front_of_a_front_drive_it_does() -> None:
    assert offered(*shod(drive="front"), *renewed("LF", "RF", **WIDE)) is not None


def test_one_tire_alone_is_no_change_of_the_axle() -> None:
    assert offered(*shod(), *renewed("RR", **WIDE)) is None


def test_the_same_size_again_offers_nothing() -> None:
    assert offered(*shod(), *renewed("LR", "RR")) is None


def test_what_the_dial_was_made_for_goes_before_the_size_before() -> None:
    car = kept("vehicle", "vehicle", calibrated_size="185/65R15")
    records = [each for each in shod() if each.table != "vehicle"]
    base = next(each for each in shod() if each.table == "vehicle")
    vehicle = kept("vehicle", "vehicle", **{**base.values, **car.values})

    found = offered(vehicle, *records)

    assert found is not None
    assert found.is_calibrated
    assert found.factor == pytest.approx(627.0 / 621.5)


def test_a_factor_recorded_since_is_not_offered_again() -> None:
    event = kept("odometer_event", "e", event="factor", on="2026-03-02", factor=1)

    assert offered(*shod(), *renewed("LR", "RR", **WIDE), event) is None


def test_a_factor_of_before_does_not_count() -> None:
    event = kept("odometer_event", "e", event="factor", on="2026-01-02", factor=1)

    assert offered(*shod(), *renewed("LR", "RR", **WIDE), event) is not None


def test_tires_that_only_changed_sides_offer_nothing_new() -> None:
    found = offered(
        *shod(),
        *renewed("LR", "RR", **WIDE),
        put("new-LR", "RR", on="2026-03-20", at=50780),
        put("new-RR", "LR", on="2026-03-20", at=50780),
    )

    assert found is not None
    assert found.since == date(2026, 3, 1)


def test_a_letter_size_gives_no_diameter_and_no_factor() -> None:
    letter = {place: {"size": "N50-15", "construction": "bias"} for place in ("LR", "RR")}

    assert offered(*shod(tires=letter), *renewed("LR", "RR")) is None
