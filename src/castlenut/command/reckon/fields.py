"""The fields of one line, read by name and type, with every fault of the line collected."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from difflib import get_close_matches
from enum import Enum
from fractions import Fraction
from typing import TypeAlias, TypeVar

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.interval import MOST_DISTANCE

Json: TypeAlias = "bool | int | float | Decimal | str | Sequence[Json] | Mapping[str, Json] | None"
"""What a line holds. Read figures with a point are Decimal, so that 0.7 is seven tenths."""
Answer: TypeAlias = Mapping[str, Json]

_Choice = TypeVar("_Choice", bound=Enum)
_LONGEST_SHOWN = 40


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a kind: its name, what it says, and whether a line may leave it out."""

    name: str
    meaning: str
    optional: bool = False


class Fields:
    """The fields of one line, or of an object inside it.

    A reading method that meets a fault notes it and gives a value that stands for nothing;
    `check` raises what was noted, and must be called before what was read is used. A field that
    is null counts as left out.
    """

    def __init__(
        self,
        values: Mapping[str, Json],
        known: Sequence[Field],
        *,
        where: str = "",
        faults: list[Fault] | None = None,
    ) -> None:
        self._values = values
        self._where = where
        self._meanings = {field.name: field.meaning for field in known}
        self.faults: list[Fault] = [] if faults is None else faults
        for name in values:
            if name not in self._meanings:
                self.fault(name, "is not a field here", _meant(name, tuple(self._meanings)))
        for field in known:
            if not field.optional and not self.has(field.name):
                self.fault(field.name, "is missing", f"give {field.meaning}")

    def has(self, name: str) -> bool:
        """Tell whether a field is given and not null."""
        return self._values.get(name) is not None

    def knows(self, name: str) -> bool:
        """Tell whether a line of this kind has such a field at all."""
        return name in self._meanings

    def value(self, name: str) -> Json:
        """Give a field as it stands, for one that may be of several forms."""
        return self._values.get(name)

    def meaning(self, name: str) -> str:
        """Give what a field says, for a sentence that asks for it."""
        return self._meanings[name]

    def fault(self, name: str, what: str, remedy: str) -> None:
        """Note a fault of a field."""
        self.faults.append(Fault(what, self._at(name), remedy))

    def check(self) -> None:
        """Stop here when anything of the line was at fault.

        Raises:
            BadInput: with every fault noted so far.
        """
        if self.faults:
            raise BadInput(*self.faults)

    def number(self, name: str, *, least: float = 0.0, most: float = MOST_DISTANCE) -> float | None:
        """Read a number; None when it is left out."""
        if not self.has(name):
            return None
        return self._number(self._values[name], name, least, most)

    def need_number(self, name: str, *, least: float = 0.0, most: float = MOST_DISTANCE) -> float:
        """Read a number that the line must have."""
        return self.number(name, least=least, most=most) or 0.0

    def fraction(self, name: str, *, least: float, most: float) -> Fraction | None:
        """Read a number as the exact fraction its digits say; None when it is left out."""
        number = self.number(name, least=least, most=most)
        return None if number is None else Fraction(str(number))

    def whole(self, name: str, *, least: int, most: int) -> int | None:
        """Read a whole number; None when it is left out."""
        number = self.number(name, least=least, most=most)
        if number is None:
            return None
        if number != int(number):
            self.fault(
                name, f"{number:g} is not whole", f"give a whole number from {least} to {most}"
            )
        return int(number)

    def need_whole(self, name: str, *, least: int, most: int) -> int:
        """Read a whole number that the line must have."""
        return self.whole(name, least=least, most=most) or 0

    def numbers(self, name: str, *, least: float = 0.0, most: float = MOST_DISTANCE) -> list[float]:
        """Read a list of numbers; empty when it is left out."""
        listed = self._list(name, "numbers")
        return [
            self._number(value, f"{name}[{place}]", least, most)
            for place, value in enumerate(listed, start=1)
        ]

    def number_of(
        self, value: Json, name: str, *, least: float = 0.0, most: float = MOST_DISTANCE
    ) -> float:
        """Read a number out of a list."""
        return self._number(value, name, least, most)

    def rows(self, name: str, what: str) -> Sequence[Json]:
        """Read a list as it stands; empty when it is left out."""
        return self._list(name, what)

    def pairs(self, name: str) -> list[tuple[float, float]]:
        """Read a list of pairs of numbers; empty when it is left out."""
        pairs: list[tuple[float, float]] = []
        for place, pair in enumerate(self._list(name, "pairs of numbers"), start=1):
            where = f"{name}[{place}]"
            if isinstance(pair, list) and len(pair) == 2:
                first, second = (self._number(value, where, 0.0, MOST_DISTANCE) for value in pair)
                pairs.append((first, second))
            else:
                self.fault(where, f"{shown(pair)} is not a pair", "give two numbers in brackets")
        return pairs

    def texts(self, name: str) -> list[str]:
        """Read a list of texts; empty when it is left out."""
        found: list[str] = []
        for place, value in enumerate(self._list(name, "texts"), start=1):
            if isinstance(value, str):
                found.append(value)
            else:
                self.fault(f"{name}[{place}]", f"{shown(value)} is not a text", "put it in quotes")
        return found

    def parts(
        self, name: str, known: Sequence[Field], *, named_by: str | None = None
    ) -> "list[Fields]":
        """Read a list of objects; empty when it is left out.

        `named_by`: the field whose text names an object in a sentence, in place of its number.
        """
        found: list[Fields] = []
        for place, value in enumerate(self._list(name, "objects"), start=1):
            where = f"{name}[{_called(value, named_by) or place}]"
            if isinstance(value, dict):
                found.append(Fields(value, known, where=self._at(where), faults=self.faults))
            else:
                self.fault(where, f"{shown(value)} is not an object", "write it in braces")
        return found

    def members(self, name: str) -> "Fields | None":
        """Read an object whose members may have any name; None when it is left out."""
        value = self._values.get(name)
        if not isinstance(value, dict):
            return self.part(name, ())
        known = [Field(member, "the name", optional=True) for member in value]
        return self.part(name, known)

    @property
    def names(self) -> tuple[str, ...]:
        """Give the names that are given, those that are null among them, as they were written."""
        return tuple(self._values)

    def text(self, name: str) -> str | None:
        """Read a text; None when it is left out."""
        if not self.has(name):
            return None
        value = self._values[name]
        if isinstance(value, str):
            return value
        self.fault(name, f"{shown(value)} is not a text", f"give {self.meaning(name)} in quotes")
        return None

    def need_text(self, name: str) -> str:
        """Read a text that the line must have."""
        return self.text(name) or ""

    def truth(self, name: str) -> bool | None:
        """Read true or false; None when it is left out."""
        if not self.has(name):
            return None
        value = self._values[name]
        if isinstance(value, bool):
            return value
        self.fault(name, f"{shown(value)} is neither true nor false", "give true or false")
        return None

    def choice(self, name: str, choices: type[_Choice]) -> _Choice | None:
        """Read one of the words of an Enum; None when it is left out."""
        text = self.text(name)
        if text is None:
            return None
        words = {str(choice.value): choice for choice in choices}
        if text in words:
            return words[text]
        self.fault(name, f"{shown(text)} is not one of its words", _meant(text, tuple(words)))
        return None

    def need_choice(self, name: str, choices: type[_Choice]) -> _Choice:
        """Read one of the words of an Enum that the line must have."""
        return self.choice(name, choices) or next(iter(choices))

    def day(self, name: str) -> date | None:
        """Read a date; None when it is left out."""
        return self.day_of(self._values[name], name) if self.has(name) else None

    def day_of(self, value: Json, name: str) -> date | None:
        """Read a date out of a list; None when it is none, which is noted."""
        if not isinstance(value, str):
            self.fault(name, f"{shown(value)} is not a date", 'write it as "2026-03-31"')
            return None
        text = value
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            self.fault(name, f"{shown(text)} is not a date", "write it as 2026-03-31")
            return None
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.fault(name, f"there is no day {text}", "give a day of the calendar")
            return None

    def need_day(self, name: str) -> date:
        """Read a date that the line must have."""
        return self.day(name) or date.min

    def part(self, name: str, known: Sequence[Field]) -> "Fields | None":
        """Read an object inside the line; None when it is left out."""
        if not self.has(name):
            return None
        value = self._values[name]
        if isinstance(value, dict):
            return Fields(value, known, where=self._at(name), faults=self.faults)
        self.fault(name, f"{shown(value)} is not an object", f"give {self.meaning(name)}")
        return None

    def _number(self, value: Json, name: str, least: float, most: float) -> float:
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            self.fault(name, f"{shown(value)} is not a number", _range(least, most))
            return least
        if isinstance(value, Decimal) and not value.is_finite():
            self.fault(name, f"{value} is not a number", _range(least, most))
            return least
        if not least <= value <= most:
            self.fault(name, f"{shown(value)} is out of range", _range(least, most))
            return least
        return float(value)

    def _list(self, name: str, what: str) -> Sequence[Json]:
        if not self.has(name):
            return ()
        value = self._values[name]
        if isinstance(value, list):
            return value
        self.fault(name, f"{shown(value)} is not a list", f"give {what} in brackets")
        return ()

    def _at(self, name: str) -> str:
        name = name if name.isprintable() and len(name) <= _LONGEST_SHOWN else shown(name)
        return f"{self._where}.{name}" if self._where else name or "line"


def _called(value: Json, named_by: str | None) -> str | None:
    if named_by is None or not isinstance(value, dict):
        return None
    name = value.get(named_by)
    is_fit = isinstance(name, str) and name.isprintable() and 0 < len(name) <= _LONGEST_SHOWN
    return name if is_fit and isinstance(name, str) else None


def shown(value: Json) -> str:
    """Give what was read in a few characters, as JSON writes it, for a sentence about it."""
    match value:
        case None | True | False:
            text = str(value).lower().replace("none", "null")
        case str():
            text = ascii(value)
        case list():
            text = "a list"
        case dict():
            text = "an object"
        case _:
            text = str(value)
    return text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}..."


def near(name: str, names: Iterable[str]) -> str | None:
    """Give the name that was probably meant, or None when none is near."""
    matches = get_close_matches(name.lower(), list(names), n=1, cutoff=0.6)
    return matches[0] if matches else None


def _meant(name: str, names: Sequence[str]) -> str:
    meant = near(name, names)
    return f"{meant} is probably meant" if meant else f"it may be {', '.join(names)}"


def _range(least: float, most: float) -> str:
    return f"give a number from {least:.12g} to {most:.12g}"
