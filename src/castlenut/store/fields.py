"""Types of the fields of a record: what each may hold on disk, and how it is read as typed."""

import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import date
from decimal import Decimal, InvalidOperation
from functools import lru_cache

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.place import place
from castlenut.store.values import MOST, Value, canonical, is_exact, whole_if_whole

LINE_LENGTH = 200
NOTE_LENGTH = 65_536
DEEPEST = 4
_CONTROL = "[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]"
_CONTROL_IN_NOTE = "[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]"
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_MONEY = r"\d{1,12}\.\d\d"
_GROUPED = r"[+-]?\d{1,3}(,\d{3})+(\.\d*)?"
_TYPED_NUMBER = r"[+-]?(\d+(\.\d*)?|\.\d+)"
_PART = r"""\s*((?:[^,"=:]*[=:]\s*)?"(?:[^"]|"")*"(?=\s*(?:,|$))|[^,]*)(?:,|$)"""
_QUOTED = r'"(?:[^"]|"")*"'
_PAIR = r"\s*([^=:]+?)\s*[=:]\s*(.*?)\s*"
_YES = {"yes": True, "true": True, "no": False, "false": False}


class NotRead(Exception):
    """A typed text cannot be read as its field's type; says what is needed."""


@dataclass(frozen=True, slots=True)
class FieldType:
    """One type of field.

    `needed` ends the sentence "figure is "abc", ... is needed". `holds` says whether a value read
    from disk is of the type. `may_enter` gives what stands against a value being entered (length,
    control characters), or None; it is asked only where `holds`. `read` reads a text as typed, and
    raises NotRead.
    """

    needed: str
    holds: Callable[[Value], bool]
    may_enter: Callable[[Value], str | None]
    read: Callable[[str], Value]


def _anything(value: Value) -> str | None:  # noqa: ARG001 - one of several answers of one shape
    return None


def _is_text(value: Value) -> bool:
    return isinstance(value, str)


def _line_odd(value: Value) -> str | None:
    if not isinstance(value, str):
        return None
    if re.search(_CONTROL, value):
        return "holds control characters"
    if len(value) > LINE_LENGTH:
        return f"has {len(value)} characters, {LINE_LENGTH} at most"
    return None if _is_whole_text(value) else "holds half a character"


def _note_odd(value: Value) -> str | None:
    if not isinstance(value, str):
        return None
    if re.search(_CONTROL_IN_NOTE, value):
        return "holds control characters"
    if len(value) > NOTE_LENGTH:
        return f"has {len(value)} characters, {NOTE_LENGTH} at most"
    return None if _is_whole_text(value) else "holds half a character"


def _is_whole_text(text: str) -> bool:
    return text.isascii() or not any("\ud800" <= character <= "\udfff" for character in text)


def has_control_characters(value: Value, *, note: bool) -> bool:
    """Tell whether a text, or one inside a list or table, may not reach a terminal as it is."""
    match value:
        case str():
            return re.search(_CONTROL_IN_NOTE if note else _CONTROL, value) is not None
        case list():
            return any(has_control_characters(each, note=note) for each in value)
        case dict():
            return any(
                has_control_characters(name, note=False) or has_control_characters(each, note=note)
                for name, each in value.items()
            )
        case _:
            return False


def has_half_character(value: Value) -> bool:
    """Tell whether a text in a value holds a lone surrogate, which no file can hold in UTF-8."""
    match value:
        case str():
            return not _is_whole_text(value)
        case list():
            return any(has_half_character(each) for each in value)
        case dict():
            return any(
                has_half_character(name) or has_half_character(each) for name, each in value.items()
            )
        case _:
            return False


def depth(value: Value) -> int:
    """Give how deep lists and tables stand in one another; a plain value is 0."""
    deepest = 0
    level: list[Value] = [value]
    while level := [each for each in level if isinstance(each, dict | list)]:
        deepest += 1
        level = [
            inner
            for each in level
            for inner in (each.values() if isinstance(each, dict) else each)
            if isinstance(inner, dict | list)
        ]
    return deepest


def _text(read: str) -> Value:
    return read


LINE = FieldType("a text", _is_text, _line_odd, _text)
NOTE = FieldType("a text", _is_text, _note_odd, _text)


def _typed_decimal(text: str) -> int | Decimal:
    plain = text.strip()
    if re.fullmatch(_GROUPED, plain):
        plain = plain.replace(",", "")
    if not re.fullmatch(_TYPED_NUMBER, plain):
        raise NotRead("a number is needed")
    found = Decimal(plain)
    if not is_exact(found):
        raise NotRead("a number of at most 15 digits is needed")
    return whole_if_whole(found)


def integer(least: int, most: int) -> FieldType:
    """Give the type of whole numbers from `least` to `most`, both allowed."""
    needed = f"a whole number from {least} to {most}"

    def read(text: str) -> Value:
        try:
            found = _typed_decimal(text)
        except NotRead:
            raise NotRead(f"{needed} is needed") from None
        if not isinstance(found, int) or not least <= found <= most:
            raise NotRead(f"{needed} is needed")
        return found

    return FieldType(
        needed, lambda value: type(value) is int and least <= value <= most, _anything, read
    )


def _is_number(value: Value) -> bool:
    if isinstance(value, int):
        return -MOST < value < MOST and not isinstance(value, bool)
    return isinstance(value, Decimal) and is_exact(value)


def _is_amount(value: Value) -> bool:
    if isinstance(value, int | Decimal) and _is_number(value):
        return value >= 0
    return False


def _read_not_negative(text: str) -> Value:
    found = _typed_decimal(text)
    if found < 0:
        raise NotRead("a number of 0 or more is needed")
    return found


