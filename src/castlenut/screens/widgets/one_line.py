"""A text on one line, cut by its cells with dots: never markup, never wrapped."""

from rich.cells import cell_len
from rich.text import Text
from textual.reactive import reactive
from textual.widget import Widget

from castlenut.screens.widgets.cells import cut, plain


class OneLine(Widget):
    """One line of text, as much of it as there is room for."""

    text: reactive[str] = reactive("")
    """What it says."""
    shorter: reactive[tuple[str, ...]] = reactive(())
    """What it says where there is no room for that, the longest first."""

    def __init__(self, text: str = "", *, id: str | None = None, classes: str = "") -> None:  # noqa: A002 (Textual's own name)
        super().__init__(id=id, classes=f"one-line {classes}".strip())
        self.set_reactive(OneLine.text, text)

    def render(self) -> Text:
        said = (self.text, *self.shorter)
        fitting = (each for each in said if cell_len(plain(each)) <= self.size.width)
        return Text(cut(next(fitting, said[-1]), self.size.width), no_wrap=True)
