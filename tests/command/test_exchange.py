"""Forgetting, export and import on the command line."""

import json
import shutil
import stat
import zipfile
from pathlib import Path

import pytest

from tests.command.conftest import Shop


def everything(yard: Shop) -> bytes:
    """Give every byte the garage keeps, its own folder among it."""
    return b"".join(path.read_bytes() for path in sorted(yard.path.rglob("*")) if path.is_file())


@pytest.fixture
def owned(yard: Shop) -> Shop:
    """Give the car an owner who was corrected once, a plate and a VIN; all invented."""
    yard.must("correct", "fallow", "vehicle", "phone=555-0117", "email=odile@example.org")
    yard.must("correct", "fallow", "vehicle", "owner=Odile Harrowgate", "plate=QX 4711")
    yard.must("correct", "fallow", "vehicle", "vin=SERIAL-0815", "address=3 Mill Lane")
    return yard


PRIVATE = (b"Marrowby", b"Harrowgate", b"555-0117", b"odile@", b"Mill Lane")


# -- forget ------------------------------------------------------------------------------------


def test_forget_takes_owner_vin_and_plate_out_of_every_byte_kept(owned: Shop) -> None:
    assert all(each in everything(owned) for each in PRIVATE)

    told = owned.must("forget", "fallow")

    assert told.lines == ["owner, phone, address, email, vin, plate of fallowmere forgotten"]
    assert "backups and other machines keep what they know" in told.err
    left = everything(owned)
    assert not any(each in left for each in (*PRIVATE, b"QX 4711", b"SERIAL-0815"))
    assert json.loads(owned("vehicles", "--json").out)[0]["owner"] is None


def test_forget_owner_leaves_vin_and_plate(owned: Shop) -> None:
    owned.must("forget", "fallow", "--owner")

    left = everything(owned)
    assert not any(each in left for each in PRIVATE)
    assert b"QX 4711" in left
    assert b"SERIAL-0815" in left


def test_a_copy_that_still_knows_them_forgets_when_it_meets(owned: Shop, tmp_path: Path) -> None:
    other = tmp_path / "other"
    shutil.copytree(owned.path, other)
    owned.must("forget", "fallow")

    owned.must("merge", str(other))
    assert not any(each in everything(owned) for each in PRIVATE)
    owned("merge", str(owned.path))
    beside = owned.path / "vehicles" / "fallowmere (2).json"
    shutil.copy(other / "vehicles" / "fallowmere.json", beside)
    assert not any(each.decode() in owned("records", "--history").out for each in PRIVATE)
    owned.must("reading", "fallow", "61900")

    car = (owned.path / "vehicles" / "fallowmere.json").read_bytes()
    assert not any(each in car for each in PRIVATE)


def test_what_was_forgotten_is_not_brought_back_by_undo(owned: Shop) -> None:
    owned.must("forget", "fallow")

    told = owned.must("undo")

    # Of the corrections nothing is left to take back: the change before them is.
    assert told.lines == ["taken back: fitted spring LR, fallowmere"]
    assert not any(each in everything(owned) for each in PRIVATE)


def test_forgetting_what_nobody_knew_changes_nothing(shop: Shop) -> None:
    shop.must("add", "pim")

    told = shop.must("forget", "pim", "--json")

    assert told.json == {"change": None, "records": [], "vehicle": "pim"}


def test_the_feeds_kept_by_his_name_are_forgotten_with_an_owner(
    owned: Shop, tmp_path: Path
) -> None:
    web = tmp_path / "web"
    web.mkdir()
    owned.must("settings", "name=Quorrick Yard")
    owned.must("feed", "publish", str(web), "--owner", "Odile Harrowgate")
    owned.must("feed", "revoke", "--owner", "Odile Harrowgate")
    assert b"odile harrowgate" in everything(owned)
    other = tmp_path / "other"
    shutil.copytree(owned.path, other)

    told = owned.must("forget", "fallow")

    assert f"{web}: the calendar of the owner is kept up to date no longer" in told.err
    assert b"odile" not in everything(owned).lower()
    assert owned.must("feed", "publish", "--json").json == {"targets": []}
    owned.must("merge", str(other))
    assert b"odile" not in everything(owned).lower()
    here, owned.path = owned.path, other
    owned.must("merge", str(here))
    assert b"odile" not in everything(owned).lower()


