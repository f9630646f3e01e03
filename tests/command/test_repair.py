"""Repair of damaged files on the command line."""

import json
from pathlib import Path

from tests.command.conftest import Shop


def car(yard: Shop) -> Path:
    return yard.path / "vehicles" / "fallowmere.json"


def figures(yard: Shop) -> list[int]:
    lines = yard("records", "fallow", "--table", "reading").lines
    return sorted(json.loads(line)["values"]["figure"] for line in lines)


def spoil(path: Path, word: bytes) -> bytes:
    """Spoil the line that holds a word."""
    lines = path.read_bytes().split(b"\n")
    (at,) = (number for number, line in enumerate(lines) if word in line)
    lines[at] = lines[at].replace(b'"set":{', b'"set":{{', 1)
    path.write_bytes(b"\n".join(lines))
    return path.read_bytes()


def test_what_the_copy_before_has_is_brought_back(yard: Shop) -> None:
    yard.must("reading", "fallow", "61700")
    damaged = spoil(car(yard), b"61400")
    assert yard("due", "fallow").code == 2

    told = yard.must("check", "--repair", "fallow")

    (kept,) = (yard.path / ".castlenut" / "damaged").iterdir()
    assert kept.read_bytes() == damaged
    assert told.lines == [
        f"6 of 6 records saved, 1 line could not be read: it is in .castlenut/damaged/{kept.name}"
    ]
    assert figures(yard) == [61400, 61600, 61700]


def test_a_line_that_stands_nowhere_else_is_counted_as_lost(yard: Shop) -> None:
    yard.must("reading", "fallow", "61700")
    spoil(car(yard), b"61700")

    told = yard.must("check", "--repair", "fallow")

    assert told.lines[0].startswith("5 of 6 records saved, 1 line could not be read: ")
    assert figures(yard) == [61400, 61600]


def test_repair_unites_the_copies_beside_the_file(yard: Shop) -> None:
    yard.must("reading", "fallow", "61700")
    beside = car(yard).with_name("fallowmere (2).json")
    beside.write_bytes(car(yard).read_bytes())
    spoil(car(yard), b"61700")

    yard.must("check", "--repair", "fallow")

    assert figures(yard) == [61400, 61600, 61700]
    assert not beside.exists()


def test_a_sound_file_is_not_repaired(yard: Shop) -> None:
    before = car(yard).read_bytes()

    told = yard("check", "--repair", "fallow")

    assert told.code == 2
    assert "is not damaged" in told.err
    assert car(yard).read_bytes() == before


def test_a_file_of_a_newer_program_is_not_repaired(yard: Shop) -> None:
    car(yard).write_bytes(car(yard).read_bytes().replace(b'"schema":1', b'"schema":2'))

    told = yard("check", "--repair", "fallow")

    assert told.code == 2
    assert "update this one" in told.err


def test_a_header_that_is_gone_is_told_by_the_copy_before(yard: Shop) -> None:
    """The id in it is what the calendar's events rest on."""
    yard.must("reading", "fallow", "61700")
    lines = car(yard).read_bytes().split(b"\n")
    header = lines[1]
    car(yard).write_bytes(b"\n".join([b"\x00" * len(line) for line in lines[:2]] + lines[2:]))

    yard.must("check", "--repair", "fallow")

    assert car(yard).read_bytes().split(b"\n")[1] == header
    assert yard("check").lines == ["nothing is wrong"]


def test_the_garages_own_record_is_repaired_by_its_name(yard: Shop) -> None:
    yard.must("settings", "name=Quorrick Yard")
    yard.must("settings", "currency=EUR")
    path = yard.path / "garage.json"
    path.write_bytes(path.read_bytes()[:-20])

    told = yard.must("check", "--repair", "garage", "--json")

    assert list(told.json) == ["change", "records", "vehicle"]
    assert yard("settings", "--json").json["name"] == "Quorrick Yard"


def test_two_repairs_keep_two_copies(yard: Shop) -> None:
    for figure in (b"61400", b"61600"):
        spoil(car(yard), figure)
        yard.must("check", "--repair", "fallow")

    assert len(list((yard.path / ".castlenut" / "damaged").iterdir())) == 2
