"""A field for the tread of one tire: three grooves from outside in, or one for the thinnest."""

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Input, Static

from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.one_line import OneLine

_GROOVES = 3
_WIDTH = 6


class GroovesField(Field):
    """Three boxes. All three may be typed into the first, `7 7 6`; one figure is the thinnest."""

    def compose(self) -> ComposeResult:
        with Horizontal(classes="field-line"):
            yield Static(self.label, classes="field-label", markup=False)
            for _ in range(_GROOVES):
                yield Static("[", classes="field-edge", markup=False)
                box = Input("", compact=True, select_on_focus=False)
                box.styles.width = _WIDTH
                yield box
                yield Static("] ", classes="field-unit", markup=False)
            yield OneLine(self._remark, classes="field-remark")
        yield Static("", classes="field-fault", markup=False)
        yield Static("", classes="field-note", markup=False)

    @property
    def boxes(self) -> tuple[Input, ...]:
        """Give the boxes, outer, middle, inner."""
        return tuple(self.query(Input))

    @property
    def box(self) -> Input:
        """Give the first box."""
        return self.boxes[0]

    @property
    def text(self) -> str:
        """Give what is typed in all boxes."""
        return " ".join(text for each in self.boxes if (text := each.value.strip()))

    @text.setter
    def text(self, text: str) -> None:
        self.box.value = text
        for each in self.boxes[1:]:
            each.value = ""

    def note(self, text: str) -> None:
        """Say under the boxes what is odd about it; it is kept all the same."""
        line = self.query_one(".field-note", Static)
        line.update(f"~ {plain(text)}" if text else "")
        line.set_class(bool(text), "-shown")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go on to the next box; from an empty one, or one with all three, to the next field."""
        event.stop()
        event.prevent_default()  # else the field of one box would go on, too
        boxes = self.boxes
        at = boxes.index(event.input)
        typed = event.value.split()
        if len(typed) == 1 and at + 1 < len(boxes):
            boxes[at + 1].focus()
        else:
            self.post_message(self.Entered(self))

    def on_click(self, event: events.Click) -> None:
        """Leave the cursor in the box that was clicked; beside them it goes to the first."""
        if isinstance(event.widget, Input):
            event.stop()
            event.prevent_default()
