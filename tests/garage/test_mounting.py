"""Tires and wheels that come on and go off: sets for a season, a tire turned round or remounted."""

from collections.abc import Sequence

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot
from castlenut.domain.tires.axle import Side
from castlenut.domain.tires.standing import Standing
from castlenut.garage.changes.parts import draft_fit, draft_remove
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.garage.tires import change_of_tires, tires_of
from castlenut.words.tire_change import lines
from tests.garage.conftest import Shop
from tests.garage.shod import RADIAL, STEEL, shoe

CAR = "linden"


@pytest.fixture
def shod(garage: Garage) -> Shop:
    return shoe(garage)


def at(shop: Shop, spot: Spot) -> Standing:
    here = tires_of(shop.garage, CAR).at(spot)
    assert here is not None
    return here


def ids(shop: Shop, spot: Spot) -> tuple[RecordId, RecordId]:
    """Give the tire and the wheel at a place."""
    here = at(shop, spot)
    assert here.tire is not None
    assert here.wheel is not None
    return here.tire.record, here.wheel.record


def fit(shop: Shop, record: str, place: str, **fields: str) -> Draft:
    draft = draft_fit(shop.garage, CAR, record, place, fields)
    shop.save(draft)
    return draft


def refusals(shop: Shop, record: str, place: str, **fields: str) -> Sequence[str]:
    before = shop.table("placement", CAR)
    with pytest.raises(BadInput) as raised:
        draft_fit(shop.garage, CAR, record, place, fields)
    assert shop.table("placement", CAR) == before
    return [str(fault) for fault in raised.value.faults]


def test_a_tire_and_its_wheel_go_off_together(shod: Shop) -> None:
    tire, wheel = ids(shod, Spot.LF)

    shod.save(draft_remove(shod.garage, CAR, tire, wheel))

    (off,) = tires_of(shod.garage, CAR).off
    assert off.tire is not None
    assert off.wheel is not None
    assert (off.tire.record, off.wheel.record, off.stood) == (tire, wheel, Spot.LF)
    assert shod.table("placement", CAR)[-1] == {
        "tire": tire,
        "wheel": wheel,
        "on": "2026-11-25",
        "at": 56000,
    }


def test_a_tire_comes_back_on_the_wheel_it_went_off_with(shod: Shop) -> None:
    tire, wheel = ids(shod, Spot.LF)
    shod.save(draft_remove(shod.garage, CAR, tire, wheel))

    draft = fit(shod, tire, "LF")

    assert ids(shod, Spot.LF) == (tire, wheel)
    assert "the tire comes on the wheel that it went off with" in draft.told
    raised = shod.table("job", CAR)[-1]["events"]
    assert raised == ["wheel-changed LF", "wheel-off LF"]


def test_a_winter_wheel_takes_the_place_of_the_summer_one_with_its_tire(shod: Shop) -> None:
    summer = ids(shod, Spot.LF)
    shod.save(draft_fit(shod.garage, CAR, "wheel", "LF", STEEL))
    shod.save(draft_fit(shod.garage, CAR, "tire", "LF", {**RADIAL, "studded": "yes"}))
    winter = ids(shod, Spot.LF)
    shod.save(draft_remove(shod.garage, CAR, *winter))
    off = [each for each in tires_of(shod.garage, CAR).off if each.tire is not None]
    assert {each.tire.record for each in off if each.tire is not None} == {summer[0], winter[0]}

    fit(shod, winter[0], "LF")

    assert ids(shod, Spot.LF) == winter


def test_a_tire_is_turned_round_on_its_rim_where_it_stands(garage: Garage) -> None:
    shop = shoe(garage, tread="directional", turns="left")
    tire, wheel = ids(shop, Spot.RF)
    assert at(shop, Spot.RF).turns is Side.LEFT

    fit(shop, tire, "RF", turns="right")

    assert at(shop, Spot.RF).turns is Side.RIGHT
    assert ids(shop, Spot.RF) == (tire, wheel)
    assert "tire-fitted RF" in str(shop.table("job", CAR)[-1]["events"])


def test_a_tire_goes_onto_the_wheel_of_another_place(shod: Shop) -> None:
    moved, _ = ids(shod, Spot.LF)
    worn, wheel = ids(shod, Spot.RR)

    fit(shod, moved, "RR")

    assert ids(shod, Spot.RR) == (moved, wheel)
    assert at(shod, Spot.LF).tire is None
    off = [each.tire.record for each in tires_of(shod.garage, CAR).off if each.tire is not None]
    assert off == [worn]


def test_a_directional_tire_mounted_anew_asks_which_way_it_turns(garage: Garage) -> None:
    shop = shoe(garage, tread="directional", turns="left")
    tire, _ = ids(shop, Spot.LF)

    draft = fit(shop, tire, "LR")

    told = "which side its arrow turns for is not given: turns=left or turns=right"
    assert told in draft.told
    assert at(shop, Spot.LR).turns is None


def test_what_stands_there_already_is_not_fitted_again(shod: Shop) -> None:
    tire, wheel = ids(shod, Spot.LF)

    (stands,) = refusals(shod, tire, "LF")
    (is_on,) = refusals(shod, wheel, "RR")

    assert stands == (
        "record: the tire stands at LF already; give turns=left or turns=right where it was turned"
        " on its rim"
    )
    assert is_on == (
        "record: the wheel LF is on the car; rotate moves a wheel with its tire; remove takes it"
        " off"
    )


def test_one_tire_goes_to_one_place(shod: Shop) -> None:
    tire, wheel = ids(shod, Spot.LF)
    shod.save(draft_remove(shod.garage, CAR, tire, wheel))

    assert refusals(shod, tire, "LF,RF") == [
        "place: the tire on the shelf is one part, LF,RF are 2 places; give one place"
    ]


def test_before_wider_tires_are_saved_it_is_told_what_falls(shod: Shop) -> None:
    """10/32 in are 7.94 mm, 6.34 above 1.6; rear drive wears 0.152 in front, 0.168 behind.

    One size: 4 x 6.3375 / 0.64 per 1,000 is 39,609 mi, 10.1 tires. By pairs: 6.3375 / 0.168 is
    37,723 mi behind, 41,694 in front: 5.3 and 4.8 tires.
    """
    draft = draft_fit(shod.garage, CAR, "tire", "LR,RR", {**RADIAL, "size": "225/60R15"})

    change = change_of_tires(shod.garage, draft)

    assert change is not None
    told = list(lines(change, tires_of(shod.garage, CAR).unit))
    assert told[0].startswith(
        "patterns left 5 -> 1, because LF carries 205/60R15; the rear axle takes 225/60R15"
    )
    assert told[1] == "tread not measured at LF RF: taken as not worn"
    assert told[2] == (
        "a new set lasts about 38,000 mi, before 40,000; tires per 100,000 mi 10.1 -> 10.1"
    )
    assert "a factor of 1.0383 follows" in told[3]


def test_a_change_of_other_things_says_nothing_of_tires(shod: Shop) -> None:
    draft = draft_fit(shod.garage, CAR, "brake fluid", None, {"fluid": "DOT 4"})

    assert change_of_tires(shod.garage, draft) is None
