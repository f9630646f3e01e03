"""A text on one line, cut by its cells with dots: never markup, never wrapped."""

from rich.text import Text
from textual.reactive import reactive
from textual.widget import Widget

from castlenut.screens.widgets.cells import cut


class OneLine(Widget):
    """One line of text, as much of it as there is room for."""

    text: reactive[str] = reactive("")
    """What it says."""

    def __init__(self, text: str = "", *, id: str | None = None, classes: str = "") -> None:  # noqa: A002 (Textual's own name)
        super().__init__(id=id, classes=f"one-line {classes}".strip())
        self.set_reactive(OneLine.text, text)

    def render(self) -> Text:
        return Text(cut(self.text, self.size.width), no_wrap=True)
