"""A rotation done: one change, the wheels at their new places, lug nuts due again; or refused."""

from collections.abc import Sequence

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.place import Spot
from castlenut.garage.changes.corrections import draft_correction
from castlenut.garage.changes.parts import draft_fit, draft_remove
from castlenut.garage.changes.rotating import draft_rotation
from castlenut.garage.changes.tread import draft_tread
from castlenut.garage.garage import Garage
from castlenut.garage.tires import tires_of
from tests.garage.conftest import Shop
from tests.garage.shod import RADIAL, shoe

CAR = "linden"
NEAR_NEW = (("LF", "9"), ("RF", "9"), ("LR", "9"), ("RR", "9"))


@pytest.fixture
def shod(garage: Garage) -> Shop:
    shop = shoe(garage)
    shop.save(draft_tread(garage, CAR, NEAR_NEW))
    return shop


def stands(shop: Shop) -> dict[str, str]:
    """Give the tire at each place, by the end of its id."""
    return {
        each.spot.value: each.tire.record[-2:]
        for each in tires_of(shop.garage, CAR).standing
        if each.tire is not None
    }


def refusals(shop: Shop, what: str) -> Sequence[str]:
    before = shop.table("placement", CAR)
    with pytest.raises(BadInput) as raised:
        draft_rotation(shop.garage, CAR, what)
    assert shop.table("placement", CAR) == before
    return [str(fault) for fault in raised.value.faults]


def test_a_pattern_moves_every_wheel_with_its_tire(shod: Shop) -> None:
    before = stands(shod)

    shod.save(draft_rotation(shod.garage, CAR, "rearward cross"))

    after = stands(shod)
    assert (after["RR"], after["LR"]) == (before["LF"], before["RF"])
    assert (after["LF"], after["RF"]) == (before["LR"], before["RR"])
    assert all("wheel" in each for each in shod.table("placement", CAR)[-4:])


def test_a_rotation_is_one_change_with_its_job(shod: Shop) -> None:
    saved = shod.save(draft_rotation(shod.garage, CAR, "X", hours="0.6"))

    job = shod.table("job", CAR)[-1]
    assert sorted(each.table for each in saved.records) == ["job", *["placement"] * 4]
    assert job["hours"] is not None
    (item,) = shod.items("tire-rotate", CAR)
    assert job["items"] == [str(item.id)]
    assert item.baseline is not None
    assert str(item.baseline.at) == "56000"


def test_lug_nuts_are_due_again_after_fifty_miles_where_wheels_moved(shod: Shop) -> None:
    shod.save(draft_rotation(shod.garage, CAR, "LF=RF,RF=LF"))

    due = {str(item.place): item.shown.due_at for item in shod.items("wheel-nuts", CAR)}
    assert due == {"LF": 56050, "RF": 56050, "LR": 50050, "RR": 50050}


def test_depths_are_measured_where_the_tires_stood_before(shod: Shop) -> None:
    draft = draft_rotation(
        shod.garage, CAR, "front to rear", depths=[("LF", "6"), ("LR", "7")], on="2026-11-25"
    )

    shod.save(draft)

    here = tires_of(shod.garage, CAR).at(Spot.LR)
    assert here is not None
    assert here.depths is not None
    assert here.depths.thinnest_mm == pytest.approx(4.7625)  # the 6/32 measured at LF


def test_what_is_not_allowed_is_refused_with_every_reason_of_every_move(shod: Shop) -> None:
    wide = {**RADIAL, "size": "225/60R15"}
    shod.save(draft_fit(shod.garage, CAR, "tire", "LR,RR", wide))

    to_rear, to_front = "the rear axle takes 225/60R15", "the front axle takes 205/60R15"
    lifted = "lifted by one size all round"
    assert refusals(shod, "front to rear") == [
        f"LF to LR: LF carries 205/60R15; {to_rear}; {lifted}",
        f"RF to RR: RF carries 205/60R15; {to_rear}; {lifted}",
        f"LR to LF: LR carries 225/60R15; {to_front}; {lifted}",
        f"RR to RF: RR carries 225/60R15; {to_front}; {lifted}",
    ]


