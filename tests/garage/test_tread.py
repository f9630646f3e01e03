"""Tread depths: kept with the tire, and told where they cannot be."""

from collections.abc import Sequence

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.place import Spot
from castlenut.garage.changes.parts import draft_remove
from castlenut.garage.changes.rotating import draft_rotation
from castlenut.garage.changes.tread import draft_tread
from castlenut.garage.garage import Garage
from castlenut.garage.tires import tires_of
from tests.garage.conftest import Shop
from tests.garage.shod import shoe

CAR = "linden"


@pytest.fixture
def shod(garage: Garage) -> Shop:
    return shoe(garage)


def measure(shop: Shop, *entries: tuple[str, str], on: str | None = None) -> Sequence[str]:
    draft = draft_tread(shop.garage, CAR, entries, on=on)
    shop.save(draft)
    return draft.told


def refusals(shop: Shop, *entries: tuple[str, str]) -> Sequence[str]:
    with pytest.raises(BadInput) as raised:
        draft_tread(shop.garage, CAR, entries)
    assert shop.table("measurement", CAR) == []
    return [str(fault) for fault in raised.value.faults]


def thinnest(shop: Shop, spot: Spot) -> float | None:
    here = tires_of(shop.garage, CAR).at(spot)
    return None if here is None or here.depths is None else here.depths.thinnest_mm


def test_a_bare_figure_is_in_the_garages_unit_and_three_are_grooves(shod: Shop) -> None:
    measure(shod, ("LF", "7 7 6"), ("RF", "5.6mm"))

    left, right = shod.table("measurement", CAR)
    assert (left["value"], left["unit"]) == ([7, 7, 6], "1/32 in")
    assert (str(right["value"]), right["unit"]) == ("5.6", "mm")


def test_the_thinnest_groove_counts(shod: Shop) -> None:
    measure(shod, ("LF", "7 7 6"))

    assert thinnest(shod, Spot.LF) == pytest.approx(4.7625)  # 6/32 in


def test_a_measurement_goes_with_its_tire_to_another_place(shod: Shop) -> None:
    measure(shod, ("LF", "7"), ("RF", "6"), ("LR", "5"), ("RR", "8"), on="2026-11-20")

    shod.save(draft_rotation(shod.garage, CAR, "LF=RR,RR=LF"))

    assert thinnest(shod, Spot.RR) == pytest.approx(5.55625)  # 7/32 in, measured at LF
    assert thinnest(shod, Spot.LF) == pytest.approx(6.35)  # 8/32 in, measured at RR


def test_deeper_than_new_is_kept_and_told(shod: Shop) -> None:
    told = measure(shod, ("LF", "12"))

    assert "LF: deeper than new (10/32): tire changed? Kept as typed" in told
    assert thinnest(shod, Spot.LF) == pytest.approx(9.525)


def test_half_a_millimeter_deeper_than_last_time_is_told(shod: Shop) -> None:
    measure(shod, ("LF", "5.0mm"), on="2026-11-20")

    told = measure(shod, ("LF", "5.6mm"))

    assert "LF: deeper than last time (5 mm): tire changed? Kept as typed" in told


def test_a_little_deeper_than_last_time_is_the_gauge(shod: Shop) -> None:
    measure(shod, ("LF", "5.0mm"), on="2026-11-20")

    told = measure(shod, ("LF", "5.4mm"))

    assert not any("deeper" in each for each in told)


def test_a_tire_at_the_limit_is_told(shod: Shop) -> None:
    told = measure(shod, ("RR", "2"))

    assert "RR: 2/32 is at or under the limit of 2/32: renew the tire" in told


def test_every_fault_is_told_and_nothing_is_kept(shod: Shop) -> None:
    faults = refusals(shod, ("LX", "7"), ("LRO", "7"), ("SP", "7"), ("LF", "thin"))

    assert faults[:3] == [
        "place: 'LX' is no place of a wheel on this car; use LF, RF, LR, RR, SP",
        "place: 'LRO' is no place of a wheel on this car; use LF, RF, LR, RR, SP",
        "SP: no tire stands there; fit one first",
    ]
    assert faults[3].startswith("LF: 'thin' is no tread depth; write ")


def test_one_tire_is_measured_once_in_an_entry(shod: Shop) -> None:
    assert refusals(shod, ("LF", "7"), ("lf", "6")) == ["lf: is given twice; give each tire once"]


def test_a_tire_off_the_car_is_measured_by_its_id(shod: Shop) -> None:
    tire = tires_of(shod.garage, CAR).standing[0].tire
    assert tire is not None
    shod.save(draft_remove(shod.garage, CAR, tire.record))

    measure(shod, (tire.record[-8:], "6"))

    (off,) = tires_of(shod.garage, CAR).off
    assert off.depths is not None
    assert off.depths.thinnest_mm == pytest.approx(4.7625)
