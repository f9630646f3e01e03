"""The form for an odometer reading."""

from collections.abc import Callable, Iterable
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.form import Form
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.distance_field import DistanceField
from castlenut.screens.widgets.field import Field


class ReadingForm(Form):
    """What the dial showed on a day. An odd figure is kept and flagged, never refused."""

    HEAD: ClassVar[str] = "Odometer reading"

    def __init__(self, garage: Garage, car: CarToday) -> None:
        super().__init__(garage)
        self.car = car
