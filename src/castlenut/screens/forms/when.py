"""The two fields that say when something was done: the day, and what the dial showed."""

from collections.abc import Iterable
from datetime import date

from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.garage.garage import Garage
from castlenut.screens.car_words import estimate_today
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.distance_field import DistanceField


def when_fields(garage: Garage, car: CarToday, *, on: date | None = None) -> Iterable[Widget]:
    """Give the day, today at first or `on`, and the dial figure, empty with the estimate beside."""
    today = garage.surroundings.today
    last = car.odometer.last()
    yield DateField("on", "on", today=today, past=True, value=(on or today).isoformat())
    yield DistanceField(
        "at",
        "dial shows",
        dial=car.odometer.dial,
        last=last.shown if last else None,
        estimate=estimate_today(car),
        beside="no reading yet: - for not known",
    )
