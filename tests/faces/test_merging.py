"""Three machines with one garage, by the installed command: however they meet, one truth."""

import contextlib
import io
import json
import random
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from itertools import permutations
from pathlib import Path

import pytest
from _pytest.mark import ParameterSet
from uuid6 import uuid7

from castlenut.command.arguments import run
from castlenut.command.world import World
from tests.faces.installed import Answer, script

TODAY = "2026-11-25"
SEED = 20261125
HABITS = (
    "{stem} (conflicted copy of {host}).json",
    "{stem}.sync-conflict-20261125-131713-{host}.json",
    "{stem}-{host}.json",
)


class Machine:
    """One garage written to under a device of its own."""

    def __init__(self, garage: Path, device: str, *, is_installed: bool = False) -> None:
        self.garage = garage
        self.device = device
        self._is_installed = is_installed

    def answer(self, *words: str) -> Answer:
        """Run a command: the installed one, or the same in this process, which is quicker."""
        argv = ("--garage", str(self.garage), "--today", TODAY, *words)
        environment = {"CASTLENUT_DEVICE": self.device, "HOME": str(self.garage.parent)}
        if not self._is_installed:
            return _here(argv, environment)
        done = subprocess.run(
            [script(), *argv], capture_output=True, text=True, env=environment, check=False
        )
        return Answer(done.returncode, done.stdout, done.stderr)

    def __call__(self, *words: str) -> str:
        found = self.answer(*words)
        assert found.code == 0, (words, found.err)
        return found.out

    @property
    def files(self) -> Mapping[str, bytes]:
        found = [self.garage / "garage.json", *(self.garage / "vehicles").iterdir()]
        return {each.name: each.read_bytes() for each in found}

    def copy(self, garage: Path) -> "Machine":
        """Give this machine with a copy of its garage."""
        shutil.copytree(self.garage, garage)
        return Machine(garage, self.device, is_installed=self._is_installed)


def _here(argv: Sequence[str], environment: Mapping[str, str]) -> Answer:
    out, err = io.StringIO(), io.StringIO()
    world = World(
        environment=environment,
        today=lambda: date(2026, 11, 25),
        now=lambda: datetime.now(UTC),
        new_id=lambda: str(uuid7()),
        draw=bytes,
        stdin=io.TextIOWrapper(io.BytesIO(b"")),
    )
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = run(argv, world)
    return Answer(code, out.getvalue(), err.getvalue())


def machines(folder: Path, count: int, *, is_installed: bool = False) -> list[Machine]:
    """Give machines that begin with the same garage of one invented car."""
    first = Machine(folder / "garage-0", "dev-0", is_installed=is_installed)
    first("add", "tollgate", "--description", "Tollgate wagon, invented", "--year", "1970")
    first("reading", "tollgate", "41200", "--on", "2026-11-01")
    found = [first]
    for number in range(1, count):
        other = first.copy(folder / f"garage-{number}")
        other.device = f"dev-{number}"
        found.append(other)
    return found


def few_or_long(count: int, few: int = 2) -> list[ParameterSet]:
    """Give so many seeds, all but the first few marked long."""
    return [
        pytest.param(SEED + number, marks=() if number < few else pytest.mark.long)
        for number in range(count)
    ]


def work_apart(machine: Machine, chance: random.Random, acts: int) -> None:
    """Do a few things at random: enter, correct, strike, restore, undo, redo."""
    for _ in range(acts):
        listed = machine("records", "tollgate", "--table", "reading", "--ids")
        record = chance.choice(listed.split())
        act = chance.choice(["reading", "reading", "year", "figure", "strike", "undo", "car"])
        answer = machine.answer(
            *{
                "reading": ("reading", "tollgate", str(chance.randint(41_300, 42_000))),
                "year": ("correct", "tollgate", "vehicle", f"year={chance.randint(1960, 1975)}"),
                "figure": ("correct", "tollgate", record, f"figure={chance.randint(1, 9)}"),
                "strike": ("strike", "tollgate", record, "--why", machine.device),
                "undo": ("undo",),
                "car": ("add", chance.choice(["pim", "tally"]), "--year", "1988"),
            }[act],
        )
        # What cannot be (correcting what is struck, a car taken in twice) is refused, not done.
        assert answer.code in {0, 2}, answer.err


