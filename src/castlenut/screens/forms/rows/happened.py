"""A row of something that happened to the car."""

from typing import ClassVar

from textual.app import ComposeResult

from castlenut.garage.day_rows import Happened
from castlenut.screens.forms.rows.row import WorkRow
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field


class HappenedRow(WorkRow):
    """An event, found by any word of it; what becomes due by it is told before saving."""

    WHAT: ClassVar[str] = "happened"

    def compose(self) -> ComposeResult:
        events = self.garage.book.events.values()
        yield ChoiceField(
            self.at("event"),
            self.head,
            names=[each.words for each in events],
            also={each.words: " ".join((each.name, *each.also_called)) for each in events},
            width=44,
        )
        yield Field(self.at("place"), "  where", width=14, remark="LF, rear ...; empty: all of it")

    def entry(self) -> Happened | None:
        words = self.text("event")
        if not words:
            return None
        name = next(
            (each.name for each in self.garage.book.events.values() if each.words == words), words
        )
        return Happened(row=self.number, event=name, where=self.text("place") or None)
