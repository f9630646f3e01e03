"""A row of what the owner said no to."""

from typing import ClassVar

from textual.app import ComposeResult

from castlenut.domain.naming import unique_name
from castlenut.garage.day_rows import Declined
from castlenut.screens.forms.rows.row import ItemRow
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.field import Field


class DeclinedRow(ItemRow):
    """Who said no, in which words, and until when: the item stays counted."""

    WHAT: ClassVar[str] = "declined"

    def compose(self) -> ComposeResult:
        yield self.item_field()
        owner = self.car.car.vehicle.owner or ""
        yield Field(self.at("who"), "  who", value=owner, width=30)
        yield Field(self.at("why"), "  words", width=44)
        today = self.garage.surroundings.today
        yield DateField(self.at("until"), "  ask again", today=today, past=False)

    def entry(self) -> Declined | None:
        if self.is_empty:
            return None
        return Declined(
            row=self.number,
            items=tuple(unique_name(each) for each in self.chosen()),
            who=self.text("who") or None,
            why=self.text("why") or None,
            until=self.text("until") or None,
        )
