"""A row of a part taken off."""

from typing import ClassVar

from textual.app import ComposeResult

from castlenut.domain.errors import BadInput, Fault
from castlenut.garage.day_rows import Removed
from castlenut.screens.forms.kinds import part_names
from castlenut.screens.forms.rows.row import WorkRow
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field


class RemovedRow(WorkRow):
    """A part taken off in the course of the day's work."""

    WHAT: ClassVar[str] = "removed"

    def compose(self) -> ComposeResult:
        yield ChoiceField(self.at("record"), self.head, names=tuple(part_names(self.car)), width=44)
        yield Field(self.at("why"), "  why", width=44)

    def entry(self) -> Removed | None:
        name = self.text("record")
        if not name:
            return None
        record = part_names(self.car).get(name)
        if record is None:
            raise BadInput(
                Fault(
                    f"{name!r} is no part on this car",
                    self.at("record"),
                    "type part of its name, then enter",
                )
            )
        return Removed(row=self.number, record=record, why=self.text("why") or None)
