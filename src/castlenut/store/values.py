"""Values as they stand in a record, and the one text each has."""

import json
import re
from decimal import Decimal
from typing import TypeAlias

Value: TypeAlias = "bool | int | Decimal | str | list[Value] | dict[str, Value] | None"
"""What a field may hold. Whole numbers are int, all others Decimal; None as a field clears it."""

Object: TypeAlias = dict[str, Value]

_HALF_CHARACTER = "[\ud800-\udfff]"
_EXACT_DIGITS = 15  # a binary float keeps this many decimal digits exactly
MOST = 10**_EXACT_DIGITS


class _Unencodable(Exception):
    """A number that a binary float would not keep exactly."""


def canonical(value: Value) -> str:
    """Give the one text of a value: keys sorted, no blanks, text as it is, lone surrogates escaped.

    Equal values have equal texts, and texts differ where values do: this is what "by value" means.
    """
    try:
        text = _ENCODER.encode(value)
    except _Unencodable:
        text = _slowly(value)
    if text.isascii():
        return text
    return re.sub(_HALF_CHARACTER, lambda half: f"\\u{ord(half[0]):04x}", text)


def number(text: str) -> int | Decimal:
    """Read a decimal number as it stands in JSON; a whole one becomes an int.

    A whole number beyond 15 digits stays a Decimal, so that 1e300 is not written out in full.

    Raises:
        ValueError: the number overflows.
    """
    found = Decimal(text)
    if float(found) in {float("inf"), float("-inf")}:
        raise ValueError(f"{text} overflows")
    return whole_if_whole(found)


def whole_if_whole(found: Decimal) -> int | Decimal:
    """Give a whole Decimal as an int, and any other without the zeros at its end."""
    if abs(found) < MOST and found == found.to_integral_value():
        return int(found)
    digits, mark, exponent = f"{found}".partition("E")
    if "." in digits:
        digits = digits.rstrip("0").rstrip(".")
    return Decimal(f"{digits}{mark}{exponent}")


def is_exact(found: Decimal) -> bool:
    """Tell whether a number has no more digits than a record may hold."""
    return len(found.as_tuple().digits) <= _EXACT_DIGITS and abs(found) < MOST


def _as_float(value: object) -> float:
    """Hand the fast encoder a float that has the same digits; it knows no Decimal."""
    if isinstance(value, Decimal):
        near = float(value)
        if Decimal(repr(near)) == value:
            return near
    raise _Unencodable


_ENCODER = json.JSONEncoder(
    ensure_ascii=False,
    allow_nan=False,
    sort_keys=True,
    separators=(",", ":"),
    default=_as_float,
    check_circular=False,
)


def _slowly(value: Value) -> str:
    match value:
        case dict():
            inside = ",".join(
                f"{_ENCODER.encode(key)}:{_slowly(value[key])}" for key in sorted(value)
            )
            return f"{{{inside}}}"
        case list():
            return f"[{','.join(_slowly(each) for each in value)}]"
        case Decimal() if Decimal(repr(float(value))) != value:
            return str(value)
        case _:
            return _ENCODER.encode(value)
