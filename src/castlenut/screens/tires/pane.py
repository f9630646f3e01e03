"""Page 3 of a car: its tires from above, every pattern with its answer, and the reasons."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from textual import work
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.place import Spot
from castlenut.domain.tires.outlook import Outlook, plan_of
from castlenut.domain.tires.today import TiresToday
from castlenut.screens.car_words import dial_after
from castlenut.screens.tires.boxes import boxes_of
from castlenut.screens.tires.choices import (
    COLUMNS,
    EMPTY,
    NARROW_COLUMNS,
    Choice,
    choices,
    rows_of,
)
from castlenut.screens.tires.plan_rows import stood_before
from castlenut.screens.tires.reason_lines import fitted, why
from castlenut.screens.tires.treads import chart_lines
from castlenut.screens.widgets.cells import cut, hanging
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.plan_view import PlanView
from castlenut.words.plans import NO_PLAN_OF_DUALS, next_lines, stint_words

_PLAIN = 80  # from this width on the reasons stand in the list, too


class TiresPane(Vertical):
    """What stands where, what may move where, and why not. The cursor redraws the arrows.

    On a wide terminal the plan stands at the right, and tread over distance below.
    """

    @dataclass
    class Planned(Message):
        """The plan was made, or cannot be made."""

        tires: TiresToday
        outlook: Outlook | None
        faults: tuple[Fault, ...]

    def __init__(self, *, depth_unit: str) -> None:
        super().__init__(id="tires")
        self.depth_unit = depth_unit
        self.car: CarToday | None = None
        self.tires: TiresToday | None = None
        """What it shows."""
        self.outlook: Outlook | None = None
        """The plan, once it is made."""
        self.faults: tuple[Fault, ...] = ()
        """What keeps it from being made."""

    def compose(self) -> ComposeResult:
        with Horizontal(id="tires-above"):
            yield PlanView(id="tires-plan-view")
            with Vertical(id="tires-middle"):
                yield ItemTable(*COLUMNS, empty=EMPTY, id="patterns")
                yield Static("", id="tires-why", markup=False)
            yield Static("", id="tires-plan", markup=False)
        yield Static("", id="tires-treads", markup=False)

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

    def show(self, car: CarToday, tires: TiresToday) -> None:
        """Take what stands on the car."""
        self.car, self.tires, self.outlook, self.faults = car, tires, None, ()
        self._show_rows()
        self.retell()
        self.plan(tires)

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

    @work(thread=True, exclusive=True, group="plan")
    def plan(self, tires: TiresToday) -> None:
        """Make the plan, off the keys."""
        if tires.exchanges:
            return
        try:
            outlook = plan_of(tires)
        except BadInput as refused:
            self.post_message(self.Planned(tires, None, refused.faults))
        else:
            self.post_message(self.Planned(tires, outlook, ()))

    def on_tires_pane_planned(self, message: Planned) -> None:
        if message.tires is self.tires:
            self.outlook, self.faults = message.outlook, message.faults
            self._show_plan()

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
        self._show_plan()

    def _why(
        self, choice: Choice | None, tires: TiresToday, width: int, height: int
    ) -> tuple[str, ...]:
        if choice is None or width < 1:
            return ()
        lines = why(choice, tires, width, depth_unit=self.depth_unit)
        return (_headed(choice.name, width), *fitted(lines, height - 1, more="w"))

    def _show_plan(self) -> None:
        car, tires = self.car, self.tires
        beside, below = (
            self.query_one("#tires-plan", Static),
            self.query_one("#tires-treads", Static),
        )
        if car is None or tires is None or not beside.display:
            return
        width = beside.size.width
        lines = [
            line
            for each in self._plan(dial_after(car), tires)
            for line in hanging(each, max(width, 1))
        ]
        shown = fitted(lines, beside.size.height - 1, more="l")
        beside.update("\n".join((_headed("plan", width), *shown)))
        below.update(
            "\n".join(
                chart_lines(
                    car,
                    tires,
                    self.outlook,
                    depth_unit=self.depth_unit,
                    width=below.size.width,
                    height=below.size.height,
                    ascii_only=self.app.has_class("-ascii"),
                )
            )
        )

    def _plan(self, dial_at: Callable[[float], str], tires: TiresToday) -> Iterator[str]:
        if tires.exchanges:
            yield NO_PLAN_OF_DUALS
            return
        if self.outlook is None:
            yield from (f"{each.where}: {each.what}; {each.remedy}" for each in self.faults)
            return
        yield from next_lines(self.outlook, tires, dial_at=dial_at, depth_unit=self.depth_unit)
        for number, stint in enumerate(self.outlook.prospect.stints):
            when = "now" if stint.since == 0 else dial_at(stint.since)
            yield f"{when}: {stint_words(stint, stood_before(self.outlook, number))}"


def _headed(name: str, width: int) -> str:
    head = cut(f"-- {name} ", width)
    return f"{head}{'-' * (width - len(head))}"
