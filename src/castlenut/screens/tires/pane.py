"""Page 3 of a car: its tires from above, every pattern with its answer, and the reasons."""

from collections.abc import Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from castlenut.domain.place import Spot
from castlenut.domain.tires.today import TiresToday
from castlenut.screens.tires.boxes import boxes_of
from castlenut.screens.tires.choices import COLUMNS, EMPTY, NARROW_COLUMNS, Choice, choices, rows_of
from castlenut.screens.tires.reason_lines import fitted, why
from castlenut.screens.widgets.cells import cut
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.plan_view import PlanView

_PLAIN = 80  # from this width on the reasons stand in the list, too


class TiresPane(Vertical):
    """What stands where, what may move where, and why not. The cursor redraws the arrows."""

    DEFAULT_CLASSES: ClassVar[str] = "tires-pane"

    def __init__(self, *, depth_unit: str) -> None:
        super().__init__(id="tires")
        self.depth_unit = depth_unit
        self.tires: TiresToday | None = None
        """What it shows."""

    def compose(self) -> ComposeResult:
        with Horizontal(id="tires-above"):
            yield PlanView(id="tires-plan-view")
            with Vertical(id="tires-middle"):
                yield ItemTable(*COLUMNS, empty=EMPTY, id="patterns")
                yield Static("", id="tires-why", markup=False)

    @property
    def table(self) -> ItemTable:
        """Give the list of patterns."""
        return self.query_one("#patterns", ItemTable)

    @property
    def choice(self) -> Choice | None:
        """Give the pattern under the cursor."""
        if self.tires is None:
            return None
        return next(
            (each for each in choices(self.tires) if each.name == self.table.cursor_key), None
        )

    def show(self, tires: TiresToday) -> None:
        """Take what stands on the car."""
        self.tires = tires
        self._show_rows()
        self.retell()

    def _show_rows(self) -> None:
        is_narrow = self.app.size.width < _PLAIN
        self.table.columns = NARROW_COLUMNS if is_narrow else COLUMNS
        if self.tires is not None:
            self.table.show(rows_of(self.tires, is_narrow=is_narrow))

    def on_mount(self) -> None:
        self.retell()

    def on_resize(self) -> None:
        self._show_rows()
        # the reasons are laid out for their room, which is known after the layout
        self.call_after_refresh(self.retell)

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        self.retell()

    def retell(self) -> None:
        """Draw the arrows of the pattern under the cursor, and say what stands against it."""
        tires, choice = self.tires, self.choice
        if tires is None:
            return
        moves: Mapping[Spot, Spot] = {} if choice is None else choice.moves
        boxes = boxes_of(tires, moves, depth_unit=self.depth_unit)
        self.query_one(PlanView).show(boxes)
        told = self.query_one("#tires-why", Static)
        told.update("\n".join(self._why(choice, tires, told.size.width, told.size.height)))

    def _why(
        self, choice: Choice | None, tires: TiresToday, width: int, height: int
    ) -> tuple[str, ...]:
        if choice is None or width < 1:
            return ()
        head = cut(f"-- {choice.name} ", width)
        lines = why(choice, tires, width)
        return (f"{head}{'-' * (width - len(head))}", *fitted(lines, height - 1, more="w"))
