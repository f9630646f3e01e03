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

    def render(self) -> Text:
        return Text(ends(f" {self.left}", f"{self.right} ", self.size.width), no_wrap=True)
