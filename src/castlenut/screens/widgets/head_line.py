"""The first row of a screen: where am I, and which day it is."""

from rich.text import Text
from textual.reactive import reactive
from textual.widget import Widget

from castlenut.screens.widgets.cells import ends


class HeadLine(Widget):
    """One line with the place at its left and the day at its right."""

    left: reactive[str] = reactive("")
    """Where one is, and how much there is."""
    right: reactive[str] = reactive("")
    """The day, and what else holds for all of the screen."""

    def __init__(self, *, id: str, is_read_only: bool = False) -> None:  # noqa: A002 (Textual's own name)
        super().__init__(id=id)
        self._is_read_only = is_read_only

    def render(self) -> Text:
        right = f"read only  {self.right}" if self._is_read_only else self.right
        return Text(ends(f" {self.left}", f"{right} ", self.size.width), no_wrap=True)