@pytest.mark.long
def test_three_histories_meet_by_the_installed_command(tmp_path: Path) -> None:
    _meet(tmp_path, random.Random(SEED), is_installed=True)


@pytest.mark.parametrize("seed", few_or_long(6))
def test_three_histories_that_went_apart_meet_in_the_same_bytes(tmp_path: Path, seed: int) -> None:
    """The same door as the installed command's, in this process."""
    _meet(tmp_path, random.Random(seed), is_installed=False)


def _meet(tmp_path: Path, chance: random.Random, *, is_installed: bool) -> None:
    three = machines(tmp_path, 3, is_installed=is_installed)
    for machine in three:
        work_apart(machine, chance, 6)
    found = []
    for order in list(permutations(range(3)))[::2]:
        name = "".join(map(str, order))
        copies = [three[each].copy(tmp_path / f"met-{name}-{each}") for each in order]
        copies[0]("merge", str(copies[1].garage))
        copies[0]("merge", str(copies[2].garage))
        found.append((copies[0].files, copies[0]("records", "--history")))
        assert copies[0]("merge", str(copies[1].garage)).startswith("nothing new in ")

    assert found[0] == found[1] == found[2]


@pytest.mark.parametrize("seed", few_or_long(2, few=1))
@pytest.mark.parametrize("habit", HABITS)
def test_a_folder_sync_with_conflict_copies_comes_to_one_truth(
    tmp_path: Path, habit: str, seed: int
) -> None:
    """A sync program copies what changed on one side; where both did, it lays a copy beside."""
    here, there = machines(tmp_path, 2)
    chance = random.Random(seed)
    synced = dict(here.files)
    for _ in range(3):
        work_apart(here, chance, 3)
        work_apart(there, chance, 3)
        _sync(here, there, synced, habit)
        for machine in (here, there):
            before = machine("records", "--history")
            machine("reading", "tollgate", str(chance.randint(43_000, 44_000)))
            assert len(machine("records", "--history")) > len(before)
        _sync(here, there, synced, habit)
    # In the end one side writes to every car that has a copy beside it.
    for row in json.loads(here("vehicles", "--json")):
        here("reading", row["vehicle"], "45000")
    _sync(here, there, synced, habit)

    assert here("records", "--history") == there("records", "--history")
    assert here.files == there.files
    assert not [name for name in here.files if "conflict" in name or "HOST" in name.upper()]


def _sync(here: Machine, there: Machine, synced: dict[str, bytes], habit: str) -> None:
    """Carry files both ways; `synced` holds what both sides had at the last time."""
    ours, theirs = dict(here.files), dict(there.files)
    for name in ours.keys() | theirs.keys():
        before, one, two = synced.get(name), ours.get(name), theirs.get(name)
        if one == two:
            continue
        if two == before:
            _put(there, name, one)
        elif one == before:
            _put(here, name, two)
        elif one is not None and two is not None:
            # Both changed: ours wins the name, theirs is laid beside it on both sides.
            copy = habit.format(stem=name.removesuffix(".json"), host="HOST2")
            for machine in (here, there):
                _put(machine, name, one)
                _put(machine, copy, two)
        else:
            for machine in (here, there):
                _put(machine, name, one if two is None else two)
    synced.clear()
    synced.update(here.files)


def _put(machine: Machine, name: str, data: bytes | None) -> None:
    garage = machine.garage
    path = garage / name if name.startswith("garage") else garage / "vehicles" / name
    if data is None:
        path.unlink()
    else:
        path.write_bytes(data)
