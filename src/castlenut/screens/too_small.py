"""What stands there while the terminal is smaller than the least size."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import ModalScreen
from textual.widgets import Static


class TooSmall(ModalScreen[None]):
    """One line that names the least size; the screens under it stay as they are."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("q", "app.quit", "end the program")]

    def __init__(self, width: int, height: int) -> None:
        super().__init__()
        self.least = f"{width}x{height}"

    def compose(self) -> ComposeResult:
        yield Static(id="least", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        size = f"{event.size.width}x{event.size.height}"
        self.query_one("#least", Static).update(f"{self.least} is the least; this is {size}")
