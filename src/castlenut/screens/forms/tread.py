"""The form for tread depths: every tire in the order in which one walks round the car."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.errors import Fault
from castlenut.domain.tires.today import TiresToday
from castlenut.garage.changes.tread import draft_tread
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import due_lines
from castlenut.screens.forms.form import Looked
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.forms.tread_fields import (
    HEAD,
    apart,
    no_dial_figure,
    tread_fields,
    typed_depths,
)
from castlenut.screens.forms.when import when_fields
from castlenut.screens.widgets.distance_field import ESTIMATE
from castlenut.screens.widgets.field import Field


class TreadForm(CarForm):
    """Depths of the tires on the car. One that cannot be is kept, and said at its field."""

    HEAD: ClassVar[str] = "Tread"

    def __init__(self, garage: Garage, car: CarToday, tires: TiresToday) -> None:
        super().__init__(garage, car)
        self.tires = tires

    def fields(self) -> Iterable[Widget]:
        yield from when_fields(self.garage, self.car)
        yield Static(HEAD, classes="form-words", markup=False)
        yield from tread_fields(self.tires, depth_unit=self.garage.settings.depth_unit)
        yield Field("note", "note", width=44)

    def begin(self) -> None:
        self.field("at").enter()

    def lacking(self) -> tuple[Fault, ...]:
        return no_dial_figure(self.text("at"))

    def question(self) -> Callable[[], Draft]:
        at = self.text("at")
        return partial(
            draft_tread,
            self.garage,
            self.slug(),
            typed_depths(self.typed),
            on=self.text("on"),
            at=None if at in ("", ESTIMATE) else at,
            note=self.text("note") or None,
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return due_lines(self.garage, draft)

    def said(self, looked: Looked) -> Sequence[str]:
        return (*apart(looked.told, self.typed), *looked.follows)
