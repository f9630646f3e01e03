"""The names of a car's pages: the one open in brackets, each a key and a place to click."""

from dataclasses import dataclass

from rich.text import Text
from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from castlenut.screens.widgets.cells import ends


class PageNames(Widget):
    """One line of names; what stands at its right end is said beside them."""

    @dataclass
    class Chosen(Message):
        """A name was clicked; counted from 0."""

        number: int

    names: reactive[tuple[str, ...]] = reactive(())
    """The names with their counts, in the order of their keys."""
    number: reactive[int] = reactive(0)
    """Which page is open, counted from 0."""
    right: reactive[str] = reactive("")
    """What stands at the right end."""

    def _told(self) -> list[tuple[int, str]]:
        named = [(number, f"{number + 1} {name}") for number, name in enumerate(self.names)]
        return [
            (number, f"[{told}]" if number == self.number else f" {told} ")
            for number, told in named
        ]

    def render(self) -> Text:
        names = " ".join(told for _, told in self._told())
        return Text(ends(f" {names}", f"{self.right} ", self.size.width), no_wrap=True)

    def on_click(self, event: events.Click) -> None:
        start = 1
        for number, told in self._told():
            if start <= event.x < start + len(told):
                self.post_message(self.Chosen(number))
            start += len(told) + 1
