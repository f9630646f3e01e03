"""What differs on a car between two machines, one difference after the other, until settled."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from castlenut.domain.errors import BadInput
from castlenut.garage.drafts import Draft, Saved, save
from castlenut.garage.garage import Garage
from castlenut.garage.settling import (
    OpenDifference,
    draft_choice,
    draft_other,
    open_differences,
)
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.one_line import OneLine
from castlenut.store.faults import NotSaved
from castlenut.store.revisions import GONE


class Differences(ModalScreen[Saved | None]):
    """The differences of one car. It gives what was saved last, or None when nothing was.

    `others` are further sentences of what needs a look on the car: told, with nothing to choose.
    """

    AUTO_FOCUS: ClassVar[str | None] = ""
    CSS_PATH = "styles/differences.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(str(number), f"choose({number})", "choose") for number in range(1, 10)),
        Binding("n", "later", "the next one"),
        Binding("escape", "leave", "later"),
    ]

    def __init__(self, garage: Garage, slug: str, title: str, others: Sequence[str]) -> None:
        super().__init__()
        self.garage = garage
        self.slug = slug
        self._title = title
        self._others = tuple(others)
        self._saved: Saved | None = None
        self._at = 0
        with GARAGE_TURN:
            self._open = open_differences(garage, slug)

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet", id="differences"):
            yield Static("", id="choices", markup=False)
            yield Input(id="other", compact=True)
            yield OneLine(id="wanted")

    def on_mount(self) -> None:
        self._show()

    @property
    def at_hand(self) -> OpenDifference | None:
        """Give the difference shown now."""
        return self._open[self._at] if self._at < len(self._open) else None

    def _show(self, told: str = "") -> None:
        sheet, count = self.query_one("#differences"), len(self._open)
        place = f", {self._at + 1} of {count}" if count else ""
        sheet.border_title = Content(plain(f"Differences: {self._title}{place}"))
        keys = "digit chooses  n next  esc later" if count else "esc back"
        sheet.border_subtitle = Content(keys)
        self.query_one("#choices", Static).update("\n".join(map(plain, self._lines())))
        self.query_one("#wanted", OneLine).text = told
        self.remove_class("-typing")
        self.set_focus(None)

    def _lines(self) -> Iterator[str]:
        shown = self.at_hand
        if shown is not None:
            yield f"{shown.about}, {'the record itself' if shown.field == GONE else shown.field}"
            for number, choice in enumerate(shown.choices, start=1):
                used = "*" if number == 1 else " "
                when = datetime.fromisoformat(choice.at).astimezone()
                yield f"  {number} {used} {choice.value}  {choice.by}  {when:%Y-%m-%d %H:%M}"
            if shown.field != GONE:
                yield f"  {len(shown.choices) + 1}   type another value"
            yield "* is used until one is chosen"
        elif not self._others:
            yield "Nothing differs on this car."
        if self._others:
            yield ""
            yield "Also to look at:"
            yield from (f"  {each}" for each in self._others)

    def action_choose(self, number: int) -> None:
        shown = self.at_hand
        if shown is None:
            return
        if number <= len(shown.choices):
            self._settle(lambda: draft_choice(self.garage, self.slug, shown, number - 1))
        elif number == len(shown.choices) + 1 and shown.field != GONE:
            self.add_class("-typing")
            self.query_one("#other", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        shown, text = self.at_hand, event.value
        if shown is not None:
            self._settle(lambda: draft_other(self.garage, self.slug, shown, text))

    def _settle(self, question: Callable[[], Draft]) -> None:
        """Save what settles a difference, and go on to the next; a fault is said and kept typed."""
        try:
            with GARAGE_TURN:
                self._saved = save(self.garage, question())
                self._open = open_differences(self.garage, self.slug)
        except BadInput as refused:
            fault = refused.faults[0]
            self.query_one("#wanted", OneLine).text = f"x {fault.what}; {fault.remedy}"
            return
        except NotSaved as refused:
            self.query_one("#wanted", OneLine).text = f"x {refused}"
            return
        self.query_one("#other", Input).value = ""
        if not self._open and not self._others:
            self.dismiss(self._saved)
            return
        self._at = min(self._at, max(len(self._open) - 1, 0))
        self._show(f"saved: {self._saved.title}  u takes it back")

    def action_later(self) -> None:
        if self._open:
            self._at = (self._at + 1) % len(self._open)
            self._show()

    def action_leave(self) -> None:
        if self.has_class("-typing"):
            self._show()
        else:
            self.dismiss(self._saved)
