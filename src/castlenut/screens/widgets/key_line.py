"""The last row of a screen: the keys that work here now, in words, most used first."""

from dataclasses import dataclass

from rich.cells import cell_len
from rich.text import Text
from textual import events
from textual.binding import Binding
from textual.reactive import reactive
from textual.screen import Screen
from textual.widget import Widget

_GAP = "  "
_MOST = 8
_MOST_IN_ONE_COLUMN = 5
_ONE_COLUMN = 80
_ALWAYS = ("question_mark", "ctrl+p")
_MORE = Binding("ctrl+p", "app.command_palette", "more")
KEY_NAMES = {
    "slash": "/",
    "question_mark": "?",
    "ctrl+p": "^p",
    "ctrl+s": "^s",
    "escape": "esc",
    "equals_sign": "=",
    "pageup": "page up",
    "pagedown": "page down",
}
"""Keys as a mechanic would write them."""


def key_name(key: str) -> str:
    """Give the name of a key as it is shown: `/`, `?`, `^p`."""
    return KEY_NAMES.get(key, key)


@dataclass(frozen=True, slots=True)
class _Place:
    """A key in the line: from and to which cell a click on it counts."""

    start: int
    end: int
    key: str


class KeyLine(Widget):
    """The keys of the screen, made from its bindings; a click on one does it."""

    bindings: reactive[tuple[Binding, ...]] = reactive(())
    """The bindings shown, most used first."""

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self.take_bindings)

    def take_bindings(self, screen: "Screen[object]") -> None:
        """Take the bindings that are active on the screen now."""
        if self.is_attached and screen is self.screen:
            order = _actions_in_order(type(screen))
            shown = sorted(
                (
                    active.binding
                    for active in screen.active_bindings.values()
                    if active.binding.show and active.enabled
                ),
                key=lambda each: order.get(each.action, len(order)),
            )
            first = {each.action: each for each in reversed(shown)}
            self.bindings = (*reversed(first.values()), _MORE)

    def fitting(self, width: int) -> tuple[Binding, ...]:
        """Give the bindings that fit on the line: help and commands always, the others in order."""
        most = _MOST if width >= _ONE_COLUMN else _MOST_IN_ONE_COLUMN
        fixed = [each for each in self.bindings if each.key in _ALWAYS]
        if width < _ONE_COLUMN:
            fixed = [each for each in fixed if each.key == "question_mark"]
        room = width - sum(cell_len(_word(each)) + len(_GAP) for each in fixed)
        others: list[Binding] = []
        for each in self.bindings:
            needed = cell_len(_word(each)) + len(_GAP)
            if each.key not in _ALWAYS and len(others) + len(fixed) < most and needed <= room:
                others.append(each)
                room -= needed
        return (*others, *fixed)

    def _places(self) -> tuple[_Place, ...]:
        places, at = [], 1
        for binding in self.fitting(self.size.width):
            end = at + cell_len(_word(binding))
            places.append(_Place(at, end, binding.key))
            at = end + len(_GAP)
        return tuple(places)

    def render(self) -> Text:
        text = Text(" ", no_wrap=True, overflow="crop")
        quiet = self.get_component_rich_style("key-line--word", partial=True)
        for number, binding in enumerate(self.fitting(self.size.width)):
            text.append(_GAP if number else "")
            text.append(key_name(binding.key), "bold")
            text.append(f" {binding.description}", quiet)
        return text

    COMPONENT_CLASSES = {"key-line--word"}

    def on_click(self, event: events.Click) -> None:
        for place in self._places():
            if place.start <= event.x < place.end:
                self.app.simulate_key(place.key)


def _actions_in_order(screen: type) -> dict[str, int]:
    """Give the actions of a screen's bindings in the order they are written, its own first."""
    actions = [
        binding.action
        for each in screen.__mro__
        for binding in each.__dict__.get("BINDINGS", ())
        if isinstance(binding, Binding)
    ]
    return {action: place for place, action in reversed(list(enumerate(actions)))}


def _word(binding: Binding) -> str:
    return f"{key_name(binding.key)} {binding.description}"
