"""A field of a form: label, box, unit, a remark behind it, and its fault under it."""

from dataclasses import dataclass

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Static

from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.one_line import OneLine


class Field(Vertical):
    """One line to type in, always as text: what it means is found out when the form is checked.

    `name` is the name of the field in the record, by which a fault finds it.
    """

    @dataclass
    class Changed(Message):
        """What is typed changed."""

        field: "Field"

    @dataclass
    class Entered(Message):
        """Enter was pressed: on to the next."""

        field: "Field"

    def __init__(
        self,
        name: str,
        label: str,
        *,
        value: str = "",
        unit: str = "",
        remark: str = "",
        width: int = 24,
    ) -> None:
        super().__init__(
            name=name, id=f"field-{name}".replace(" ", "-").replace(".", "-"), classes="field"
        )
        self.label = label
        self.first_value = value
        self._unit = unit
        self._remark = remark
        self._width = width

    def compose(self) -> ComposeResult:
        with Horizontal(classes="field-line"):
            yield Static(self.label, classes="field-label", markup=False)
            yield Static("[", classes="field-edge", markup=False)
            box = Input(self.first_value, compact=True, select_on_focus=bool(self.first_value))
            box.styles.width = self._width
            yield box
            yield Static(
                f"] {self._unit}  " if self._unit else "] ", classes="field-unit", markup=False
            )
            yield OneLine(self._remark, classes="field-remark")
        yield Static("", classes="field-fault", markup=False)

    @property
    def box(self) -> Input:
        """Give the box that is typed in."""
        return self.query_one(Input)

    @property
    def text(self) -> str:
        """Give what is typed, without blanks at its ends."""
        box = next(iter(self.query(Input)), None)  # none yet where it was only just put in
        return self.first_value if box is None else box.value.strip()

    @text.setter
    def text(self, text: str) -> None:
        self.box.value = text
        self.box.cursor_position = len(text)

    @property
    def is_changed(self) -> bool:
        """Tell whether something else stands there than at the beginning."""
        return self.text != self.first_value

    def remark(self, text: str) -> None:
        """Say something in quiet color behind the box."""
        for line in self.query(".field-remark").results(OneLine):
            line.text = text

    def fault(self, text: str) -> None:
        """Say under the box what is wrong with it; an empty text takes that away."""
        for line in self.query(".field-fault").results(Static):
            line.update(f"x {plain(text)}" if text else "")
            line.set_class(bool(text), "-shown")

    @property
    def has_fault(self) -> bool:
        """Tell whether a fault stands under the box."""
        return bool(self.query(".field-fault.-shown"))

    @property
    def is_shown(self) -> bool:
        """Tell whether it stands in the form now: the steps of a form hide the fields of others."""
        return all(each.display for each in self.ancestors_with_self if isinstance(each, Widget))

    def enter(self) -> None:
        """Put the cursor into the box, once it is there: keys typed ahead come sooner."""
        if self.query(Input):
            self.box.focus()
        else:
            self.call_after_refresh(self.enter)

    def retell(self) -> None:
        """Say anew what stands behind the box, after a change."""

    def complete(self) -> None:
        """Make what is typed whole, where enter does."""

    def on_mount(self) -> None:
        self.retell()

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        self.fault("")
        self.retell()
        self.post_message(self.Changed(self))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.complete()
        self.post_message(self.Entered(self))

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.enter()
