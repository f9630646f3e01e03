"""Intake by lines: the four answers, kinds of two words, items, and bad lines among good ones."""

from castlenut.domain.working import State
from castlenut.garage.changes.intake import draft_intake, intake_of
from castlenut.garage.changes.readings import draft_reading
from tests.garage.conftest import CAR, Shop


def answer(shop: Shop, *lines: str) -> list[str]:
    """Take the lines up, and give the faults of the bad ones."""
    draft = draft_intake(shop.garage, CAR, lines)
    shop.save(draft)
    return [str(fault) for fault in draft.faults]


def test_the_four_answers_are_kept_as_given(shop: Shop) -> None:
    assert (
        answer(
            shop,
            "brake fluid - stated 2025-03-01 41000",
            "brake hose front inspected 2027-05-25",
            "wheel bearing LF unknown",
            "power steering - n/a never had it",
        )
        == []
    )

    assert shop.table("statement") == [
        {"kind": "brake fluid", "answer": "stated", "on": "2025-03-01", "at": 41000},
        {
            "kind": "brake hose",
            "place": "front",
            "answer": "inspected",
            "on": "2026-11-25",
            "until": "2027-05-25",
        },
        {"kind": "wheel bearing", "place": "LF", "answer": "unknown"},
        {"kind": "power steering", "answer": "n/a", "why": "never had it"},
    ]


def test_an_answered_kind_becomes_a_part_nobody_knows_the_day_of(shop: Shop) -> None:
    answer(shop, "brake fluid - unknown", "power steering - n/a never had it")

    assert shop.table("component") == [{"kind": "brake fluid", "state": "fitted"}]
    assert {item.state for item in shop.items("brake-fluid")} == {State.NO_RECORD}


def test_a_part_there_already_is_not_added_again(shop: Shop) -> None:
    answer(shop, "brake fluid - unknown")
    answer(shop, "brake fluid - stated 2026-03-01 -", "brake fluid - unknown")

    assert len(shop.table("component")) == 1


def test_a_stated_date_starts_the_counting(shop: Shop) -> None:
    answer(shop, "brake fluid - stated 2026-03-01 -")

    (item,) = shop.items("brake-fluid")
    assert item.state is State.AHEAD


def test_of_on_and_at_either_may_be_not_known(shop: Shop) -> None:
    answer(shop, "engine oil - stated - 41000", "coolant - stated 2025-01-01", "battery - stated")

    assert [(each.get("on"), each.get("at")) for each in shop.table("statement")] == [
        (None, 41000),
        ("2025-01-01", None),
        (None, None),
    ]


def test_a_look_may_be_good_until_a_distance(shop: Shop) -> None:
    shop.save(draft_reading(shop.garage, CAR, "61000"))
    answer(shop, "brake line - inspected 65000")

    assert shop.table("statement")[0]["until_at"] == 65000


def test_several_places_are_several_answers(shop: Shop) -> None:
    answer(shop, "wheel bearing LF,RF unknown")

    assert [each["place"] for each in shop.table("statement")] == ["LF", "RF"]
    assert [each["place"] for each in shop.table("component")] == ["LF", "RF"]


def test_another_word_for_a_kind_is_understood(shop: Shop) -> None:
    answer(shop, "earth strap - unknown")

    assert shop.table("statement")[0]["kind"] == "ground strap"


def test_an_item_may_stand_in_place_of_a_kind(shop: Shop) -> None:
    answer(shop, "brake fluid - unknown")
    answer(shop, "brake-fluid - stated 2026-06-01 -")

    part = shop.ids("component")[0]
    assert shop.table("statement")[-1] == {
        "item": f"brake-fluid~{part}",
        "answer": "stated",
        "on": "2026-06-01",
    }


def test_good_lines_are_one_change_and_bad_ones_are_told_by_number(shop: Shop) -> None:
    draft = draft_intake(
        shop.garage,
        CAR,
        [
            "# what the owner says",
            "",
            "brake fluid - unknown",
            "brake fluid - maybe",
            "engin oil - unknown",
            "wheel bearing trunk unknown",
            "coolant - stated 2026-02-30",
            "coolant - stated 1950-01-01",
            "battery - inspected",
            "battery - inspected 2020-01-01",
            "coolant - n/a",
            "engine oil - unknown",
        ],
    )
    saved = shop.save(draft)

    assert [fault.where.partition(",")[0] for fault in draft.faults] == [
        f"line {number}" for number in range(4, 12)
    ]
    assert str(draft.faults[1]) == (
        "line 5, kind: no kind 'engin oil'; did you mean 'engine oil' or 'engine'?"
    )
    assert [each["kind"] for each in shop.table("statement")] == ["brake fluid", "engine oil"]
    assert len({each.id for each in saved.records}) == 4
    assert draft.told[:-1] == tuple(str(fault) for fault in draft.faults)
    assert draft.told[-1].startswith("how is the car used: daily, seasonal, occasional or stored?")


def test_a_bad_line_leaves_nothing_of_itself(shop: Shop) -> None:
    faults = answer(shop, f"coolant - n/a {'x' * 300}", "brake fluid - unknown")

    assert len(faults) == 1
    assert [each["kind"] for each in shop.table("statement")] == ["brake fluid"]


