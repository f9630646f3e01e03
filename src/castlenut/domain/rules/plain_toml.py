"""TOML as plain as rules are written, read in a fraction of the time, its lists by way of JSON.

Read are keys, texts without escapes, numbers, true and false, lists of them and tables on one
line, under `[[array]]` headers. Whatever else a text holds, every fault among it, is left to the
library's reader, which reads the whole of it then: so the two can only agree.
"""

import json
import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import cache

_HEADER = re.compile(r"\[\[([A-Za-z0-9_-]+)\]\]")
_NOTHING = re.compile(r"[ \t]*|#[^\x00-\x08\x0a-\x1f\x7f]*")
_TEXT = r'"[^"\\\x00-\x1f\x7f]*"'
_ONE_TEXT = re.compile(rf"([A-Za-z0-9_-]+) = ({_TEXT})")
_STATEMENT = re.compile(r"([A-Za-z0-9_-]+)[ \t]*=[ \t]*([^ \t\n].*)", re.DOTALL)
_FLAT = re.compile(rf"\[{_TEXT}(?:, {_TEXT})*\]|-?[0-9.]+")
_KEY = r"([A-Za-z0-9_-]+)[ \t]*="
_PLAIN = re.compile(rf"(?:{_TEXT}(?:[ \t]*=)?|{_KEY}|[-0-9.]+|true|false|[\[\]{{}}, \t\n])*")
_TEXT_OR_KEY = re.compile(rf"({_TEXT})([ \t]*=)?|{_KEY}")
_LAST_COMMA = re.compile(rf'{_TEXT}|(?<=[\]}}"\w]),(?=[ \t\n]*\])')


def plain(text: str, parse_float: Callable[[str], Decimal]) -> dict[str, object] | None:
    """Read a text; None where it is not as plain as that."""
    found: dict[str, object] = {}
    arrays: dict[str, list[dict[str, object]]] = {}
    table = found
    try:
        for statement in _statements(text):
            header = _HEADER.fullmatch(statement)
            if header is not None:
                table = {}
                array = arrays.setdefault(header[1], [])
                array.append(table)
                if found.setdefault(header[1], array) is not array:
                    return None
                continue
            key, value = _read(statement, parse_float)
            if key in table:
                return None
            table[key] = value
    # Not as plain, no JSON, too long a number, too deep a list: the library's reader tells.
    except (ValueError, RecursionError):
        return None
    return found


def _statements(text: str) -> Iterator[str]:
    """Give each header, and each key with its value, on however many lines it stands."""
    statement = ""
    for line in text.split("\n"):
        if _NOTHING.fullmatch(line):
            continue
        if line.startswith((" ", "\t", "]")):
            if not statement:
                raise ValueError(line)
            statement += f"\n{line}"
            continue
        if statement:
            yield statement
        statement = line.rstrip(" \t")
    if statement:
        yield statement


def _read(statement: str, parse_float: Callable[[str], Decimal]) -> tuple[str, object]:
    one = _ONE_TEXT.fullmatch(statement)
    if one is not None:
        return one[1], one[2][1:-1]
    parts = _STATEMENT.fullmatch(statement)
    if parts is None:
        raise ValueError(statement)
    if _FLAT.fullmatch(parts[2]):
        return parts[1], _decoder(parse_float).decode(parts[2])
    if not _PLAIN.fullmatch(parts[2]):
        raise ValueError(statement)
    if any(line.count("{") != line.count("}") for line in parts[2].split("\n")):
        raise ValueError(statement)  # a table stands on one line, as JSON's need not
    without = _LAST_COMMA.sub(lambda each: "" if each[0] == "," else each[0], parts[2])
    value = _TEXT_OR_KEY.sub(_as_json, without)
    return parts[1], _decoder(parse_float).decode(value)


@cache
def _decoder(parse_float: Callable[[str], Decimal]) -> json.JSONDecoder:
    return json.JSONDecoder(parse_float=parse_float, object_pairs_hook=_table)


def _as_json(found: re.Match[str]) -> str:
    text, is_key, bare = found.groups()
    if bare:
        return f'"{bare}":'
    return f"{text}:" if is_key else text


def _table(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key stands twice")
    return found
