"""Fields of one stored record as typed values; what cannot be one sets the record aside."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from enum import Enum
from typing import TypeVar

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId, RecordId, item_id
from castlenut.domain.place import Place, place
from castlenut.store.fields import shown
from castlenut.store.revisions import StoredRecord
from castlenut.store.values import Value

E = TypeVar("E", bound=Enum)


class CannotBe(Exception):
    """A record cannot become a value: says which field holds what, and what is needed."""


@dataclass(frozen=True, slots=True)
class Fields:
    """The present fields of one record. None: the field is missing."""

    record: StoredRecord

    @property
    def id(self) -> RecordId:
        """Give the record's id."""
        return RecordId(self.record.id)

    @property
    def entered(self) -> tuple[str, str]:
        """Give a key that sorts records in the order they were entered."""
        return self.record.made[0], self.record.id

    def _of(self, name: str) -> Value:
        return self.record.values.get(name)

    def text(self, name: str) -> str | None:
        """Give a text, None where it is missing or empty."""
        value = self._of(name)
        if value is None or value == "":
            return None
        if not isinstance(value, str):
            raise self.wrong(name, "a text is needed")
        return value

    def needed(self, name: str) -> str:
        """Give a text that must be there."""
        value = self.text(name)
        if value is None:
            raise CannotBe(f"{name} is missing")
        return value

    def named(self, name: str) -> RecordId | None:
        """Give the id of a record that this one names."""
        value = self.text(name)
        return None if value is None else RecordId(value)

    def yes(self, name: str) -> bool:
        """Tell whether a field says yes; missing is no."""
        return self._of(name) is True

    def figure(self, name: str) -> Decimal | None:
        """Give a number exactly."""
        value = self._of(name)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise self.wrong(name, "a number is needed")
        return Decimal(value)

    def figure_needed(self, name: str) -> Decimal:
        """Give a number that must be there."""
        value = self.figure(name)
        if value is None:
            raise CannotBe(f"{name} is missing")
        return value

    def whole(self, name: str) -> int | None:
        """Give a whole number, a larger unit's fraction cut off."""
        value = self.figure(name)
        return None if value is None else int(value)

    def day(self, name: str) -> date | None:
        """Give a day."""
        value = self._of(name)
        if value is None:
            return None
        try:
            return date.fromisoformat(value) if isinstance(value, str) else None
        except ValueError as no_day:
            raise self.wrong(name, "a day that exists, as 2026-11-25, is needed") from no_day

    def day_needed(self, name: str) -> date:
        """Give a day that must be there."""
        value = self.day(name)
        if value is None:
            raise CannotBe(f"{name} is missing")
        return value

    def place(self, name: str = "place") -> Place | None:
        """Give a place; missing is no place."""
        try:
            return place(self.text(name) or "")
        except BadInput as bad:
            raise self.wrong(name, "a place as LF upper is needed") from bad

    def choice(self, name: str, of: type[E]) -> E | None:
        """Give one of a closed set of words."""
        value = self.text(name)
        if value is None:
            return None
        found = next((each for each in of if each.value == value), None)
        if found is None:
            words = ", ".join(str(each.value) for each in of)
            raise self.wrong(name, f"one of {words} is needed")
        return found

    def lines(self, name: str) -> tuple[str, ...]:
        """Give a list of texts; missing is an empty one."""
        value = self._of(name)
        if value is None:
            return ()
        if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
            raise self.wrong(name, "a list of texts is needed")
        return tuple(each for each in value if isinstance(each, str))

    def figures(self, name: str) -> tuple[Decimal, ...]:
        """Give a list of numbers; one number alone is a list of one."""
        value = self._of(name)
        members = value if isinstance(value, list) else [] if value is None else [value]
        found = [
            Decimal(each)
            for each in members
            if isinstance(each, int | Decimal) and not isinstance(each, bool)
        ]
        if len(found) < len(members):
            raise self.wrong(name, "a list of numbers is needed")
        return tuple(found)

    def table(self, name: str) -> Mapping[str, str]:
        """Give a table of texts by name; numbers in it as texts; missing is an empty one."""
        value = self._of(name)
        if value is None:
            return {}
        if not isinstance(value, dict):
            raise self.wrong(name, "a table by name is needed")
        return {key: str(each) for key, each in value.items() if each is not None}

    def item(self, name: str) -> ItemId | None:
        """Give an item's id, `rule~component`."""
        value = self.text(name)
        return None if value is None else self.as_item(name, value)

    def items(self, name: str) -> tuple[ItemId, ...]:
        """Give a list of items' ids."""
        return tuple(self.as_item(name, value) for value in self.lines(name))

    def as_item(self, name: str, text: str) -> ItemId:
        """Read an item's id that stands in a field."""
        found = item_id(text)
        if found is None:
            raise CannotBe(f"{name} is {shown(text)}, an item as rule~component is needed")
        return found

    def wrong(self, name: str, needed: str) -> CannotBe:
        """Give what is wrong with a field."""
        return CannotBe(f"{name} is {shown(self._of(name))}, {needed}")
