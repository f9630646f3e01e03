"""Every benchmark, one table: `python tests/bench/run_all.py [--write] [--quick]`.

`--write` puts the table into docs/speed.md, `--quick` leaves out what takes long.
"""

import os
import platform
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))  # run as a script, from wherever it is called

from tests.bench import (  # noqa: E402 - found only once the line above is done
    bench_due,
    bench_feed,
    bench_screens,
    bench_start,
    bench_store,
    bench_terminal,
    garages,
)
from tests.bench.measuring import (  # noqa: E402 - as above
    Bench,
    Row,
    castlenut,
    measured,
    peak_of,
    python,
    table,
)

PAGE = ROOT / "docs" / "speed.md"
PARTS: Sequence[tuple[str, Sequence[Bench]]] = (
    ("Start", bench_start.BENCHES),
    ("What is due", bench_due.BENCHES),
    ("The record", bench_store.BENCHES),
    ("Screens, in process", bench_screens.BENCHES),
    ("Screens, on a terminal", bench_terminal.BENCHES),
    ("Calendar feed", bench_feed.BENCHES),
)
WORDS = """# Speed

Written by `python tests/bench/run_all.py --write`; do not edit by hand.

Every figure is a ratio of two things measured in one run, in turn, the first round thrown away. A
time in seconds says something of one machine; a ratio says something of the program. `pass` is
`python -c pass`: the interpreter started and ended. `cpu` is user and system time of the process,
`wall` the time one waits. `goal` is what is wanted; above `fail` the benchmark is red, between the
two it says "over goal". The spread is the width of the middle half of the rounds, as a share of the
median; where the baseline's is over 0.5 in two tries, the row says "unsteady" and is not judged. A
fail line with a star lies higher than it was first drawn; below the table stands why.

The sample fleet is what `castlenut demo` makes: {sample}. The usual garage
has 40 cars, the big one 300, with 60 records and some 42 items a car; some of the cars have 300
records. Both are written by `tests/bench/big_garage.py`, always the same.
"""

REMAINS = """## Where the time of a short command goes

Found by taking the stack every few milliseconds over some runs; shares of the whole process.

| | `due --json`, sample | the same, usual | `why` |
|---|---|---|---|
| modules loaded: 240 data classes, 50 enums, patterns, byte code | 14 % | 5 % | 68 % |
| rules read, each once a run, 0.4 ms | 7 % | 1 % | 4 % |
| the files of the cars read, checked, put together | 8 % | 9 % | 10 % |
| what a car's items rest on: readings in place, beliefs about its use | 12 % | 29 % | 11 % |
| the items reckoned: sides, windows, judgments, when a distance is reached | 34 % | 31 % | 1 % |
| whether the tires may rotate | 4 % | | |
| told in words and written as JSON | 18 % | 19 % | |

Of the whole, a tenth goes into making frozen values, 60,000 in the sample. No line and no function
stands out: an item costs half a millisecond, spread over some 1,600 calls. What has been done: ids
are made without a library that loads email; of the commands only the one typed is loaded; a pattern
for what is typed is compiled when something is typed; a step is put into words once for all items
that share it, and the use of a car is asked once for each distance. What would be left: not to make
`why` where nobody reads it, and fewer runs for the beliefs about the use of a car; the one is in
the answer, the other would move dates.
"""


def main(arguments: Sequence[str]) -> None:
    """Measure, print as it goes, and write the page if asked."""
    is_quick = "--quick" in arguments
    parts = list(_parts(is_quick=is_quick))
    if "--write" in arguments:
        PAGE.write_text("\n".join(_page(parts, is_quick=is_quick)), encoding="utf-8", newline="\n")


def _parts(*, is_quick: bool) -> Iterator[tuple[str, Sequence[Row]]]:
    for title, benches in PARTS:
        asked = [bench for bench in benches if not (is_quick and bench.is_long)]
        rows = list(measured(asked))
        print(f"\n{title}\n\n{table(rows)}", flush=True)
        yield title, rows


def _page(parts: Sequence[tuple[str, Sequence[Row]]], *, is_quick: bool) -> Iterator[str]:
    with tempfile.TemporaryDirectory() as folder:
        yield WORDS.format(sample=garages.told(garages.sample(Path(folder)), Path(folder)))
    cores = f"{os.cpu_count()} cores, shared with other work"
    yield f"Measured on {cores}, {platform.system()}, Python {platform.python_version()}."
    for title, rows in parts:
        yield f"\n## {title}\n\n{table(rows)}"
        raised = [row.bench for row in rows if row.bench.raised]
        if raised:
            yield "\n\\* raised:\n"
            yield from (f"- {bench.what}: {bench.raised}." for bench in raised)
    if not is_quick:
        yield f"\n## Memory\n\n{_memory()}"
    yield f"\n{REMAINS}"


def _memory() -> str:
    """Say how much memory `due` of the big garage takes at its peak."""
    with tempfile.TemporaryDirectory() as folder:
        made = garages.big(Path(folder))
        peak = peak_of(castlenut(made, "due", "--json"), Path(folder))
        screens = peak_of(python("from textual.app import App"), Path(folder))
    ratio = peak / screens
    return (
        f"`due --json` of the big garage holds {ratio:.2f} times what an import of textual.app"
        " holds, at its peak; at most 3."
    )


if __name__ == "__main__":
    main(sys.argv[1:])
