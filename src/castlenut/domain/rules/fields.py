"""Reading one TOML table field by field: faults are collected, each with what is allowed."""

import re
from collections.abc import Callable, Collection, Mapping
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from typing import TypeVar

from castlenut.domain.errors import Fault
from castlenut.domain.rules.lines import Path

Choice = TypeVar("Choice", bound=Enum)

_FRACTION = re.compile(r"(?:(\d{1,6})[- ])?(\d{1,6})/(\d{1,6})")
_FINEST = -9  # no figure of the trade needs more places, and 1e-99999999 would never end
_LONGEST_TEXT = 1000
_A_SLIP, _ALIKE = 0.8, 0.6  # of a word: one letter wrong, and about as many right as wrong


class Table:
    """One table of a rule file: each question gives a value, or None if it is missing or wrong.

    `where` says in words where a path of it stands; `faults` is shared by all tables of a file.
    """

    def __init__(
        self,
        values: Mapping[str, object],
        *,
        path: Path,
        where: Callable[[Path], str],
        faults: list[Fault],
    ) -> None:
        self.values = values
        self._path = path
        self._where = where
        self._faults = faults

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def fault(self, key: str, what: str, remedy: str) -> None:
        """Add a fault of one of this table's fields; an empty key is the table itself."""
        path = (*self._path, key) if key else self._path
        self._faults.append(Fault(what=what, where=self._where(path), remedy=remedy))

    def only(self, allowed: Collection[str], what: str = "not a field of a rule") -> None:
        """Refuse every field that is not among the allowed, naming the near miss."""
        for key in self.values:
            if key not in allowed:
                self.fault(key, what, meant(key, allowed, say="use"))

    def text(self, key: str) -> str | None:
        """Read a text that is not empty."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, str) and value.strip() and _is_one_line(value):
            return value
        self.fault(key, f"{shown(value)} is not a text of one line", "write words in quotes")
        return None

    def texts(self, key: str) -> tuple[str, ...] | None:
        """Read a text or a list of texts; whole numbers and yes or no are taken as texts."""
        value = self.values.get(key)
        if value is None:
            return None
        given = value if type(value) is list else [value]
        found = [each for each in map(_as_text, given) if each is not None]
        if len(found) == len(given):
            return tuple(found)
        self.fault(key, f"{shown(value)} is not a text or a list of texts", 'write ["one", "two"]')
        return None

    def named(self, key: str, known: Collection[str], what: str) -> tuple[str, ...] | None:
        """Read names that must be among the known ones; `what` is the noun for one of them."""
        found = self.texts(key)
        if found is None:
            return None
        for name in found:
            if name not in known:
                self.fault(key, f'"{name}" is not {what}', meant(name, known, say="allowed"))
        return found

    def choice(self, key: str, closed: type[Choice]) -> Choice | None:
        """Read one word of a closed set."""
        value = self.values.get(key)
        if value is None:
            return None
        for each in closed:
            if each.value == value:
                return each
        allowed = [str(each.value) for each in closed]
        self.fault(
            key, f"{shown(value)} is not allowed here", meant(str(value), allowed, say="allowed")
        )
        return None

    def number(self, key: str, least: int, most: int) -> Fraction | None:
        """Read a number, or a fraction as text ("1/8"), both ends allowed."""
        if key not in self.values:
            return None
        return self.as_number(key, self.values[key], least, most)

    def as_number(self, key: str, value: object, least: int, most: int) -> Fraction | None:
        """Read a value of a field as a number; the field is named in the fault."""
        found = as_fraction(value)
        # Most figures are whole: plain integers compare at a tenth of the cost of fractions.
        if found is not None and least <= (value if type(value) is int else found) <= most:
            return found
        what = "is not a number" if found is None else "is out of range"
        self.fault(key, f"{shown(value)} {what}", f"allowed {least} to {most}")
        return None

    def whole(self, key: str, least: int, most: int) -> int | None:
        """Read a whole number, both ends allowed."""
        value = self.values.get(key)
        if type(value) is int and least <= value <= most:
            return value
        found = self.number(key, least, most)
        if found is None:
            return None
        if found.denominator == 1:
            return int(found)
        self.fault(
            key, f"{shown(self.values[key])} is not a whole number", f"allowed {least} to {most}"
        )
        return None

    def yes_no(self, key: str) -> bool | None:
        """Read true or false."""
        value = self.values.get(key)
        if value is None or isinstance(value, bool):
            return value
        self.fault(key, f"{shown(value)} is not true or false", "write true or false")
        return None

    def table(self, key: str, example: str) -> "Table | None":
        """Read a table; the example tells how one is written."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, dict):
            return self._inside(value, key)
        self.fault(key, f"{shown(value)} is not a table", f"write {example}")
        return None

    def tables(self, key: str, example: str) -> "tuple[Table, ...] | None":
        """Read a list of tables."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, list) and all(isinstance(each, dict) for each in value):
            return tuple(self._inside(each, key, number) for number, each in enumerate(value))
        self.fault(key, f"{shown(value)} is not a list of tables", f"write {example}")
        return None

    def items(self, key: str, example: str) -> tuple[object, ...] | None:
        """Read a list of anything."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, list):
            return tuple(value)
        self.fault(key, f"{shown(value)} is not a list", f"write {example}")
        return None

    def entry(self, key: str, number: int, values: Mapping[str, object]) -> "Table":
        """Give one table of a list as a table to be read."""
        return self._inside(values, key, number)

    def _inside(self, values: Mapping[str, object], *steps: str | int) -> "Table":
        return Table(values, path=(*self._path, *steps), where=self._where, faults=self._faults)


