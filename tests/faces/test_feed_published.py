"""Feeds that keep themselves: published targets, base, addresses and their end; all invented."""

import json
import shutil
from collections.abc import Callable
from datetime import date, timedelta
from itertools import count
from pathlib import Path
from threading import Event
from typing import Any

import pytest

from castlenut.feed.week import monday_of
from castlenut.garage.feeds.keeper import Keeper
from castlenut.garage.garage import Surroundings, open_garage
from tests.faces.shop import NOW, TODAY, Shop
from tests.feed.raw import assert_sound, events, plain

WEDNESDAY = date.fromisoformat(TODAY)


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = Shop(tmp_path_factory.mktemp("made"), count(1))
    made.does("add", "millrace", "--description", "Wendlecot Millrace", "--owner", "Ada Fennimore")
    made.does("reading", "millrace", "48318", "--on", "2026-11-09")
    made.does("fit", "millrace", "brake fluid", "--on", "2025-12-01", "--at", "47000")
    made.does("feed", "address")
    return made.folder


@pytest.fixture
def shop(tmp_path: Path, made_once: Path) -> Shop:
    """Give a garage of one car, a copy for this test alone."""
    shutil.copytree(made_once, tmp_path / "shop")
    return Shop(tmp_path, count(10_000))


@pytest.fixture
def web(tmp_path: Path) -> Path:
    folder = tmp_path / "web"
    folder.mkdir()
    return folder


def told(shop: Shop, *words: str) -> Any:  # noqa: ANN401 - each command has a structure of its own
    return json.loads(shop.does("feed", *words, "--json"))


def only_file(folder: Path) -> Path:
    (found,) = folder.iterdir()
    return found


def titles(path: Path) -> list[str]:
    data = path.read_bytes()
    assert_sound(data)
    return [plain(each["SUMMARY"]) for each in events(data)]


# published targets


def test_a_published_folder_holds_the_feed_under_its_secret_name(shop: Shop, web: Path) -> None:
    answer = told(shop, "publish", str(web))

    (target,) = answer["targets"]
    assert {**target, "written": target["written"][:4]} == {
        "path": str(web),
        "feed": "garage",
        "subject": None,
        "written": "2026",
        "fault": None,
    }
    assert len(only_file(web).stem) == 32
    assert titles(only_file(web)) == ["Wendlecot Millrace: brake fluid, renew"]


def test_every_save_brings_it_up_to_date(shop: Shop, web: Path) -> None:
    shop.does("feed", "publish", str(web))

    shop.does("done", "millrace", "brake-fluid")

    shop.does("feed", "write", str(shop.outside / "now.ics"))
    assert only_file(web).read_bytes() == (shop.outside / "now.ics").read_bytes()


def test_a_save_that_changes_no_date_touches_nothing(shop: Shop, web: Path) -> None:
    shop.does("feed", "publish", str(web))
    before = only_file(web).stat().st_mtime_ns

    shop.does("correct", "millrace", "vehicle", "plate=WDL 47")

    assert only_file(web).stat().st_mtime_ns == before


def test_one_that_cannot_be_written_hinders_no_other_and_no_save(
    shop: Shop, web: Path, tmp_path: Path
) -> None:
    gone = tmp_path / "stick"
    gone.mkdir()
    shop.does("feed", "publish", str(gone), "--vehicle", "millrace")
    shop.does("feed", "publish", str(web))
    shutil.rmtree(gone)

    saved = shop.run("done", "millrace", "brake-fluid", "--at", "48380")

    assert (saved.returncode, saved.stderr) == (0, "")
    shop.does("feed", "write", str(shop.outside / "now.ics"))
    assert only_file(web).read_bytes() == (shop.outside / "now.ics").read_bytes()
    assert not gone.exists()
    by_path = {each["path"]: each["fault"] for each in told(shop, "publish")["targets"]}
    assert by_path == {str(gone): "the folder is gone", str(web): None}


def test_what_is_in_the_way_is_told_and_stays(shop: Shop, web: Path) -> None:
    path = web / "car.ics"
    shop.does("feed", "publish", str(path))
    path.unlink()
    path.mkdir()
    (path / "kept").write_text("x", encoding="ascii")

    shop.does("done", "millrace", "brake-fluid")

    assert (path / "kept").read_text(encoding="ascii") == "x"