def test_how_the_car_is_used_is_asked_until_it_is_told(shop: Shop) -> None:
    asked = draft_intake(shop.garage, CAR, ["brake fluid - unknown"])
    told = draft_intake(shop.garage, CAR, ["use seasonal", "brake fluid - unknown"])
    shop.save(told)

    after = draft_intake(shop.garage, CAR, ["coolant - unknown"])

    assert asked.told[-1].startswith("how is the car used")
    assert (told.told, after.told) == ((), ())
    assert shop.table("vehicle")[0]["use"] == "seasonal"


def test_a_use_that_is_none_is_refused_with_what_may_be_meant(shop: Shop) -> None:
    draft = draft_intake(shop.garage, CAR, ["use weekends"])

    assert [fault.where for fault in draft.faults] == ["line 1, use"]
    assert "daily" in draft.faults[0].remedy


def test_kinds_that_exclude_each_other_are_not_both_there(shop: Shop) -> None:
    """Drums and discs at one place were once both taken on, and both made items."""
    faults = answer(
        shop,
        "brake shoe front unknown",
        "brake pad LF unknown",
        "rotor front stated 2025-03-01 -",
        "caliper LF n/a it has drums",
        "brake pad rear unknown",
        "steering box - unknown",
        "steering rack - stated",
    )

    end = "answer the one it has; castlenut remove takes off the other"
    assert faults == [
        f"line 2, kind: brake pad LF and brake shoe LF exclude each other; {end}",
        f"line 3, kind: rotor LF and brake shoe LF exclude each other; {end}",
        f"line 7, kind: steering rack and steering box exclude each other; {end}",
    ]
    assert [(each["kind"], each.get("place")) for each in shop.table("component")] == [
        ("brake shoe", "LF"),
        ("brake shoe", "RF"),
        ("brake pad", "LR"),
        ("brake pad", "RR"),
        ("steering box", None),
    ]


def test_what_is_ticked_decides_what_is_asked_and_what_is_known_of_it(shop: Shop) -> None:
    assert answer(shop, "tick front brakes disc", "tick circuits dual", "tick drive rear") == []
    begun = intake_of(shop.garage, CAR)
    faults = answer(
        shop,
        "brake shoe LF unknown",
        "master cylinder - unknown",
        "tick boosters vacuum",
        "tick joints bearings",
    )

    assert shop.table("vehicle")[0]["ticks"] == {"front brakes": "disc", "circuits": "dual"}
    assert shop.table("vehicle")[0]["drive"] == "rear"
    assert [each.name for each in begun.asked if each.kind.name in {"brake pad", "brake shoe"}] == [
        "brake pad front",
        "brake pad rear",
        "brake shoe rear",
    ]
    assert shop.table("component") == [
        {"kind": "master cylinder", "state": "fitted", "attributes": {"circuits": "dual"}}
    ]
    assert faults == [
        (
            "line 1, kind: a car with brakes, front disc has no brake shoe LF;"
            " leave it out, or tick anew: tick front brakes drum"
        ),
        "line 3, tick: no tick 'boosters'; did you mean 'booster'?",
        "line 4, joints: no joints 'bearings'; use ball joints, kingpins or trunnions",
    ]


def test_all_that_is_left_is_answered_in_one_line_a_page_or_the_whole_car(shop: Shop) -> None:
    built = [
        *("tick front brakes disc", "tick rear brakes drum", "tick joints kingpins"),
        *("tick steering box", "tick transmission manual", "tick belts seat belts"),
    ]
    answer(shop, *built, "brake fluid - stated 2025-03-01 41000", "rest brakes unknown")
    brakes = intake_of(shop.garage, CAR)
    bad = answer(shop, "rest brakes inspected 2027-01-01", "rest gearboxes unknown")
    assert answer(shop, "rest unknown") == []
    after = intake_of(shop.garage, CAR)

    assert {each.kind.part for each in brakes.left} == {
        *("Wheels and tires", "Wheel bearings", "Steering and suspension", "Driveline"),
        *("Engine", "Cooling and fuel", "Electrics", "Body and safety"),
    }
    # of the brakes: pads, rotors, calipers; shoes, drums, wheel cylinders; master cylinder,
    # booster, valve, hoses, lines, fluid, parking brake
    assert brakes.answered == 13
    assert [fault.partition(":")[0] for fault in bad] == ["line 1, rest", "line 2, page"]
    assert (after.left, after.answered) == ((), after.kinds)
    (fluid,) = shop.items("brake-fluid")
    assert fluid.state is State.OVERDUE


def test_what_a_part_on_the_car_excludes_is_not_asked_for(shop: Shop) -> None:
    answer(shop, "tick spare yes", "brake shoe front unknown", "steering rack - unknown")

    left = {each.name for each in intake_of(shop.garage, CAR).left}

    assert not left & {"brake pad front", "rotor front", "caliper front", "steering box -"}
    assert left >= {"brake pad rear", "brake shoe rear", "drum front"}
