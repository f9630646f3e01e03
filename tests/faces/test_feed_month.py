"""A published feed over a month of work at the bench, as a phone that fetches it every day sees it.

The car, its owner and all that is done to it are invented.
"""

from collections.abc import Mapping
from datetime import date, timedelta
from itertools import count
from pathlib import Path

import pytest

from tests.faces.shop import Shop
from tests.feed.raw import assert_sound, events, plain

BEGIN = date(2026, 11, 25)
OPEN_WORK = " on 1 car"
"""The title of the one event that tells what is open: it moves with the week, as it should."""
BRAKE_FLUID, BELTS, OIL, FROST = (
    f"Wendlecot Millrace: {each}"
    for each in (
        "brake fluid, renew",
        "drive belts, look and set",
        "engine oil, renew",
        "coolant, test for frost",
    )
)
Step = tuple[int, tuple[str, ...], list[str], list[str]]
MONTH: tuple[Step, ...] = (
    (0, ("reading", "millrace", "48400"), [], []),
    # its next point lies past the year ahead that a feed shows
    (2, ("done", "millrace", "brake-fluid", "--at", "48460"), [BRAKE_FLUID], []),
    (5, ("reading", "millrace", "48560"), [], []),
    (6, ("fit", "millrace", "drive belt", "--at", "48570"), [], [BELTS]),
    (9, ("reading", "millrace", "48700"), [], []),
    # the test for frost was due on 31 October 2025: more than 400 days ago it leaves the feed
    (12, ("done", "millrace", "oil", "--at", "48790"), [FROST, OIL], [OIL]),
    (13, ("correct", "millrace", "vehicle", "plate=WDL 47"), [], []),
    (16, ("reading", "millrace", "48910"), [], []),
    (19, ("decline", "millrace", "coolant-green", "--who", "Ada Fennimore"), [], []),
    (20, ("reading", "millrace", "49020"), [], []),
    (23, ("undo", "millrace"), [], []),
    (26, ("reading", "millrace", "49240"), [], []),
    (29, ("reading", "millrace", "49330"), [], []),
)
"""By day of the month what is saved, which events leave by it and which come."""


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """Give a garage of one car with parts that fall due by date and by distance."""
    made = Shop(tmp_path, count(1))
    made.does("add", "millrace", "--description", "Wendlecot Millrace", "--owner", "Ada Fennimore")
    made.does("reading", "millrace", "45100", "--on", "2026-01-09")
    made.does("reading", "millrace", "48318", "--on", "2026-11-09")
    for part, on, at in (
        ("brake fluid", "2025-01-10", "43000"),
        ("engine oil", "2026-08-01", "47300"),
        ("coolant", "2024-12-20", "42700"),
        ("battery", "2023-05-02", "38000"),
    ):
        made.does("fit", "millrace", part, "--on", on, "--at", at)
    return made


def phone(folder: Path) -> Mapping[str, tuple[str, str]]:
    """Give what a phone holds after fetching: by UID the day and the title; none twice."""
    (file,) = folder.iterdir()
    data = file.read_bytes()
    assert_sound(data)
    found = [(plain(each["UID"]), each) for each in events(data)]
    assert len({uid for uid, _ in found}) == len(found)
    return {uid: (each["DTSTART"], plain(each["SUMMARY"])) for uid, each in found}


def test_a_phone_sees_each_change_once_and_loses_nothing(shop: Shop, tmp_path: Path) -> None:
    web = tmp_path / "web"
    web.mkdir()
    shop.does("feed", "publish", str(web))
    before = dict(phone(web))
    moved: dict[str, int] = {}

    for day, words, gone, come in MONTH:
        today = (BEGIN + timedelta(days=day)).isoformat()
        shop.does(*words, today=today)
        now = dict(phone(web))

        # current after each save: written anew it is the same
        shop.does("feed", "write", str(shop.outside / "now.ics"), today=today)
        (file,) = web.iterdir()
        assert file.read_bytes() == (shop.outside / "now.ics").read_bytes()
        assert sorted(before[uid][1] for uid in before.keys() - now.keys()) == gone
        assert sorted(now[uid][1] for uid in now.keys() - before.keys()) == come
        for uid in before.keys() & now.keys():
            if before[uid][0] != now[uid][0] and not now[uid][1].endswith(OPEN_WORK):
                moved[now[uid][1]] = moved.get(now[uid][1], 0) + 1
        before = now

    # of six readings none moved an event more than once
    assert all(times <= 1 for times in moved.values()), moved
