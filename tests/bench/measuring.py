"""How a benchmark is made: both sides in turn, medians, a ratio, a goal and a fail line.

A figure in seconds says something of one machine only; the ratio of two things measured in the same
run says something of the program.
"""

import os
import resource
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

TODAY = "2026-11-25"
WIDTH, HEIGHT = 80, 24

_LEAST_ROUNDS = 9
_LEAST_ROUNDS_OF_LONG = 5
_LONG_SECONDS = 2.0
_UNSTEADY = 0.5

Measure = Callable[[], float]
"""Does the work once, and gives the seconds it took."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a comparison: the seconds of each round."""

    seconds: tuple[float, ...]

    @property
    def median(self) -> float:
        """Give the middle round."""
        return statistics.median(self.seconds)

    @property
    def spread(self) -> float:
        """Give the width of the middle half of the rounds, as a share of the median."""
        first, _, third = statistics.quantiles(self.seconds, n=4)
        return (third - first) / self.median


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A comparison that was made: a line of the table."""

    bench: "Bench"
    one: Side
    other: Side

    @property
    def ratio(self) -> float:
        """Give how many times the baseline it took."""
        return self.one.median / self.other.median

    @property
    def is_steady(self) -> bool:
        """Tell whether the baseline was steady enough to judge by."""
        return self.other.spread <= _UNSTEADY

    @property
    def verdict(self) -> str:
        """Say how the ratio stands to the goal and to the line."""
        if not self.is_steady:
            return "unsteady"
        if self.ratio > self.bench.fail:
            return "FAILS"
        return "over goal" if self.ratio > self.bench.goal else "ok"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """A benchmark: `sides` makes what it needs in a folder, and gives the work and the baseline.

    `raised`: why its fail line lies higher than it was first drawn, and from where it was raised.
    """

    what: str
    against: str
    clock: str
    goal: float
    fail: float
    sides: Callable[[Path], tuple[Measure, Measure]]
    is_long: bool = False
    raised: str = ""

    def measured(self, folder: Path) -> Row:
        """Measure both sides in turn; once more with twice the rounds where it cannot be judged.

        That is where the baseline was unsteady, and where the line was passed: a neighbor's burst
        on a shared machine is not to be taken for ours.
        """
        one, other = self.sides(folder)
        first = self._row(one, other, rounds=None)
        if first.verdict in {"ok", "over goal"}:
            return first
        return self._row(one, other, rounds=2 * len(first.one.seconds))

    def _row(self, one: Measure, other: Measure, *, rounds: int | None) -> Row:
        sides = interleaved(one, other, rounds=rounds)
        return Row(bench=self, one=sides[0], other=sides[1])


def interleaved(one: Measure, other: Measure, *, rounds: int | None = None) -> tuple[Side, Side]:
    """Do two works in turn. The first round warms up and is thrown away."""
    slowest = max(one(), other())
    if rounds is None:
        rounds = _LEAST_ROUNDS_OF_LONG if slowest > _LONG_SECONDS else _LEAST_ROUNDS
    pairs = [(one(), other()) for _ in range(rounds)]
    return Side(seconds=tuple(a for a, _ in pairs)), Side(seconds=tuple(b for _, b in pairs))


def judge(bench: Bench, folder: Path) -> None:
    """Measure a benchmark, print its row, and fail the test where it passes its line."""
    row = bench.measured(folder)
    print("\n" + table([row]))
    told = f"{bench.what}: {row.ratio:.2f} of {bench.against}, over {bench.fail}"
    assert row.verdict != "FAILS", told


def cases(benches: Sequence[Bench]) -> list[object]:
    """Give benchmarks as the cases of a test, each with the marks it needs."""
    marks = (pytest.mark.bench, pytest.mark.long)
    return [
        pytest.param(bench, id=bench.what, marks=marks if bench.is_long else marks[:1])
        for bench in benches
    ]


HEAD = (
    "what", "against", "clock", "n", "median, ms", "spread", "baseline, ms", "spread", "ratio",
    "goal", "fail", "",
)  # fmt: skip


def table(rows: Sequence[Row]) -> str:
    """Give rows as a table in Markdown."""
    return "\n".join((*_head(), *map(_line, rows)))


def _head() -> tuple[str, str]:
    return f"| {' | '.join(HEAD)} |", f"|{'---|' * len(HEAD)}"


def _line(row: Row) -> str:
    return f"| {' | '.join(_cells(row))} |"


def _cells(row: Row) -> tuple[str, ...]:
    return (
        row.bench.what,
        row.bench.against,
        row.bench.clock,
        str(len(row.one.seconds)),
        f"{row.one.median * 1000:.1f}",
        f"{row.one.spread:.2f}",
        f"{row.other.median * 1000:.1f}",
        f"{row.other.spread:.2f}",
        f"{row.ratio:.2f}",
        f"{row.bench.goal:g}",
        f"{row.bench.fail:g}{'*' if row.bench.raised else ''}",
        row.verdict,
    )


def main(benches: Sequence[Bench]) -> None:
    """Measure benchmarks and print their table row by row: each file of this folder as a script."""
    print(*_head(), sep="\n")
    for row in measured(benches):
        print(_line(row), flush=True)


def measured(benches: Sequence[Bench]) -> Iterator[Row]:
    """Measure benchmarks one after another, each in a folder of its own."""
    for bench in benches:
        with tempfile.TemporaryDirectory() as folder:
            yield bench.measured(Path(folder))


# -- processes ---------------------------------------------------------------------------------


def environment(home: Path) -> Mapping[str, str]:
    """Give the environment of a child: nothing of the user's, byte code kept, a plain terminal."""
    home.mkdir(parents=True, exist_ok=True)
    return {
        "PATH": os.environ.get("PATH", ""),
        "HOME": str(home),
        "XDG_STATE_HOME": str(home / "state"),
        "XDG_DATA_HOME": str(home / "data"),
        "XDG_CONFIG_HOME": str(home / "config"),
        "PYTHONHASHSEED": "0",
        "CASTLENUT_DEVICE": "dev-0be7c4",
        "TERM": "xterm-256color",
        "LANG": "C.UTF-8",
        "COLUMNS": str(WIDTH),
        "LINES": str(HEIGHT),
    }


def castlenut(garage: Path | None, *words: str) -> list[str]:
    """Give the command line of the installed command on a garage."""
    options = [] if garage is None else ["--garage", str(garage), "--today", TODAY]
    return [sys.executable, "-m", "castlenut", *options, *words]


def python(text: str) -> list[str]:
    """Give the command line that runs a text."""
    return [sys.executable, "-c", text]


PASS = python("pass")
"""The baseline of most: the interpreter started and ended."""


def cpu_of(command: Sequence[str], home: Path) -> Measure:
    """Give the measure of a child's user and system time."""
    variables = environment(home)

    def measured() -> float:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            command,
            env=variables,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=True,
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime

    return measured


def peak_of(command: Sequence[str], home: Path) -> int:
    """Give the most memory a child held, in the unit of the platform's `ru_maxrss`."""
    asked = (
        "import resource, subprocess, sys;"
        "subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, check=True);"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    )
    told = subprocess.run(
        [*python(asked), *command],
        env=environment(home),
        capture_output=True,
        text=True,
        check=True,
    )
    return int(told.stdout)
