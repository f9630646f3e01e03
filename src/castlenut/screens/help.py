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

from castlenut.screens.widgets.cells import filled
from castlenut.screens.widgets.key_line import key_name
from castlenut.words.states import STAMPS

_COLUMN = 38
_KEY = 10


class Help(ModalScreen[None]):
    """One page on the screen it was opened from; any of its own keys closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,question_mark,enter", "dismiss", "back"),
    ]

    def __init__(self, *, about: str, answers: str, keys: Sequence[Binding], garage: str) -> None:
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
        width = min(event.size.width - 4, 2 * _COLUMN)
        self.query_one("#help-text", Static).update("\n".join(self._lines(width)))

    def _lines(self, width: int) -> Iterable[str]:
        columns = 2 if width >= 2 * _COLUMN else 1
        yield self._answers
        yield ""
        keys = [f"{_names(each):<{_KEY}} {each.description}" for each in _once(self._keys)]
        yield from _beside(keys, columns)
        yield ""
        yield from _beside([f"{stamp.mark:<{_KEY}} {stamp.word}" for stamp in STAMPS], columns)
        yield ""
        yield "shift+drag selects text the terminal's own way; a large font counts as a small window"
        yield f"castlenut --help   version {version('castlenut')}   {self._garage}"


def _once(keys: Sequence[Binding]) -> list[Binding]:
    """Give each action once, under all its keys."""
    found: dict[tuple[str, str], list[Binding]] = {}
    for key in keys:
        found.setdefault((key.action, key.description), []).append(key)
    return [
        each[0].with_key(" ".join(key_name(one.key) for one in each)) for each in found.values()
    ]


def _names(key: Binding) -> str:
    return key.key


def _beside(texts: Sequence[str], columns: int) -> list[str]:
    rows = -(-len(texts) // columns)
    return [
        "".join(filled(text, _COLUMN) for text in texts[row::rows]).rstrip() for row in range(rows)
    ]
