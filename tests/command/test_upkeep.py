"""Upkeep: corrections, records, check, rules, settings."""

import json
import shutil
import stat

from tests.command.conftest import Shop


def reading_id(yard: Shop) -> str:
    return yard("records", "--table", "reading", "--ids").lines[-1]


def test_a_correction_keeps_the_former_value(yard: Shop) -> None:
    record = reading_id(yard)

    yard.must("correct", "fallow", record[-8:], "figure=61610")

    (told,) = [
        found
        for line in yard("records", "--table", "reading", "--history").lines
        if (found := json.loads(line))["id"] == record
    ]
    assert told["values"]["figure"] == 61610
    assert [each["set"]["figure"] for each in told["revisions"]] == [61600, 61610]


def test_a_value_that_stands_already_is_no_change(yard: Shop) -> None:
    told = yard("correct", "fallow", "vehicle", "year=1976", "--json")

    assert told.code == 0
    assert told.json == {"change": None, "records": [], "vehicle": "fallowmere"}


def test_a_field_that_is_none_names_the_nearest(yard: Shop) -> None:
    told = yard("correct", "fallow", "vehicle", "yaer=1977")

    assert told.code == 2
    assert "year" in told.err


def test_a_struck_record_is_gone_until_it_is_restored(yard: Shop) -> None:
    record = reading_id(yard)

    yard.must("strike", "fallow", record, "--why", "read on the wrong car")
    assert len(yard("records", "--table", "reading").lines) == 1
    assert len(yard("records", "--table", "reading", "--ids").lines) == 2
    assert yard("correct", "fallow", record, "figure=1").code == 2

    yard.must("restore", "fallow", record)
    assert len(yard("records", "--table", "reading").lines) == 2


def test_records_are_canonical_lines_sorted_by_table_and_id(yard: Shop) -> None:
    lines = yard("records", "fallow").lines

    found = [json.loads(line) for line in lines]
    assert [(each["table"], each["id"]) for each in found] == sorted(
        (each["table"], each["id"]) for each in found
    )
    for line, each in zip(lines, found, strict=True):
        assert line == json.dumps(each, sort_keys=True, separators=(",", ":"))
    assert list(found[0]) == ["gone", "id", "table", "values", "vehicle"]


def test_the_record_of_the_garage_stands_first_and_hides_its_secret(yard: Shop) -> None:
    yard.must("settings", "name=Quorrick Yard")
    yard.must("feed", "write", str(yard.path.parent))

    first = json.loads(yard("records", "--history").lines[0])

    assert (first["id"], first["vehicle"]) == ("garage", None)
    assert first["values"]["feed_secret"] == "set"
    assert "set" in {each["set"].get("feed_secret") for each in first["revisions"]}
    assert yard("settings", "--json").json["feed_secret"] == "set"


def test_check_lists_what_needs_a_look(yard: Shop) -> None:
    assert yard("check").lines == ["nothing is wrong"]
    yard("reading", "fallow", "51600")
    yard.must("add", "pim")
    (yard.path / "vehicles" / "pim.json").write_text("{ this is no record")
    (yard.path / "rules.toml").write_text('[[rule]]\nid = "u-bolts"\ntolerance = "ten"\n')

    found = yard("check", "--json")

    assert found.code == 0
    assert [(each["file"], each["fault"], each["line"]) for each in found.json] == [
        ("rules.toml", "rule", None),
        ("vehicles/fallowmere.json", "odd reading", None),
        ("vehicles/pim.json", "damaged", 1),
    ]
    assert list(found.json[0]) == ["file", "fault", "line", "message"]
    assert yard("check", "--check").code == 1


def test_check_warns_of_a_record_that_others_may_read(yard: Shop) -> None:
    (yard.path / "garage.json").chmod(stat.S_IRUSR | stat.S_IWUSR | stat.S_IRGRP)

    assert [each["fault"] for each in yard("check", "--json").json] == ["open to others"]


def test_rules_that_cannot_be_used_are_told_each_time(yard: Shop) -> None:
    (yard.path / "rules.toml").write_text('[[rule]]\nid = "u-bolts"\ntolerance = "ten"\n')

    told = yard("due", "--json")

    assert told.code == 0
    (fault,) = [each for each in told.faults if "rules.toml line 3, u-bolts, tolerance: " in each]
    assert fault.endswith("; the shipped rules are used alone until this is mended")
    assert {each["rule"] for each in told.json} == {"u-bolts", "ride-height", "leaf-look"}


