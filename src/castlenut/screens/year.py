"""The year of a car: when what falls due on it, as strips under the months."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.order import Row, rows
from castlenut.domain.window_days import window_days
from castlenut.domain.working import State
from castlenut.garage.garage import Garage
from castlenut.screens.item_page import ItemPage
from castlenut.screens.item_rows import places_of, row_key
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.columns import MARGIN, Column, Line
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.year_strip import BOOKED, LAID_UP, LEGEND, Year
from castlenut.words import figures, states
from castlenut.words.escape import one_line

_NOTHING = "Nothing falls due within the year: r records a reading, f a part"
_STATE, _ITEM = 17, 20
_FORTNIGHTS, _WEEKS = 26, 52
_SHOWN = frozenset({State.OVERDUE, State.DUE, State.AHEAD, State.DECLINED})


class YearPage(ItemPage):
    """What falls due on one car in the next twelve months, the earliest first."""

    TITLE_WORDS: ClassVar[str] = "the year"
    ANSWERS: ClassVar[str] = (
        "When does what fall due on this car within a year? Each row is an item: its window under"
        " the months, and in it the day on which it is expected to be due."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w,enter", "work", "working"),
        Binding("escape", "back", "back"),
    ]

    def __init__(self, garage: Garage, today: CarToday) -> None:
        super().__init__(garage)
        self.car = today
        self._rows: tuple[Row, ...] = ()

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*self._columns(), empty=_NOTHING, id="due")

    @property
    def table(self) -> ItemTable:
        """Give the list of what falls due."""
        return self.query_one(ItemTable)

    def on_mount(self) -> None:
        self.table.focus()
        self._show()
        if self._rows:
            self.table.put_cursor(row_key(self._rows[0]))
        self.tell(LEGEND)

    def on_resize(self, _event: events.Resize) -> None:
        self._show()

    # -- showing -------------------------------------------------------------------------------

    def _year(self) -> Year:
        room = self.app.size.width - MARGIN - _STATE - _ITEM - 3
        return Year(first=self.day, cells=_WEEKS if room >= _WEEKS else _FORTNIGHTS)

    def _columns(self) -> tuple[Column, ...]:
        year = self._year()
        return (
            Column(head="state", width=_STATE, fits=True),
            Column(head="item", width=10, grow=1),
            Column(head=year.months(), width=year.cells),
        )

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Reckon the car anew, where its file changed."""
        slug = self.car.car.vehicle.slug
        if changed is None or slug in changed:
            with GARAGE_TURN:
                self.car = self.garage.today(slug)
            self._show()

    def _show(self) -> None:
        year = self._year()
        shown = [
            item
            for item in self.car.items
            if item.state in _SHOWN and not item.rule.is_own_check
            if (first := self._first_day(item)) is not None and first <= year.last
        ]
        by_day = sorted(rows(shown), key=lambda row: self._first_day(row.first) or self.day)
        self._rows = tuple(by_day)
        self.table.show((*self._spans(year), *self._lines(year)), self._columns())
        name = one_line(self.car.car.vehicle.description)
        self.say_where(f"The year: {name}  {figures.count(len(self._rows), 'line')}")

    def _first_day(self, item: Item) -> date | None:
        found = window_days(item, self.car)
        return min((day for day in (found.due, found.closes) if day is not None), default=None)

    def _spans(self, year: Year) -> Iterator[Line]:
        """Give a row of the visits agreed, and one of the time the car is laid up."""
        days = [each.on for each in self.car.car.booked_from(self.day)]
        if days:
            yield _heading("visits agreed", year.days(days, BOOKED))
        for since, until in self.car.car.laid_up():
            if (until or year.last) >= year.first and since <= year.last:
                yield _heading("laid up", year.span(since, until or year.last, LAID_UP))

    def _lines(self, year: Year) -> Iterator[Line]:
        for row in self._rows:
            item, stamp = row.first, states.stamp_of(row.first)
            days = window_days(item, self.car)
            where = places_of(row)
            title = item.rule.title if where == "-" else f"{item.rule.title}, {where}"
            yield Line(
                key=row_key(row),
                cells=(str(stamp), title, year.window(days.opens, days.due, days.closes)),
                color=stamp.color,
                name=item.rule.title,
            )

    # -- what is at hand -----------------------------------------------------------------------

    def car_at_hand(self) -> CarToday:
        return self.car

    def rows_at_hand(self) -> tuple[Row, ...]:
        return self._rows

    def row_at_hand(self) -> int | None:
        keys = [row_key(row) for row in self._rows]
        return keys.index(self.table.cursor_key) if self.table.cursor_key in keys else None


def _heading(name: str, strip: str) -> Line:
    return Line(key=name, cells=("-", name, strip), color="quiet", name=name)