def test_a_folder_of_another_machine_is_left_alone_and_is_no_fault(
    shop: Shop, tmp_path: Path
) -> None:
    there = tmp_path / "there"
    there.mkdir()
    shop.does("feed", "publish", str(there))
    shutil.rmtree(there)
    elsewhere = Shop(tmp_path, count(20_000), device="dev-other")

    elsewhere.does("done", "millrace", "brake-fluid")

    (target,) = told(elsewhere, "publish")["targets"]
    assert target["fault"] == "not on this machine"
    assert not there.exists()


def test_a_target_that_is_stopped_stays_as_it_is(shop: Shop, web: Path) -> None:
    shop.does("feed", "publish", str(web))
    before = only_file(web).read_bytes()

    shop.does("feed", "publish", str(web), "--stop")
    shop.does("done", "millrace", "brake-fluid")

    assert only_file(web).read_bytes() == before
    assert told(shop, "publish") == {"targets": []}
    assert "castlenut feed publish PATH begins it" in shop.does("feed", "publish")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ("publish", "{web}/none"),
            "{web}/none: is no folder and no calendar file; name one that ends in .ics",
        ),
        (("publish", "{web}", "--stop"), "{web}: is no published target; published: nothing is"),
        (("publish", "--stop"), "feed publish: PATH is missing; name a folder or a file .ics"),
        (("publish", "{garage}/garage.json"), "is no folder and no calendar file"),
        (("publish", "{garage}/vehicles"), "belongs to the garage's record; choose another file"),
        (("publish", "{web}", "--vehicle", "zebra"), "no vehicle 'zebra'"),
        (("base", "example.org"), '"example.org" is not the address of a folder on the web'),
        (("base", "ftp://example.org/x"), "is not the address of a folder on the web"),
        (("base", "https://example.org/x?y=1"), "is not the address of a folder on the web"),
        (("base", "https://"), "is not the address of a folder on the web"),
        (("base", "http://[::1/x"), "is not the address of a folder on the web"),
        (("address", "--port", "none"), '--port: "none" is no port'),
    ],
)
def test_bad_input_is_one_sentence_and_changes_nothing(
    shop: Shop, web: Path, words: tuple[str, ...], sentence: str
) -> None:
    before = (shop.folder / "garage.json").read_bytes()
    filled = [word.format(web=web, garage=shop.folder) for word in words]

    done = shop.run("feed", *filled)

    assert (done.returncode, done.stdout) == (2, "")
    assert sentence.format(web=web) in done.stderr
    assert done.stderr.count("\n") == 1
    assert (shop.folder / "garage.json").read_bytes() == before
    assert list(web.iterdir()) == []


def test_the_keeper_writes_at_its_start_and_when_the_week_turns(shop: Shop, web: Path) -> None:
    shop.does("intake", "millrace", "--from", "-", typed="engine oil - stated 2024-01-01 40000\n")
    shop.does("feed", "publish", str(web))
    path = only_file(web)
    path.unlink()
    days = iter([WEDNESDAY, WEDNESDAY + timedelta(days=7)])
    day, turned = [next(days)], Event()
    garage = open_garage(shop.folder, _surroundings(WEDNESDAY))

    def today() -> date:
        if path.exists() and not turned.is_set():
            turned.set()
            day[0] = next(days)
        return day[0]

    keeper = Keeper(garage, today=today, log=pytest.fail, look_seconds=0.01)

    keeper.start()
    _wait_for(lambda: path.exists() and _monday(path) == monday_of(WEDNESDAY) + timedelta(days=7))
    keeper.close()

    assert len([each for each in titles(path) if "overdue" in each]) == 1


def _monday(path: Path) -> date | None:
    banners = [each for each in events(path.read_bytes()) if each["CATEGORIES"] == "Open work"]
    start = banners[0]["DTSTART"] if banners else None
    return date.fromisoformat(start) if start else None


def _wait_for(is_so: Callable[[], bool]) -> None:
    pause = Event()
    for _ in range(1000):
        if is_so():
            return
        pause.wait(0.02)
    pytest.fail("it did not come to pass in 20 s")


