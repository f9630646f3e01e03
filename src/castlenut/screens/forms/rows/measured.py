"""A row of measurements: the item, and a value for each place of it."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical

from castlenut.domain.errors import BadInput, Fault
from castlenut.garage.day_rows import Measured
from castlenut.screens.forms.rows.row import ItemRow
from castlenut.screens.forms.rows.values import value_fields, values_typed
from castlenut.screens.widgets.field import Field


class MeasuredRow(ItemRow):
    """What was measured, or how a check was found: the item itself counts as not done."""

    WHAT: ClassVar[str] = "measured"

    def compose(self) -> ComposeResult:
        yield self.item_field()
        with Vertical(classes="row-more"):
            yield from value_fields(self._given, self.number)

    async def on_field_changed(self, message: Field.Changed) -> None:
        """Take up another item: other values are asked for."""
        items = self.items()
        if message.field.name == self.at("item") and items and items != self._given:
            self._given = items
            more = self.query_one(".row-more")
            await more.remove_children()
            await more.mount(*value_fields(items, self.number))

    def entry(self) -> Measured | None:
        if self.is_empty:
            return None
        pairs = values_typed(self.chosen(), self._values())
        if not pairs:
            raise BadInput(
                Fault(
                    "no value is given", self.at("value"), "write the figure, or good or not good"
                )
            )
        return Measured(
            row=self.number,
            items=tuple(name for name, _ in pairs),
            values=tuple(text for _, text in pairs),
        )

    def _values(self) -> tuple[Field, ...]:
        start = self.at("value")
        return tuple(each for each in self.query(Field) if str(each.name).startswith(start))
