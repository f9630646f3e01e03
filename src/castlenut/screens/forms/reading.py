"""The form for an odometer reading."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.drafts import Draft
from castlenut.screens.car_words import distance_today, last_reading
from castlenut.screens.forms.following import due_lines
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.distance_field import DistanceField
from castlenut.screens.widgets.field import Field


class ReadingForm(CarForm):
    """What the dial showed on a day. An odd figure is kept and flagged, never refused."""

    HEAD: ClassVar[str] = "Odometer reading"

    def fields(self) -> Iterable[Widget]:
        last = self.car.odometer.last()
        yield DistanceField(
            "figure",
            "dial shows",
            dial=self.car.odometer.dial,
            last=last.shown if last else None,
            beside=f"{last_reading(self.car)}, {distance_today(self.car)}",
        )
        today = self.garage.surroundings.today
        yield DateField("on", "on", today=today, past=True, value=today.isoformat())
        yield Field("note", "note", width=50)

    def question(self) -> Callable[[], Draft]:
        return partial(
            draft_reading,
            self.garage,
            self.slug(),
            self.text("figure"),
            on=self.text("on"),
            note=self.maybe("note"),
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (*draft.told, *due_lines(self.garage, draft))
