"""Calendar programs that subscribe to the running server: what they show after a change.

vdirsyncer fetches over HTTP and khal shows what it fetched; calcurse reads what was served. All are
Debian's packages; where one is missing its test is skipped, and says so.
"""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.faces.installed import Bench, bench
from tests.faces.serving import serving, target_of

TODAY = "2026-11-25"
needs_khal = pytest.mark.skipif(
    not (shutil.which("vdirsyncer") and shutil.which("khal")),
    reason="vdirsyncer and khal are not installed",
)
needs_calcurse = pytest.mark.skipif(
    not shutil.which("calcurse"), reason="calcurse is not installed"
)


@pytest.fixture
def shop(tmp_path: Path) -> Bench:
    """Make a garage of one invented car with two jobs to come."""
    at = bench(tmp_path)
    for words in (
        ("add", "fallow", "--description", "Fallow wagon"),
        ("reading", "fallow", "41200", "--on", "2026-11-01"),
        ("fit", "fallow", "brake fluid", "--on", "2026-03-01", "--at", "40000"),
        ("fit", "fallow", "brake hose", "front", "--on", "2022-03-01", "--at", "39000"),
    ):
        done = at(TODAY, *words)
        assert done.code == 0, done.err
    return at


_JOBS = ("renew", "renew front")


class Subscriber:
    """vdirsyncer with one subscription, in a home of its own, and khal over what it fetched."""

    def __init__(self, home: Path, url: str) -> None:
        self.home = home / "subscriber"
        self.events = self.home / "events"
        self.events.mkdir(parents=True)
        (self.home / "vdirsyncer").write_text(
            f"""
[general]
status_path = "{self.home}/status/"
[pair due]
a = "here"
b = "there"
collections = null
conflict_resolution = "b wins"
[storage here]
type = "filesystem"
path = "{self.events}"
fileext = ".ics"
[storage there]
type = "http"
url = "{url}"
""",
            encoding="ascii",
        )
        (self.home / "khal").write_text(
            f"[calendars]\n[[due]]\npath = {self.events}\nreadonly = True\n"
            "[locale]\ndateformat = %Y-%m-%d\nlongdateformat = %Y-%m-%d\n"
            f"[sqlite]\npath = {self.home}/khal.db\n",
            encoding="ascii",
        )

    def _run(self, *words: str) -> str:
        done = subprocess.run(
            words,
            capture_output=True,
            text=True,
            check=False,
            env={"PATH": "/usr/bin:/bin", "HOME": str(self.home), "LC_ALL": "C.UTF-8"},
        )
        assert done.returncode == 0, done.stderr
        return done.stdout + done.stderr

    def sync(self) -> str:
        config = ("vdirsyncer", "-c", str(self.home / "vdirsyncer"))
        if not (self.home / "status").exists():
            self._run("sh", "-c", f"yes | {' '.join(config)} discover")
        return self._run(*config, "sync")

    def shown(self) -> list[tuple[str, str]]:
        """Give day and title of every job khal shows; the week's list of open work left aside."""
        out = self._run(
            *("khal", "-c", str(self.home / "khal"), "list", "--notstarted"),
            *("--format", "{start-date}|{title}", "--day-format", "", "2026-01-01", "1500d"),
        )
        found = re.findall(r"^(\d{4}-\d\d-\d\d)\|(.*)$", out, re.MULTILINE)
        return sorted((day, title) for day, title in found if title.endswith(_JOBS))


@needs_khal
def test_a_subscriber_shows_a_change_once_moved_and_nothing_doubled(shop: Bench) -> None:
    target = target_of(shop, TODAY, "--vehicle", "fallow")
    with serving(shop, TODAY) as served:
        phone = Subscriber(shop.home, f"http://127.0.0.1:{served.port}{target}")
        phone.sync()
        before = phone.shown()
        files = {path.name: path.stat().st_mtime_ns for path in phone.events.iterdir()}

        phone.sync()
        assert {each.name: each.stat().st_mtime_ns for each in phone.events.iterdir()} == files

        assert shop(TODAY, "done", "fallow", "brake-fluid", "--at", "41300").code == 0
        phone.sync()
        after = phone.shown()

    assert before == [
        ("2027-03-01", "Fallow wagon: brake hoses, renew front"),
        ("2027-09-01", "Fallow wagon: brake fluid, renew"),
    ]
    assert after == [
        ("2027-03-01", "Fallow wagon: brake hoses, renew front"),
        ("2028-05-25", "Fallow wagon: brake fluid, renew"),
    ]


@needs_calcurse
def test_calcurse_takes_all_that_is_served(shop: Bench) -> None:
    target = target_of(shop, TODAY)
    with serving(shop, TODAY) as served:
        reply = served.ask(target)
    path, folder = shop.home / "served.ics", shop.home / "calcurse"
    path.write_bytes(reply.body)

    done = subprocess.run(
        ("calcurse", "-D", str(folder), "-i", str(path)),
        capture_output=True,
        text=True,
        check=False,
    )

    assert done.returncode == 0
    assert "0 skipped" in done.stdout
    taken = (folder / "apts").read_text(encoding="utf-8").splitlines()
    assert len(taken) == reply.body.count(b"BEGIN:VEVENT")
