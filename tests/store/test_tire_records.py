"""Tires found on a car: they stand at their places, and nobody knows since when."""

from datetime import date

from castlenut.domain.component import Component
from castlenut.domain.place import Place, Spot
from castlenut.store.records import car_of
from castlenut.store.revisions import StoredRecord
from castlenut.store.values import Value

TIRE = "01a20000-0000-7000-8000-0000000000a1"


def stored(table: str, record: str, **values: Value) -> StoredRecord:
    return StoredRecord(
        table=table,
        id=record,
        values=values,
        gone=False,
        differences={},
        heads=(),
        made=("2026-11-25T12:00:00.000Z", "dev-test"),
        changed=("2026-11-25T12:00:00.000Z", "dev-test"),
        revisions=(),
    )


def placement(number: int, **values: Value) -> StoredRecord:
    return stored("placement", f"01a20000-0000-7000-8000-0000000000b{number}", tire=TIRE, **values)


def tire(*placements: StoredRecord) -> Component:
    records = (stored("tire", TIRE, size="6.40-13"), *placements)
    parts = car_of("car-id", "barn-find", records).car.components
    return next(part for part in parts if part.kind == "tire")


def test_a_tire_found_on_the_car_was_fitted_nobody_knows_when() -> None:
    """Neither a job nor a dial figure stands beside the first placement."""
    found = tire(placement(1, place="LF", on="2026-11-19"))

    assert found.on is None
    assert found.place_on(date(2026, 11, 25)) == Place(Spot.LF)


def test_a_tire_found_on_the_car_is_not_fitted_before_it_was_found() -> None:
    found = tire(placement(1, place="LF", on="2026-11-19"))

    assert not found.is_fitted_on(date(2026, 11, 18))
    assert found.is_fitted_on(date(2026, 11, 19))


def test_moving_a_tire_found_on_the_car_does_not_fit_it() -> None:
    found = tire(
        placement(1, place="LF", on="2026-11-19"),
        placement(2, place="LR", on="2026-12-01", at=900, job="a job"),
    )

    assert found.on is None
    assert found.place_on(date(2026, 12, 1)) == Place(Spot.LR)


def test_a_tire_fitted_by_a_job_is_fitted_since_then() -> None:
    fitted = tire(placement(1, place="LF", on="2026-11-19", job="a job"))

    assert fitted.on == date(2026, 11, 19)
