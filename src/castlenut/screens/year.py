"""The year of a car: when what falls due on it, as strips under the months."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.widget import Widget

from castlenut.domain.item import Item
from castlenut.domain.order import rows
from castlenut.domain.window_days import window_days
from castlenut.domain.working import State
from castlenut.screens.car_list import CarList
from castlenut.screens.item_rows import places_of, row_key
from castlenut.screens.widgets.columns import MARGIN, Column, Line
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.year_strip import BOOKED, LAID_UP, LEGEND, Year
from castlenut.words import figures, states
from castlenut.words.escape import one_line

_NOTHING = "Nothing falls due within the year: r records a reading, f a part"
_STATE, _ITEM = 17, 20
_FORTNIGHTS, _WEEKS = 26, 52
_SHOWN = frozenset({State.OVERDUE, State.DUE, State.AHEAD, State.DECLINED})


class YearPage(CarList):
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

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*self._columns(), empty=_NOTHING, id="due")

    def on_mount(self) -> None:
        self.table.focus()
        self.show()
        if self.rows:
            self.table.put_cursor(row_key(self.rows[0]))
        self.tell(LEGEND)

    def on_resize(self, _event: events.Resize) -> None:
        self.show()

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

    def show(self) -> None:
        year = self._year()
        shown = [
            item
            for item in self.car.items
            if item.state in _SHOWN and not item.rule.is_own_check
            if (first := self._first_day(item)) is not None and first <= year.last
        ]
        by_day = sorted(rows(shown), key=lambda row: self._first_day(row.first) or self.day)
        self.rows = tuple(by_day)
        self.table.show((*self._spans(year), *self._lines(year)), self._columns())
        name = one_line(self.car.car.vehicle.description)
        self.say_where(f"The year: {name}  {figures.count(len(self.rows), 'line')}")

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
        for row in self.rows:
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


def _heading(name: str, strip: str) -> Line:
    return Line(key=name, cells=("-", name, strip), color="quiet", name=name)
