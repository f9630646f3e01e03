"""The command line in one process: a garage folder, a fixed day and clock, ids in order."""

import io
import json
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from castlenut.command.arguments import run
from castlenut.command.world import World

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


@dataclass(frozen=True)
class Told:
    """What a command answered."""

    code: int
    out: str
    err: str

    @property
    def lines(self) -> Sequence[str]:
        return self.out.splitlines()

    @property
    def faults(self) -> Sequence[str]:
        return self.err.splitlines()

    @property
    def json(self) -> Any:  # noqa: ANN401 - each command has a structure of its own
        """Give the answer, whatever its structure."""
        return json.loads(self.out)


class Shop:
    """A garage folder with the command line opened on it."""

    def __init__(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.path = path
        self._capsys = capsys
        self._ids = count(1)
        self._minutes = count()
        self._device = "dev-test"
        self.draw: Callable[[int], bytes] = bytes
        """What is drawn by chance: so many bytes."""

    def begin(self, *, ids: int, device: str) -> None:
        """Be another machine: its own device, ids and instants that are not the first's."""
        self._ids = count(ids)
        self._minutes = count(ids)
        self._device = device

    @property
    def at(self) -> tuple[int, int]:
        """The numbers of the id and the minute that come next."""
        numbers = next(self._ids), next(self._minutes)
        self.go_on(numbers)
        return numbers

    def go_on(self, numbers: tuple[int, int]) -> None:
        """Go on from the number of an id and of a minute."""
        self._ids, self._minutes = (count(number) for number in numbers)

    def clock_from(self, minutes: int) -> None:
        """Set the clock: so many minutes after the first change of all."""
        self._minutes = count(minutes)

    def __call__(
        self, *argv: str, stdin: str = "", today: str = "2026-11-25", has_garage: bool = True
    ) -> Told:
        world = World(
            environment={"CASTLENUT_DEVICE": self._device},
            today=lambda: date.fromisoformat(today),
            now=lambda: NOW + timedelta(minutes=next(self._minutes)),
            new_id=lambda: f"01a212e3-56cb-7000-8000-{next(self._ids):012x}",
            draw=self.draw,
            stdin=io.TextIOWrapper(io.BytesIO(stdin.encode()), encoding="utf-8"),
        )
        before = ["--garage", str(self.path)] if has_garage else []
        try:
            code = run([*before, *argv], world)
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 1
        told = self._capsys.readouterr()
        return Told(code=code, out=told.out, err=told.err)

    def must(self, *argv: str, stdin: str = "", today: str = "2026-11-25") -> Told:
        """Do a command that is only the ground of a test."""
        told = self(*argv, stdin=stdin, today=today)
        assert told.code == 0, told.err
        return told


class Kept:
    """Garages as they were built once: each further test that needs one gets a copy."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._built: dict[Callable[[Shop], None], tuple[Path, tuple[int, int]]] = {}

    def give(self, shop: Shop, build: Callable[[Shop], None]) -> Shop:
        """Give the shop with the garage that `build` makes of it, always of the same one."""
        if build in self._built:
            garage, at = self._built[build]
            shutil.copytree(garage, shop.path, dirs_exist_ok=True)
            shop.go_on(at)
        else:
            build(shop)
            garage = self._folder / str(len(self._built))
            shutil.copytree(shop.path, garage)
            self._built[build] = garage, shop.at
        return shop


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    """Keep what fixtures build."""
    return Kept(tmp_path_factory.mktemp("kept"))


@pytest.fixture
def shop(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shop:
    """Give a command line on a garage that does not exist yet."""
    return Shop(tmp_path / "garage", capsys)


@pytest.fixture
def yard(shop: Shop, kept: Kept) -> Shop:
    """Give a garage with one invented car: leaf springs fitted at 61,230, 10 mi a day since."""
    return kept.give(shop, _fallowmere)


def _fallowmere(shop: Shop) -> None:
    shop.must(
        "add",
        "fallowmere",
        "--description",
        "Pellworth Fallowmere",
        "--year",
        "1976",
        "--digits",
        "5",
        "drive=rear",
        "owner=Odile Marrowby",
    )
    shop.must("reading", "fallowmere", "61400", "--on", "2026-11-04")
    shop.must("reading", "fallowmere", "61600", "--on", "2026-11-24")
    shop.must(
        "fit", "fallowmere", "spring", "LR", "type=leaf", "--on", "2026-10-18", "--at", "61230"
    )
