"""A car: its head as on a job card, and its pages."""

from collections.abc import Callable, Iterable, Iterator
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.component import Component
from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.order import Row
from castlenut.garage.answers import open_rows
from castlenut.garage.garage import CarRecord, Garage
from castlenut.screens import component_rows
from castlenut.screens.car_words import (
    dial_as_drums,
    distance_today,
    kind_of_car,
    owner_of_car,
    since_in_work,
)
from castlenut.screens.item_page import ItemPage
from castlenut.screens.item_rows import (
    COLUMNS,
    OWN_CHECKS,
    ahead_rows,
    item_row,
    own_check_rows,
    row_key,
)
from castlenut.screens.sum_layout import laid_out
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.columns import Line
from castlenut.screens.widgets.head_line import HeadLine
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.page_names import PageNames
from castlenut.words import cautions, working

DUE, FITTED = range(2)
_NOTHING_OPEN = "Nothing is open on this car. a shows what is ahead"


class CarPage(ItemPage):
    """One car: 1 what is due, 2 what is fitted."""

    TITLE_WORDS: ClassVar[str] = "car"
    ANSWERS: ClassVar[str] = (
        "What is due on this car, and why (w)? What is fitted, since when, with which figures?"
    )
    CSS_PATH = "styles/car.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w,enter", "work", "working"),
        Binding("d", "record('done')", "done"),
        Binding("m", "record('measured')", "measured"),
        Binding("x", "record('declined')", "declined"),
        Binding("f", "fit", "fit"),
        Binding("r", "reading", "reading"),
        Binding("space", "mark", "mark for one job", show=False),
        Binding("a", "all", "ahead and removed, too", show=False),
        Binding("1", "page(0)", "what is due", show=False),
        Binding("2", "page(1)", "what is fitted", show=False),
        Binding("escape", "back", "back", show=False),
    ]

    def __init__(self, garage: Garage, slug: str) -> None:
        super().__init__(garage)
        self.slug = slug
        self.number = DUE
        with GARAGE_TURN:
            self.record: CarRecord = garage.car(slug)
            self.car: CarToday = garage.today(slug)
        self._shows_all = False
        self._shows_own = False
        self._rows: tuple[Row, ...] = ()

    def body(self) -> Iterable[Widget]:
        yield Static("", id="dial", markup=False)
        yield PageNames(id="pages")
        with Horizontal(id="panes"):
            yield ItemTable(*COLUMNS, empty=_NOTHING_OPEN, id="due")
            yield ItemTable(*component_rows.COLUMNS, empty=component_rows.EMPTY, id="fitted")
            yield Static("", id="aside", markup=False)
        yield Static("", id="remark", markup=False)
        yield Static("", id="caution", markup=False)

    @property
    def due(self) -> ItemTable:
        """Give the list of what is due."""
        return self.query_one("#due", ItemTable)

    @property
    def fitted(self) -> ItemTable:
        """Give the list of parts."""
        return self.query_one("#fitted", ItemTable)

    def on_mount(self) -> None:
        self._show()
        self.action_page(DUE)

    def on_resize(self) -> None:
        # what stands at the right is laid out for its width, which is known after the layout
        self.call_after_refresh(self._tell_row)

    # -- showing -------------------------------------------------------------------------------

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Read the car anew, if its file is among those changed."""
        if changed is None or self.slug in changed:
            with GARAGE_TURN:
                self.record = self.garage.car(self.slug)
                self.car = self.garage.today(self.slug)
            self._show()

    def _show(self) -> None:
        car, dial = self.car.car, self.car.odometer.dial
        head = self.query_one("#head", HeadLine)
        head.left = f"{kind_of_car(car)}  {since_in_work(self.car)}".rstrip()
        head.right = owner_of_car(car)
        drums = f" {dial_as_drums(self.car)}"
        self.query_one("#dial", Static).update(f"{drums}   {distance_today(self.car)}")
        open_items, parts = open_rows(self.car), component_rows.fitted(self.car)
        names = self.query_one("#pages", PageNames)
        names.names = (f"due {len(open_items)}", f"fitted {len(parts)}")
        look_at = len(self.record.look_at)
        day = f"{self.day:%a} {self.day}"
        names.right = f"look at: {look_at}  {day}" if look_at else day
        own = own_check_rows(self.car)
        self._rows = (
            *open_items,
            *(own if self._shows_own else ()),
            *(ahead_rows(self.car) if self._shows_all else ()),
        )
        self.due.show(self._due_lines(len(own)))
        shown = list(parts)
        if self._shows_all:
            shown += component_rows.apart(self.car, on_shelf=False)
        lines = [component_rows.component_row(each, dial, self.day) for each in shown]
        shelf = component_rows.apart(self.car, on_shelf=True)
        if shelf:
            lines.append(Line(key="shelf", cells=("on the shelf",), is_heading=True))
            lines += [component_rows.component_row(each, dial, self.day) for each in shelf]
        self.fitted.show(lines)
        self._tell_row()

    def _due_lines(self, own: int) -> Iterator[Line]:
        for row in self._rows:
            yield item_row(row, self.car)
        if own and not self._shows_own:
            cells = ("-  own checks", f"{own}: enter lists", "-", "-", "-", "-", "own")
            yield Line(key=OWN_CHECKS, cells=cells, color="quiet", name="own checks")

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        self._tell_row()

    def _tell_row(self) -> None:
        """Say below the list what belongs to the row: its caution, then the deferring line."""
        at = self.row_at_hand()
        item = None if at is None else self._rows[at].first
        keys = () if item is None else item.rule.cautions
        told = " ".join(cautions.sentences(keys)[:1])
        self.query_one("#remark", Static).update(plain(told))
        self.query_one("#caution", Static).update(cautions.DEFERRING_LINE)
        aside = self.query_one("#aside", Static)
        if item is None or not aside.display:
            aside.update("")
        else:
            rows = working.sum_rows(item, self.car.odometer.dial)
            aside.update("\n".join(laid_out(rows, max(aside.size.width - 1, 30))))

    # -- what is at hand -----------------------------------------------------------------------

    def car_at_hand(self) -> CarToday:
        return self.car

    def undoes_on(self) -> str:
        return self.slug

    def more_commands(self) -> Iterator[tuple[str, Callable[[], object]]]:
        if self.record.look_at:
            yield "look at what differs or is set aside", self.open_differences
        yield from super().more_commands()

    def open_differences(self) -> None:
        """Open what differs between two machines, and what else needs a look."""
        from castlenut.garage.garage import differences_of
        from castlenut.screens.differences import Differences

        differing = {*differences_of(self.record.file.records())}
        others = [each for each in self.record.look_at if each not in differing]
        title = self.car.car.vehicle.description
        self.open_form(Differences(self.garage, self.slug, title, others))

    def rows_at_hand(self) -> tuple[Row, ...]:
        return self._rows if self.number == DUE else ()

    def row_at_hand(self) -> int | None:
        keys = [row_key(row) for row in self.rows_at_hand()]
        return keys.index(self.due.cursor_key) if self.due.cursor_key in keys else None

    def items_at_hand(self) -> tuple[Item, ...]:
        marked = [row for row in self.rows_at_hand() if row_key(row) in self.due.marked]
        return tuple(item for row in marked for item in row.items) or super().items_at_hand()

    def part_at_hand(self) -> Component | None:
        if self.number == DUE:
            return None
        key = self.fitted.cursor_key
        return next((part for part in self.car.car.components if part.record == key), None)

    # -- keys ----------------------------------------------------------------------------------

    def action_page(self, number: int) -> None:
        """Open a page by its number, counted from 0."""
        self.number = number
        self.query_one("#pages", PageNames).number = number
        self.set_class(number == FITTED, "-fitted")
        (self.fitted if number == FITTED else self.due).focus()
        self._tell_row()

    def on_page_names_chosen(self, message: PageNames.Chosen) -> None:
        self.action_page(message.number)

    async def on_item_table_chosen(self, message: ItemTable.Chosen) -> None:
        message.table.focus()
        await self.action_work()

    def action_mark(self) -> None:
        if self.number == DUE and self.row_at_hand() is not None:
            self.due.mark()

    def action_all(self) -> None:
        self._shows_all = not self._shows_all
        self._show()
        self.tell("all shown: a shows what is open" if self._shows_all else "")

    async def action_work(self) -> None:
        if self.number == DUE and self.due.cursor_key == OWN_CHECKS:
            self._shows_own = True
            self._show()
        elif self.number == DUE:
            await super().action_work()

    @property
    def found_in(self) -> ItemTable:
        return self.fitted if self.number == FITTED else self.due
