"""Where a field stands in the text of a rule file, looked for only when there is a fault."""

import re
from collections.abc import Sequence

from castlenut.domain.errors import Fault

Path = tuple[str | int, ...]
"""The way to a value inside one entry of a file: `("limits", 1, "measure")`, counted from 0."""

_LONG_NUMBER = r"\d{4301,}"
_DEEP = r"[\[{]{50,}"
_PLACED = r"\s*\(at (?:line (\d+), column \d+|end of document)\)"


def line_of(text: str, array: str, number: int, path: Path) -> int:
    """Give the line, counted from 1, on which a value stands, or the nearest line above it.

    `array` and `number` name the entry: the third `[[rule]]` is ("rule", 2).
    """
    lines = text.splitlines()
    line, end = _entry(lines, array, number)
    is_inside = False
    for step in path:
        found = (
            _nth_table(lines, line, end, step)
            if isinstance(step, int)
            else _key(lines, line, end, step, is_inside=is_inside)
        )
        if found is None:
            break
        line, is_inside = found, True
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
    lines = text.splitlines()
    said = str(error)
    placed = re.search(_PLACED, said)
    if placed is not None:
        what = re.sub(_PLACED, "", said).strip()
        what = f"{what[0].lower()}{what[1:]}"
        line = int(placed.group(1) or len(lines) or 1)
    elif isinstance(error, RecursionError):
        what, line = "lists in lists too deep", _first_line(lines, _DEEP)
    else:
        what, line = "a number too long to read", _first_line(lines, _LONG_NUMBER)
    return Fault(
        what=f"not TOML: {what}",
        where=f"{file} line {line}",
        remedy="mend that line; text stands in quotes, a rule begins with [[rule]]",
    )


def _first_line(lines: Sequence[str], pattern: str) -> int:
    return next((at for at, line in enumerate(lines, 1) if re.search(pattern, line)), 1)


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


def _key(lines: Sequence[str], start: int, end: int, key: str, *, is_inside: bool) -> int | None:
    """Find `key =`, `key.more =` or a head `[rule.key]`, from a line on.

    Inside another value it may stand anywhere in a line: the first that has it counts.
    """
    written = rf"""["']?{re.escape(key)}["']?\s*[=.\]]"""
    before = r"(?:^|[{,.])\s*" if is_inside else r"^\s*(?:\[[^\]]*\.)?"
    pattern = re.compile(before + written)
    return next((at for at in range(start, end) if pattern.search(lines[at])), None)


def _nth_table(lines: Sequence[str], start: int, end: int, number: int) -> int | None:
    """Find the line of an entry of a list: the same line, or one table a line."""
    if lines[start].count("[") == lines[start].count("]"):
        return start
    seen = -1
    for at in range(start, end):
        seen += lines[at].count("{")
        if seen >= number:
            return at
    return None
