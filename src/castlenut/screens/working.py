"""The working of an item: the sum behind its due date, to be read out to the customer."""

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.order import Row
from castlenut.garage.garage import Garage
from castlenut.screens.item_page import ItemPage
from castlenut.screens.sum_layout import laid_out
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.head_line import HeadLine
from castlenut.words import states, working


class Working(ItemPage):
    """The working of one row after another of the list under it."""

    TITLE_WORDS: ClassVar[str] = "working"
    ANSWERS: ClassVar[str] = (
        "Why is it due then? Each line is one step of the sum, in the order it was reckoned."
    )
    CSS_PATH = "styles/working.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down,j", "go_on(1)", "next item"),
        Binding("up,k", "go_on(-1)", "item before", show=False),
        Binding("d", "record('done')", "done"),
        Binding("m", "record('measured')", "measured"),
        Binding("x", "record('declined')", "declined"),
        Binding("y", "copy", "copy"),
        Binding("escape,w", "back", "back"),
        Binding("pagedown", "scroll(1)", "further down", show=False),
        Binding("pageup", "scroll(-1)", "further up", show=False),
    ]

    def __init__(self, garage: Garage, today: CarToday, rows: Sequence[Row], at: int) -> None:
        super().__init__(garage)
        self.car = today
        self.rows = tuple(rows)
        self.at = at

    def body(self) -> Iterable[Widget]:
        with VerticalScroll(id="working", can_focus=False):
            yield Static("", id="sum", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        self._show(event.size.width)

    @property
    def item(self) -> Item:
        """Give the item whose working stands there."""
        return self.rows[self.at].first

    def _show(self, width: int) -> None:
        row, stamp = self.rows[self.at], states.stamp_of(self.item)
        where = f", {row.places}" if row.places else ""
        head = self.query_one("#head", HeadLine)
        head.left = f"Working: {self.item.rule.title}{where}"
        head.right = str(stamp)
        rows = working.sum_rows(self.item, self.car.odometer.dial)
        self.query_one("#sum", Static).update("\n".join(laid_out(rows, width - 3)))

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Reckon the car anew; an item that is gone closes the working."""
        slug = self.car.car.vehicle.slug
        if changed is not None and slug not in changed:
            return
        with GARAGE_TURN:
            self.car = self.garage.today(slug)
        now = {item.id: item for item in self.car.items}
        rows = [
            Row(items=tuple(now[item.id] for item in row.items if item.id in now))
            for row in self.rows
        ]
        if not rows[self.at].items:
            self.dismiss()
            return
        here = rows[self.at]
        self.rows = tuple(row for row in rows if row.items)
        self.at = self.rows.index(here)
        self._show(self.size.width)

    def action_go_on(self, by: int) -> None:
        self.at = min(max(self.at + by, 0), len(self.rows) - 1)
        self.query_one("#working").scroll_home(animate=False)
        self._show(self.size.width)

    def action_scroll(self, by: int) -> None:
        shown = self.query_one("#working")
        shown.scroll_relative(y=by * max(shown.size.height - 1, 1), animate=False)

    def action_copy(self) -> None:
        self.app.copy_to_clipboard("\n".join(working.lines(self.item, self.car.odometer.dial)))
        self.tell("copied the working")

    def car_at_hand(self) -> CarToday:
        return self.car

    def undoes_on(self) -> str:
        return self.car.car.vehicle.slug

    def rows_at_hand(self) -> tuple[Row, ...]:
        return self.rows

    def row_at_hand(self) -> int:
        return self.at
