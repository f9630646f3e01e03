"""The plan of a set of tires: the next move large, every rotation, and the lanes over distance."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.tires.outlook import Outlook, plan_of
from castlenut.domain.tires.prospect import MoveSet
from castlenut.domain.tires.today import TiresToday
from castlenut.garage.drafts import Saved
from castlenut.garage.garage import Garage
from castlenut.garage.tires import tires_of
from castlenut.screens.car_words import dial_after
from castlenut.screens.page import Page
from castlenut.screens.tires.plan_rows import columns_of, lanes_of, moves_at, rows_of
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import hanging
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.timeline import timeline
from castlenut.words.plans import NO_PLAN_OF_DUALS, next_lines

_WAYS = ((MoveSet.ANY, True), (MoveSet.PATTERNS, True), (MoveSet.ANY, False))
_NAMES = {
    (MoveSet.ANY, True): "any moves",
    (MoveSet.PATTERNS, True): "the trade's patterns only",
    (MoveSet.ANY, False): "any moves, without the spare",
}
_MARGIN = 2


class PlanPage(Page):
    """What to do next with the wheels, why, and how the set goes on until it is worn."""

    TITLE_WORDS: ClassVar[str] = "plan"
    ANSWERS: ClassVar[str] = (
        "Which wheel goes where next, and when, so that the set lasts longest? How good that is"
        " and what it is held against stands under w."
    )
    CSS_PATH = "../styles/plan.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "rotate", "record it"),
        Binding("w", "bound", "how good it is"),
        Binding("space", "other_way", "other moves"),
        Binding("t", "tread", "tread"),
        Binding("escape,l", "back", "back"),
    ]

    @dataclass
    class Planned(Message):
        """The plan was made, or cannot be made."""

        tires: TiresToday
        outlook: Outlook | None
        faults: tuple[Fault, ...]

    def __init__(self, garage: Garage, car: CarToday) -> None:
        super().__init__(garage)
        self.car = car
        self.way = 0
        self.tires: TiresToday | None = None
        self.outlook: Outlook | None = None
        """The plan, once it is made."""
        self.faults: tuple[Fault, ...] = ()
        """What keeps it from being made."""

    def body(self) -> Iterable[Widget]:
        yield Static("", id="next", markup=False)
        yield ItemTable(id="rotations")
        yield Static("", id="lanes", markup=False)

    @property
    def _told(self) -> tuple[Callable[[float], str], str]:
        return dial_after(self.car), self.garage.settings.depth_unit

    def on_mount(self) -> None:
        self.say_where(f"Plan: {self.car.car.vehicle.description}, {_NAMES[_WAYS[self.way]]}")
        self.tell("looking for the plan")
        self.query_one(ItemTable).focus()
        self.make()

    def on_resize(self) -> None:
        self.call_after_refresh(self._lay_out)

    # -- making it -----------------------------------------------------------------------------

    @work(thread=True, exclusive=True, group="plan")
    def make(self) -> None:
        """Make the plan, off the keys."""
        moves, with_spare = _WAYS[self.way]
        with GARAGE_TURN:
            tires = tires_of(self.garage, self.car.car.vehicle.slug)
        if tires.exchanges:
            self.post_message(self.Planned(tires, None, ()))
            return
        try:
            outlook = plan_of(tires, moves=moves, use_spare=with_spare)
        except BadInput as refused:
            self.post_message(self.Planned(tires, None, refused.faults))
        else:
            self.post_message(self.Planned(tires, outlook, ()))

    def on_plan_page_planned(self, message: Planned) -> None:
        self.tires, self.outlook, self.faults = message.tires, message.outlook, message.faults
        table = self.query_one(ItemTable)
        dial_at, depth_unit = self._told
        self.say_where(f"Plan: {self.car.car.vehicle.description}, {_NAMES[_WAYS[self.way]]}")
        if self.outlook is None:
            table.show(())
        else:
            table.columns = columns_of(self.outlook)
            table.show(rows_of(self.outlook, message.tires, dial_at=dial_at, depth_unit=depth_unit))
        self.tell("")
        self._lay_out()

    def _lay_out(self) -> None:
        tires, outlook = self.tires, self.outlook
        if tires is None:
            return
        width = self.size.width - _MARGIN
        dial_at, depth_unit = self._told
        if outlook is None:
            lines = [line for each in self._why_none(tires) for line in hanging(each, width)]
            self.query_one("#lanes", Static).update("")
        else:
            lines = [
                line
                for each in next_lines(outlook, tires, dial_at=dial_at, depth_unit=depth_unit)
                for line in hanging(each, width)
            ]
            self.query_one("#lanes", Static).update("\n".join(self._lanes(outlook, tires, width)))
        self.query_one("#next", Static).update("\n".join(lines))

    def _lanes(self, outlook: Outlook, tires: TiresToday, width: int) -> tuple[str, ...]:
        dial_at, depth_unit = self._told
        unit = f" {tires.unit.value}"
        stints = outlook.prospect.stints
        starts = [stint.since for stint in stints]
        words = ["now", *(dial_at(each).removesuffix(unit) for each in starts[1:])]
        return timeline(
            lanes_of(outlook, tires, depth_unit=depth_unit),
            starts=starts,
            until=stints[-1].until,
            words=(*words, dial_at(stints[-1].until).removesuffix(unit)),
            width=width,
        )

    def _why_none(self, tires: TiresToday) -> tuple[str, ...]:
        if tires.exchanges:
            return (NO_PLAN_OF_DUALS,)
        return (
            "No plan yet:",
            *(f"{each.where}: {each.what}; {each.remedy}" for each in self.faults),
        )

    # -- keys ----------------------------------------------------------------------------------

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Make the plan anew, if the car's file is among those changed."""
        slug = self.car.car.vehicle.slug
        if changed is None or slug in changed:
            with GARAGE_TURN:
                self.car = self.garage.today(slug)
            self.make()

    def action_other_way(self) -> None:
        self.way = (self.way + 1) % len(_WAYS)
        self.make()

    def action_bound(self) -> None:
        from castlenut.screens.tires.told import bound_page

        if self.tires is None or self.outlook is None:
            self.tell("there is no plan yet")
            return
        dial_at, depth_unit = self._told
        self.app.push_screen(
            bound_page(
                self.garage, self.tires, self.outlook, dial_at=dial_at, depth_unit=depth_unit
            )
        )

    def action_rotate(self) -> None:
        key = self.query_one(ItemTable).cursor_key
        if self.tires is None or self.outlook is None or key is None or not key.isdigit():
            self.tell("rotation: put the cursor on one that moves wheels")
            return
        moves = moves_at(self.outlook, int(key))
        if not moves:
            self.tell("nothing moves then: all stay")
            return
        from castlenut.screens.forms.rotation import RotationForm

        pattern = self.outlook.prospect.stints[int(key)].pattern
        name = ",".join(f"{start.value}={to.value}" for start, to in moves.items())
        self.app.push_screen(
            RotationForm(self.garage, self.car, self.tires, pattern.value if pattern else name),
            self.take_saved,
        )

    def action_tread(self) -> None:
        from castlenut.screens.forms.tread import TreadForm

        if self.tires is not None:
            self.app.push_screen(TreadForm(self.garage, self.car, self.tires), self.take_saved)

    def take_saved(self, saved: Saved | None) -> None:
        """Say what a form saved, and make the plan anew."""
        if saved is not None:
            told = "".join(f"; {each}" for each in saved.told)
            self.tell(f"saved: {saved.title}{told}")
            self.show_anew(changed=(saved.slug,))
