"""Tread over distance on a page of its own: the chart, and with a key the same as a table."""

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.tires.outlook import Outlook
from castlenut.domain.tires.today import TiresToday
from castlenut.garage.garage import Garage
from castlenut.screens.page import Page
from castlenut.screens.tires.treads import chart_lines, table_lines
from castlenut.screens.widgets.cells import cut, hanging

_MARGIN = 2


class TreadsPage(Page):
    """How the tread of each tire went, and how it is expected to go on."""

    TITLE_WORDS: ClassVar[str] = "tread over distance"
    ANSWERS: ClassVar[str] = (
        "How fast did the tread go, and when does it reach the limit? Solid is measured, dotted is"
        " expected by the plan, with its band for the tire that is worn first; | is a rotation."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("a", "other_form", "as a table, as a chart"),
        Binding("y", "copy", "copy the table"),
        Binding("escape", "back", "back"),
    ]

    def __init__(
        self, garage: Garage, car: CarToday, tires: TiresToday, outlook: Outlook | None
    ) -> None:
        super().__init__(garage)
        self.car = car
        self.tires = tires
        self.outlook = outlook
        self.is_table = False
        """Whether the table is shown."""

    def body(self) -> Iterable[Widget]:
        with VerticalScroll(id="treads-page", can_focus=False):
            yield Static("", id="treads-text", markup=False)

    def on_mount(self) -> None:
        self.say_where(f"Tread over distance: {self.car.car.vehicle.description}")

    def on_resize(self) -> None:
        self.call_after_refresh(self.show)

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Keep what was known when it was opened."""

    def show(self) -> None:
        """Show the chart or the table in the room there is."""
        room = self.query_one("#treads-page").size
        width = room.width - _MARGIN
        if self.is_table:
            *rows, remark = self._table
            lines = [*(cut(each, width) for each in rows), *hanging(remark, width)]
        else:
            lines = list(
                chart_lines(
                    self.car,
                    self.tires,
                    self.outlook,
                    depth_unit=self.garage.settings.depth_unit,
                    width=width,
                    height=room.height,
                    ascii_only=self.app.has_class("-ascii"),
                )
            )
        self.query_one("#treads-text", Static).update("\n".join(f" {line}" for line in lines))

    @property
    def _table(self) -> tuple[str, ...]:
        return table_lines(self.car, self.tires, depth_unit=self.garage.settings.depth_unit)

    def action_other_form(self) -> None:
        self.is_table = not self.is_table
        self.show()

    def action_copy(self) -> None:
        self.app.copy_to_clipboard("\n".join(self._table))
        self.tell("copied the table")
