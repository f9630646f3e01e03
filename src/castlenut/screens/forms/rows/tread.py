"""A row of tread depths: a field for each tire, in walking order, up to three grooves each."""

from typing import ClassVar

from textual.app import ComposeResult

from castlenut.domain.item import Item
from castlenut.garage.day_rows import TREAD_RULE, Tread
from castlenut.screens.forms.rows.row import WorkRow
from castlenut.screens.forms.rows.values import what_holds
from castlenut.screens.widgets.field import Field


class TreadRow(WorkRow):
    """What is left of the treads: outer, middle, inner; one figure alone is the least of a tire."""

    WHAT: ClassVar[str] = "tread"

    def compose(self) -> ComposeResult:
        tires = self._tires()
        for number, item in enumerate(tires):
            label = f"{self.head} {item.place}" if number == 0 else f"          {item.place}"
            remark = what_holds(item).partition(";")[0]
            yield Field(self.at(str(item.place)), label, width=10, remark=remark)
        if not tires:
            yield Field(
                self.at("value"), self.head, width=10, remark="no tire recorded: f fits one"
            )

    def _tires(self) -> tuple[Item, ...]:
        found = [
            item for item in self.car.items if item.id.rule == TREAD_RULE and item.place is not None
        ]
        return tuple(sorted(found, key=lambda item: item.place.order if item.place else (-1, "")))

    def entry(self) -> Tread | None:
        typed = tuple(
            (str(item.place), text)
            for item in self._tires()
            if (text := self.text(str(item.place)))
        )
        return Tread(row=self.number, depths=typed) if typed else None
