"""The feed as a file, through the installed command: written, left alone, and never half."""

import json
import os
import re
import shutil
import subprocess
import sys
from itertools import count
from pathlib import Path

import pytest

from tests.faces.shop import TODAY, Shop
from tests.feed.raw import events, header, plain


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = Shop(tmp_path_factory.mktemp("made"), count(1))
    made.does(
        *("add", "millrace", "--description", "Wendlecot Millrace", "--year", "1966"),
        *("owner=Rufus Penhallick-Gray", "phone=555 0177", "plate=WDL 47"),
    )
    made.does(
        *("add", "quayside", "--description", "Dunnard Quayside", "--year", "1959"),
        "owner=Mirela Dussault",
    )
    made.does("settings", "name=Penmarrow Garage", "telephone=555 0142")
    made.does("reading", "millrace", "47318", "--on", "2026-08-01")
    made.does("reading", "millrace", "48318", "--on", "2026-11-09")
    made.does("fit", "millrace", "wheel bearing", "LF,RF", "--on", "2026-08-02", "--at", "47320")
    made.does("intake", "millrace", "--from", "-", typed="engine oil - stated 2026-03-01 45000\n")
    made.does("intake", "quayside", "--from", "-", typed="coolant - stated 2025-12-01 -\n")
    return made.folder


@pytest.fixture
def shop(tmp_path: Path, made_once: Path) -> Shop:
    """Give a garage of two cars, a copy for this test alone."""
    shutil.copytree(made_once, tmp_path / "shop")
    return Shop(tmp_path, count(10_000))


def titles(data: bytes) -> list[str]:
    return [plain(each["SUMMARY"]) for each in events(data)]


def by_uid(data: bytes) -> dict[str, dict[str, str]]:
    return {each["UID"]: each for each in events(data)}


def test_the_garages_feed_holds_every_car_and_no_owner(shop: Shop) -> None:
    data = shop.feed()

    assert "NAME:Penmarrow Garage – due" in header(data)  # noqa: RUF001
    assert any(title.startswith("Wendlecot Millrace: engine oil") for title in titles(data))
    assert any(title.startswith("Dunnard Quayside: coolant") for title in titles(data))
    whole = data.replace(b"\r\n ", b"")
    for private in (b"Penhallick", b"Dussault", b"555 0177", b"WDL 47"):
        assert private not in whole


def test_the_feed_of_a_car_and_of_an_owner_hold_their_own_alone(shop: Shop) -> None:
    vehicle = titles(shop.feed("--vehicle", "quay", name="vehicle.ics"))
    owner = titles(shop.feed("--owner", "rufus", name="owner.ics"))

    assert vehicle
    assert all(title.startswith("Dunnard Quayside: ") for title in vehicle)
    assert owner
    assert all(title.startswith("Wendlecot Millrace: ") for title in owner)


def test_an_owner_nobody_knows_is_named_with_the_nearest(shop: Shop) -> None:
    done = shop.run(
        "feed", "write", str(shop.outside / "x.ics"), "--owner", "Rufos Penhallick-Gray"
    )

    assert done.returncode == 2
    assert "no owner 'Rufos Penhallick-Gray'" in done.stderr
    assert "Rufus Penhallick-Gray" in done.stderr
    assert not (shop.outside / "x.ics").exists()


def test_a_second_write_touches_nothing_and_says_so(shop: Shop) -> None:
    path = shop.outside / "feed.ics"
    shop.feed()
    before = path.stat(), (shop.folder / "feed.json").stat()

    told = shop.does("feed", "write", str(path))

    assert told.startswith("unchanged")
    after = path.stat(), (shop.folder / "feed.json").stat()
    assert [(each.st_ino, each.st_mtime_ns) for each in after] == [
        (each.st_ino, each.st_mtime_ns) for each in before
    ]


def test_every_day_of_a_week_gives_the_same_file(shop: Shop) -> None:
    """The latest record is of 9 November, so the week of the 23rd is reckoned for its Monday."""
    first = shop.feed(today="2026-11-23")

    for day in ("2026-11-25", "2026-11-29"):
        assert shop.feed(today=day) == first


