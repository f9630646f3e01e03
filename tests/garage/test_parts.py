"""Parts fitted and taken off: places, attributes, what gives way, tires, the shelf."""

from collections.abc import Mapping, Sequence

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.parts import draft_fit, draft_remove
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import difference, preview
from castlenut.store.values import Value
from tests.garage.conftest import CAR, Shop


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Give a car whose dial showed 61,000 today."""
    shop.save(draft_reading(shop.garage, CAR, "61000"))
    return shop


def fit(
    shop: Shop, kind: str, places: str | None = None, fields: Mapping[str, str] | None = None
) -> Sequence[str]:
    """Fit a part today, and give what was told."""
    draft = draft_fit(shop.garage, CAR, kind, places, fields)
    shop.save(draft)
    return draft.told


def refusals(shop: Shop, kind: str, places: str | None = None, **fields: str) -> Sequence[str]:
    with pytest.raises(BadInput) as raised:
        draft_fit(shop.garage, CAR, kind, places, fields)
    assert shop.table("component") == []
    return [str(fault) for fault in raised.value.faults]


def fitted(shop: Shop) -> Sequence[Mapping[str, Value]]:
    return [each for each in shop.table("component") if "removed_on" not in each]


def test_a_part_is_fitted_by_a_job_that_raises_its_events_at_its_place(shop: Shop) -> None:
    fit(shop, "brake hose", "LF,RF", {"material": "braided", "part": "BH-204", "made": "2026-03"})

    job = shop.ids("job")[0]
    assert shop.table("component")[0] == {
        "kind": "brake hose",
        "place": "LF",
        "state": "fitted",
        "attributes": {"material": "braided"},
        "part": "BH-204",
        "made": "2026-03-01",
        "on": "2026-11-25",
        "at": 61000,
        "job": job,
    }
    assert shop.table("job")[0]["events"] == [
        "hose-fitted LF",
        "hose-fitted RF",
        "hydraulics-open",
        "wheel-off",
    ]


def test_an_end_is_both_its_corners(shop: Shop) -> None:
    fit(shop, "wheel bearing", "front", {"service": "sealed"})

    assert [each["place"] for each in shop.table("component")] == ["LF", "RF"]


def test_all_is_every_corner_or_both_ends(shop: Shop) -> None:
    fit(shop, "shock absorber", "all")
    fit(shop, "sway bar", "all")

    assert [each["place"] for each in shop.table("component")] == [
        "LF",
        "RF",
        "LR",
        "RR",
        "front",
        "rear",
    ]


def test_a_kind_is_found_by_another_word(shop: Shop) -> None:
    fit(shop, "dynamo")

    assert shop.table("component")[0]["kind"] == "generator"


@pytest.mark.parametrize(
    ("kind", "places", "sentence"),
    [
        ("wheel baering", "LF", "kind: no kind 'wheel baering'; did you mean 'wheel bearing'"),
        (
            "wheel bearing",
            "trunk",
            "place: 'trunk' is no place for the wheel bearing; give a corner",
        ),
        ("wheel bearing", "SP", "place: 'SP' is no place for the wheel bearing; give a corner"),
        ("wheel bearing", None, "place: no place is given for the wheel bearing; give a corner"),
        ("wheel bearing", "LF,LF", "place: 'LF,LF' names a place twice;"),
        ("engine", "LF", "place: 'LF' is no place for the engine; give no place: the car has one"),
    ],
)
def test_a_kind_or_place_that_is_none_is_refused(
    shop: Shop, kind: str, places: str | None, sentence: str
) -> None:
    assert refusals(shop, kind, places)[0].startswith(sentence)


def test_every_faulty_field_is_told(shop: Shop) -> None:
    found = refusals(
        shop,
        "rotor",
        "LF",
        colour="red",
        rotor="seperate",
        made="2026-13",
        every="often",
        **{"stamped.rotor_thickness": "thick"},
    )

    assert [fault.partition(":")[0] for fault in found] == [
        "colour",
        "rotor",
        "made",
        "every",
        "stamped.rotor_thickness",
    ]
    assert found[:2] == [
        (
            "colour: the rotor has no field 'colour'; use friction, rotor, part, made, every, note"
            " or stamped.MEASURE"
        ),
        "rotor: no rotor 'seperate'; did you mean 'separate'?",
    ]


def test_a_near_miss_of_a_field_is_named(shop: Shop) -> None:
    assert refusals(shop, "brake hose", "LF", materiel="braided") == [
        "materiel: the brake hose has no field 'materiel'; did you mean 'material'?"
    ]


def test_a_stamped_figure_is_kept_with_its_unit(shop: Shop) -> None:
    fit(shop, "rotor", "LF", {"stamped.rotor_thickness": ".97"})
    fit(shop, "brake pad", "LF", {"new": "10mm", "stamped.pad_thickness": "3/32"})

    assert [each["stamped"] for each in shop.table("component")] == [
        {"rotor_thickness": "0.97 in"},
        {"new": "10 mm", "pad_thickness": "3/32"},
    ]


def test_a_value_may_differ_by_place(shop: Shop) -> None:
    fit(
        shop,
        "rotor",
        "LF,RF",
        {"stamped.rotor_thickness": ".97 in", "stamped.rotor_thickness@RF": ".95 in"},
    )

    assert [each["stamped"] for each in shop.table("component")] == [
        {"rotor_thickness": "0.97 in"},
        {"rotor_thickness": "0.95 in"},
    ]


def test_what_stood_there_ends_by_the_same_change_and_is_told(shop: Shop) -> None:
    fit(shop, "brake fluid", None, {"fluid": "DOT 3"})

    told = fit(shop, "brake fluid", None, {"fluid": "DOT 4"})

    old = next(each for each in shop.table("component") if "removed_on" in each)
    assert (old["removed_on"], old["removed_at"], old["why"]) == ("2026-11-25", 61000, "replaced")
    assert told == ("brake fluid taken off: replaced",)


def test_a_kind_that_excludes_another_ends_it(shop: Shop) -> None:
    fit(shop, "brake shoe", "LF,RF,LR")
    fit(shop, "brake pad", "LF,RF")

    assert [(each["kind"], each["place"]) for each in fitted(shop)] == [
        ("brake shoe", "LR"),
        ("brake pad", "LF"),
        ("brake pad", "RF"),
    ]


def test_upper_and_lower_are_two_parts(shop: Shop) -> None:
    fit(shop, "ball joint", "LF upper")
    fit(shop, "ball joint", "LF lower")

    assert len(fitted(shop)) == 2


def test_drains_stand_beside_one_another(shop: Shop) -> None:
    fit(shop, "drain", "L", {"area": "door"})
    fit(shop, "drain", "L", {"area": "sill"})

    assert len(fitted(shop)) == 2


def test_a_part_like_the_other_side_takes_over_what_is_known(shop: Shop) -> None:
    fit(shop, "wheel bearing", "LF", {"service": "sealed", "part": "WB-1"})
    shop.save(draft_fit(shop.garage, CAR, "wheel bearing", "RF", as_place="LF"))

    left, right = shop.table("component")
    assert (right["attributes"], right["part"]) == (left["attributes"], left["part"])


def test_a_part_like_that_on_another_car(shop: Shop) -> None:
    fit(shop, "wheel bearing", "LF", {"service": "sealed", "part": "WB-1"})
    shop.save(draft_vehicle(shop.garage, "other", {}))
    shop.save(draft_fit(shop.garage, "other", "wheel bearing", "LF", as_on=CAR))

    assert shop.table("component", "other")[0]["part"] == "WB-1"


def test_nothing_there_to_be_like_is_refused(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"no wheel bearing is fitted at RR on tollgate"):
        draft_fit(shop.garage, CAR, "wheel bearing", "LF", as_place="RR")


def test_a_part_nobody_knows_the_day_of_has_none_and_no_job(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "engine oil", on="-"))

    assert shop.table("component") == [{"kind": "engine oil", "state": "fitted"}]
    assert shop.table("job") == []


def test_a_part_on_the_shelf_makes_no_item_until_it_is_fitted(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "timing belt", None, {"part": "TB-9"}, shelf=True))
    assert shop.items("timing-belt") == []
    assert shop.table("component")[0]["state"] == "shelf"

    record = shop.ids("component")[0]
    shop.save(draft_fit(shop.garage, CAR, record[-8:]))

    assert [item.id.component for item in shop.items("timing-belt")] == [record]
    assert shop.table("component")[0]["part"] == "TB-9"


def test_a_part_that_is_not_on_the_shelf_cannot_be_taken_from_it(shop: Shop) -> None:
    fit(shop, "timing belt")

    with pytest.raises(BadInput, match=r"the timing belt is not on the shelf"):
        draft_fit(shop.garage, CAR, shop.ids("component")[0])


def test_a_part_is_removed_with_day_dial_and_reason(shop: Shop) -> None:
    fit(shop, "timing belt")
    shop.save(draft_remove(shop.garage, CAR, shop.ids("component")[0][-8:], why="worn"))

    (values,) = shop.table("component")
    assert (values["removed_on"], values["removed_at"], values["why"]) == (
        "2026-11-25",
        61000,
        "worn",
    )
    assert shop.items("timing-belt") == []


def test_a_part_that_is_off_cannot_be_removed(shop: Shop) -> None:
    fit(shop, "timing belt")
    record = shop.ids("component")[0]
    shop.save(draft_remove(shop.garage, CAR, record))

    with pytest.raises(BadInput, match=r"the timing belt is off the car already"):
        draft_remove(shop.garage, CAR, record)


def test_a_part_cannot_be_removed_before_it_was_fitted(shop: Shop) -> None:
    fit(shop, "timing belt")

    with pytest.raises(BadInput, match=r"is before it was fitted, 2026-11-25"):
        draft_remove(shop.garage, CAR, shop.ids("component")[0], on="2026-11-01")


def test_what_is_no_part_cannot_be_removed(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"is a reading, not a part"):
        draft_remove(shop.garage, CAR, shop.ids("reading")[0])


def test_tires_are_records_of_their_own_with_a_placement_each(shop: Shop) -> None:
    fit(shop, "tire", "LF,RF", {"size": "185/70R14", "new_depth": "11/32", "directional": "yes"})

    tire = shop.ids("tire")[0]
    job = shop.ids("job")[0]
    assert shop.table("tire")[0] == {
        "size": "185/70R14",
        "new_depth": 11,
        "depth_unit": "32nds",
        "tread": "directional",
        "job": job,
    }
    assert shop.table("placement")[0] == {
        "tire": tire,
        "place": "LF",
        "on": "2026-11-25",
        "at": 61000,
        "job": job,
    }


def test_tires_at_every_corner_make_a_new_set(shop: Shop) -> None:
    fit(shop, "tire", "LF,RF,LR,RR", {"size": "185/70R14"})
    fit(shop, "tire", "LF,RF", {"size": "185/70R14"})
    first = shop.table("component")
    fit(shop, "tire", "all", {"size": "185/70R14"})

    assert [each["kind"] for each in first] == ["tire set"]
    assert [each.get("why") for each in shop.table("component")] == ["replaced", None]


def test_the_last_corner_completes_the_first_set(shop: Shop) -> None:
    fit(shop, "tire", "LF,RF,LR", {"size": "185/70R14"})
    assert shop.table("component") == []

    fit(shop, "tire", "RR", {"size": "185/70R14"})

    assert [each["kind"] for each in shop.table("component")] == ["tire set"]


def test_a_new_tire_sends_the_old_one_off_the_car(shop: Shop) -> None:
    fit(shop, "tire", "LF", {"size": "185/70R14"})
    fit(shop, "tire", "LF", {"size": "195/70R14"})

    tires = [each for each in shop.garage.car(CAR).car.components if each.kind == "tire"]
    assert [(each.attributes["size"], each.is_on_shelf) for each in tires] == [
        ("185/70R14", True),
        ("195/70R14", False),
    ]


def test_a_tire_needs_a_size(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"size is missing"):
        draft_fit(shop.garage, CAR, "tire", "LF", {"tin": "2309"})


def test_radial_and_bias_on_one_axle_is_told(shop: Shop) -> None:
    fit(shop, "tire", "LF", {"size": "6.95-14", "construction": "bias"})
    fit(shop, "tire", "LR", {"size": "185/70R14", "construction": "radial"})

    told = fit(shop, "tire", "RF", {"size": "185/70R14", "construction": "radial"})

    assert told == ("radial and bias tires on one axle: never both (tire LF)",)


def test_a_preview_is_the_car_as_if_saved(shop: Shop) -> None:
    draft = draft_fit(shop.garage, CAR, "brake fluid", None, {"fluid": "DOT 4"}, at="61000")

    before = {str(item.id.rule) for item in preview(shop.garage, draft).items}
    joins = {str(item.id.rule) for item in difference(shop.garage, draft).joins}
    shop.save(draft)

    assert before == {str(item.id.rule) for item in shop.garage.today(CAR).items}
    assert {"brake-fluid", "brake-level"} <= joins


@pytest.mark.parametrize(("kind", "other"), [("brake pad", "brake pad"), ("brake pad", "drum")])
def test_a_day_before_the_part_that_stands_there_was_fitted_is_refused(
    shop: Shop, kind: str, other: str
) -> None:
    """Two pads once stood at LF after it, the older day having found nothing to take off."""
    shop.save(draft_fit(shop.garage, CAR, kind, "LF", on="2026-06-01"))
    standing = shop.ids("component")[0]

    with pytest.raises(BadInput) as raised:
        draft_fit(shop.garage, CAR, other, "front", on="2026-05-01")

    assert [str(fault) for fault in raised.value.faults] == [
        (
            "on: 2026-05-01 is before the brake pad LF there was fitted, 2026-06-01;"
            f" give a day from 2026-06-01 on, or strike that one ({standing[-8:]}) first"
        )
    ]


def test_a_tire_is_not_fitted_before_the_one_that_stands_there(shop: Shop) -> None:
    size = {"size": "185/70R14"}
    shop.save(draft_fit(shop.garage, CAR, "tire", "LF", size, on="2026-06-01"))

    with pytest.raises(BadInput) as raised:
        draft_fit(shop.garage, CAR, "tire", "LF", size, on="2026-05-31")

    assert raised.value.faults[0].what == (
        "2026-05-31 is before the tire LF there was fitted, 2026-06-01"
    )
    shop.save(draft_fit(shop.garage, CAR, "tire", "RF", size, on="2026-05-31"))


def test_a_part_is_not_fitted_before_it_was_made(shop: Shop) -> None:
    with pytest.raises(BadInput) as raised:
        draft_fit(shop.garage, CAR, "brake hose", "LF", {"made": "2026-07"}, on="2026-06-01")

    assert [str(fault) for fault in raised.value.faults] == [
        (
            "made: it was made after it was fitted, 2026-06-01;"
            " give a day from 2026-07-01 on, or another date of make"
        )
    ]
