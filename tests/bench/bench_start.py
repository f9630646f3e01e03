"""What a command costs before it does anything."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.bench.measuring import PASS, Bench, Measure, cases, castlenut, cpu_of, judge, main


def _asked(word: str) -> Callable[[Path], tuple[Measure, Measure]]:
    return lambda folder: (cpu_of(castlenut(None, word), folder), cpu_of(PASS, folder))


BENCHES = tuple(
    Bench(
        what=f"`castlenut {word}`",
        against="pass",
        clock="cpu",
        goal=3,
        fail=3.5,
        sides=_asked(word),
    )
    for word in ("--version", "--help")
)


@pytest.mark.parametrize("bench", cases(BENCHES))
def test_start(bench: Bench, tmp_path: Path) -> None:
    judge(bench, tmp_path)


if __name__ == "__main__":
    main(BENCHES)
