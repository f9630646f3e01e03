"""The trip: what falls due before a day, if so far is driven until then."""

from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget

from castlenut.domain.errors import BadInput
from castlenut.domain.order import Row, rows
from castlenut.domain.trip import on_trip
from castlenut.domain.working import State
from castlenut.garage import entry
from castlenut.screens.car_list import CarList
from castlenut.screens.item_rows import COLUMNS, item_row
from castlenut.screens.widgets.columns import Line
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import figures
from castlenut.words.escape import one_line

_EMPTY = "Type the last day, and how far it is"


class Trip(CarList):
    """May I do the trip first? Above what falls due on the way, below what is due already."""

    TITLE_WORDS: ClassVar[str] = "trip"
    ANSWERS: ClassVar[str] = (
        "May I do the trip first? Type the last day and how far it is: above stands what falls due"
        " on the way, below what is due already."
    )
    CSS_PATH = "styles/trip.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "app.focus_next", "next"),
        Binding("w,enter", "work", "working"),
        Binding("e", "type", "type it anew"),
        Binding("escape", "back", "back"),
    ]

    def body(self) -> Iterable[Widget]:
        yield DateField("by", "back by", today=self.day, past=False)
        unit = self.car.odometer.dial.unit.value
        yield Field("far", "driven", unit=unit, width=12, remark="empty: driven as usual")
        yield ItemTable(*COLUMNS, empty=_EMPTY, id="due")

    def _field(self, name: str) -> Field:
        return next(each for each in self.query(Field) if each.name == name)

    def on_mount(self) -> None:
        self.say_where(f"Trip: {one_line(self.car.car.vehicle.description)}")
        self._field("by").enter()

    # -- showing -------------------------------------------------------------------------------

    def on_field_changed(self, _message: Field.Changed) -> None:
        self.show()

    def on_field_entered(self, message: Field.Entered) -> None:
        """Go on to the next field, from the last one to the list."""
        if message.field.name == "by":
            self._field("far").enter()
        else:
            self.table.focus()

    def show(self) -> None:
        by, far = self._field("by"), self._field("far")
        self.rows = ()
        told = ""
        try:
            length = float(entry.number(far.text, field="far")) if far.text else None
            if by.text:
                day = entry.day(by.text, today=self.day, past=False, field="by")
                found = on_trip(self.car, by=day, far=length)
                self.rows = rows([item for item in found if not item.rule.is_own_check])
        except BadInput as refused:
            told = "; ".join(f"{each.what}; {each.remedy}" for each in refused.faults)
        ahead = tuple(row for row in self.rows if row.first.reckoned is State.AHEAD)
        due = tuple(row for row in self.rows if row not in ahead)
        self.rows = (*ahead, *due)
        self.table.show(self._lines(ahead, due) if self.rows else ())
        if not told and by.text:
            told = f"{figures.count(len(ahead), 'thing')} on the way, {len(due)} due already"
        self.tell(told)

    def _lines(self, ahead: tuple[Row, ...], due: tuple[Row, ...]) -> Iterator[Line]:
        for name, part in (("falls due on the way", ahead), ("due already", due)):
            yield Line(key=name, cells=(f"{name}, {len(part)}",), is_heading=True)
            for row in part:
                yield item_row(row, self.car)

    def action_type(self) -> None:
        self._field("by").enter()
