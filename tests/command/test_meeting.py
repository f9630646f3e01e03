"""Merging two garages on the command line."""

import json
import shutil
import zipfile
from pathlib import Path

import pytest

from tests.command.conftest import Shop, Told


class Two:
    """A garage and a copy of it, each on a machine of its own."""

    def __init__(self, here: Shop, there: Shop) -> None:
        self.here = here
        self.there = there


@pytest.fixture
def two(yard: Shop, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Two:
    there = Shop(tmp_path / "other", capsys)
    shutil.copytree(yard.path, there.path)
    there.begin(ids=5_000, device="dev-other")
    return Two(yard, there)


def history(shop: Shop) -> str:
    return shop("records", "--history").out


def files(shop: Shop) -> dict[str, bytes]:
    found = [shop.path / "garage.json", *(shop.path / "vehicles").iterdir()]
    return {each.name: each.read_bytes() for each in found}


def merged(shop: Shop, other: Shop | Path) -> Told:
    path = other if isinstance(other, Path) else other.path
    return shop("merge", str(path))


def test_what_came_in_is_counted_and_the_second_merge_brings_nothing(two: Two) -> None:
    two.there.must("reading", "fallow", "61700")
    two.there.must("add", "pim")

    first = merged(two.here, two.there)
    again = merged(two.here, two.there)

    assert first.lines == [f"merged 2 new records, 0 changed, from {two.there.path}"]
    assert again.lines == [f"nothing new in {two.there.path}"]
    assert (first.code, again.code) == (0, 0)


def test_both_directions_give_the_same_record_to_the_byte(two: Two) -> None:
    two.there.must("reading", "fallow", "61700")
    two.there.must("add", "pim")
    two.here.must("correct", "fallow", "vehicle", "year=1977")
    two.here.must("settings", "name=Quorrick Yard")

    merged(two.here, two.there)
    merged(two.there, two.here)

    assert history(two.here) == history(two.there)
    assert files(two.here) == files(two.there)


def test_a_field_set_on_both_sides_is_a_difference_until_it_is_settled(two: Two) -> None:
    two.here.must("correct", "fallow", "vehicle", "year=1975")
    two.there.must("correct", "fallow", "vehicle", "year=1977")

    told = two.here("merge", str(two.there.path), "--json").json

    assert {name: told[name] for name in told if name != "differences"} == {
        "vehicles_new": 0,
        "records_new": 0,
        "records_changed": 1,
        "revisions_new": 1,
        "left_out": [],
    }
    (record,) = told["differences"]
    assert [each["value"] for each in record["differences"]["year"]] == [1977, 1975]
    assert (record["vehicle"], record["table"]) == ("fallowmere", "vehicle")

    two.here.must("correct", "fallow", "vehicle", "year=1975")
    merged(two.there, two.here)
    assert '"differences"' not in two.there("records", "fallow").out
    assert '"year":1975' in two.there("records", "fallow").out


def test_differences_stand_on_lines_of_their_own(two: Two) -> None:
    two.here.must("correct", "fallow", "vehicle", "year=1975")
    two.there.must("correct", "fallow", "vehicle", "year=1977")

    told = merged(two.here, two.there)

    assert told.lines[0] == (
        f"merged 0 new records, 1 changed, from {two.there.path}; 1 difference to settle"
    )
    assert "year is 1977 by dev-other, or 1975 by dev-test" in told.lines[1]


def test_the_other_garage_may_be_read_only_and_is_not_touched(two: Two) -> None:
    two.there.must("reading", "fallow", "61700")
    before = sorted(each.stat().st_mtime_ns for each in two.there.path.rglob("*"))
    two.there.path.chmod(0o500)

    told = merged(two.here, two.there)

    two.there.path.chmod(0o700)
    assert told.code == 0
    assert sorted(each.stat().st_mtime_ns for each in two.there.path.rglob("*")) == before


def test_two_cars_of_one_name_get_the_same_names_on_every_copy(two: Two) -> None:
    two.here.must("add", "pim", "--year", "1988")
    two.there.must("add", "pim", "--year", "1961")

    merged(two.here, two.there)
    merged(two.there, two.here)

    assert files(two.here) == files(two.there)
    names = sorted(files(two.here))
    assert names[:2] == ["fallowmere.json", "garage.json"]
    assert names[2].startswith("pim-")
    assert names[3] == "pim.json"
    years = {each["year"] for each in two.here("vehicles", "--json").json}
    assert years == {1976, 1988, 1961}


def test_a_damaged_file_on_either_side_is_left_out_and_the_rest_is_merged(two: Two) -> None:
    two.here.must("add", "pim")
    merged(two.there, two.here)
    two.there.must("reading", "pim", "100")
    two.there.must("reading", "fallow", "61700")
    for shop, name in ((two.here, "pim"), (two.there, "fallowmere")):
        path = shop.path / "vehicles" / f"{name}.json"
        path.write_bytes(path.read_bytes()[:-30])
    damaged = (two.here.path / "vehicles" / "pim.json").read_bytes()
    two.there.must("add", "tally")

    told = two.here("merge", str(two.there.path), "--json")

    assert told.code == 2
    assert told.json["vehicles_new"] == 1
    assert [each["file"] for each in told.json["left_out"]] == [
        f"{two.there.path}/vehicles/fallowmere.json",
        "vehicles/pim.json",
    ]
    assert (two.here.path / "vehicles" / "pim.json").read_bytes() == damaged
    assert len(told.faults) == 2


def test_rules_are_taken_over_where_there_are_none_and_laid_beside_others(two: Two) -> None:
    rule = '[[rule]]\nid = "leaf-look"\nevery = {{ miles = {miles}, months = 12 }}\n'
    (two.there.path / "rules.toml").write_text(rule.format(miles=300))

    assert "taken over" in merged(two.here, two.there).err
    assert (two.here.path / "rules.toml").read_text() == rule.format(miles=300)
    (two.there.path / "rules.toml").write_text(rule.format(miles=400))
    told = merged(two.here, two.there)

    (beside,) = two.here.path.glob("rules.from-*.toml")
    assert beside.read_text() == rule.format(miles=400)
    assert beside.name in told.err
    assert (two.here.path / "rules.toml").read_text() == rule.format(miles=300)
    assert merged(two.here, two.there).err == ""


def test_two_garages_made_apart_keep_the_smaller_id(
    yard: Shop, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = Shop(tmp_path / "other", capsys)
    other.begin(ids=5_000, device="dev-other")
    other.must("add", "tally")
    other.must("settings", "name=Fellside Works")

    merged(yard, other)
    merged(other, yard)

    assert files(yard) == files(other)
    header = json.loads((yard.path / "garage.json").read_text())["castlenut"]
    assert header["garage"].endswith("000000000004")


def test_published_events_meet_too(two: Two, tmp_path: Path) -> None:
    two.there.must("feed", "write", str(tmp_path / "there.ics"))

    merged(two.here, two.there)

    assert (two.here.path / "feed.json").read_bytes() == (two.there.path / "feed.json").read_bytes()


def test_undo_after_a_merge_takes_back_the_own_change_alone(two: Two) -> None:
    two.here.must("reading", "fallow", "61700")
    two.there.must("reading", "fallow", "61800")
    merged(two.here, two.there)

    told = two.here.must("undo")

    assert told.lines == ["taken back: reading 61,700 mi on 2026-11-25, fallowmere"]
    figures = [
        json.loads(line)["values"]["figure"]
        for line in two.here("records", "fallow", "--table", "reading").lines
    ]
    assert sorted(figures) == [61400, 61600, 61800]


def test_what_is_no_garage_is_refused(yard: Shop, tmp_path: Path) -> None:
    told = merged(yard, tmp_path / "nowhere")

    assert told.code == 2
    assert told.err == (
        f"castlenut: {tmp_path}/nowhere: is not a garage;"
        " name a folder with garage.json in it, or a zip of one\n"
    )


def test_a_zip_is_read_as_a_folder(two: Two, tmp_path: Path) -> None:
    two.there.must("reading", "fallow", "61700")
    path = tmp_path / "other.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for each in two.there.path.rglob("*.json"):
            archive.write(each, f"garage/{each.relative_to(two.there.path)}")

    told = merged(two.here, path)

    assert told.lines == [f"merged 1 new record, 0 changed, from {path}"]


@pytest.mark.parametrize("name", ["../vehicles/x.json", "/etc/x.json", "vehicles/../../x.json"])
def test_a_zip_that_reaches_outside_is_refused(yard: Shop, tmp_path: Path, name: str) -> None:
    path = tmp_path / "other.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.write(yard.path / "garage.json", "garage.json")
        archive.writestr(name, "{}")

    told = merged(yard, path)

    assert told.code == 2
    assert "reaches outside" in told.err


def test_what_is_no_zip_is_refused(yard: Shop, tmp_path: Path) -> None:
    path = tmp_path / "other.zip"
    path.write_bytes(b"PK\x03\x04 no more")

    told = merged(yard, path)

    assert told.code == 2
    assert "cannot be read as a zip" in told.err
