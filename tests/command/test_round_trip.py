"""The sample fleet (invented) goes out and comes in: every table as CSV, and the whole as a zip."""

import json
import shutil
import zipfile
from collections.abc import Mapping
from pathlib import Path

import pytest

from castlenut.store.schema import VEHICLE_TABLES
from tests.command.conftest import Shop

SAMPLE_FLEET = Path(__file__).parents[2] / "sample_fleet"
TABLES = sorted({*VEHICLE_TABLES} - {"vehicle"})


@pytest.fixture
def fleet(shop: Shop) -> Shop:
    shutil.copytree(SAMPLE_FLEET, shop.path)
    return shop


def tables(shop: Shop, folder: Path) -> Mapping[str, bytes]:
    folder.mkdir()
    for table in TABLES:
        shop.must("export", str(folder / f"{table}.csv"), "--table", table)
    return {path.stem: path.read_bytes() for path in sorted(folder.iterdir())}


def keep_cars_alone(garage: Path) -> None:
    """Take every record out of every car but what is said of the car itself."""
    for path in (garage / "vehicles").iterdir():
        whole = json.loads(path.read_bytes())
        kept = {name: whole[name] for name in whole if name not in TABLES}
        path.write_text(json.dumps(kept), encoding="utf-8")


@pytest.mark.long
def test_every_table_of_the_fleet_comes_back_byte_for_byte(fleet: Shop, tmp_path: Path) -> None:
    """The ids as well: by them a placement names its tire, and a part the job it came in with."""
    out = tables(fleet, tmp_path / "out")
    due = fleet.must("due", "--json").out
    keep_cars_alone(fleet.path)

    for table in TABLES:
        fleet.must("import", str(tmp_path / "out" / f"{table}.csv"), "--table", table)

    assert tables(fleet, tmp_path / "again") == out
    assert fleet.must("due", "--json").out == due


def test_the_zip_of_the_fleet_is_the_fleet_byte_for_byte(fleet: Shop, tmp_path: Path) -> None:
    fleet.must("export", str(tmp_path / "one.zip"))
    shutil.rmtree(fleet.path)
    with zipfile.ZipFile(tmp_path / "one.zip") as archive:
        names = archive.namelist()
        archive.extractall(fleet.path)

    fleet.must("export", str(tmp_path / "two.zip"))

    assert (tmp_path / "two.zip").read_bytes() == (tmp_path / "one.zip").read_bytes()
    assert {name: (fleet.path / name).read_bytes() for name in names} == {
        name: (SAMPLE_FLEET / name).read_bytes() for name in names
    }
    assert len(names) == 10


def test_a_line_keeps_its_id_where_no_record_here_is_that(fleet: Shop, tmp_path: Path) -> None:
    csv = tmp_path / "one.csv"
    free, taken = "01a212e3-56cb-7000-8000-0000000f1ee5", reading_of_the_wagon(fleet)
    csv.write_text(
        f"id,on,figure\n{free},2026-11-25,98500\n{taken},2026-11-25,98500\nx,2026-11-25,1\n"
    )

    fleet.must("import", str(csv), "--vehicle", "kestrin-fellside")

    ids = [json.loads(line)["id"] for line in fleet.must("records", "kestrin-fellside").lines]
    assert free in ids
    assert taken not in ids
    assert "x" not in ids


def reading_of_the_wagon(fleet: Shop) -> str:
    found = fleet.must("records", "brantholm-cobblegate", "--table", "reading").lines[0]
    return str(json.loads(found)["id"])
