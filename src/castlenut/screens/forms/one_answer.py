"""A dialog that asks for one line, and does something with it."""

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen

from castlenut.domain.errors import BadInput
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.field import Field
from castlenut.store.faults import NotSaved


class OneAnswer(ModalScreen[str | None]):
    """One field. It gives what was done in words, or None when it was left.

    What `take` refuses is told under the field, and what is typed stays.
    """

    CSS_PATH = "../styles/form.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "save", "save"),
        Binding("escape", "leave", "leave"),
    ]

    def __init__(
        self, head: str, label: str, take: Callable[[str], str], *, value: str = "", remark: str
    ) -> None:
        super().__init__()
        self._head = head
        self._take = take
        self._field = Field(label, label, value=value, remark=remark, width=40)

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet form one-answer") as sheet:
            sheet.border_title = plain(self._head)
            sheet.border_subtitle = "enter does it  esc leaves"
            yield self._field

    def on_mount(self) -> None:
        self._field.enter()

    def on_field_entered(self, _message: Field.Entered) -> None:
        self.action_save()

    def action_save(self) -> None:
        """Do it with what is typed, or say why not."""
        try:
            with GARAGE_TURN:
                told = self._take(self._field.text)
        except BadInput as refused:
            self._field.fault("; ".join(f"{each.what}; {each.remedy}" for each in refused.faults))
        except NotSaved as refused:
            self._field.fault(str(refused))
        else:
            self.dismiss(told)

    def action_leave(self) -> None:
        self.dismiss(None)
