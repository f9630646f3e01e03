"""The desktop's calendar store (Evolution Data Server) subscribed to the running server.

It fetches over HTTP by itself, keeps what it fetched, and hands it to every calendar program of
the desktop. Debian's packages evolution-data-server, gir1.2-ecal-2.0 and python3-gi; where one is
missing the test is skipped, and says so. The garage is the sample fleet, which is invented.
"""

import json
import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic, sleep

import icalendar
import pytest

from tests.faces.installed import Bench, bench
from tests.faces.serving import Served, serving, target_of

TODAY = "2026-12-16"
SAMPLE_FLEET = Path(__file__).parents[2] / "sample_fleet"
READER = Path(__file__).with_name("evolution_reader.py")
SYSTEM_PYTHON = "/usr/bin/python3"
SECONDS_TO_SETTLE = 30

Entry = tuple[str, str, str, str]
"""UID, first day, day after the last, title."""


def is_installed() -> bool:
    return all(
        (
            shutil.which("dbus-run-session"),
            Path("/usr/libexec/evolution-calendar-factory").exists(),
            Path("/usr/lib/python3/dist-packages/gi").exists(),
            [*Path("/usr/lib").glob("*/girepository-1.0/ECal-2.0.typelib")],
        )
    )


class Desktop:
    """The calendar store with one subscription, in a home and a session of its own."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process

    def _ask(self, line: str) -> object:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(line + "\n")
        self._process.stdin.flush()
        return json.loads(self._process.stdout.readline())

    def shown(self) -> list[Entry]:
        entries = self._ask("list")
        assert isinstance(entries, list)
        return sorted((uid, begin, end, title) for uid, begin, end, title in entries)

    def refreshed(self, served: list[Entry]) -> list[Entry]:
        """Fetch, and give what is shown once it is what is served, or after the time given."""
        assert self._ask("refresh") is True
        ends = monotonic() + SECONDS_TO_SETTLE
        while (found := self.shown()) != served and monotonic() < ends:
            sleep(0.2)
        return found


@contextmanager
def desktop(folder: Path, port: int, target: str) -> Iterator[Desktop]:
    home, run = folder / "desktop", folder / "run"
    sources = home / ".config" / "evolution" / "sources"
    sources.mkdir(parents=True)
    run.mkdir(mode=0o700)
    (sources / "due.source").write_text(
        "[Data Source]\nDisplayName=Due\nEnabled=true\nParent=webcal-stub\n"
        "[Calendar]\nBackendName=webcal\n"
        f"[Authentication]\nHost=127.0.0.1\nPort={port}\nMethod=none\n"
        f"[Security]\nMethod=none\n[WebDAV Backend]\nResourcePath={target}\n"
        "[Offline]\nStaySynchronized=true\n[Refresh]\nEnabled=false\n",
        encoding="ascii",
    )
    with (
        (folder / "desktop.log").open("w") as log,
        subprocess.Popen(
            ("dbus-run-session", "--", SYSTEM_PYTHON, "-I", str(READER), "due"),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
            env={
                "PATH": os.environ["PATH"],
                "HOME": str(home),
                "XDG_RUNTIME_DIR": str(run),
                "GSETTINGS_BACKEND": "memory",
                "GIO_USE_NETWORK_MONITOR": "base",  # no network manager need run
                "LC_ALL": "C.UTF-8",
            },
        ) as process,
    ):
        yield Desktop(process)


def served_now(server: Served, target: str) -> list[Entry]:
    calendar = icalendar.Calendar.from_ical(server.ask(target).body)
    return sorted(
        (
            str(event["UID"]),
            f"{event.start:%Y%m%d}",
            f"{event.end:%Y%m%d}",
            str(event["SUMMARY"]),
        )
        for event in calendar.events
    )


def told_apart(before: list[Entry], after: list[Entry]) -> tuple[set[str], set[str], set[str]]:
    """Give the titles and first days of what left, and of what came, and the UIDs of what moved."""
    old, new = ({each[0]: each for each in entries} for entries in (before, after))
    assert (len(old), len(new)) == (len(before), len(after)), "an entry is doubled"
    return (
        {f"{old[uid][1]} {old[uid][3]}" for uid in old.keys() - new.keys()},
        {f"{new[uid][1]} {new[uid][3]}" for uid in new.keys() - old.keys()},
        {uid for uid in old.keys() & new.keys() if old[uid][1] != new[uid][1]},
    )


@pytest.mark.long
@pytest.mark.skipif(
    not is_installed(), reason="evolution-data-server and its Python bindings are not installed"
)
def test_the_desktop_shows_what_is_done_moved_and_read_once(tmp_path: Path) -> None:
    """A job ends its entry and begins the next; its day corrected moves one; a reading some."""
    shop = bench(tmp_path)
    shutil.copytree(SAMPLE_FLEET, shop.garage)
    target = target_of(shop, TODAY)
    with serving(shop, TODAY) as server, desktop(tmp_path, server.port, target) as at_desk:
        first = served_now(server, target)
        subscribed = at_desk.refreshed(first)

        job = changed(shop, "done", "kestrin-fellside", "booster-test")
        done = at_desk.refreshed(served_now(server, target))

        changed(shop, "correct", "kestrin-fellside", job, "on=2026-11-28")
        corrected = at_desk.refreshed(served_now(server, target))

        changed(shop, "reading", "brantholm-cobblegate", "+700")
        last = served_now(server, target)
        read = at_desk.refreshed(last)

    assert subscribed == first
    assert told_apart(subscribed, done) == (
        {"20270608 Kestrin Fellside: brake booster, test"},
        {"20271216 Kestrin Fellside: brake booster, test"},
        set(),
    )
    left, came, moved = told_apart(done, corrected)
    assert (left, came, len(moved)) == (set(), set(), 1)
    assert [each[1] for each in corrected if each[0] in moved] == ["20271128"]
    left, came, moved = told_apart(corrected, read)
    assert (left, came) == (set(), set())
    assert moved
    assert read == last


def changed(shop: Bench, *words: str) -> str:
    """Save a change, and give the id of its record."""
    answer = shop(TODAY, *words, "--json")
    assert answer.code == 0, answer.err
    return str(answer.json()["records"][0]["id"])
