"""What each command loads: a short command must start quickly, so it loads only what it needs."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = (
    "textual",
    "rich",
    "icalendar",
    "segno",
    "dateutil.parser",
    "email",
    "asyncio",
    "importlib.metadata",
    "uuid6",
    "filelock",
    "platformdirs",
)
FOR_RECORDS = ("tinydb", "dateutil.relativedelta", "json", "dataclasses", "tomllib")

SCRIPT = """
import sys
from castlenut.__main__ import main
try:
    code = main()
except SystemExit as ended:
    code = ended.code
print(code, *[name for name in {names!r} if name in sys.modules], sep="\\n", file=sys.stderr)
"""

READING = (
    ("due",),
    ("due", "--json"),
    ("due", "pim", "--within", "90d"),
    ("why", "pim", "overdrive"),
    ("vehicles", "--json"),
    ("components",),
    ("records",),
    ("records", "--history"),
    ("check", "--json"),
    ("rules",),
    ("settings", "--json"),
    ("size", "205/60R15"),
    ("fitment", "205/60R15", "195/65R15"),
    ("rotation", "--front", "205/60R15"),
    ("tires", "pim"),
    ("rotation", "pim"),
    ("--plain",),
)
WRITING = (
    ("reading", "pim", "61700"),
    ("done", "pim", "overdrive"),
    ("convert", "pim", "alternator"),
    ("settings", "name=Quorrick Yard"),
)


@pytest.fixture(scope="module")
def garage(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a garage with one invented car."""
    folder = tmp_path_factory.mktemp("imports") / "garage"
    for argv in (
        ("add", "pim", "--year", "1988"),
        ("reading", "pim", "61600", "--on", "2026-11-24"),
        ("fit", "pim", "overdrive", "--on", "2026-11-01", "--at", "61000"),
    ):
        code, _, err = loaded(folder, *argv)
        assert code == "0", err
    return folder


def loaded(garage: Path, *argv: str) -> tuple[str, list[str], str]:
    """Run a command in a process of its own; give its code and which modules it loaded."""
    names = (*HEAVY, *FOR_RECORDS)
    ended = subprocess.run(
        [sys.executable, "-c", SCRIPT.format(names=names), "--garage", str(garage), *argv],
        env={**os.environ, "CASTLENUT_DEVICE": "dev-test"},
        capture_output=True,
        text=True,
        check=False,
    )
    told = ended.stderr.splitlines()
    start = max(place for place, line in enumerate(told) if line in {"0", "1", "2", "3"})
    return told[start], told[start + 1 :], ended.stderr


@pytest.mark.parametrize("argv", [("--version",), ("--help",), ("due", "--help")])
def test_help_and_version_load_nothing_but_the_tree(garage: Path, argv: tuple[str, ...]) -> None:
    assert loaded(garage, *argv)[:2] == ("0", [])


@pytest.mark.parametrize("argv", READING, ids=" ".join)
def test_reading_commands_load_the_record_and_no_more(garage: Path, argv: tuple[str, ...]) -> None:
    code, found, err = loaded(garage, *argv)

    assert code == "0", err
    assert not set(found) & set(HEAVY)


@pytest.mark.parametrize("argv", WRITING, ids=" ".join)
def test_writing_commands_load_the_lock_too_and_no_more(
    garage: Path, argv: tuple[str, ...]
) -> None:
    code, found, err = loaded(garage, *argv)

    assert code == "0", err
    assert set(found) & set(HEAVY) <= {"filelock"}


def test_a_feed_that_has_not_changed_loads_no_calendar(garage: Path) -> None:
    path = str(garage.parent / "garage.ics")
    assert "icalendar" in loaded(garage, "--today", "2026-11-25", "feed", "write", path)[1]

    code, found, err = loaded(garage, "--today", "2026-11-25", "feed", "write", path)

    assert code == "0", err
    assert "icalendar" not in found


def test_reckon_loads_no_record(garage: Path) -> None:
    _, found, _ = loaded(garage, "reckon", "--help")

    assert not set(found) & (set(HEAVY) | {"tinydb", "tomllib"})