def as_fraction(value: object) -> Fraction | None:
    """Read a TOML number or a fraction as text (`1/8`, `2-1/4`); None where it is neither."""
    if isinstance(value, int) and not isinstance(value, bool):
        return Fraction(value)
    if isinstance(value, Decimal) and value.is_finite():
        is_sane = int(value.as_tuple().exponent) >= _FINEST and abs(value.adjusted()) <= -_FINEST
        return Fraction(value) if is_sane or not value else None
    if isinstance(value, str) and (found := _FRACTION.fullmatch(value.strip())):
        whole, top, bottom = found.groups()
        if int(bottom):
            return Fraction(int(whole or 0)) + Fraction(int(top), int(bottom))
    return None


def shown(value: object) -> str:
    """Give a value as it is put into a fault: texts in quotes, long ones cut."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{_cut(value)}"'
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return _cut("[" + ", ".join(shown(each) for each in value[:3]) + "]")
    return _cut(str(value))


def meant(word: str, known: Collection[str], *, say: str) -> str:
    """Say what is allowed, with the near miss first; of a long list only the near ones."""
    # Loaded only when there is a fault to tell: a reading command has no use for it.
    from difflib import get_close_matches

    words = list(known)
    near = get_close_matches(word.lower(), words, n=3, cutoff=_A_SLIP) or get_close_matches(
        word.lower(), words, n=3, cutoff=_ALIKE
    )
    if len(known) <= 12:
        allowed = f"{say} {_listed(known)}"
        return f"{allowed} (did you mean {near[0]}?)" if near else allowed
    return f"did you mean {_listed(near)}?" if near else f"{say} one of the {len(known)} known"


def _listed(words: Collection[str]) -> str:
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


def _as_text(value: object) -> str | None:
    if isinstance(value, str):
        return value if value and _is_one_line(value) else None
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value) if isinstance(value, int) else None


def _is_one_line(text: str) -> bool:
    return len(text) <= _LONGEST_TEXT and text.isprintable()


def _cut(text: str) -> str:
    printable = "".join(letter if letter.isprintable() else "?" for letter in text)
    return printable if len(printable) <= 40 else f"{printable[:37]}..."
