"""JSON lines in, JSON lines out: one answer a line, each from its line alone."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import Decimal, InvalidOperation
from typing import TextIO

from castlenut.command.reckon.fields import Answer, Fields, Json
from castlenut.domain.errors import BadInput, Fault

FINE = 0
HAD_ERRORS = 2


def answer_lines(
    answer: Callable[[Mapping[str, Json]], Answer],
    lines: Iterable[str | bytes],
    stdout: TextIO,
) -> int:
    """Answer every line that is not blank, in order, each flushed as it is written.

    Bytes are read as UTF-8, so that one line that is none spoils no other. Gives 0 when every
    line was answered and 2 when any had an error.
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
        values = _object(line)
        identity = _written(values.pop("id", None))
        return {"id": identity, **{name: _written(value) for name, value in answer(values).items()}}
    except BadInput as bad:
        return {"id": identity, "error": " Also ".join(_sentence(fault) for fault in bad.faults)}


def _sentence(fault: Fault) -> str:
    return f"{fault}."


class _Twice(dict[str, Json]):
    """An object that names a field twice: which of the two is meant cannot be told."""


def _pairs(pairs: list[tuple[str, Json]]) -> dict[str, Json]:
    values = dict(pairs)
    return values if len(values) == len(pairs) else _Twice(values)
