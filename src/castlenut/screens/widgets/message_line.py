"""The row above the keys: last result, error, progress; also where words to find are typed."""

from dataclasses import dataclass

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.message import Message
from textual.widgets import Input, Static

from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.one_line import OneLine


class MessageLine(Horizontal):
    """One line that says what happened last, and turns into a field for words to find."""

    @dataclass
    class Sought(Message):
        """The words to find in a list changed, or the field was closed."""

        table: ItemTable
        text: str
        is_closed: bool

    def __init__(self) -> None:
        super().__init__(id="message")
        self.text = ""
        """What it says now."""
        self._table: ItemTable | None = None

    def compose(self) -> ComposeResult:
        yield OneLine(id="told")
        yield Static(" find ", id="find-label", markup=False)
        yield Input(id="find", compact=True, select_on_focus=False)

    @property
    def sought(self) -> str:
        """Give the words to find that hold now."""
        return self.query_one("#find", Input).value.strip()

    @property
    def is_finding(self) -> bool:
        """Tell whether words to find are being typed."""
        return self.has_class("-finding")

    def tell(self, text: str, *, is_fault: bool = False) -> None:
        """Say a text until the next one."""
        self.text = text
        told = self.query_one("#told", OneLine)
        told.set_class(is_fault, "-fault")
        told.text = f" {text}" if text else ""

    def open_find(self, table: ItemTable) -> None:
        """Turn into the field for words to find in a list."""
        self._table = table
        self.add_class("-finding")
        self.query_one("#find", Input).focus()

    def close_find(self, *, keep: bool) -> None:
        """Turn back into the message line; without `keep`, all rows are shown again."""
        if self._table is None:
            return
        self.remove_class("-finding")
        field = self.query_one("#find", Input)
        if not keep:
            with field.prevent(Input.Changed):
                field.value = ""
        self.post_message(self.Sought(self._table, field.value, is_closed=True))

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        if self._table is not None:
            self.post_message(self.Sought(self._table, event.value, is_closed=False))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.close_find(keep=True)
