"""An invented car as its tires and wheels stand in the record, put together in a line or two."""

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from itertools import count

from castlenut.domain.car import Car
from castlenut.domain.tires.today import TiresToday, tires_today
from castlenut.store.records import car_of
from castlenut.store.revisions import StoredRecord
from castlenut.store.values import Value
from tests.builders import book

ROAD = ("LF", "RF", "LR", "RR")
DUALS = ("LF", "RF", "LRO", "LRI", "RRI", "RRO")
FITTED_ON, FITTED_AT = "2026-01-01", 50000
TODAY = date(2026, 4, 11)

_entered = count(1)


def kept(table: str, name: str, /, **values: Value) -> StoredRecord:
    """Give a record, entered after all those made before it."""
    made = (f"2026-01-01T00:00:00.{next(_entered):06d}Z", "dev-test")
    return StoredRecord(
        table=table,
        id=name,
        values={key: value for key, value in values.items() if value is not None},
        gone=False,
        differences={},
        heads=(),
        made=made,
        changed=made,
        revisions=(),
    )


def a_tire(name: str, **fields: Value) -> StoredRecord:
    alike: dict[str, Value] = {
        "size": "205/60R15",
        "construction": "radial",
        "service": "91H",
        "tread": "symmetric",
        "new_depth": 8,
        "depth_unit": "mm",
    }
    return kept("tire", name, **{**alike, **fields})


def a_wheel(name: str, **fields: Value) -> StoredRecord:
    alike: dict[str, Value] = {"rim_width": 6, "rim_diameter": 15, "offset": 10}
    return kept("wheel", name, **{**alike, **fields})


def put(
    what: str,
    place: str | None,
    *,
    on: str | None = FITTED_ON,
    at: int | None = FITTED_AT,
    job: str | None = "a job",
    turns: str | None = None,
) -> StoredRecord:
    """Give a placement of `T` (a tire), `W` (a wheel) or `T+W`; no place is off the car."""
    tire, _, wheel = what.partition("+")
    if tire.startswith("wheel"):
        tire, wheel = "", tire
    return kept(
        "placement",
        f"placed-{next(_entered):06d}",
        tire=tire or None,
        wheel=wheel or None,
        place=place,
        on=on,
        at=at,
        job=job,
        turns=turns,
    )


def read(on: str, figure: int) -> StoredRecord:
    return kept("reading", f"reading-{on}", figure=figure, on=on, unit="mi")


def measured(
    tire: str, on: str, at: int | None, *mm: float | int, unit: str = "mm"
) -> StoredRecord:
    values: list[Value] = [Decimal(str(each)) for each in mm]
    return kept(
        "measurement",
        f"measured-{tire}-{on}",
        measure="tread_depth",
        item=f"tire-tread~{tire}",
        value=values[0] if len(values) == 1 else values,
        unit=unit,
        resolution=Decimal(1) if unit == "1/32 in" else Decimal("0.1"),
        on=on,
        at=at,
    )


def shod(
    *,
    places: tuple[str, ...] = ROAD,
    drive: str | None = "rear",
    dual: bool = False,
    tires: Mapping[str, Mapping[str, Value]] | None = None,
    wheels: Mapping[str, Mapping[str, Value]] | None = None,
) -> Iterator[StoredRecord]:
    """Give a car that ran 1,000 mi in 100 days, its tires `tire-LF` on `wheel-LF` fitted before.

    `tires` and `wheels` have fields of single ones by place.
    """
    yield kept(
        "vehicle",
        "vehicle",
        slug="linden",
        description="invented car",
        unit="mi",
        digits=5,
        drive=drive,
        dual=dual or None,
        year=1980,
    )
    yield read("2026-01-01", 50000)
    yield read("2026-04-11", 51000)
    for place in places:
        yield a_tire(f"tire-{place}", **(tires or {}).get(place, {}))
        yield a_wheel(f"wheel-{place}", **(wheels or {}).get(place, {}))
        yield put(f"tire-{place}+wheel-{place}", place)
    yield kept("component", "the set", kind="tire set", state="fitted", on=FITTED_ON, at=FITTED_AT)


def car_with(*records: StoredRecord) -> Car:
    found = car_of("11111111-1111-7111-8111-111111111111", "linden", records)
    assert not found.set_aside, found.set_aside
    return found.car


def tires(*records: StoredRecord, on: date = TODAY) -> TiresToday:
    return tires_today(car_with(*records), book(), today=on)