NUMBER = FieldType("a number", _is_number, _anything, _typed_decimal)
AMOUNT = FieldType("a number", _is_amount, _anything, _read_not_negative)


@lru_cache(maxsize=4096)
def _is_day_text(text: str) -> bool:
    if not _DAY.fullmatch(text):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _read_day(text: str) -> Value:
    if not _is_day_text(text.strip()):
        raise NotRead("a day that exists, as 2026-11-25, is needed")
    return text.strip()


DAY = FieldType(
    "a day that exists, as 2026-11-25,",
    lambda value: isinstance(value, str) and _is_day_text(value),
    _anything,
    _read_day,
)


def _read_money(text: str) -> Value:
    found = _read_not_negative(text)
    if isinstance(found, int):
        found = Decimal(found)
    if not isinstance(found, Decimal):
        raise NotRead("an amount of money is needed")
    cents = found.quantize(Decimal("0.01"))
    if cents != found or not re.fullmatch(_MONEY, f"{cents}"):
        raise NotRead("an amount of money with at most two decimals is needed")
    return f"{cents}"


MONEY = FieldType(
    'an amount of money as "12.50"',
    lambda value: isinstance(value, str) and re.fullmatch(_MONEY, value) is not None,
    _anything,
    _read_money,
)


def _read_yes_no(text: str) -> Value:
    found = _YES.get(text.strip().lower())
    if found is None:
        raise NotRead("yes or no is needed")
    return found


YES_NO = FieldType("yes or no", lambda value: isinstance(value, bool), _anything, _read_yes_no)


@lru_cache(maxsize=1024)
def _is_place_text(text: str) -> bool:
    try:
        return place(text) is not None
    except BadInput:
        return False


def _read_place(text: str) -> Value:
    try:
        found = place(text)
    except BadInput as bad:
        raise NotRead(f"{bad.faults[0].what}; {bad.faults[0].remedy}") from bad
    return None if found is None else str(found)


PLACE = FieldType(
    "a place as LF upper",
    lambda value: isinstance(value, str) and _is_place_text(value),
    _anything,
    _read_place,
)


def choice(*words: str) -> FieldType:
    """Give the type of a closed set of words."""
    allowed = frozenset(words)
    needed = f"one of {', '.join(words)}" if len(words) > 1 else f'"{words[0]}" or nothing'

    def read(text: str) -> Value:
        word = " ".join(text.lower().split())
        if word not in allowed:
            raise NotRead(f"{needed} is needed")
        return word

    return FieldType(
        needed, lambda value: isinstance(value, str) and value in allowed, _anything, read
    )


def listed(of: FieldType) -> FieldType:
    """Give the type of a list, typed with commas between; what holds one stands in quotes."""
    needed = f"a list, of which each is {of.needed},"

    def odd(value: Value) -> str | None:
        members = value if isinstance(value, list) else []
        return next((found for each in members if (found := of.may_enter(each))), None)

    def read(text: str) -> Value:
        return [of.read(_unquoted(part)) for part in _parts(text)]

    return FieldType(
        needed,
        lambda value: isinstance(value, list) and all(of.holds(each) for each in value),
        odd,
        read,
    )


def tabled(of: FieldType) -> FieldType:
    """Give the type of a table by name, typed as `name=value,name=value`; `:` does as well."""
    needed = f"a table by name, of which each is {of.needed},"

    def odd(value: Value) -> str | None:
        table = value if isinstance(value, dict) else {}
        return next(
            (
                found
                for name, each in table.items()
                if (found := _line_odd(name) or of.may_enter(each))
            ),
            None,
        )

    def read(text: str) -> Value:
        table: dict[str, Value] = {}
        for part in _parts(text):
            pair = re.fullmatch(_PAIR, part)
            if pair is None:
                raise NotRead("name=value, with commas between, is needed")
            if pair[1] in table:
                raise NotRead(f"{pair[1]} stands twice; each name once is needed")
            table[pair[1]] = of.read(_unquoted(pair[2]))
        return table

    return FieldType(
        needed,
        lambda value: isinstance(value, dict) and all(of.holds(each) for each in value.values()),
        odd,
        read,
    )


def in_list(text: str) -> str:
    """Give a text as it is typed as one of a list: in quotes where it would else be several."""
    if text and text == text.strip() and "," not in text and not text.startswith('"'):
        return text
    return '"' + text.replace('"', '""') + '"'


def _parts(text: str) -> Sequence[str]:
    """Part a list at its commas, those in quotes left out; empty parts are none."""
    return [part for each in re.finditer(_PART, text) if (part := each[1].strip())]


def _unquoted(part: str) -> str:
    """Take off the quotes round a whole part."""
    return part[1:-1].replace('""', '"') if re.fullmatch(_QUOTED, part) else part


def either(first: FieldType, second: FieldType, needed: str) -> FieldType:
    """Give the type of what is one or the other; a typed text is read as the first if it can be."""

    def odd(value: Value) -> str | None:
        return first.may_enter(value) if first.holds(value) else second.may_enter(value)

    def read(text: str) -> Value:
        for one in (first, second):
            with suppress(NotRead):
                return one.read(text)
        raise NotRead(f"{needed} is needed")

    return FieldType(needed, lambda value: first.holds(value) or second.holds(value), odd, read)


def shown(value: Value) -> str:
    """Give a value as it is quoted in a sentence: ASCII only, cut at 40 characters."""
    try:
        text = canonical(value)
    except (ValueError, InvalidOperation, RecursionError):
        return "what stands there"
    text = "".join(
        character if " " <= character <= "~" else _escaped(character) for character in text
    )
    return text if len(text) <= 40 else f"{text[:39]}..."


def _escaped(character: str) -> str:
    code = ord(character)
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
