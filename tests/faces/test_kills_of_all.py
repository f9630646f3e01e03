"""Killed in the middle of any command that writes: what was told stands, nothing is half done."""

import json
import os
import random
import signal
import subprocess
from pathlib import Path

import pytest

from tests.faces.installed import script
from tests.faces.test_merging import Machine, machines

KILLS, FEW = 200, 4
SEED = 20261125


class Workshop:
    """A garage that is killed at work, and a copy of it on another machine that is not."""

    def __init__(self, folder: Path, chance: random.Random) -> None:
        folder.mkdir()
        self.here, self.there = machines(folder, 2)
        self.here("fit", "tollgate", "spring", "LR,RR", "type=leaf", "--on", "2026-10-18")
        self.chance = chance
        self.told: set[str] = set()

    def killed(self) -> bool:
        """Begin a command and kill it; tell whether it had told that it was done."""
        figure = str(self.chance.randint(41_300, 49_000))
        self.there("reading", "tollgate", figure)
        words = self.chance.choice(
            [
                ("reading", "tollgate", figure, "--json"),
                ("done", "tollgate", "u-bolts", "--at", figure, "--json"),
                ("fit", "tollgate", "spring", "LR,RR", "--at", figure, "--json"),
                ("convert", "tollgate", "alternator", "--yes", "--json"),
                ("undo", "--json"),
                ("merge", str(self.there.garage)),
            ]
        )
        work = subprocess.Popen(
            [script(), "--garage", str(self.here.garage), "--today", "2026-11-25", *words],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={"CASTLENUT_DEVICE": "dev-0", "HOME": str(self.here.garage.parent)},
            start_new_session=True,
            text=True,
        )
        try:
            work.wait(timeout=self.chance.uniform(0.05, 0.9))
        except subprocess.TimeoutExpired:
            os.killpg(work.pid, signal.SIGKILL)
        assert work.stdout is not None
        said = work.stdout.read()
        work.stdout.close()
        work.wait()
        if said.endswith("\n") and said.startswith('{"change":"'):
            self.told.add(json.loads(said)["change"])
        return bool(said)

    def holds_all(self) -> None:
        """Prove that every file reads, and that what was told stands, whole."""
        assert not [each for each in _faults(self.here) if each in {"damaged", "record"}]
        places: dict[str, set[int]] = {}
        for line in self.here("records", "--history").splitlines():
            for revision in json.loads(line)["revisions"]:
                change, _, place = revision["rev"].rpartition(".")
                places.setdefault(change, set()).add(int(place))
        assert self.told <= places.keys()
        # A change is there with all its records or not at all.
        assert not {
            change: found for change, found in places.items() if found != set(range(len(found)))
        }

    def meets(self) -> None:
        """Prove that a merge which was broken off comes to the same end when it is done again."""
        self.here("merge", str(self.there.garage))
        self.there("merge", str(self.here.garage))
        assert self.here("records", "--history") == self.there("records", "--history")
        assert self.here.files == self.there.files


def _faults(machine: Machine) -> list[str]:
    return [each["fault"] for each in json.loads(machine("check", "--json"))]


def _run(folder: Path, kills: int) -> int:
    chance = random.Random(SEED)
    folder.mkdir()
    told = 0
    workshop = Workshop(folder / "0", chance)
    for number in range(kills):
        if number and number % 20 == 0:
            workshop.meets()
            workshop = Workshop(folder / str(number), chance)
        told += workshop.killed()
        workshop.holds_all()
    workshop.meets()
    return told


def test_a_few_kills_leave_nothing_half_done(tmp_path: Path) -> None:
    _run(tmp_path / "workshops", FEW)


@pytest.mark.long
def test_two_hundred_kills_at_any_work_leave_nothing_half_done(tmp_path: Path) -> None:
    assert 0 < _run(tmp_path / "workshops", KILLS) < KILLS