def test_a_garages_own_rule_is_marked_and_used(yard: Shop) -> None:
    (yard.path / "rules.toml").write_text(
        '[[rule]]\nid = "leaf-look"\nevery = { miles = 300, months = 12 }\n'
    )

    (rule,) = yard("rules", "leaf-look", "--json").json
    (item,) = yard("why", "fallow", "leaf-look", "--json").json

    assert rule["origin"] == "garage"
    assert rule["every"] == {"distance": 300, "months": 12, "days": None}
    assert (item["due_at"], item["state"]) == (61530, "overdue")


def test_rules_lists_all_and_one_in_full(yard: Shop) -> None:
    every = yard("rules")
    one = yard("rules", "u-bolts")

    assert any(line.startswith("u-bolts  spring U-bolts, torque  ") for line in every.lines)
    assert one.lines[0] == "spring U-bolts, torque  (u-bolts, shipped)"
    assert "first points: 300, 1,000 mi" in one.lines
    assert len(yard("rules", "--json").json) > 100


def test_settings_are_read_by_their_type(yard: Shop) -> None:
    yard.must("settings", "name=Quorrick Yard", "hourly_rate=65", "hours=mon:7,tue:7", "south=yes")

    settings = yard("settings", "--json").json

    assert settings["name"] == "Quorrick Yard"
    assert settings["hourly_rate"] == "65.00"
    assert settings["hours"] == {"mon": 7, "tue": 7}
    assert settings["south"] is True
    assert "hours: mon 7, tue 7" in yard("settings").lines


def test_a_setting_that_is_none_is_refused(yard: Shop) -> None:
    told = yard("settings", "hourly_rte=65")

    assert told.code == 2
    assert "'hourly_rate'" in told.err


def test_a_damaged_garage_file_leaves_the_cars_answered(yard: Shop) -> None:
    (yard.path / "garage.json").write_text("{ this is no record")

    told = yard("due", "--json")

    assert told.code == 0
    assert told.json
    assert told.faults[0].startswith("castlenut: garage.json: damaged")


def test_feed_write_says_what_it_did(yard: Shop) -> None:
    path = yard.path.parent / "garage.ics"

    first = yard("feed", "write", str(path), "--json").json
    again = yard("feed", "write", str(path), "--json").json

    assert list(first) == ["path", "bytes", "events", "until", "changed"]
    assert (first["path"], first["bytes"]) == (str(path), path.stat().st_size)
    assert (first["changed"], again["changed"]) == (True, False)
    assert yard("feed", "write", str(path)).lines[0].startswith(f"unchanged: {path}")


def test_reckon_needs_no_garage(shop: Shop) -> None:
    told = shop(
        "reckon",
        "months",
        stdin='{"id": 1, "from": "2026-01-31", "months": 1}\nnonsense\n',
        has_garage=False,
    )

    assert told.code == 2
    assert [json.loads(line)["id"] for line in told.lines] == [1, None]
    assert json.loads(told.lines[0])["dates"] == ["2026-02-28"]


def test_reckon_help_lists_the_kinds_and_their_fields(shop: Shop) -> None:
    assert "kinds:" in shop("reckon", "--help").lines
    assert "Each line, beside an id of any form:" in shop("reckon", "months", "--help").lines
    told = shop("reckon", "mnths")
    assert told.code == 2
    assert "months is probably meant" in told.err


def test_a_file_in_place_of_the_folder_of_cars_is_told_by_add_too(yard: Shop) -> None:
    shutil.rmtree(yard.path / "vehicles")
    (yard.path / "vehicles").write_text("")

    told = yard("add", "tollgate")

    assert told.code == 2
    assert told.faults == ["castlenut: vehicles: vehicles is not a folder: move it away"]


def test_a_figure_without_a_number_is_refused_not_dropped(yard: Shop) -> None:
    told = yard("figures", "fallowmere", "torque", "abc", "Nm")

    assert told.code == 2
    assert 'no figure of this car is named "torque abc Nm"' in told.faults[0]


def test_a_tab_in_a_title_is_refused(yard: Shop) -> None:
    told = yard("watch", "fallowmere", "hose\tclip", "--in", "3m")

    assert told.code == 2
    assert "title holds control characters" in told.faults[0]
