"""The screens on a terminal, as a person waits for them: a pseudo-terminal, and the wall clock."""

import fcntl
import os
import pty
import select
import signal
import statistics
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType

import pytest

from tests.bench import garages
from tests.bench.measuring import (
    HEIGHT,
    WIDTH,
    Bench,
    Measure,
    cases,
    castlenut,
    environment,
    judge,
    main,
    python,
)

KEYS = 100
LONGEST_WAIT_S = 120.0
QUIET_S = 0.6  # without output: all that was to be shown is shown
DOWN, UP = b"\x1b[B", b"\x1b[A"
FIRST_TEXT = b"ready-7351"
BARE = python(
    "from textual.app import App\n"
    "from textual.widgets import Footer, Static\n"
    "class Bare(App):\n"
    "    def compose(self):\n"
    f"        yield Static('{FIRST_TEXT.decode()}')\n"
    "        yield Footer()\n"
    "Bare().run()"
)


class Terminal:
    """A program on a pseudo-terminal of 80 by 24."""

    def __init__(self, command: Sequence[str], home: Path) -> None:
        self.begun = time.monotonic()
        self._master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", HEIGHT, WIDTH, 0, 0))
        self._process = subprocess.Popen(
            command,
            env=environment(home),
            stdin=slave,
            stdout=slave,
            stderr=slave,
            start_new_session=True,
        )
        os.close(slave)
        self.seen = b""

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(
        self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None
    ) -> None:
        os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        os.close(self._master)

    def type(self, keys: bytes) -> None:
        os.write(self._master, keys)

    def read(self, wait_s: float) -> bytes:
        """Give what is written within a time; nothing where there is no more of it."""
        ready, _, _ = select.select([self._master], [], [], wait_s)
        if not ready:
            return b""
        data = os.read(self._master, 65_536)
        self.seen += data
        return data

    def until(self, text: bytes) -> float:
        """Give the seconds from the start until a text is there."""
        while text not in self.seen:
            if not self.read(LONGEST_WAIT_S):
                raise TimeoutError(f"{text!r} never came")
        return time.monotonic() - self.begun

    def until_quiet(self) -> float:
        """Give the seconds from the start until the last that was written."""
        last = time.monotonic()
        while self.read(QUIET_S):
            last = time.monotonic()
        return last - self.begun

    def answer(self, key: bytes) -> float:
        """Give the seconds from a key to the first that is written after it."""
        begun = time.monotonic()
        self.type(key)
        if not self.read(LONGEST_WAIT_S):
            raise TimeoutError("a key was not answered")
        taken = time.monotonic() - begun
        while self.read(0.02):
            continue
        return taken


def _first(command: Sequence[str], text: bytes, home: Path) -> Measure:
    def measured() -> float:
        with Terminal(command, home) as terminal:
            return terminal.until(text)

    return measured


def _all(command: Sequence[str], text: bytes, home: Path) -> Measure:
    def measured() -> float:
        with Terminal(command, home) as terminal:
            terminal.until(text)
            return terminal.until_quiet()

    return measured


def _bare(folder: Path) -> Measure:
    return _first(BARE, FIRST_TEXT, folder)


def _start(
    make: Callable[[Path], tuple[Path, str]], first: Callable[..., Measure]
) -> Callable[[Path], tuple[Measure, Measure]]:
    def sides(folder: Path) -> tuple[Measure, Measure]:
        path, car = make(folder)
        return first(castlenut(path), car.encode(), folder), _bare(folder)

    return sides


def _shown(slug: str) -> str:
    """Give how the board shows a car before its file is read."""
    return slug.replace("-", " ").title()


def _sample(folder: Path) -> tuple[Path, str]:
    made = garages.sample(folder)
    return made.path, _shown(made.car)


def _usual(folder: Path) -> tuple[Path, str]:
    return garages.usual(folder), _shown("car-001")


def _big(folder: Path) -> tuple[Path, str]:
    return garages.big(folder), _shown("car-001")


def _keys(terminal: Terminal, number: int) -> list[float]:
    return [terminal.answer(DOWN if key % 6 < 3 else UP) for key in range(number)]


def _keys_while_reckoning(folder: Path) -> tuple[Measure, Measure]:
    """Keys on the board while its worker reckons 300 cars, and once it is done."""
    path, car = _big(folder)

    def busy() -> float:
        with Terminal(castlenut(path), folder) as terminal:
            terminal.until(car.encode())
            return statistics.median(_keys(terminal, 20))

    small, other = _sample(folder)

    def at_rest() -> float:
        with Terminal(castlenut(small), folder) as terminal:
            terminal.until(other.encode())
            terminal.until_quiet()
            return statistics.median(_keys(terminal, 20))

    return busy, at_rest


def _late_keys(folder: Path) -> tuple[Measure, Measure]:
    """The 95th of 100 keys, and their median, of the same run."""
    path, car = _sample(folder)
    runs: list[list[float]] = []

    def late() -> float:
        with Terminal(castlenut(path), folder) as terminal:
            terminal.until(car.encode())
            terminal.until_quiet()
            runs.append(sorted(_keys(terminal, KEYS)))
        return runs[-1][KEYS * 95 // 100 - 1]

    return late, lambda: statistics.median(runs[-1])


APP = "a bare app of one Static + Footer"

LOADED = (
    "from 1.6; measured 1.6 to 1.9 at rest, to 2.3 beside other work: the modules of the record are"
    " loaded before the board, and Textual reads our sheets four times (12 ms each)"
)

BENCHES = (
    Bench(
        what="start to first paint of the board, sample", against=APP, clock="wall",
        goal=1.3, fail=2.3, sides=_start(_sample, _first), raised=LOADED,
    ),
    Bench(
        what="start to first paint of the board, big", against=APP, clock="wall",
        goal=1.3, fail=2.3, sides=_start(_big, _first), is_long=True, raised=LOADED,
    ),
    Bench(
        what="start to all states shown, sample", against=APP, clock="wall",
        goal=1.8, fail=4, sides=_start(_sample, _all), is_long=True,
        raised="from 2.3, drawn for 320 items; the fleet has some 870; measured 3.5",
    ),
    Bench(
        what="start to all states shown, usual", against=APP, clock="wall",
        goal=3, fail=6, sides=_start(_usual, _all), is_long=True,
        raised="from 4.5; measured 5.0",
    ),
    Bench(
        what="key down while the worker reckons big", against="key down at rest", clock="wall",
        goal=2, fail=4, sides=_keys_while_reckoning, is_long=True,
    ),
    Bench(
        what="key down, the 95th of 100", against="the median of the same", clock="wall",
        goal=3, fail=5, sides=_late_keys, is_long=True,
    ),
)  # fmt: skip


@pytest.mark.skipif(sys.platform == "win32", reason="there is no pseudo-terminal here")
@pytest.mark.parametrize("bench", cases(BENCHES))
def test_terminal(bench: Bench, tmp_path: Path) -> None:
    judge(bench, tmp_path)


if __name__ == "__main__":
    main(BENCHES)
