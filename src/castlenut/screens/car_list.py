"""A screen with one list of a car's items: what its rows and keys have to do with the car."""

from abc import abstractmethod

from castlenut.domain.due import CarToday
from castlenut.domain.order import Row
from castlenut.garage.garage import Garage
from castlenut.screens.item_page import ItemPage
from castlenut.screens.item_rows import row_key
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.item_table import ItemTable


class CarList(ItemPage):
    """A car, and a list in which rows of its items stand."""

    def __init__(self, garage: Garage, today: CarToday) -> None:
        super().__init__(garage)
        self.car = today
        """The car as it stands today."""
        self.rows: tuple[Row, ...] = ()
        """The rows shown, top to bottom."""

    @property
    def table(self) -> ItemTable:
        """Give the list."""
        return self.query_one(ItemTable)

    @abstractmethod
    def show(self) -> None:
        """Show what is now to be said of the car."""

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Reckon the car anew, where its file changed."""
        slug = self.car.car.vehicle.slug
        if changed is None or slug in changed:
            with GARAGE_TURN:
                self.car = self.garage.today(slug)
            self.show()

    def car_at_hand(self) -> CarToday:
        return self.car

    def rows_at_hand(self) -> tuple[Row, ...]:
        return self.rows

    def row_at_hand(self) -> int | None:
        keys = [row_key(row) for row in self.rows]
        return keys.index(self.table.cursor_key) if self.table.cursor_key in keys else None

    async def on_item_table_chosen(self, message: ItemTable.Chosen) -> None:
        """Take the second click on a row for enter."""
        message.table.focus()
        await self.action_work()
