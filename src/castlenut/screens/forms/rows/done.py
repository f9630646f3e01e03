"""A row of work done: the item, what is measured on it, and what it includes."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.findings import How
from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.domain.own import is_to_be_mended
from castlenut.domain.place import touches
from castlenut.domain.rules.included import included_rules
from castlenut.garage.day_rows import Done, Mended
from castlenut.screens.forms.rows.row import ItemRow
from castlenut.screens.forms.rows.values import is_measured, value_fields, values_typed
from castlenut.screens.item_rows import titles
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.tick import Tick

_WAYS = tuple(each.value for each in How)


class DoneRow(ItemRow):
    """Work done on an item. What it satisfies besides is listed, and can be unticked."""

    WHAT: ClassVar[str] = "done"

    def compose(self) -> ComposeResult:
        yield self.item_field()
        with Vertical(classes="row-more"):
            yield from self._more(self._given)

    def _more(self, items: Sequence[Item]) -> ComposeResult:
        if items and is_to_be_mended(items[0]):
            yield ChoiceField(
                self.at("how"), "  how", names=_WAYS, width=8, remark="  ".join(_WAYS)
            )
        elif items and is_measured(items[0]):
            yield from value_fields(items, self.number)
        for other in self._included(items):
            yield Tick(f"includes {titles([other])}", key=unique_name(other), is_ticked=True)

    def _included(self, items: Sequence[Item]) -> tuple[Item, ...]:
        if not items:
            return ()
        rules = included_rules(items[0].rule, self.garage.book.rules)
        return tuple(
            other
            for other in self.car.items
            if other.id.rule in rules and any(touches(each.place, other.place) for each in items)
        )

    async def on_field_changed(self, message: Field.Changed) -> None:
        """Take up another item: other values are asked for, other items are included."""
        items = self.items()
        if message.field.name == self.at("item") and items and items != self._given:
            self._given = items
            more = self.query_one(".row-more")
            await more.remove_children()
            await more.mount(*self._more(items))

    def entry(self) -> Done | Mended | None:
        if self.is_empty:
            return None
        items = self.chosen()
        if is_to_be_mended(items[0]):
            return self._mended(items)
        values = values_typed(items, self.value_fields())
        measured = list(dict.fromkeys(name for name, _ in values))
        return Done(
            row=self.number,
            items=(
                *measured,
                *(unique_name(each) for each in items if unique_name(each) not in measured),
            ),
            values=tuple(text for _, text in values),
            left_out=tuple(tick.key for tick in self.query(Tick) if not tick.is_ticked),
        )

    def _mended(self, items: Sequence[Item]) -> Mended:
        how = self.text("how")
        if not how:
            raise BadInput(Fault("how was it mended?", self.at("how"), ", ".join(_WAYS)))
        return Mended(
            row=self.number, findings=tuple(each.component.record for each in items), how=how
        )

    def value_fields(self) -> tuple[Field, ...]:
        """Give the fields for values, in the order of the items."""
        return tuple(
            each for each in self.query(Field) if str(each.name).startswith(self.at("value"))
        )
