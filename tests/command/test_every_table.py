"""Every kind of record there is: taken back, brought back, met by another copy, out and in."""

import json
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from castlenut.store.folder import open_folder
from castlenut.store.record_file import RecordFile
from castlenut.store.schema import TABLES
from castlenut.store.values import canonical
from tests.command.conftest import Shop

CAR = "linden"
TIRE = ("size=205/60R15", "construction=radial", "service=91H", "tread=symmetric")
ACTS: Sequence[Sequence[str]] = (
    (
        "add",
        CAR,
        "--description",
        "Linden, invented",
        "--year",
        "1980",
        "--digits",
        "5",
        "drive=rear",
    ),
    ("reading", CAR, "50000", "--on", "2026-01-10"),
    ("reading", CAR, "56000", "--on", "2026-11-24"),
    (
        "fit",
        CAR,
        "wheel",
        "all",
        "rim_width=6",
        "rim_diameter=15",
        "offset=10",
        "--on",
        "2026-01-10",
    ),
    ("fit", CAR, "tire", "all", *TIRE, "new_depth=10/32", "--on", "2026-01-10", "--at", "50000"),
    (
        "fit",
        CAR,
        "spring",
        "LR,RR",
        "type=leaf",
        "part==7+2",
        "--on",
        "2026-01-10",
        "--at",
        "50000",
    ),
    ("fit", CAR, "brake pad", "LF,RF", "--on", "2026-01-10", "--at", "50000"),
    ("tread", CAR, "LF", "9", "RF", "9", "LR", "8 8 7", "RR", "8", "--at", "56000"),
    ("rotate", CAR, "rearward cross", "--at", "56000"),
    ("room", CAR, "LF", "--inner", "14", "--outer", "9.5", "--when", "full lock"),
    ("done", CAR, "u-bolts@rear", "--at", "56000", "--hours", "0.5", "--cost", "12.50"),
    ("measure", CAR, "pad-measure@LF", "4.5mm", "--at", "56000"),
    ("decline", CAR, "pad-measure@RF", "--who", "owner", "--why", "next year, or never"),
    ("happened", CAR, "curb-hit", "--where", "LF", "--at", "56000"),
    ("exposure", CAR, "wet,salt", "--from", "2026-11-01"),
    ("layup", CAR, "--from", "2026-02-01", "--to", "2026-04-15"),
    ("found", CAR, "sill seam, rusted", "--where", "L", "--kind", "rust", "--mend"),
    ("watch", CAR, "look at rear main seal", "--in", "500mi", "--every", "3m"),
    ("figures", CAR, "toe", "1/16", "in", "--source", "its book, p. 112"),
    ("rule", CAR, "u-bolts", "--every", "12k/24m", "--why", "its book, p. 31"),
    ("odometer", CAR, "--factor", "1.04", "--on", "2026-11-01"),
    ("mended", CAR, "sill seam", "--how", "weld", "--at", "56000"),
    ("stay", CAR, "--from", "2026-11-20"),
    ("stay", CAR, "--over", "--at", "56010", "--yes"),
    ("intake", CAR, "--from", "-"),
    ("settings", "name=Quorrick Yard", "hours=mon:7,tue:7.5", "closed=2026-12-24,2026-12-25"),
    ("sold", CAR, "--on", "2026-11-25", "--to", "Rufus Penhallick"),
)
"""One change each; together they touch every table but that of visits, which nothing enters yet."""
STATED = "brake fluid - stated 2025-03-01 41000\nshock absorber LF unknown\n"


State = Mapping[tuple[str, str], str]


@dataclass
class Built:
    """The garage as the first test that needs it built it, and its records after each act."""

    path: Path
    states: list[State]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    return Built(tmp_path_factory.mktemp("full") / "garage", [])


@pytest.fixture
def full(shop: Shop, built: Built) -> Shop:
    """Give a garage with a record in every table; all of it invented."""
    if not built.states:
        shop.must("add", "other")
        built.states.append(live(shop))
        for act in ACTS:
            shop.must(*act, stdin=STATED)
            built.states.append(live(shop))
        shutil.copytree(shop.path, built.path)
        return shop
    shutil.copytree(built.path, shop.path)
    shop.begin(ids=900, device="dev-test")
    return shop


def values(shop: Shop, *words: str) -> list[Mapping[str, object]]:
    return [json.loads(line) for line in shop.must("records", *words).lines]


def test_every_table_but_that_of_visits_is_touched(full: Shop) -> None:
    assert {each["table"] for each in values(full)} == {*TABLES} - {"visit"}


def test_each_change_is_taken_back_by_one_undo(full: Shop, built: Built) -> None:
    for state in reversed(built.states[:-1]):
        full.must("undo")
        assert live(full) == state


@pytest.mark.long
def test_each_change_is_brought_back_by_one_redo(full: Shop, built: Built) -> None:
    for _ in ACTS:
        full.must("undo")

    for state in built.states[1:]:
        full.must("redo")
        assert live(full) == state


def live(shop: Shop) -> State:
    """Give every live record; the garage's own stands as long as the garage, if need be empty."""
    folder = open_folder(shop.path)
    files = [folder.load_garage(), *(folder.load(slug) for slug in folder.slugs())]
    return {
        (each.table, each.id): canonical(dict(each.values))
        for file in files
        if isinstance(file, RecordFile)
        for each in file.records()
        if each.values
    }


def test_a_copy_that_was_apart_takes_every_table_in(full: Shop, tmp_path: Path) -> None:
    other = tmp_path / "other"
    here = full.path
    full.path = other
    full.begin(ids=5_000, device="dev-else")
    full.must("add", "pim", "--unit", "km")

    told = full.must("merge", str(here), "--json")

    assert told.json["left_out"] == []
    assert told.json["vehicles_new"] == 2
    full.must("merge", str(here))
    theirs = full.must("records", CAR, "--history").out
    full.path = here
    assert theirs == full.must("records", CAR, "--history").out


def test_every_table_goes_out_as_csv_and_comes_in_as_it_was(full: Shop, tmp_path: Path) -> None:
    full.must("add", "twin", "--digits", "5")
    for table in sorted({*TABLES} - {"garage", "vehicle"}):
        csv = str(tmp_path / f"{table}.csv")
        full.must("export", csv, CAR, "--table", table)
        words = ("import", csv, "--table", table, "--vehicle", "twin", "--map", "vehicle=")
        full.must(*words)

        of = {car: values(full, car, "--table", table) for car in (CAR, "twin")}
        assert _plain(of["twin"]) == _plain(of[CAR])
        assert full.must(*words).lines[0].startswith(f"imported 0 {table} records")


def _plain(records: Sequence[Mapping[str, object]]) -> list[str]:
    return sorted(json.dumps(each["values"], sort_keys=True) for each in records)
