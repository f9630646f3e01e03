"""An invented garage driven through the program in this process, each command a minute later."""

import contextlib
import io
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from castlenut.command.arguments import run
from castlenut.command.world import World
from tests.feed.raw import assert_sound

TODAY = "2026-11-25"
NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


@dataclass(frozen=True)
class Told:
    """What a command answered."""

    returncode: int
    stdout: str
    stderr: str


class Shop:
    """An invented garage in a folder, driven as its user would; each command a minute later."""

    def __init__(self, folder: Path, numbers: Iterator[int], device: str = "dev-test01") -> None:
        self.folder = folder / "shop"
        self.outside = folder / "outside"
        self.outside.mkdir(exist_ok=True)
        self._numbers = numbers
        self._device = device
        self._drawn = b"\x00"

    def redraw(self) -> None:
        """Let chance give other bytes from now on."""
        self._drawn = b"\x01"

    def run(self, *words: str, typed: str = "", today: str = TODAY) -> Told:
        out, err = io.StringIO(), io.StringIO()
        world = World(
            environment={"CASTLENUT_DEVICE": self._device},
            today=lambda: date.fromisoformat(today),
            now=lambda: NOW + timedelta(minutes=next(self._numbers)),
            new_id=lambda: f"01a212e3-56cb-7000-8000-{next(self._numbers):012x}",
            draw=lambda size: self._drawn * size,
            stdin=io.StringIO(typed),
        )
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            try:
                code = run(["--garage", str(self.folder), *words], world)
            except SystemExit as ended:
                code = ended.code if isinstance(ended.code, int) else 1
        return Told(returncode=code, stdout=out.getvalue(), stderr=err.getvalue())

    def does(self, *words: str, typed: str = "", today: str = TODAY) -> str:
        done = self.run(*words, typed=typed, today=today)
        assert done.returncode == 0, done.stderr
        return done.stdout

    def feed(self, *words: str, name: str = "feed.ics", today: str = TODAY) -> bytes:
        self.does("feed", "write", str(self.outside / name), *words, today=today)
        data = (self.outside / name).read_bytes()
        assert_sound(data)
        return data
