"""Help for a screen: its keys, made from its bindings, the marks, and what the screen answers."""

from collections.abc import Iterable, Sequence
from importlib.metadata import version
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from castlenut.screens.keys import KeyHere
from castlenut.screens.widgets.cells import filled
from castlenut.words.states import STAMPS

_COLUMN = 37
_KEY = 10
_MARK = 2
_PAGE = "page("  # what opens a page of the screen: one line for all of them
_FRAME = 4
_MOVES = "arrows, j k, home, end, page up, page down move; tab goes to the next pane"
_SELECTING = "shift+drag selects text to copy; a big font counts as a small window"


class Help(ModalScreen[None]):
    """One page on the screen it was opened from; the key that opened it closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,question_mark,enter", "dismiss", "back"),
    ]

    def __init__(self, *, about: str, answers: str, keys: Sequence[KeyHere], garage: str) -> None:
        super().__init__()
        self._about = about
        self._answers = answers
        self._keys = keys
        self._garage = garage

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="help"):
            yield Static(f"Help: {self._about}", id="help-head", markup=False)
            yield Static("", id="help-text", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        width = min(event.size.width - _FRAME, 2 * _COLUMN)
        self.query_one("#help-text", Static).update("\n".join(self._lines(width)))

    def _lines(self, width: int) -> Iterable[str]:
        columns = 2 if width >= 2 * _COLUMN else 1
        yield self._answers
        yield ""
        pages = [each for each in self._keys if each.action.startswith(_PAGE)]
        keys = [f"{each.names:<{_KEY}} {each.words}" for each in self._keys if each not in pages]
        if pages:
            keys.append(f"{' '.join(each.names for each in pages):<{_KEY}} its pages, named above")
        yield from _beside(keys, columns, _COLUMN)
        yield _MOVES
        marks = [f"{stamp.mark:<{_MARK}} {stamp.word}" for stamp in STAMPS]
        yield from _beside(marks, columns + 1, width // (columns + 1))
        yield _SELECTING
        yield f"castlenut --help   version {version('castlenut')}   {self._garage}"


def _beside(texts: Sequence[str], columns: int, width: int) -> list[str]:
    rows = -(-len(texts) // columns)
    return [
        "".join(filled(text, width) for text in texts[row::rows]).rstrip() for row in range(rows)
    ]
