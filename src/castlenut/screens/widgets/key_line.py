"""The last row of a screen: the keys that work here now, in words, most used first."""

from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from rich.text import Text
from textual import events
from textual.reactive import reactive
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input

from castlenut.screens.keys import MORE, KeyHere, key_name, keys_here

_GAP = "  "
_MOST = 8
_MOST_IN_ONE_COLUMN = 5
_ONE_COLUMN = 80
_HELP = "question_mark"
_IN_FIELD = (
    KeyHere(keys=("enter",), words="take it", action="", is_shown=True),
    KeyHere(keys=("escape",), words="back", action="", is_shown=True),
)
"""What the keys of a field do, while words are typed in it."""


@dataclass(frozen=True, slots=True)
class _Place:
    """A key in the line: from and to which cell a click on it counts."""

    start: int
    end: int
    key: str


class KeyLine(Widget):
    """The keys of the screen; a click on one does it."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"key-line--word"}

    keys: reactive[tuple[KeyHere, ...]] = reactive(())
    """The keys that may be shown, most used first."""

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self.take_keys)

    def take_keys(self, screen: Screen[object]) -> None:
        """Take the keys that work on the screen now."""
        if self.is_attached and screen is self.screen:
            shown = tuple(each for each in keys_here(screen) if each.is_shown)
            self.keys = _beside_typing(shown) if isinstance(screen.focused, Input) else shown

    def fitting(self, width: int) -> tuple[KeyHere, ...]:
        """Give the keys that fit on the line: help and commands always, the others in order."""
        is_narrow = width < _ONE_COLUMN
        always = {_HELP} if is_narrow else {_HELP, MORE}
        fixed = [each for each in self.keys if each.keys[0] in always]
        most = (_MOST_IN_ONE_COLUMN if is_narrow else _MOST) - len(fixed)
        room = width - sum(cell_len(each.label) + len(_GAP) for each in fixed)
        others: list[KeyHere] = []
        for each in self.keys:
            needed = cell_len(each.label) + len(_GAP)
            if each.keys[0] not in {_HELP, MORE} and len(others) < most and needed <= room:
                others.append(each)
                room -= needed
        return (*others, *fixed)

    def _places(self) -> tuple[_Place, ...]:
        places, at = [], 1
        for each in self.fitting(self.size.width):
            end = at + cell_len(each.label)
            places.append(_Place(at, end, each.keys[0]))
            at = end + len(_GAP)
        return tuple(places)

    def render(self) -> Text:
        text = Text(" ", no_wrap=True, overflow="crop")
        quiet = self.get_component_rich_style("key-line--word", partial=True)
        for number, each in enumerate(self.fitting(self.size.width)):
            text.append(_GAP if number else "")
            text.append(key_name(each.keys[0]), "bold")
            text.append(f" {each.words}", quiet)
        return text

    def on_click(self, event: events.Click) -> None:
        for place in self._places():
            if place.start <= event.x < place.end:
                self.app.simulate_key(place.key)


def _beside_typing(keys: tuple[KeyHere, ...]) -> tuple[KeyHere, ...]:
    """Give what is done while words are typed: a letter or sign would be a part of the words."""
    own = {each.keys[0] for each in _IN_FIELD}
    others = (each for each in keys if each.keys[0] not in own)
    return (*_IN_FIELD, *(each for each in others if len(key_name(each.keys[0])) > 1))
