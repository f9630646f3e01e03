"""A feed's address as a QR code, always dark on light, for a phone held before the screen."""

from typing import ClassVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from castlenut.screens.widgets.cells import plain
from castlenut.words.qr import qr_rows

_COLORS = "#000000 on #ffffff"
_FRAME = 2
_LINES = 3  # frame, and what it is of


class QrCode(ModalScreen[None]):
    """The code of one address; any of its keys closes it."""

    CSS_PATH = "styles/feed.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,enter,q", "dismiss", "back")]

    def __init__(self, of: str, address: str) -> None:
        super().__init__()
        self._of = of
        self._address = address
        self._rows = qr_rows(address)

    def compose(self) -> ComposeResult:
        with Vertical(id="code-sheet", classes="sheet"):
            yield Static("", id="code", markup=False)
            yield Static(plain(self._of), id="code-of", markup=False)

    def on_mount(self) -> None:
        self.query_one("#code-sheet").border_title = "point a phone at it"

    def on_resize(self, event: events.Resize) -> None:
        needs = (len(self._rows[0]) + _FRAME, len(self._rows) + _LINES)
        code = self.query_one("#code", Static)
        is_ascii = self.app.has_class("-ascii")
        if is_ascii or event.size.width < needs[0] or event.size.height < needs[1]:
            why = "this terminal cannot draw it" if is_ascii else f"{needs[0]}x{needs[1]}"
            code.update(f"{self._address}\nthe QR code needs {why}" if not is_ascii else why)
            return
        style = "reverse" if self.app.no_color else _COLORS
        code.update(Text("\n".join(self._rows), style=style, no_wrap=True))
