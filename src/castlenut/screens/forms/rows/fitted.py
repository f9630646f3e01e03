"""A row of a part fitted: what, where, number; its stamped figures are asked for under `f`."""

from typing import ClassVar

from textual.app import ComposeResult

from castlenut.garage.day_rows import Fitted
from castlenut.screens.forms.kinds import kind_field
from castlenut.screens.forms.rows.row import WorkRow
from castlenut.screens.widgets.field import Field


class FittedRow(WorkRow):
    """A part fitted in the course of the day's work."""

    WHAT: ClassVar[str] = "fitted"

    def compose(self) -> ComposeResult:
        yield kind_field(self.garage, self.at("kind"), self.head)
        yield Field(self.at("place"), "  where", width=20, remark="LF,RF, front, all; - for none")
        yield Field(self.at("part"), "  part number", width=20)

    def entry(self) -> Fitted | None:
        kind = self.text("kind")
        if not kind:
            return None
        return Fitted(
            row=self.number,
            kind=kind,
            places=self.text("place") or None,
            part=self.text("part") or None,
        )
