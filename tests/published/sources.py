"""Gathers the published figures that tests check, and writes docs/sources.md from their marks.

Run `python tests/published/sources.py` after adding a check; a test holds the page to the marks.
"""

import contextlib
import io
import sys
from collections import defaultdict
from collections.abc import Sequence
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "sources.md"
WORDS = {
    "R": "read in the source",
    "R2": "read in a page that restates it",
    "M": "from memory",
    "C": "computed",
    "P": "common practice, no source",
}
HEAD = """# Sources

Every figure from outside that a test checks, made from the marks of the tests by
`python tests/published/sources.py`. A row has the number that stands in brackets in the sources of
the rules and beside the figures in the code. Where a figure comes from memory it says so: it is not
confirmed. Regulations change; the source names the text that was read. The vehicle's own service
manual, local codes and licensed practice come first.

| row | how far it was read | source | checked in |
|---|---|---|---|
"""


class _Marks:
    """Collects (row, basis, source, file) from the marks of all tests."""

    def __init__(self) -> None:
        self.found: set[tuple[str, str, str, str]] = set()

    def pytest_collection_modifyitems(self, items: Sequence[pytest.Item]) -> None:
        for item in items:
            for mark in item.iter_markers("published"):
                self.found.add(
                    (
                        str(mark.args[0]),
                        str(mark.kwargs["basis"]),
                        str(mark.kwargs["source"]),
                        item.path.name,
                    )
                )


def page() -> str:
    """Give the page as it should read."""
    marks = _Marks()
    # to collect what cannot hold a mark would take ten times as long
    marked = [
        str(each)
        for each in sorted((ROOT / "tests").rglob("test_*.py"))
        if "published" in each.read_text(encoding="utf-8") or each.parent == Path(__file__).parent
    ]
    with contextlib.redirect_stdout(io.StringIO()):
        code = pytest.main(
            ["--collect-only", "-q", "-p", "no:cacheprovider", "-m", "", *marked],
            plugins=[marks],
        )
    if code != 0:
        raise SystemExit(f"the tests could not be collected (exit {code})")
    files: dict[tuple[str, str, str], set[str]] = defaultdict(set)
    for row, basis, source, file in marks.found:
        files[row, basis, source].add(file)
    lines = [
        f"| {row} | {WORDS[basis]} | {source} | {', '.join(sorted(where))} |"
        for (row, basis, source), where in sorted(files.items(), key=lambda entry: _order(entry[0]))
    ]
    return HEAD + "\n".join(lines) + "\n"


def _order(key: tuple[str, str, str]) -> tuple[tuple[int, ...], str, str]:
    numbers = tuple(int(part) for part in key[0].split(".") if part.isdigit())
    return numbers, key[0], key[2]


if __name__ == "__main__":
    if "--check" in sys.argv:
        sys.exit(0 if PAGE.read_text(encoding="utf-8") == page() else 1)
    PAGE.write_text(page(), encoding="utf-8")
