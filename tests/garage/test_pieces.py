"""Several parts fitted by one change: an assembly with all it brings, a kit from the shelf."""

from collections.abc import Mapping, Sequence

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.store.values import Value
from tests.garage.conftest import CAR, Shop

ON, AT = "2026-11-20", "61000"


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Give a car whose dial showed 61,000 on 2026-11-20."""
    shop.save(draft_reading(shop.garage, CAR, "61000", on="2026-11-20"))
    return shop


def standing(shop: Shop) -> Sequence[tuple[Value, Value]]:
    """Give kind and place of what is on the car."""
    return [
        (each["kind"], each.get("place"))
        for each in shop.table("component")
        if each["state"] == "fitted" and "removed_on" not in each
    ]


def test_an_assembly_begins_all_its_parts_in_one_change(shop: Shop) -> None:
    before = len(shop.ids("job"))
    shop.save(draft_fit(shop.garage, CAR, "arm", "LF lower", {"material": "rubber"}, on=ON, at=AT))

    assert standing(shop) == [
        ("arm", "LF lower"),
        ("ball joint", "LF lower"),
        ("bushing", "LF lower"),
    ]
    assert len(shop.ids("job")) == before + 1
    assert [each.get("attributes") for each in shop.table("component")] == [
        {"material": "rubber"},
        None,
        {"material": "rubber"},
    ]


def test_an_assembly_is_found_by_another_word(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "wishbone", "RF upper", on=ON, at=AT))

    assert ("ball joint", "RF upper") in standing(shop)


def test_what_an_assembly_is_known_for_stands_in_its_parts(shop: Shop) -> None:
    fields = {"service": "sealed", "part": "HR-12", "rotor.stamped.rotor_thickness": "22 mm"}
    shop.save(draft_fit(shop.garage, CAR, "one-piece hub and rotor", "LF", fields, on=ON, at=AT))

    parts: Mapping[Value, Mapping[str, Value]] = {
        each["kind"]: each for each in shop.table("component")
    }
    assert parts["hub"]["attributes"] == {"hub": "one-piece"}
    assert parts["rotor"]["attributes"] == {"rotor": "one-piece", "friction": "disc"}
    assert parts["rotor"]["stamped"] == {"rotor_thickness": "22 mm"}
    assert parts["wheel bearing"]["attributes"] == {"service": "sealed"}
    assert {each["part"] for each in parts.values()} == {"HR-12"}


def test_an_assembly_ends_what_its_parts_exclude_once(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "brake shoe", "front", on="2020-01-01", at="40000"))
    draft = draft_fit(shop.garage, CAR, "loaded caliper", "front", on=ON, at=AT)
    shop.save(draft)

    assert draft.told == (
        "brake shoe LF taken off: replaced",
        "brake shoe RF taken off: replaced",
    )
    assert standing(shop) == [
        ("caliper", "LF"),
        ("caliper", "RF"),
        ("brake pad", "LF"),
        ("brake pad", "RF"),
    ]


def test_an_assembly_may_come_without_one_of_its_parts(shop: Shop) -> None:
    shop.save(
        draft_fit(shop.garage, CAR, "loaded strut", "RF", without=["spring isol"], on=ON, at=AT)
    )

    assert ("spring isolator", "RF") not in standing(shop)
    assert ("bump stop", "RF") in standing(shop)


def test_a_radiator_set_takes_the_place_of_the_hoses_where_they_are(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "coolant hose", on="2020-01-01", at="40000"))
    shop.save(draft_fit(shop.garage, CAR, "radiator set", on=ON, at=AT))

    assert standing(shop) == [
        ("radiator cap", None),
        ("coolant hose", None),
        ("thermostat", None),
        ("coolant", None),
    ]


@pytest.mark.parametrize(
    ("kind", "places", "without", "sentence"),
    [
        (
            "loaded caliper",
            "LRO",
            [],
            (
                "place: the car has no LRO: its rear wheels are single;"
                " give LR or RR, or correct the vehicle: dual=yes"
            ),
        ),
        (
            "loaded",
            "LF",
            [],
            "kind: 'loaded' may be loaded caliper or loaded strut; write more of it",
        ),
        (
            "loaded caliper",
            "LF",
            ["rotor"],
            "kind: no kind 'rotor'; use brake pad or caliper",
        ),
        (
            "brake pad",
            "LF",
            ["rotor"],
            "--without: the brake pad brings nothing with it; leave it away",
        ),
    ],
)
def test_an_assembly_that_cannot_be_is_refused(
    shop: Shop, kind: str, places: str, without: Sequence[str], sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        draft_fit(shop.garage, CAR, kind, places, without=without, on=ON, at=AT)

    assert sentence in [str(fault) for fault in refused.value.faults]
    assert shop.table("component") == []


def test_two_parts_of_one_change_that_exclude_each_other_are_refused(shop: Shop) -> None:
    with pytest.raises(BadInput) as refused:
        draft_fit(
            shop.garage,
            CAR,
            "bushing",
            "LF inner,LF outer",
            {"material@LF inner": "rubber", "material@LF outer": "polyurethane"},
            on=ON,
            at=AT,
        )

    assert [str(fault) for fault in refused.value.faults] == [
        "parts: rubber and polyurethane bushings exclude each other at LF; fit one of them"
    ]
    assert shop.table("component") == []


def test_a_part_beside_one_that_excludes_it_is_told(shop: Shop) -> None:
    shop.save(
        draft_fit(shop.garage, CAR, "bushing", "LF inner", {"material": "rubber"}, on=ON, at=AT)
    )
    draft = draft_fit(
        shop.garage, CAR, "bushing", "LF outer", {"material": "polyurethane"}, on=ON, at=AT
    )

    assert draft.told == (
        "rubber and polyurethane bushings exclude each other at LF: take one off before it rolls",
    )


def test_a_kit_from_the_shelf_is_fitted_in_one_change(shop: Shop) -> None:
    """It came ten days before: its age counts from its make, its items from the fitting."""
    shop.save(
        draft_fit(
            shop.garage,
            CAR,
            "brake hose",
            "LF,RF",
            {"part": "BH-204", "made": "2026-03", "material": "rubber"},
            shelf=True,
        )
    )
    ids = shop.ids("component")
    assert shop.items("hose-renew") == []

    shop.save(draft_fit(shop.garage, CAR, ",".join(each[-8:] for each in ids), on=ON, at=AT))

    assert shop.ids("component") == ids
    assert [(each["state"], each["place"], each["on"]) for each in shop.table("component")] == [
        ("fitted", "LF", "2026-11-20"),
        ("fitted", "RF", "2026-11-20"),
    ]
    assert [str(item.due_on) for item in shop.items("hose-renew")] == ["2031-03-01", "2031-03-01"]


def test_a_part_of_a_kit_that_is_not_on_the_shelf_is_named(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "brake hose", "LF", shelf=True))
    shop.save(draft_fit(shop.garage, CAR, "brake hose", "RF", on=ON, at=AT))
    first, second = shop.ids("component")

    with pytest.raises(BadInput) as refused:
        draft_fit(shop.garage, CAR, f"{first[-8:]},{second[-8:]},deadbeef", on=ON, at=AT)

    assert [str(fault) for fault in refused.value.faults] == [
        "record: the brake hose RF is not on the shelf; name a part from the shelf",
        "record: 'deadbeef' is no part of this car; castlenut components lists its parts",
    ]
