"""What stands against handing a car over, as a sheet over the car: the worst first."""

from collections.abc import Iterable
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.stay import against_rolling
from castlenut.garage.garage import Garage
from castlenut.screens.widgets.cells import plain, wrapped
from castlenut.words import cautions, ready

_WIDEST = 80
_FRAME = 5  # its two edges, the cells inside of them, and the scroll bar
_UNDER_STAMP = " " * 17


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
            yield Static(self._text(self.app.size.width), id="help-text", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        self.query_one("#help-text", Static).update(self._text(event.size.width))

    def _text(self, width: int) -> str:
        return "\n".join(self._lines(min(width, _WIDEST) - _FRAME))

    def _lines(self, width: int) -> Iterable[str]:
        yield from wrapped(ready.head_line(self._standing), width)
        room = width - len(_UNDER_STAMP)
        for each in self._standing:
            first, *rest = wrapped(ready.title(each), room)
            yield f"{plain(ready.stamped(each)):<{len(_UNDER_STAMP) - 1}} {first}"
            for line in (*rest, *wrapped(ready.words(each, self._car), room)):
                yield f"{_UNDER_STAMP}{line}"
        yield from wrapped(cautions.DEFERRING_LINE, width)