def test_what_is_not_known_is_asked_for_by_name(shod: Shop) -> None:
    wheel = next(each.wheel for each in tires_of(shod.garage, CAR).standing if each.spot is Spot.LF)
    assert wheel is not None
    shod.save(draft_correction(shod.garage, CAR, wheel.record, {"offset": ""}))

    asked = "give the missing figure: the offset, stamped on the wheel or measured"
    takes = "What offset the front axle takes is not known: that of LF is missing"
    assert refusals(shod, "LR=RR,RR=LR,LF=RF,RF=LF") == [
        f"LF to RF: The offset of wheel LF is not known; {asked}",
        f"LF to RF: {takes}; {asked}",
        f"RF to LF: {takes}; {asked}",
    ]


def test_what_was_done_all_the_same_is_recorded_with_why_it_is_not_allowed(shod: Shop) -> None:
    shod.save(draft_fit(shod.garage, CAR, "tire", "LR,RR", {**RADIAL, "size": "225/60R15"}))

    draft = draft_rotation(shod.garage, CAR, "LF=LR,LR=LF", done_anyway=True)
    shod.save(draft)

    assert (
        "not allowed, recorded all the same: LF carries 205/60R15; the rear axle takes 225/60R15"
        in draft.told
    )
    assert str(shod.table("job", CAR)[-1]["note"]).startswith("not allowed: LF carries 205/60R15")


@pytest.mark.parametrize(
    ("moves", "fault"),
    [
        (
            "LF=RR",
            "moves: two wheels would stand at RR: that of LF and its own; say where RR goes",
        ),
        (
            "LF=RR,RF=RR,RR=LF",
            "moves: two wheels would stand at RR: that of LF and that of RF; say where RR goes",
        ),
        (
            "LF=LRO,RR=LF",
            "moves: 'LRO' is no place of a wheel on this car; use LF, RF, LR, RR, SP",
        ),
        ("LF=LF", "moves: nothing moves; name places from which and to which"),
        ("LF=RR,LF=LR", "moves: LF moves twice; name each wheel once"),
        ("LF=RR=LR", "moves: 'LF=RR=LR' is no move; write LF=RR,RR=LF"),
    ],
)
def test_moves_that_cannot_be_are_one_sentence_each(shod: Shop, moves: str, fault: str) -> None:
    assert fault in refusals(shod, moves)


def test_a_pattern_needs_every_wheel_it_moves(shod: Shop) -> None:
    assert refusals(shod, "five-tire rearward cross") == [
        "rotate: there is no spare; fit one first, or leave that place out"
    ]


def test_a_wheel_without_its_tire_does_not_rotate(shod: Shop) -> None:
    tire = tires_of(shod.garage, CAR).standing[0].tire
    assert tire is not None
    shod.save(draft_remove(shod.garage, CAR, tire.record))

    assert refusals(shod, "X") == [
        "rotate: the wheel at LF has no tire on it; fit its tire first, or leave that place out"
    ]


def test_an_unknown_pattern_names_the_near_ones(shod: Shop) -> None:
    (fault,) = refusals(shod, "backward cross")

    assert fault.startswith("pattern: no pattern 'backward cross'; did you mean ")


def test_on_dual_wheels_inside_becomes_outside(garage: Garage) -> None:
    shop = shoe(garage, dual=True)
    places = ("LF", "RF", "LRO", "LRI", "RRI", "RRO")
    shop.save(draft_tread(garage, CAR, [(each, "9") for each in places]))
    before = stands(shop)

    shop.save(draft_rotation(garage, CAR, "inside to outside"))

    after = stands(shop)
    assert (after["LRO"], after["LRI"]) == (before["LRI"], before["LRO"])
    assert (after["RRO"], after["RRI"]) == (before["RRI"], before["RRO"])
    assert after["LF"] == before["LF"]


def test_the_nuts_of_the_wheel_that_was_the_spare_are_torqued_with_the_others(
    garage: Garage,
) -> None:
    shop = shoe(garage, places="all,SP")
    places = ("LF", "RF", "LR", "RR", "SP")
    shop.save(draft_tread(garage, CAR, [(each, "9") for each in places]))

    shop.save(draft_rotation(garage, CAR, "five-tire rearward cross"))

    due = {str(item.place): item.shown.due_at for item in shop.items("wheel-nuts", CAR)}
    assert due == {"LF": 56050, "RF": 56050, "LR": 56050, "RR": 56050}
