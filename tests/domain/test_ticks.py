"""Ticks: how a car is built, what it then lacks, and what is then known of its parts."""

from dataclasses import replace

from castlenut.domain.place import place
from castlenut.domain.rules.included import included_rules
from castlenut.domain.ticks import attributes_ticked, chosen, tick_named, ticked, ticked_away
from castlenut.domain.vehicle import Drive
from tests.builders import only, vehicle

BUILT = replace(
    vehicle(),
    drive=Drive.REAR,
    dual=False,
    ticks={"front brakes": "disc", "coolant": "green", "belts": "neither", "spare": "no such"},
)


def test_the_fields_of_the_car_itself_are_ticks_too() -> None:
    assert ticked(BUILT)["drive"] == "rear"
    assert ticked(BUILT)["dual"] == "no"


def test_a_car_of_which_nothing_is_ticked_has_no_tick() -> None:
    assert ticked(replace(BUILT, drive=None, ticks={})) == {}


def test_a_word_that_is_no_choice_chooses_nothing() -> None:
    names = [tick.name for tick, _ in chosen(BUILT)]

    assert "front brakes" in names
    assert "spare" not in names


def test_disc_brakes_in_front_tick_the_drums_there_away_and_not_those_in_the_rear() -> None:
    found = ticked_away(BUILT, "brake shoe", place("LF"))

    assert found is not None
    assert (found[0].name, found[1].word) == ("front brakes", "disc")
    assert ticked_away(BUILT, "brake shoe", place("LR")) is None
    assert ticked_away(BUILT, "brake pad", place("LF")) is None


def test_a_kind_without_a_place_is_ticked_away_as_a_whole() -> None:
    found = ticked_away(BUILT, "harness", None)

    assert found is not None
    assert found[0].name == "belts"


def test_what_is_ticked_is_known_of_the_part() -> None:
    assert attributes_ticked(BUILT, "coolant") == {"type": "green"}
    assert attributes_ticked(BUILT, "battery") == {}


def test_a_tick_has_its_name() -> None:
    found = tick_named("coolant")

    assert found is not None
    assert found.chosen("air-cooled") is not None
    assert found.chosen(None) is None
    assert tick_named("wings") is None


RULE = """
[[rule]]
id = "{id}"
title = "engine, {id}"
part = "Engine"
component = "engine"
every = {{ months = 12 }}
includes = [{includes}]
intake = {{ rank = 2, act = "renew" }}
"""


def test_a_rule_includes_what_those_it_includes_include() -> None:
    text = "".join(
        RULE.format(id=name, includes=", ".join(f'"{each}"' for each in includes))
        for name, includes in (("one", ["two"]), ("two", ["three"]), ("three", []))
    )
    rules = only(text).rules
    first = next(each for name, each in rules.items() if name == "one")

    assert included_rules(first, rules) == {"two", "three"}
