"""`found`, `mended` and `watch`: what is told before the work, and what is refused."""

from pathlib import Path

import pytest

from tests.command.conftest import Shop

SEAM = ("found", "fallowmere", "sill seam rusted through", "--where", "L", "--kind", "rust")


def test_a_repair_to_come_shows_its_cautions_and_asks_for_the_other_side(yard: Shop) -> None:
    told = yard(*SEAM, "--mend")

    assert told.code == 0
    assert told.lines[0].startswith("saved: found sill seam rusted through at L, to be mended (")
    cautions = [line for line in told.lines if line.startswith("caution: ")]
    assert [line.split()[1] for line in cautions] == ["Vapor", "Battery", "Old"]
    assert told.lines[-1].startswith("The vehicle's own service manual")
    assert "L sill seam rusted through: and R? it is to be looked at, own@" in told.err


def test_json_names_finding_and_other_side(yard: Shop) -> None:
    told = yard(*SEAM, "--mend", "--json").json

    assert [each["table"] for each in told["records"]] == ["finding", "finding"]
    assert told["vehicle"] == "fallowmere"


def test_an_own_item_is_named_by_the_end_of_its_record(yard: Shop) -> None:
    note = ("look at rear main seal", "--in", "500mi", "--at", "61610")
    saved = yard("watch", "fallowmere", *note, "--json").json

    (item,) = [each for each in yard("due", "fallowmere", "--json").json if each["rule"] == "own"]

    record = saved["records"][0]["id"]
    assert item["item"] == f"own@{record[-8:]}"
    assert (item["source"], item["component"], item["danger"]) == ("own note", "own note", 2)
    assert (item["due_at"], item["baseline"]["from"]) == (62110, "noted")
    assert yard("done", "fallowmere", item["item"]).code == 0
    assert "own@" not in yard("due", "fallowmere").out


def test_mended_tells_what_joins_and_its_cautions(yard: Shop) -> None:
    yard.must(*SEAM, "--mend")

    told = yard("mended", "fallowmere", "sill seam", "--how", "weld")

    assert told.code == 0
    joins = [line for line in told.lines if line.startswith("joins: ")]
    assert [line.rpartition("[")[2] for line in joins] == [
        "paint-seal]",
        "cavity-wax]",
        "cavity-look]",
        "repair-look]",
    ]
    assert "caution: Solvent, wax and paint" in told.out


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (
            ("--mend", "--every", "3m"),
            "castlenut: --every: belongs to --watch; leave it away",
        ),
        (
            ("--watch", "3m", "--who", "owner"),
            "castlenut: --who: belongs to --declined; leave it away",
        ),
        (
            ("--mend", "--photo", "nowhere.jpg"),
            (
                "castlenut: photo: 'nowhere.jpg' is no file that can be found; name the file of the"
                " photo"
            ),
        ),
        (
            ("--mend", "--on", "1970-01-01"),
            (
                "castlenut: on: 1970-01-01 is before the car was made, 1976; give a later day, or"
                " correct the vehicle's year"
            ),
        ),
    ],
)
def test_a_finding_that_cannot_be_is_one_sentence_and_nothing_is_stored(
    yard: Shop, words: tuple[str, ...], fault: str
) -> None:
    before = yard("records", "fallowmere", "--history").out

    told = yard(*SEAM, *words)

    assert (told.code, told.faults[-1]) == (2, fault)
    assert yard("records", "fallowmere", "--history").out == before


def test_what_to_do_about_it_has_to_be_said(yard: Shop) -> None:
    told = yard(*SEAM)

    assert told.code == 2
    assert "--mend --watch --declined" in told.err


def test_a_finding_is_mended_once(yard: Shop) -> None:
    yard.must(*SEAM, "--mend")
    yard.must("mended", "fallowmere", "sill seam", "--how", "weld")

    told = yard("mended", "fallowmere", "sill seam", "--how", "weld")

    assert told.code == 2
    assert "is mended already; name another" in told.err


def test_a_photo_is_kept_in_the_garage(yard: Shop, tmp_path: Path) -> None:
    picture = tmp_path / "sill.png"
    picture.write_bytes(b"picture")

    yard.must(*SEAM, "--mend", "--photo", str(picture))

    (kept,) = (yard.path / "photos").iterdir()
    assert kept.read_bytes() == b"picture"
    assert f'"photo":"{kept.name}"' in yard("records", "fallowmere", "--table", "finding").out