def test_nothing_changed_loads_no_calendar_library(shop: Shop) -> None:
    path = shop.outside / "feed.ics"
    shop.feed()
    script = (
        "import sys\n"
        "from castlenut.__main__ import main\n"
        "try:\n"
        "    code = main()\n"
        "except SystemExit as left:\n"
        "    code = left.code\n"
        "heavy = {'icalendar', 'textual', 'filelock', 'uuid6'} & set(sys.modules)\n"
        "print(code or 0, sorted(heavy))\n"
    )

    done = subprocess.run(
        [sys.executable, "-c", script, "--garage", str(shop.folder), "--today", TODAY,
         "feed", "write", str(path)],
        capture_output=True, text=True, check=True,
        env={**os.environ, "CASTLENUT_DEVICE": "dev-test01"},
    )  # fmt: skip

    assert done.stdout.splitlines()[-1] == "0 []"


def test_json_tells_path_bytes_events_until_and_changed(shop: Shop) -> None:
    path = shop.outside / "feed.ics"

    first = json.loads(shop.does("feed", "write", str(path), "--json"))
    second = json.loads(shop.does("feed", "write", str(path), "--json"))

    assert first == {
        "path": str(path),
        "bytes": path.stat().st_size,
        "events": len(events(path.read_bytes())),
        "until": "2027-11-30",
        "changed": True,
    }
    assert second == {**first, "changed": False}


def test_in_a_folder_the_file_has_a_secret_name_that_stays(shop: Shop) -> None:
    shop.does("feed", "write", str(shop.outside))
    shop.does("feed", "write", str(shop.outside))
    shop.does("feed", "write", str(shop.outside), "--vehicle", "millrace")

    names = sorted(each.name for each in shop.outside.iterdir())
    assert len(names) == 2
    assert all(re.fullmatch(r"[0-9a-f]{32}\.ics", name) for name in names)


def test_the_secret_is_shown_by_nothing(shop: Shop) -> None:
    shop.does("feed", "write", str(shop.outside))
    garage = (shop.folder / "garage.json").read_text()
    found = re.search(r'"feed_secret":"([0-9a-f]{64})"', garage)
    assert found is not None

    shown = (
        shop.does("settings", "--json") + shop.does("records") + shop.does("records", "--history")
    )

    assert found[1] not in shown
    assert not any(found[1] in each.read_text() for each in shop.outside.iterdir())
    assert found[1] not in (shop.folder / "feed.json").read_text()


def test_a_link_is_followed_and_stays_a_link(shop: Shop) -> None:
    real = shop.outside / "real.ics"
    real.write_bytes(b"old")
    (shop.outside / "link.ics").symlink_to(real)

    data = shop.feed(name="link.ics")

    assert (shop.outside / "link.ics").is_symlink()
    assert real.read_bytes() == data


def test_a_place_that_cannot_be_written_is_one_sentence_and_leaves_nothing(shop: Shop) -> None:
    done = shop.run("feed", "write", str(shop.outside / "no such folder" / "feed.ics"))

    assert done.returncode == 3
    assert len(done.stderr.strip().splitlines()) == 1
    assert list(shop.outside.iterdir()) == []


@pytest.mark.parametrize("name", ["garage.json", "feed.json", "vehicles/millrace.json"])
def test_a_file_of_the_record_is_never_written_over(shop: Shop, name: str) -> None:
    shop.feed()
    before = (shop.folder / name).read_bytes()

    done = shop.run("feed", "write", str(shop.folder / name))

    assert done.returncode == 2
    assert (shop.folder / name).read_bytes() == before


def test_a_device_is_no_place_for_a_feed(shop: Shop) -> None:
    """It would be replaced by a file, for everybody on the machine."""
    pipe = shop.outside / "pipe"
    os.mkfifo(pipe)

    done = shop.run("feed", "write", str(pipe))

    assert done.returncode == 2
    assert pipe.is_fifo()


