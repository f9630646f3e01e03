"""The tires of a car from above, on the screen."""

from collections.abc import Sequence
from typing import ClassVar

from rich.text import Text
from textual.widget import Widget

from castlenut.screens.widgets.plan_drawing import Box, drawing


class PlanView(Widget):
    """The places of a car, each with its tire, and where a pattern takes it."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "plan-view--overdue",
        "plan-view--due",
        "plan-view--quiet",
    }

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 (Textual's own name)
        super().__init__(id=id)
        self.boxes: tuple[Box, ...] = ()
        """What stands at each place."""

    def show(self, boxes: Sequence[Box]) -> None:
        """Take what stands there, and where it goes."""
        self.boxes = tuple(boxes)
        self.refresh()

    def render(self) -> Text:
        width, height = self.size
        found = drawing(self.boxes, width, height, ascii_only=self.app.has_class("-ascii"))
        text = Text("\n".join(found.rows), no_wrap=True, overflow="crop")
        for each in found.colored:
            style = self.get_component_rich_style(f"plan-view--{each.color}", partial=True)
            start = each.row * (width + 1)
            text.stylize(style, start + each.start, start + each.end)
        return text
