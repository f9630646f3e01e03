"""Where a field stands in the text of a rule file, looked for only when there is a fault."""

import re
from collections.abc import Sequence

from castlenut.domain.errors import Fault

Path = tuple[str | int, ...]
"""The way to a value inside one entry of a file: `("limits", 1, "measure")`, counted from 0."""

_PLACED = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")


def line_of(text: str, array: str, number: int, path: Path) -> int:
    """Give the line, counted from 1, on which a value stands, or the nearest line above it.

    `array` and `number` name the entry: the third `[[rule]]` is ("rule", 2).
    """
    lines = text.splitlines()
    first, end = _entry(lines, array, number)
    line = first
    for step in path:
        found = (
            _nth_table(lines, line, end, step)
            if isinstance(step, int)
            else _key(lines, line, end, step)
        )
        if found is None:
            break
        line = found
    return line + 1


def top_line(text: str, key: str) -> int:
    """Give the line, counted from 1, on which a key above all entries stands."""
    lines = text.splitlines()
    for number, line in enumerate(lines):
        if re.match(rf"""\s*\[*\s*["']?{re.escape(key)}["']?\s*[=.\]]""", line):
            return number + 1
    return 1


def not_toml(text: str, file: str, error: Exception) -> Fault:
    """Say what keeps a file from being read at all."""
    said = str(error) if isinstance(error, ValueError) else "Nested too deep"
    placed = _PLACED.search(said)
    line = len(text.splitlines()) or 1
    if placed is not None and placed.group(1):
        line = int(placed.group(1))
    what = _PLACED.sub("", said).strip() or "Unreadable"
    return Fault(
        what=f"not TOML: {what[0].lower()}{what[1:]}",
        where=f"{file} line {line}",
        remedy="mend that line; text stands in quotes, a rule begins with [[rule]]",
    )


def _entry(lines: Sequence[str], array: str, number: int) -> tuple[int, int]:
    heads = [
        index
        for index, line in enumerate(lines)
        if re.match(rf"\s*\[\[\s*{re.escape(array)}\s*\]\]", line)
    ]
    if number >= len(heads):
        return 0, len(lines)
    end = heads[number + 1] if number + 1 < len(heads) else len(lines)
    return heads[number], end


def _key(lines: Sequence[str], start: int, end: int, key: str) -> int | None:
    """Find `key =`, `key.more =` or a head `[entry.key]` from a line on."""
    written = re.escape(key)
    at_start = re.compile(rf"""\s*(?:\[[^\]]*\.)?["']?{written}["']?\s*[=.\]]""")
    inside = re.compile(rf"""[{{,.]\s*["']?{written}["']?\s*[=.]""")
    for pattern in (at_start, inside):
        for index in range(start, end):
            if pattern.match(lines[index]) if pattern is at_start else pattern.search(lines[index]):
                return index
    return None


def _nth_table(lines: Sequence[str], start: int, end: int, number: int) -> int | None:
    """Find the line of the entry of an array that runs over several lines, one table a line."""
    seen = -1
    for index in range(start, end):
        seen += lines[index].count("{")
        if seen >= number:
            return index
    return None
