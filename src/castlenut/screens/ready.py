"""What stands against handing a car over, as a sheet over the car: the worst first."""

from collections.abc import Iterable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.stay import against_rolling
from castlenut.garage.garage import Garage
from castlenut.screens.widgets.cells import plain
from castlenut.words import cautions, ready


class Ready(ModalScreen[None]):
    """May it roll? Two lines a thing: what it is, and what is known of it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,enter", "dismiss", "back"),
    ]

    def __init__(self, garage: Garage, car: CarToday) -> None:
        super().__init__()
        self._car = car
        self._standing = against_rolling(car, garage.book)

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="help"):
            name = self._car.car.vehicle.description
            yield Static(f"May it roll? {plain(name)}", id="help-head", markup=False)
            yield Static("\n".join(self._lines()), id="help-text", markup=False)

    def _lines(self) -> Iterable[str]:
        yield ready.head_line(self._standing)
        for each in self._standing:
            yield plain(f"{ready.stamped(each):<16} {ready.title(each)}")
            yield f"{'':<16} {plain(ready.words(each, self._car))}"
        yield cautions.DEFERRING_LINE
