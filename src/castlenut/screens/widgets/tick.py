"""A box to tick: `[x] words`, by space, enter or click."""

from dataclasses import dataclass
from typing import ClassVar

from rich.text import Text
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from castlenut.screens.widgets.cells import cut


class Tick(Widget, can_focus=True):
    """One thing that may be ticked or not."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("space,enter", "turn", "tick", show=False)]

    is_ticked: reactive[bool] = reactive(default=False)
    """Whether it is ticked."""

    @dataclass
    class Turned(Message):
        """It was ticked, or the tick taken off."""

        tick: "Tick"

    def __init__(self, words: str, *, key: str, is_ticked: bool) -> None:
        super().__init__(classes="tick")
        self.words = words
        self.key = key
        self.set_reactive(Tick.is_ticked, is_ticked)

    def render(self) -> Text:
        mark = "x" if self.is_ticked else " "
        return Text(cut(f"[{mark}] {self.words}", self.size.width), no_wrap=True)

    def action_turn(self) -> None:
        self.is_ticked = not self.is_ticked
        self.post_message(self.Turned(self))

    def on_click(self) -> None:
        self.focus()
        self.action_turn()
