"""The history of a car or of the garage: every change, when, by which machine, and what it was."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.errors import BadInput
from castlenut.garage.drafts import Saved
from castlenut.garage.garage import Garage
from castlenut.garage.past import PastLine, history, undo_line
from castlenut.garage.undoing import redo
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.columns import Column, Line
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.store.faults import NotSaved
from castlenut.words.figures import count

COLUMNS = (
    Column(head="when", width=16, narrow=11),
    Column(head="by", width=10, fits=True),
    Column(head="what", width=20, grow=1),
    Column(head="", width=6, fits=True),
)
EMPTY = "Nothing saved yet"


class HistoryPage(Page):
    """Every change of one car, or of the garage's own record, the newest first."""

    TITLE_WORDS: ClassVar[str] = "history"
    ANSWERS: ClassVar[str] = (
        "What was changed, when, on which machine? enter shows the fields of a change, before and"
        " after; u takes back the change under the cursor, if it is the latest of this machine."
    )
    CSS_PATH = "styles/history.tcss"
    ALSO: ClassVar[tuple[tuple[str, str], ...]] = (("redo what was taken back", "redo"),)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "fields", "fields"),
        Binding("u", "undo", "take back"),
        Binding("escape", "back", "back"),
    ]

    @dataclass
    class TakenBack(Message):
        """A change was taken back, or brought back, or neither could be: what is told of it."""

        saved: Saved | None
        told: str

    def __init__(self, garage: Garage, slug: str | None) -> None:
        super().__init__(garage)
        self.slug = slug
        with GARAGE_TURN:
            self._lines = history(garage, slug)

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*COLUMNS, empty=EMPTY, id="changes")
        with VerticalScroll(id="fields", can_focus=False):
            yield Static("", id="fields-text", markup=False)

    @property
    def changes(self) -> ItemTable:
        """Give the list of changes."""
        return self.query_one("#changes", ItemTable)

    def on_mount(self) -> None:
        self._show()
        self.changes.focus()

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Read the changes anew, if it is this file's that changed."""
        if changed is None or self.slug in changed:
            with GARAGE_TURN:
                self._lines = history(self.garage, self.slug)
            self._show()

    def _show(self) -> None:
        self.changes.show(_row(line) for line in self._lines)
        self.counted_anew()
        self._tell_fields()

    def counted_anew(self) -> None:
        about = self.slug or "settings"
        self.say_where(f"History: {about}  {count(len(self._lines), 'change')}")

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        self._tell_fields()

    def _tell_fields(self) -> None:
        line = self.line_at_hand()
        shown = () if line is None or not self.has_class("-fields") else _field_lines(line)
        self.query_one("#fields-text", Static).update("\n".join(plain(each) for each in shown))

    def line_at_hand(self) -> PastLine | None:
        """Give the change under the cursor."""
        key = self.changes.cursor_key
        return next((line for line in self._lines if line.change == key), None)

    def on_item_table_chosen(self, _message: ItemTable.Chosen) -> None:
        self.action_fields()

    def action_fields(self) -> None:
        """Show the fields of the change under the cursor before and after it, or hide them."""
        self.toggle_class("-fields")
        self._tell_fields()

    def action_undo(self) -> None:
        line = self.line_at_hand()
        if line is not None:
            self._take(lambda: undo_line(self.garage, self.slug, line))

    def action_redo(self) -> None:
        self._take(lambda: redo(self.garage, self.slug or "garage"))

    @work(thread=True, exclusive=True, group="undo", exit_on_error=False)
    def _take(self, take: Callable[[], Saved]) -> None:
        saved = None
        try:
            with GARAGE_TURN:
                saved = take()
            told = "; ".join((saved.title, *saved.told))
        except BadInput as refused:
            told = f"{refused.faults[0].what}; {refused.faults[0].remedy}"
        except NotSaved as refused:
            told = str(refused)
        self.post_message(self.TakenBack(saved, told))

    def on_history_page_taken_back(self, message: TakenBack) -> None:
        """Say what was taken back, and show what is recorded now, here and under this screen."""
        if message.saved is not None:
            slugs = tuple({each.vehicle for each in message.saved.records if each.vehicle})
            for page in self.app.screen_stack:
                if isinstance(page, Page):
                    page.show_anew(changed=slugs if self.slug is not None else None)
        self.tell(message.told, is_fault=message.saved is None)


def _row(line: PastLine) -> Line:
    when = datetime.fromisoformat(line.at).astimezone()
    undone = "undone" if line.is_undone else ""
    return Line(
        key=line.change,
        cells=(f"{when:%Y-%m-%d %H:%M}", line.by[:10], line.what, undone),
        color="quiet" if line.is_undone else "text",
        name=line.what,
        sought=line.by,
    )


def _field_lines(line: PastLine) -> Iterator[str]:
    """Give the fields of a change, record by record."""
    when = datetime.fromisoformat(line.at).astimezone()
    yield f"{when:%Y-%m-%d %H:%M:%S}  {line.by}  {line.what}"
    record = ""
    for each in line.fields:
        if each.record != record:
            record = each.record
            yield record
        yield f"  {each.field}: {each.before or '-'} -> {each.after or '-'}"
    if not line.fields:
        yield "nothing was set by it"
