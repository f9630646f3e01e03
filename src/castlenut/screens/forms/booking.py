"""The form that books items into a visit: one that is agreed already, or a day of its own."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.domain.errors import Fault
from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.garage.changes.visiting import day_to_book, draft_visit
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.item_rows import titles
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.field import Field
from castlenut.words.cautions import DEFERRING_LINE

_FIELDS = {"DATE": "on"}


class BookForm(CarForm):
    """Books items. What goes past its window by the day typed is told before it is saved."""

    HEAD: ClassVar[str] = "Book"

    def __init__(self, garage: Garage, car: CarToday, items: Sequence[Item]) -> None:
        super().__init__(garage, car)
        self.items = tuple(items)

    def fields(self) -> Iterable[Widget]:
        today = self.garage.surroundings.today
        day = day_to_book(self.garage, self.car, self.items)
        yield DateField("on", "on", today=today, past=False, value=day.isoformat())
        yield Field("hours", "hours", width=8, remark="empty: as reckoned; 1.5, 1:30 or 90m")
        yield Field("note", "note", width=44)

    def question(self) -> Callable[[], Draft]:
        return partial(
            draft_visit,
            self.garage,
            self.slug(),
            self.text("on"),
            [unique_name(item) for item in self.items],
            hours=self.maybe("hours"),
            note=self.maybe("note"),
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        booked = [each.on.isoformat() for each in self.car.car.booked_from(self.car.today)]
        return (
            f"to do: {titles(self.items)}" if self.items else "to do: whatever is due then",
            f"booked already: {', '.join(booked)}" if booked else "nothing is booked yet",
            *draft.told,
            DEFERRING_LINE,
        )

    def field_of(self, fault: Fault) -> Field | None:
        name = _FIELDS.get(fault.where, fault.where)
        return next((each for each in self.typed if each.name == name), None)
