"""A page of sentences over another screen: scrolled, copied, left again."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from castlenut.garage.garage import Garage
from castlenut.screens.page import Page
from castlenut.screens.widgets.cells import hanging
from castlenut.screens.widgets.head_line import HeadLine

_MARGIN = 3  # a cell left of the text, one right of it, and the scroll bar


class TextPage(Page):
    """Sentences, each going on under itself; an empty one stands between two parts."""

    CSS_PATH = Path(__file__).with_name("styles") / "text_page.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,pagedown,down,j", "scroll(1)", "further down"),
        Binding("pageup,up,k", "scroll(-1)", "further up", show=False),
        Binding("y", "copy", "copy"),
        Binding("escape,w", "back", "back"),
    ]

    def __init__(self, garage: Garage, *, head: str, right: str, told: Sequence[str]) -> None:
        super().__init__(garage)
        self._head = head
        self._right = right
        self.told = tuple(told)
        """The sentences."""

    def body(self) -> Iterable[Widget]:
        with VerticalScroll(id="text-page", can_focus=False):
            yield Static("", id="text", markup=False)

    def on_mount(self) -> None:
        self.show_head()

    def show_head(self) -> None:
        """Say in the head what it is about."""
        line = self.query_one("#head", HeadLine)
        line.left, line.right = self._head, self._right

    def on_resize(self, event: events.Resize) -> None:
        self.lay_out(event.size.width)

    def lay_out(self, width: int) -> None:
        """Show the sentences, folded for so many cells."""
        lines = [line for each in self.told for line in hanging(each, width - _MARGIN)]
        self.query_one("#text", Static).update("\n".join(lines))

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Keep what was told when it was opened."""

    def action_scroll(self, by: int) -> None:
        shown = self.query_one("#text-page")
        shown.scroll_relative(y=by * max(shown.size.height - 1, 1), animate=False)

    def action_copy(self) -> None:
        self.app.copy_to_clipboard("\n".join(self.told))
        self.tell("copied all of it")
