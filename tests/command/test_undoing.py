"""Undo and redo on the command line."""

import json

from tests.command.conftest import Shop


def figures(yard: Shop) -> list[int]:
    found = [json.loads(line) for line in yard("records", "--table", "reading").lines]
    return sorted(each["values"]["figure"] for each in found)


def test_undo_takes_back_the_latest_change_and_says_which(yard: Shop) -> None:
    yard.must("reading", "fallow", "61700")

    told = yard.must("undo")

    assert told.lines == ["taken back: reading 61,700 mi on 2026-11-25, fallowmere"]
    assert figures(yard) == [61400, 61600]


def test_redo_brings_it_back_until_something_else_is_entered(yard: Shop) -> None:
    yard.must("reading", "fallow", "61700")
    yard.must("undo", "fallow")

    told = yard.must("redo", "fallow")

    assert told.lines == ["done again: reading 61,700 mi on 2026-11-25, fallowmere"]
    assert figures(yard) == [61400, 61600, 61700]
    yard.must("undo")
    yard.must("reading", "fallow", "61800")
    refused = yard("redo")
    assert refused.code == 2
    assert "nothing to redo" in refused.err


def test_a_job_is_taken_back_whole(yard: Shop) -> None:
    before = yard("records").out
    yard.must("done", "fallow", "u-bolts", "--on", "2026-11-20", "--at", "61550")
    assert yard("records").out != before

    told = yard.must("undo", "--json")

    assert yard("records").out == before
    assert list(told.json) == ["change", "records", "vehicle"]
    assert told.json["vehicle"] == "fallowmere"
    assert "job" in {each["table"] for each in told.json["records"]}


def test_the_latest_change_of_one_car_is_taken_back_by_naming_it(yard: Shop) -> None:
    yard.must("add", "pim", "--unit", "km")
    yard.must("reading", "fallow", "61700")
    yard.must("reading", "pim", "84512")

    yard.must("undo", "fallow")

    assert figures(yard) == [61400, 61600, 84512]


def test_undo_of_a_car_taken_in_leaves_no_trace_of_it_in_any_list(yard: Shop) -> None:
    yard.must("add", "pim")
    yard.must("undo")

    assert [each["vehicle"] for each in yard("vehicles", "--json").json] == ["fallowmere"]
    assert yard("due").err == ""
    assert yard("check").lines == ["nothing is wrong"]
    named = yard("due", "pim")
    assert named.code == 2
    assert 'castlenut restore pim vehicle" brings it back' in named.err


def test_a_car_taken_back_can_be_restored_or_taken_in_again(yard: Shop) -> None:
    yard.must("add", "pim")
    yard.must("undo")

    yard.must("restore", "pim", "vehicle")
    assert len(yard("vehicles", "--json").json) == 2
    yard.must("undo")
    yard.must("add", "pim", "--year", "1988")

    assert [each["year"] for each in yard("vehicles", "--json").json] == [1976, 1988]


def test_settings_are_taken_back_and_the_feed_secret_stays(yard: Shop) -> None:
    yard.must("settings", "name=Quorrick Yard")
    yard.must("settings", "hourly_rate=65")
    yard.must("feed", "write", str(yard.path.parent))

    told = yard.must("undo")

    assert told.lines == ["taken back: settings corrected: hourly_rate"]
    settings = yard("settings", "--json").json
    assert (settings["name"], settings["hourly_rate"]) == ("Quorrick Yard", None)
    assert settings["feed_secret"] == "set"


def test_nothing_to_undo_is_told(shop: Shop) -> None:
    shop.must("add", "pim")
    shop.must("undo")

    told = shop("undo")

    assert told.code == 2
    assert told.faults[0].startswith("castlenut: garage: nothing to undo; ")


def test_a_private_field_is_named_and_its_value_is_not(yard: Shop) -> None:
    yard.must("correct", "fallow", "vehicle", "phone=555-0117")

    told = yard.must("undo")

    assert "phone" in told.out
    assert "555-0117" not in told.out + told.err


def test_redo_stands_though_the_clock_was_set_back(yard: Shop) -> None:
    """The order within a file is that of its numbers; only between files the clock has a say."""
    yard.must("reading", "fallow", "61700")
    yard.begin(ids=500, device="dev-test")
    yard.clock_from(-100_000)
    yard.must("undo")

    yard.must("redo")

    assert figures(yard) == [61400, 61600, 61700]
