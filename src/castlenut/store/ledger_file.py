"""The text of `feed.json`: plain JSON, keys sorted, one event a line."""

import json
from collections.abc import Mapping

_ENCODER = json.JSONEncoder(
    ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")
)


def ledger_bytes(tables: Mapping[str, Mapping[str, object]]) -> bytes:
    """Give the bytes of a ledger; equal values have equal bytes."""
    text = ",\n".join(f"{_text(name)}: {_table(tables[name])}" for name in sorted(tables))
    # What UTF-8 cannot hold (half a character of a file's name) goes out as its JSON escape.
    return f"{{\n{text}\n}}\n".encode(errors="backslashreplace")


def _table(table: Mapping[str, object]) -> str:
    if not table:
        return "{}"
    lines = ",\n".join(f"{_text(key)}: {_text(table[key])}" for key in sorted(table))
    return f"{{\n{lines}\n}}"


def _text(value: object) -> str:
    return _ENCODER.encode(value)


def ledger_tables(data: bytes) -> Mapping[str, object] | None:
    """Read the tables of a ledger; None where the bytes are no such thing."""
    try:
        found: object = json.loads(data.decode("utf-8-sig"))
    except (ValueError, RecursionError):
        return None
    return found if isinstance(found, dict) else None
