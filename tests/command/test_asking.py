"""Asking what is due and why: lines, JSON, filters, exit codes."""

import pytest

from castlenut.words.cautions import DEFERRING_LINE
from tests.command.conftest import Shop

DAMAGED = "{ this is no record"


def damage(yard: Shop) -> None:
    yard.must("add", "spare-car")
    (yard.path / "vehicles" / "spare-car.json").write_text(DAMAGED)


def states(yard: Shop, *options: str) -> dict[str, str]:
    return {item["rule"]: item["state"] for item in yard.must("due", *options, "--json").json}


def test_a_line_has_the_state_first_and_the_item_to_type_last(yard: Shop) -> None:
    """61,604 today, driven 10 mi a day lately: 74 past the first point of 300."""
    told = yard("due", "fallow")

    assert told.code == 0
    assert told.lines[0] == (
        "!! overdue  spring U-bolts, torque, LR  due at 61,530 mi or on 2027-10-18  74 mi over"
        "  [u-bolts]"
    )
    assert told.lines[-1] == DEFERRING_LINE


def test_over_all_cars_each_line_names_its_car(yard: Shop) -> None:
    assert yard("due").lines[0].startswith("!! overdue  fallowmere  spring U-bolts, torque, LR  ")


def test_of_one_car_everything_is_told_and_of_all_what_is_open(yard: Shop) -> None:
    one = yard("due", "fallowmere")
    everything = yard("due")

    assert any(line.startswith(". ahead  leaf springs") for line in one.lines)
    assert not any(line.startswith(". ahead") for line in everything.lines)
    assert "1 more ahead: castlenut due VEHICLE lists them" in everything.lines


def test_plain_and_json_say_the_same(yard: Shop) -> None:
    lines = yard("due", "fallowmere").lines[:-1]
    items = yard("due", "fallowmere", "--json").json

    assert [line.rsplit("[", 1)[1].rstrip("]") for line in lines] == [
        item["rule"] for item in items
    ]
    assert [line.split("  ")[0].split(" ", 1)[1] for line in lines] == [
        item["state"] for item in items
    ]


def test_json_is_one_ascii_line_in_a_pipe(yard: Shop) -> None:
    yard.must("correct", "fallowmere", "vehicle", "description=Škoda-like Fallowmere")

    told = yard("vehicles", "--json")

    assert told.out.isascii()
    assert told.out.count("\n") == 1
    assert told.json[0]["description"] == "Škoda-like Fallowmere"


def test_within_limits_only_what_is_ahead(yard: Shop) -> None:
    assert states(yard) == {"u-bolts": "overdue", "ride-height": "due", "leaf-look": "ahead"}
    assert states(yard, "--within", "90d") == {"u-bolts": "overdue", "ride-height": "due"}
    assert "leaf-look" in states(yard, "--within", "11m")


@pytest.mark.parametrize("length", ["soon", "90", "-3d", "9999y"])
def test_a_length_that_is_none_is_refused(yard: Shop, length: str) -> None:
    told = yard("due", f"--within={length}")

    assert told.code == 2
    assert told.out == ""
    assert told.err.startswith(f'castlenut: --within: "{length}" ')


def test_a_trip_tells_what_falls_due_before_its_end(yard: Shop) -> None:
    """Leaf springs are due at 73,230: 11,620 from today, and by the date not before October."""
    short = yard("due", "--by", "2026-12-24", "--miles", "900", "--json").json
    long = yard("due", "--by", "2026-12-24", "--miles", "11630", "--json").json
    in_km = yard("due", "--by", "2026-12-24", "--km", "18716", "--json").json

    assert {item["rule"] for item in short} == {"u-bolts", "ride-height"}
    assert {item["rule"] for item in long} == {"u-bolts", "ride-height", "leaf-look"}
    assert {item["rule"] for item in in_km} == {"u-bolts", "ride-height", "leaf-look"}


def test_miles_without_a_day_are_refused(yard: Shop) -> None:
    told = yard("due", "--miles", "900")

    assert told.code == 2
    assert told.faults == [
        "castlenut: --by: no day is given; add --by DATE, the last day of the trip"
    ]


def test_check_warns_of_what_is_open(yard: Shop) -> None:
    assert yard("due", "--check").code == 1
    assert yard("due").code == 0


def test_check_is_calm_where_nothing_is_open(shop: Shop) -> None:
    shop.must("add", "pim")

    told = shop("due", "--check")

    assert told.code == 0
    assert told.lines == [
        "nothing is recorded yet that could fall due: castlenut intake or fit begins"
    ]