def test_a_damaged_car_keeps_its_dates_and_is_told(shop: Shop) -> None:
    before = shop.feed()
    (shop.folder / "vehicles" / "quayside.json").write_text("{", encoding="utf-8")

    done = shop.run("feed", "write", str(shop.outside / "feed.ics"))

    assert done.returncode == 0
    assert "quayside" in done.stderr
    kept = by_uid((shop.outside / "feed.ics").read_bytes())
    of_car = {uid for uid, each in by_uid(before).items() if "Quayside" in each["SUMMARY"]}
    assert of_car
    assert of_car <= set(kept)


def test_a_damaged_car_asked_for_by_name_is_refused_and_its_file_stays(shop: Shop) -> None:
    before = shop.feed("--vehicle", "quayside")
    (shop.folder / "vehicles" / "quayside.json").write_text("{", encoding="utf-8")

    done = shop.run("feed", "write", str(shop.outside / "feed.ics"), "--vehicle", "quayside")

    assert done.returncode == 2
    assert (shop.outside / "feed.ics").read_bytes() == before


@pytest.mark.parametrize("damage", ["", "{", '{"events": {"a": {"start": 4}}}'])
def test_a_damaged_ledger_is_set_aside_and_made_anew(shop: Shop, damage: str) -> None:
    before = by_uid(shop.feed())
    (shop.folder / "feed.json").write_text(damage, encoding="utf-8")

    done = shop.run("feed", "write", str(shop.outside / "feed.ics"))

    assert done.returncode == 0
    assert "feed.json: damaged" in done.stderr
    after = by_uid((shop.outside / "feed.ics").read_bytes())
    assert set(after) == set(before)
    assert all(int(after[uid]["SEQUENCE"]) >= int(before[uid]["SEQUENCE"]) for uid in before)
    kept = list((shop.folder / ".castlenut" / "damaged").iterdir())
    assert [each.read_text() for each in kept] == [damage]


def test_a_lost_ledger_gives_the_same_events(shop: Shop) -> None:
    before = by_uid(shop.feed())
    (shop.folder / "feed.json").unlink()

    after = by_uid(shop.feed())

    assert set(after) == set(before)


def test_what_is_done_leaves_and_comes_back_when_that_is_struck(shop: Shop) -> None:
    def oil(data: bytes) -> dict[str, str]:
        (found,) = [
            each
            for each in events(data)
            if each["SUMMARY"].startswith("Wendlecot Millrace: engine")
        ]
        return found

    before = oil(shop.feed())
    saved = json.loads(shop.does("done", "millrace", "oil", "--on", "2026-11-24", "--json"))
    done = oil(shop.feed())
    job = next(each["id"] for each in saved["records"] if each["table"] == "job")
    shop.does("strike", "millrace", job)
    back = oil(shop.feed())

    assert done["UID"] != before["UID"]
    assert back["UID"] == before["UID"]
    assert int(back["SEQUENCE"]) > int(before["SEQUENCE"])


def test_a_reading_changes_no_uid_and_no_other_car(shop: Shop) -> None:
    before = by_uid(shop.feed())

    shop.does("reading", "millrace", "48350", "--on", "2026-11-24")

    after = by_uid(shop.feed())
    assert set(after) == set(before)
    for uid, each in before.items():
        if "Quayside" in each["SUMMARY"]:
            assert after[uid] == each


def test_renaming_a_car_keeps_its_events(shop: Shop) -> None:
    before = set(by_uid(shop.feed()))

    shop.does("correct", "millrace", "vehicle", "description=Old Red")

    after = by_uid(shop.feed())
    assert set(after) == before
    assert any(each["SUMMARY"].startswith("Old Red: ") for each in after.values())


def test_an_empty_garage_says_nothing_due(tmp_path: Path) -> None:
    shop = Shop(tmp_path, count(1))
    shop.does("add", "bare", "--description", "Bare Car")

    assert titles(shop.feed()) == ["Nothing due"]
