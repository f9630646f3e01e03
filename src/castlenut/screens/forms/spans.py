"""The form for what a car is exposed to and for its lay-up: from a day, to a day."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.domain.vehicle import EXPOSURES, LAID_UP
from castlenut.garage.changes.exposures import draft_exposure, draft_layup
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.field import Field


class SpanForm(CarForm):
    """Laid up or exposed, from a day to a day; a planned end may be changed by typing it alone."""

    HEAD: ClassVar[str] = "Exposed to"

    def __init__(self, garage: Garage, car: CarToday, *, name: str = "") -> None:
        super().__init__(garage, car)
        self._exposure = name

    def heading(self) -> str:
        what = "Laid up" if self._exposure == LAID_UP else self.HEAD
        return f"{what}: {self.car.car.vehicle.description}"

    def fields(self) -> Iterable[Widget]:
        yield ChoiceField("exposure", "what", names=EXPOSURES, value=self._exposure, width=18)
        today = self.garage.surroundings.today
        yield DateField("from", "from", today=today, past=False)
        yield DateField("to", "to", today=today, past=False)
        yield Field("note", "note", width=50)

    def begin(self) -> None:
        self.field("from" if self._exposure else "exposure").enter()

    def question(self) -> Callable[[], Draft]:
        days = {"since": self.maybe("from"), "until": self.maybe("to"), "note": self.maybe("note")}
        name = self.text("exposure")
        if name == LAID_UP:
            return partial(draft_layup, self.garage, self.slug(), **days)
        return partial(draft_exposure, self.garage, self.slug(), name, **days)
