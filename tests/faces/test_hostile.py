"""Whatever text a record or a file's name holds, nothing of it reaches a terminal raw."""

import json
import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from castlenut.store.fields import LINE, NOTE, FieldType
from castlenut.store.schema import VEHICLE_TABLES
from tests.faces.in_process import ran
from tests.fleet.build_sample_fleet import FLEET

TODAY = "2026-11-25"
CAR = "wendlecot-millrace"
EVIL = "\x1b[2J\u202egnp.exe\x07\u2066[/][red]\x9b31m\r\x00" + "\U0001f600" * 3
RAW = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
READING = (
    ("due",),
    ("due", CAR, "--within", "400d"),
    ("vehicles", "--all"),
    ("components",),
    ("why", CAR, "all"),
    ("records",),
    ("records", CAR, "--history"),
    ("check",),
    ("check", CAR),
    ("rules",),
    ("settings",),
    ("odometer", CAR),
    ("tires", CAR),
    ("rotation", CAR),
    ("figures", CAR),
    ("ready", CAR),
    ("parts", CAR),
    ("ring",),
    ("apart", CAR, "wheel"),
    ("fitment", CAR),
    ("feed", "address"),
    ("feed", "publish"),
    ("undo",),
    ("redo",),
    ("correct", CAR, "vehicle", f"description={EVIL}"),
    ("reading", EVIL, "5"),
    ("reading", CAR, EVIL),
    ("strike", CAR, EVIL),
    ("add", EVIL),
    ("merge", f"/nowhere/{EVIL.replace(chr(0), '')}"),
)


def texts(of: FieldType, value: object) -> object:
    """Give a value with its texts made hostile, where the type allows any text."""
    if of in {LINE, NOTE}:
        return f"{value}{EVIL}"
    if of.needed.startswith("a table by name") and isinstance(value, dict):
        return {f"{name}{EVIL}": f"{each}{EVIL}" for name, each in value.items()}
    return value


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build a garage of which every text that is not a key to something else is hostile."""
    path = tmp_path_factory.mktemp("hostile") / "garage"
    shutil.copytree(FLEET, path)
    for file in (path / "vehicles").iterdir():
        root = json.loads(file.read_bytes())
        for table, records in root.items():
            fields = VEHICLE_TABLES[table].fields if table in VEHICLE_TABLES else {}
            for record in records.values():
                for revision in record["revs"] if isinstance(record, dict) else ():
                    values = revision["set"]
                    for name in values.keys() & fields.keys() - {"slug", "items", "item", "job"}:
                        values[name] = texts(fields[name], values[name])
        file.write_text(json.dumps(root), encoding="utf-8")
    return path


@pytest.fixture
def garage(built: Path, tmp_path: Path) -> Path:
    """Give a copy of that garage."""
    return shutil.copytree(built, tmp_path / "garage")


def commands() -> Iterator[tuple[str, ...]]:
    for words in READING:
        yield words
        yield (*words, "--json")


@pytest.mark.parametrize(
    "words", commands(), ids=lambda words: " ".join(words[:1] + words[2:])[:20]
)
def test_no_command_writes_a_raw_control_character(garage: Path, words: tuple[str, ...]) -> None:
    answer = ran(*words, garage=garage, today=TODAY)

    assert not RAW.search(answer.out), RAW.search(answer.out)
    assert not RAW.search(answer.err), RAW.search(answer.err)
    assert "something went wrong" not in answer.err
    if "--json" in words or words[0] == "records":
        assert answer.out.isascii()


def test_check_names_the_records_with_such_characters(garage: Path) -> None:
    found = json.loads(ran("check", CAR, "--json", garage=garage, today=TODAY).out)

    named = [each["message"] for each in found if each["fault"] == "control characters"]
    assert any(each.endswith(": description holds control characters") for each in named)


@pytest.mark.skipif(os.name != "posix", reason="other systems allow no such names")
@pytest.mark.parametrize(
    "name", [b"\x1b[31m.json", b"a\nb.json", b"\xff\xfe.json", "\u202egnp.json".encode(), b" .json"]
)
def test_hostile_file_names_are_told_escaped_and_stop_nothing(tmp_path: Path, name: bytes) -> None:
    path = tmp_path / "garage"
    (path / "vehicles").mkdir(parents=True)
    for each in ("garage.json", f"vehicles/{CAR}.json"):
        shutil.copy(FLEET / each, path / each)
    target = os.fsencode(path / "vehicles") + b"/" + name
    for data in (b"{", (path / "vehicles" / f"{CAR}.json").read_bytes()):
        with Path(os.fsdecode(target)).open("wb") as opened:
            opened.write(data)
        for words in (("due",), ("check",), ("vehicles", "--json"), ("records", CAR)):
            answer = ran(*words, garage=path, today=TODAY)

            assert answer.code == 0, answer.err
            assert not RAW.search(answer.out + answer.err)
            assert "something went wrong" not in answer.err
    saved = ran("reading", CAR, "99999", garage=path, today=TODAY)
    assert saved.code == 0, saved.err
    assert not os.path.lexists(target)
