"""Page 4 of a car: true distance over time with what lies ahead, and its readings."""

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.odometer import Placed
from castlenut.screens.use.picture import picture_of, spans
from castlenut.screens.use.reading_rows import COLUMNS, EMPTY, reading_rows
from castlenut.screens.widgets.cells import plain, wrapped
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.one_line import OneLine
from castlenut.screens.widgets.use_chart import use_chart
from castlenut.words import forecast, odd
from castlenut.words.odometer import ahead_lines


class UsePane(Vertical):
    """The chart above, the spans under it, the readings below; the row's question at the foot."""

    def __init__(self) -> None:
        super().__init__(id="use")
        self.car: CarToday | None = None
        self.item: Item | None = None
        self.is_table = False
        """Whether the distance ahead stands there as a table."""

    def compose(self) -> ComposeResult:
        yield Static("", id="use-chart", markup=False)
        yield OneLine(id="use-spans")
        yield ItemTable(*COLUMNS, empty=EMPTY, id="readings")
        yield Static("", id="use-asked", markup=False)

    @property
    def table(self) -> ItemTable:
        """Give the list of readings."""
        return self.query_one("#readings", ItemTable)

    @property
    def reading(self) -> Placed | None:
        """Give the reading under the cursor."""
        if self.car is None:
            return None
        key = self.table.cursor_key
        return next((each for each in self.car.odometer.placed if each.reading.record == key), None)

    def show(self, car: CarToday, item: Item | None) -> None:
        """Show a car; `item` is the one whose due distance is drawn as a level."""
        self.car, self.item = car, item
        self.table.show(reading_rows(car.odometer))
        self.query_one("#use-spans", OneLine).text = spans(car)
        self.draw()
        self.tell_row()

    def turn(self) -> None:
        """Show the table for the chart, or the chart for the table."""
        self.is_table = not self.is_table
        self.draw()

    def draw(self) -> None:
        """Draw what lies ahead for the room there is."""
        car, field = self.car, self.query_one("#use-chart", Static)
        if car is not None:
            field.update("\n".join(self._lines(car, field.size.width, field.size.height)))

    def _lines(self, car: CarToday, width: int, height: int) -> Iterable[str]:
        dial = car.odometer.dial
        picture = None if self.is_table else picture_of(car, self.item)
        if picture is not None and picture.fan is not None:
            rows = use_chart(
                picture, width=width - 1, height=height, ascii_only=self.app.has_class("-ascii")
            )
            if rows:
                return rows
        told = (
            ahead_lines(car.use, dial, car.today)
            if self.is_table
            else (f" {line}" for line in forecast.rests_on(car.use.basis, dial))
        )
        return [line for each in told for line in _hung(each, width - 1)]

    def tell_row(self) -> None:
        """Say what is asked about the reading under the cursor."""
        placed, asked = self.reading, self.query_one("#use-asked", Static)
        if self.car is None or placed is None or placed.oddity is None:
            asked.update("")
        else:
            told = odd.reason(placed, placed.oddity, self.car.odometer.dial)
            asked.update(plain(f"?? {told} enter settles it"))

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        self.tell_row()

    def on_resize(self) -> None:
        # what is drawn depends on the room, which is known after the layout
        self.call_after_refresh(self.draw)


def _hung(line: str, width: int) -> list[str]:
    lead = " " * (len(line) - len(line.lstrip(" ")))
    return [f"{lead}{each}" for each in wrapped(line, max(width - len(lead), 20))]