def _surroundings(today: date) -> Surroundings:
    ids = count(90_000)
    return Surroundings(
        today=today,
        now=lambda: NOW,
        new_id=lambda: f"01a212e3-56cb-7000-8000-{next(ids):012x}",
        draw=bytes,
        device=lambda: "dev-test01",
        command="test",
    )


# base and addresses


def test_addresses_are_under_the_base_once_there_is_one(shop: Shop, web: Path) -> None:
    shop.does("feed", "publish", str(web))

    shop.does("feed", "base", "https://example.org/calendars/")

    (first, *_) = told(shop, "address")["feeds"]
    assert first == {
        "feed": "garage",
        "subject": None,
        "address": f"https://example.org/calendars/{only_file(web).name}",
        "webcal": f"webcal://example.org/calendars/{only_file(web).name}",
        "public": True,
        "events": 1,
        "until": "2027-11-30",
    }
    assert told(shop, "base") == {"base": "https://example.org/calendars"}
    assert told(shop, "base", "--none") == {"base": None}
    assert told(shop, "address")["feeds"][0]["public"] is False


def test_every_feed_has_an_address_of_its_own(shop: Shop) -> None:
    shop.does("feed", "base", "https://example.org")

    found = told(shop, "address")["feeds"]

    assert [(each["feed"], each["subject"]) for each in found] == [
        ("garage", None),
        ("vehicle", "millrace"),
        ("owner", "Ada Fennimore"),
    ]
    assert len({each["address"] for each in found}) == 3


def test_a_local_address_says_what_reaches_it(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    where = "castlenut.garage.feeds.network.own_address"
    monkeypatch.setattr(where, lambda: "192.0.2.7")

    out = shop.does("feed", "address", "--vehicle", "millrace", "--port", "8800")

    lines = out.splitlines()
    assert lines[0] == "feed of millrace: 1 event, to 2028-05-31"
    assert lines[1].startswith("  http://192.0.2.7:8800/")
    assert lines[1].endswith("/vehicle.ics")
    assert lines[2] == lines[1].replace("http:", "webcal:")
    assert "castlenut feed serve --lan" in out
    assert "fixed address in the router" in out
    assert "fetch from their own servers" in out


def test_a_computer_in_no_network_says_so(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("castlenut.garage.feeds.network.own_address", lambda: None)

    out = shop.does("feed", "address", "--owner", "ada")

    assert out.splitlines()[0] == "feed of Ada Fennimore: 20 events, to 2028-05-31"
    assert "this computer is in no network" in out
    assert told(shop, "address")["feeds"][0]["address"] is None


# their end


def test_an_ended_address_gets_a_new_name_in_the_folder_and_the_old_file_goes(
    shop: Shop, web: Path
) -> None:
    shop.does("feed", "publish", str(web), "--vehicle", "millrace")
    old = only_file(web)
    data = old.read_bytes()

    done = shop.run("feed", "revoke", "--vehicle", "millrace")

    assert done.returncode == 0
    assert "stays there until they unsubscribe" in done.stderr
    assert not old.exists()
    assert only_file(web).read_bytes() == data


def test_ending_one_address_leaves_the_others(shop: Shop) -> None:
    shop.does("feed", "base", "https://example.org")
    before = [each["address"] for each in told(shop, "address")["feeds"]]

    shop.does("feed", "revoke", "--owner", "ada")

    after = [each["address"] for each in told(shop, "address")["feeds"]]
    assert after[:2] == before[:2]
    assert after[2] != before[2]


def test_revoke_alone_ends_them_all_and_tells_the_new_ones(shop: Shop, web: Path) -> None:
    shop.does("feed", "base", "https://example.org")
    shop.does("feed", "publish", str(web))
    before = {each["address"] for each in told(shop, "address")["feeds"]}
    old = only_file(web)
    shop.redraw()

    new = {each["address"] for each in told(shop, "revoke")["feeds"]}

    assert len(new) == 3
    assert not new & before
    assert not old.exists()
    assert only_file(web).name in {each.rpartition("/")[2] for each in new}