def test_the_owners_own_checks_raise_no_warning(shop: Shop) -> None:
    """Oil level is looked at by the owner, every 250 mi."""
    shop.must("add", "pim")
    shop.must("reading", "pim", "50000", "--on", "2026-11-24")
    shop.must("fit", "pim", "brake fluid", "fluid=DOT 4", "--on", "2026-11-20", "--at", "49000")

    items = {item["rule"]: item for item in shop.must("due", "--json").json}

    assert items["brake-level"]["owner_check"] is True
    assert items["brake-fluid"]["state"] == "ahead"
    assert shop("due", "--check").code == 0


def test_a_damaged_car_costs_only_its_own_answer(yard: Shop) -> None:
    damage(yard)

    told = yard("due", "--json")

    assert told.code == 0
    assert {item["vehicle"] for item in told.json} == {"fallowmere"}
    assert len(told.faults) == 1
    assert told.faults[0].startswith("castlenut: vehicles/spare-car.json: damaged at line 1: ")
    assert yard("due", "fallowmere").err == ""


def test_a_damaged_car_that_is_named_ends_with_2(yard: Shop) -> None:
    damage(yard)

    told = yard("due", "spare-car", "--json")

    assert (told.code, told.out) == (2, "")


def test_check_warns_of_a_car_that_cannot_be_read(shop: Shop) -> None:
    shop.must("add", "pim")
    damage(shop)

    assert shop("due", "--check").code == 1


def test_why_answers_each_item_that_a_rule_stands_for(yard: Shop) -> None:
    yard.must("fit", "fallow", "wheel bearing", "LF,RF", "--on", "-")

    told = yard("why", "fallow", "hub-repack")

    heads = [line for line in told.lines if line.startswith("? no record")]
    assert heads == [
        "? no record  wheel bearing, repack, LF  hub-repack@LF",
        "? no record  wheel bearing, repack, RF  hub-repack@RF",
    ]
    assert [item["position"] for item in yard("why", "fallow", "hub-repack", "--json").json] == [
        "LF",
        "RF",
    ]
    assert len(yard("why", "fallow", "hub-repack@RF", "--json").json) == 1


def test_every_line_of_why_is_in_the_json_too(yard: Shop) -> None:
    lines = yard("why", "fallow", "u-bolts").lines
    (item,) = yard("why", "fallow", "u-bolts", "--json").json

    assert lines[1:] == item["why"]


def test_the_stable_form_of_an_item_is_taken_back(yard: Shop) -> None:
    (item,) = yard("why", "fallow", "u-bolts", "--json").json

    assert yard("why", "fallow", item["item"], "--json").json == [item]


def test_a_near_miss_is_named(yard: Shop) -> None:
    assert yard("due", "falowmere").faults == [
        "castlenut: vehicle: no vehicle 'falowmere'; did you mean 'fallowmere'?"
    ]
    told = yard("why", "fallow", "u-blots")
    assert told.code == 2
    assert "did you mean 'u-bolts'" in told.err


def test_vehicles_tells_what_comes_first(yard: Shop) -> None:
    damage(yard)

    lines = yard("vehicles").lines

    assert lines[0].startswith("?? cannot be read  vehicles/spare-car.json  damaged at line 1: ")
    assert lines[1] == (
        "!! overdue  fallowmere  Pellworth Fallowmere  first: spring U-bolts, torque, LR  2 open"
    )


def test_the_distance_of_vehicles_is_that_of_the_working(yard: Shop) -> None:
    (car,) = yard("vehicles", "--json").json
    (item,) = yard("why", "fallow", "u-bolts", "--json").json

    assert car["reading"] == {"on": "2026-11-24", "figure": 61600}
    today = next(line for line in item["why"] if line.startswith("today "))
    assert today.startswith(f"today {car['distance_today']['p50']:,} mi (")


def test_components_finds_a_part_number_on_every_car(yard: Shop) -> None:
    yard.must("fit", "fallow", "brake hose", "LF", "part=BH-204")
    yard.must("fit", "fallow", "brake hose", "RF", "part=BH-205")

    (found,) = yard("components", "--part", "bh-204", "--json").json

    assert (found["kind"], found["position"], found["part"]) == ("brake hose", "LF", "BH-204")


def test_components_leaves_out_what_was_taken_off_unless_asked(yard: Shop) -> None:
    record = yard("components", "--json").json[0]["id"]
    yard.must("remove", "fallow", record[-8:], "--why", "broken leaf")

    assert yard("components", "--json").json == []
    (gone,) = yard("components", "--all", "--json").json
    assert (gone["state"], gone["removed_on"], gone["why"]) == (
        "removed",
        "2026-11-25",
        "broken leaf",
    )


def test_a_sold_car_is_left_out_of_the_lists(yard: Shop) -> None:
    yard.must("correct", "fallow", "vehicle", "sold_on=2026-11-20")

    assert yard("due", "--json").json == []
    assert yard("vehicles", "--json").json == []
    assert [each["sold_on"] for each in yard("vehicles", "--all", "--json").json] == ["2026-11-20"]