def test_the_feed_of_an_owner_of_another_car_stays(owned: Shop, tmp_path: Path) -> None:
    owned.must("add", "pim", "owner=odile  HARROWGATE")
    owned.must("feed", "publish", str(tmp_path / "odile.ics"), "--owner", "Odile Harrowgate")

    owned.must("forget", "fallow")

    assert str(tmp_path / "odile.ics") in owned.must("feed", "publish").out
    owned.must("forget", "pim")
    assert b"harrowgate" not in everything(owned).lower()


def test_what_is_published_follows_undo_and_merge(owned: Shop, tmp_path: Path) -> None:
    feed = tmp_path / "garage.ics"
    owned.must("feed", "publish", str(feed))
    before = feed.read_bytes()
    owned.must("done", "fallow", "u-bolts", "--at", "61600")
    assert feed.read_bytes() != before

    owned.must("undo")

    assert feed.read_bytes().count(b"u-bolts") == before.count(b"u-bolts")
    undone = feed.read_bytes()
    other = tmp_path / "other"
    shutil.copytree(owned.path, other)
    here, owned.path = owned.path, other
    owned.begin(ids=7_000, device="dev-else")
    owned.must("done", "fallow", "u-bolts", "--at", "61600")
    feed.write_bytes(undone)
    owned.path = here

    owned.must("merge", str(other))

    assert feed.read_bytes() != undone


def test_a_new_secret_takes_the_old_one_out_of_every_byte_kept(owned: Shop, tmp_path: Path) -> None:
    owned.must("feed", "write", str(tmp_path))
    record = owned.path / "garage.json"
    old = json.loads(record.read_text())["garage"]["garage"]["revs"][-1]["set"]["feed_secret"]
    beside = owned.path / "garage (2).json"
    shutil.copy(record, beside)
    owned.draw = lambda size: b"\x07" * size

    owned.must("feed", "revoke")

    assert old.encode() not in everything(owned)
    assert (b"07" * 32) in everything(owned)
    assert not beside.exists()


def test_undo_brings_no_ended_address_back(owned: Shop) -> None:
    owned.must("settings", "name=Quorrick Yard")
    owned.must("feed", "revoke", "--vehicle", "fallow")
    before = owned.must("feed", "address", "--json").out

    told = owned.must("undo")

    assert told.lines == ["taken back: settings: name"]
    after = owned.must("feed", "address", "--json").out
    assert {each["address"] for each in json.loads(after)["feeds"]} == {
        each["address"] for each in json.loads(before)["feeds"]
    }


# -- export ------------------------------------------------------------------------------------


