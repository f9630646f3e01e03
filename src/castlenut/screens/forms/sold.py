"""The form for a car that is sold, or is back again."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.garage.changes.selling import draft_back, draft_sold
from castlenut.garage.drafts import Draft
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.field import Field

SOLD, BACK = "sold", "back"


class SoldForm(CarForm):
    """Sold: off the board, off the list to ring, out of the feeds; the record stays."""

    HEAD: ClassVar[str] = "Sold"

    def fields(self) -> Iterable[Widget]:
        is_sold = self.car.car.vehicle.sold_on is not None
        yield ChoiceField(
            "do", "the car is", names=(SOLD, BACK), value=BACK if is_sold else SOLD, width=8
        )
        today = self.garage.surroundings.today
        yield DateField("on", "on", today=today, past=True, value=today.isoformat())
        yield Field("to", "to", width=40, remark="its new owner; may stay empty")

    def question(self) -> Callable[[], Draft]:
        if self.text("do") == BACK:
            return partial(draft_back, self.garage, self.slug())
        on, to = self.maybe("on"), self.maybe("to")
        return partial(draft_sold, self.garage, self.slug(), on=on, to=to)

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (*draft.told, "it leaves the board, whom to ring and the feeds; its record stays")
