"""JSON lines in, JSON lines out: one answer a line, each from its line alone."""

import json
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal, InvalidOperation
from typing import TextIO

from castlenut.command.reckon.fields import Answer, Json
from castlenut.domain.errors import BadInput, Fault

FINE = 0
HAD_ERRORS = 2


def answer_lines(
    answer: Callable[[Mapping[str, Json]], Answer],
    lines: Iterable[str | bytes],
    stdout: TextIO,
) -> int:
    """Answer every line that is not blank, in order, each flushed as it is written.

    Bytes are read as UTF-8, so that one line that is not spoils no other. Gives 0 when every line
    was answered and 2 when any had an error.
    """
    code = FINE
    for line in lines:
        if not line.strip():
            continue
        answered = answered_line(answer, line)
        if "error" in answered:
            code = HAD_ERRORS
        stdout.write(json.dumps(answered, allow_nan=False) + "\n")
        stdout.flush()
    return code


def answered_line(
    answer: Callable[[Mapping[str, Json]], Answer], line: str | bytes
) -> dict[str, Json]:
    """Answer one line: its `id` and the answer, or its `id` and one sentence on what is wrong."""
    identity: Json = None
    try:
        values, is_twofold = _object(line)
        identity = _identity(values.pop("id", None))
        if is_twofold:
            return _error(identity, Fault("names a field twice", "line", "name each field once"))
        return {"id": identity, **answer(values)}
    except BadInput as bad:
        return _error(identity, *bad.faults)


def _error(identity: Json, *faults: Fault) -> dict[str, Json]:
    return {"id": identity, "error": ". ".join(str(fault) for fault in faults)}


def _object(line: str | bytes) -> tuple[dict[str, Json], bool]:
    """Read one line as an object, and tell whether anything in it names a field twice.

    Raises:
        BadInput: it is not UTF-8, not JSON, or no object.
    """
    is_twofold = False

    def pairs(members: list[tuple[str, Json]]) -> dict[str, Json]:
        nonlocal is_twofold
        values = dict(members)
        is_twofold = is_twofold or len(values) < len(members)
        return values

    try:
        text = line.decode() if isinstance(line, bytes) else line
        value: object = json.loads(
            text.removeprefix("\ufeff"),
            object_pairs_hook=pairs,
            parse_float=Decimal,
            parse_constant=Decimal,
        )
    except (ValueError, RecursionError, InvalidOperation) as unread:
        raise BadInput(
            Fault("is not JSON", "line", "write one object a line, in braces")
        ) from unread
    if not isinstance(value, dict):
        raise BadInput(Fault("is not an object", "line", "write one object a line, in braces"))
    return value, is_twofold


def _identity(given: Json) -> Json:
    """Give an id back as it can be written: a figure with a point as a float.

    Raises:
        BadInput: a list or an object, which is no name for a line.
    """
    if isinstance(given, list | dict):
        raise BadInput(Fault("is a list or an object", "id", "give a text or a number"))
    if isinstance(given, Decimal):
        return float(given) if given.is_finite() and given.adjusted() < 300 else str(given)
    return given