def test_a_zip_is_a_garage_again_and_the_same_records_give_the_same_bytes(
    owned: Shop, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (owned.path / "rules.toml").write_text("# none yet\n")
    one, two = tmp_path / "one.zip", tmp_path / "two.zip"
    owned.must("export", str(one))
    owned.must("export", str(two))

    assert one.read_bytes() == two.read_bytes()
    assert stat.S_IMODE(one.stat().st_mode) == 0o600
    with zipfile.ZipFile(one) as archive:
        assert archive.namelist() == ["garage.json", "rules.toml", "vehicles/fallowmere.json"]
        archive.extractall(tmp_path / "restored")
    restored = Shop(tmp_path / "restored", capsys)
    assert restored("records", "--history").out == owned("records", "--history").out


def test_the_feed_secret_stays_here(owned: Shop, tmp_path: Path) -> None:
    owned.must("settings", "name=Quorrick Yard")
    owned.must("feed", "write", str(tmp_path))
    secret = next(
        each["set"]["feed_secret"]
        for each in json.loads((owned.path / "garage.json").read_text())["garage"]["garage"]["revs"]
        if "feed_secret" in each["set"]
    )
    owned.must("export", str(tmp_path / "one.zip"))

    with zipfile.ZipFile(tmp_path / "one.zip") as archive:
        inside = b"".join(archive.read(each) for each in archive.namelist())
    assert b"Quorrick Yard" in inside
    assert secret.encode() not in inside
    for words in (("records", "--history"), ("check",), ("settings",), ("settings", "--json")):
        assert secret not in owned(*words).out


def test_without_owner_leaves_owners_out_of_every_revision(owned: Shop, tmp_path: Path) -> None:
    owned.must("export", str(tmp_path / "one.zip"), "--without-owner")

    with zipfile.ZipFile(tmp_path / "one.zip") as archive:
        inside = b"".join(archive.read(each) for each in archive.namelist())
    assert not any(each in inside for each in PRIVATE)
    assert b"QX 4711" in inside


def test_a_car_alone_is_exported_by_naming_it(owned: Shop, tmp_path: Path) -> None:
    owned.must("add", "pim")
    owned.must("export", str(tmp_path / "pim.zip"), "pim")

    with zipfile.ZipFile(tmp_path / "pim.zip") as archive:
        assert archive.namelist() == ["garage.json", "vehicles/pim.json"]


def test_a_file_that_is_there_is_replaced_only_by_force(owned: Shop, tmp_path: Path) -> None:
    (tmp_path / "one.zip").write_text("a letter")

    refused = owned("export", str(tmp_path / "one.zip"))
    assert refused.code == 2
    assert (tmp_path / "one.zip").read_text() == "a letter"
    owned.must("export", str(tmp_path / "one.zip"), "--force")

    assert zipfile.is_zipfile(tmp_path / "one.zip")


def test_a_table_as_csv_opens_in_any_program(owned: Shop, tmp_path: Path) -> None:
    owned.must("reading", "fallow", "61700", "--note", '=SUM(A1), "quoted"')

    owned.must("export", str(tmp_path / "readings.csv"), "--table", "reading")

    data = (tmp_path / "readings.csv").read_bytes()
    lines = data.decode("utf-8-sig").split("\r\n")
    assert data.startswith(b"\xef\xbb\xbf")
    assert lines[0] == "vehicle,id,figure,on,unit,judged,note"
    assert lines[1].startswith("fallowmere,01a212e3-")
    assert lines[1].endswith(",61400,2026-11-04,mi,,")
    assert lines[3].endswith(',61700,2026-11-25,mi,,"\'=SUM(A1), ""quoted"""')
    assert lines[4] == ""


def test_an_unreadable_car_is_left_out_and_told(owned: Shop, tmp_path: Path) -> None:
    owned.must("add", "pim")
    (owned.path / "vehicles" / "pim.json").write_text("{")

    told = owned("export", str(tmp_path / "one.zip"), "--json")

    assert told.code == 2
    assert [each["file"] for each in told.json["left_out"]] == ["vehicles/pim.json"]
    assert told.json["vehicles"] == 1


# -- import ------------------------------------------------------------------------------------

CSV = 'on,figure,note\r\n2026-10-01,61000,first\r\n2026-10-15,"61,100",\'=odd\r\n'


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "readings.csv"
    path.write_text(CSV, newline="")
    return path


def readings(yard: Shop) -> list[tuple[int, str, str | None]]:
    found = [json.loads(line)["values"] for line in yard("records", "--table", "reading").lines]
    return sorted((each["figure"], each["on"], each.get("note")) for each in found)


def test_lines_come_in_as_one_change(yard: Shop, file: Path) -> None:
    before = readings(yard)

    told = yard.must("import", str(file), "--vehicle", "fallow")

    assert told.lines == ["imported 2 reading records; 0 are here already"]
    assert readings(yard) == [
        (61000, "2026-10-01", "first"),
        (61100, "2026-10-15", "=odd"),
        *before,
    ]
    yard.must("undo")
    assert readings(yard) == before


def test_the_same_file_again_adds_nothing(yard: Shop, file: Path) -> None:
    yard.must("import", str(file), "--vehicle", "fallow")
    before = yard("records", "--history").out

    told = yard.must("import", str(file), "--vehicle", "fallow", "--json")

    assert told.json["change"] is None
    assert yard("records", "--history").out == before


def test_what_was_exported_adds_nothing_when_it_comes_back(yard: Shop, tmp_path: Path) -> None:
    yard.must("export", str(tmp_path / "all.csv"), "--table", "reading")

    told = yard.must("import", str(tmp_path / "all.csv"))

    assert told.lines == ["imported 0 reading records; 2 are here already"]


def test_one_bad_line_stops_all_and_every_one_is_named(yard: Shop, file: Path) -> None:
    file.write_text(CSV + "2027-01-01,61200,\r\n2026-13-01,abc,\r\n2026-10-20,9999999,\r\n")
    before = yard("records", "--history").out

    told = yard("import", str(file), "--vehicle", "fallow")

    assert told.code == 2
    assert [each.split(": ")[1] for each in told.faults] == [
        f"{file} line 4, on",
        f"{file} line 5, on",
        f"{file} line 5, figure",
        f"{file} line 6, figure",
    ]
    assert yard("records", "--history").out == before


def test_a_dry_run_shows_and_saves_nothing(yard: Shop, file: Path) -> None:
    before = yard("records", "--history").out

    told = yard.must("import", str(file), "--vehicle", "fallow", "--dry-run")

    assert told.lines[0].startswith("line 2  fallowmere  ")
    assert told.lines[-1] == "would import 2 reading records; 0 are here already"
    assert yard("records", "--history").out == before


def test_a_column_of_another_name_is_mapped_or_left_out(yard: Shop, file: Path) -> None:
    file.write_text("Date,Miles,Pump\n2026-10-01,61000,3\n")

    refused = yard("import", str(file), "--vehicle", "fallow")
    assert refused.code == 2
    assert len(refused.faults) == 3
    yard.must(
        "import", str(file), "--vehicle", "fallow",
        "--map", "Date=on", "--map", "Miles=figure", "--map", "Pump=",
    )  # fmt: skip

    assert (61000, "2026-10-01", None) in readings(yard)


def test_each_line_may_tell_its_car(yard: Shop, file: Path) -> None:
    yard.must("add", "pim", "--unit", "km")
    file.write_text("vehicle;on;figure\npim;2026-10-01;84000\nfallow;2026-10-01;61000\n")

    yard.must("import", str(file))

    figures = [json.loads(line)["values"] for line in yard("records", "pim").lines]
    assert {"figure": 84000, "on": "2026-10-01", "unit": "km"} in figures


def test_a_record_that_could_not_be_used_is_refused(yard: Shop, file: Path) -> None:
    file.write_text("name,from\nmoon dust,2026-10-01\n")

    told = yard("import", str(file), "--vehicle", "fallow", "--table", "exposure")

    assert told.code == 2
    assert f"{file} line 2: name" in told.err


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "has no head line"),
        (b"on,figure\n\xff,1\n", "is not UTF-8 text"),
        (b'on,figure\n"2026-10-01,1\n', "cannot be read"),
        (b"on,figure\n2026-10-01\n", "has 1 cells, the head has 2"),
    ],
)
def test_what_is_no_csv_is_refused(yard: Shop, file: Path, data: bytes, what: str) -> None:
    file.write_bytes(data)

    told = yard("import", str(file), "--vehicle", "fallow")

    assert told.code == 2
    assert what in told.err


def test_a_missing_file_is_told(yard: Shop, tmp_path: Path) -> None:
    told = yard("import", str(tmp_path / "no.csv"), "--vehicle", "fallow")

    assert told.code == 2
    assert "is not there" in told.err
