"""A set for the winter goes on and comes off, and a rotation that cannot be says so in the list."""

import pytest

from tests.command.conftest import Kept, Shop

TIRE = ("size=205/60R15", "service=91H", "tread=symmetric", "new_depth=10/32")
WHEEL = ("rim_width=6", "rim_diameter=15", "offset=10")
CORNERS = ("LF", "RF", "LR", "RR")


@pytest.fixture
def shod(shop: Shop, kept: Kept) -> Shop:
    """Give an invented rear-drive car on four tires fitted at 60,000 today."""
    return kept.give(shop, _shoe)


def _shoe(shop: Shop) -> None:
    shop.must("add", "millrace", "--description", "Wendlecot Millrace", "--year", "1986")
    shop.must("correct", "millrace", "vehicle", "drive=rear")
    shop.must("reading", "millrace", "60000")
    shop.must("fit", "millrace", "wheel", "all", *WHEEL)
    shop.must("fit", "millrace", "tire", "all", *TIRE)


def ids(shop: Shop) -> dict[str, tuple[str, str]]:
    found = shop.must("tires", "millrace", "--json").json["assemblies"]
    return {each["at"]: (each["tire_id"], each["wheel_id"]) for each in found}


def test_a_whole_set_goes_off_by_one_change_and_each_wheel_keeps_its_tire(shod: Shop) -> None:
    records = [record for pair in ids(shod).values() for record in pair]

    saved = shod.must("remove", "millrace", *records, "--json").json

    assert [each["table"] for each in saved["records"]] == ["placement"] * 4
    off = shod.must("tires", "millrace", "--json").json["off"]
    assert {(each["tire_id"], each["wheel_id"]) for each in off} == {
        (records[2 * number], records[2 * number + 1]) for number in range(4)
    }
    assert {each["stood"] for each in off} == set(CORNERS)


def test_what_came_off_together_goes_on_together(shod: Shop) -> None:
    summer = ids(shod)
    shod.must("remove", "millrace", *summer["LF"])
    shod.must("fit", "millrace", "wheel", "LF", *WHEEL)
    shod.must("fit", "millrace", "tire", "LF", *TIRE)

    shod.must("fit", "millrace", summer["LF"][0], "LF")

    assert ids(shod)["LF"] == summer["LF"]
    (off,) = shod.must("tires", "millrace", "--json").json["off"]
    assert off["tire_id"] is not None
    assert off["wheel_id"] is not None


def test_a_record_that_is_off_already_stops_the_whole(shod: Shop) -> None:
    tire, wheel = ids(shod)["LF"]
    shod.must("remove", "millrace", tire)

    told = shod("remove", "millrace", wheel, tire)

    assert told.code == 2
    assert "the tire is off the car already" in told.err
    assert [str(each) for each in ids(shod)["LF"]] == ["None", wheel]


def test_a_change_of_wheels_says_what_falls_before_the_schedule(shod: Shop) -> None:
    wide = ("rim_width=7", "rim_diameter=15", "offset=-6")

    lines = shod("fit", "millrace", "wheel", "LR,RR", *wide).lines

    assert lines[1] == (
        "patterns left 5 -> 1, because Wheel LF has rim width 6 in; the rear takes 7 in; Wheel LF"
        " has offset 10 mm; the rear takes -6 mm"
    )


def test_the_list_says_of_a_rotation_that_none_is_possible(shod: Shop) -> None:
    shod.must("correct", "millrace", ids(shod)["LF"][1], "offset=")
    shod.must("correct", "millrace", ids(shod)["LR"][1], "offset=")

    line = next(each for each in shod("due", "millrace").lines if "[tire-rotate]" in each)
    why = shod("why", "millrace", "tire-rotate").lines

    assert "rotation: none possible, because offset is not known" in line
    assert any(each.startswith("rotation: none possible, because ") for each in why)
