"""The visits of one car by date: agreed and proposed, moved with what that does, booked."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from time import monotonic
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import get_current_worker

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput
from castlenut.domain.ids import ItemId
from castlenut.domain.naming import unique_name
from castlenut.domain.visits.open_days import OpenDays
from castlenut.garage.changes.visiting import (
    draft_canceled,
    draft_moved,
    draft_visit,
)
from castlenut.garage.drafts import Draft, save
from castlenut.garage.garage import Garage
from castlenut.garage.visits import CarVisits, ask, planned
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.visits.rows import VISIT_COLUMNS, Shown, shown_visits, visit_line
from castlenut.screens.widgets.cells import hanging
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.store.faults import NotSaved
from castlenut.words import car_visits as words
from castlenut.words.cautions import DEFERRING_LINE
from castlenut.words.visits import reasons

LOOKING_SECONDS = 3.0
_MARGIN = 2
_MOST_TOLD = 12


class CarVisitsPage(Page):
    """When a car comes in and what is done then, a list by date."""

    TITLE_WORDS: ClassVar[str] = "visits of a car"
    ANSWERS: ClassVar[str] = (
        "When should the car come in, so that nothing runs over and it is opened up once? Left and"
        " right try another day and say at once what goes past its window then; enter books it."
    )
    CSS_PATH = "../styles/visits.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "book", "book it"),
        Binding("right", "shift(1)", "a day later"),
        Binding("left", "shift(-1)", "a day sooner"),
        Binding("x", "cancel", "call it off"),
        Binding("w", "reasons", "why"),
        Binding("escape,v", "back", "back"),
    ]

    @dataclass
    class Planned(Message):
        """The plan was made, or why it cannot be."""

        found: CarVisits | None
        fault: str = ""

    def __init__(self, garage: Garage, car: CarToday) -> None:
        super().__init__(garage)
        self.car = car
        self.found: CarVisits | None = None
        """The visits, once they are planned."""
        self._days: dict[str, date] = {}
        self._saved = ""
        self._shown: tuple[Shown, ...] = ()

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*VISIT_COLUMNS, id="visits")
        yield Static("", id="visit", markup=False)

    def on_mount(self) -> None:
        self.say_where(f"Visits: {self.car.car.vehicle.description}")
        self.query_one(ItemTable).focus()
        self._look()

    def on_resize(self) -> None:
        self.call_after_refresh(self._tell_visit)

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Plan anew what the change may have moved."""
        if changed is None or self.car.car.vehicle.slug in changed:
            self._look()

    # -- planning ------------------------------------------------------------------------------

    def _look(self) -> None:
        self.tell("looking for the days")
        self.plan()

    @work(thread=True, exclusive=True, group="visits")
    def plan(self) -> None:
        """Plan the visits, off the keys."""
        worker = get_current_worker()
        end = monotonic() + LOOKING_SECONDS

        def may_go_on() -> bool:
            return not worker.is_cancelled and monotonic() < end

        try:
            with GARAGE_TURN:
                asked = ask(self.garage, self.car.car.vehicle.slug)
        except BadInput as refused:
            self.post_message(self.Planned(None, str(refused.faults[0])))
            return
        self.post_message(self.Planned(planned(asked, may_go_on=may_go_on)))

    def on_car_visits_page_planned(self, message: Planned) -> None:
        self.found = message.found
        self._days.clear()
        self._shown = () if message.found is None else shown_visits(message.found)
        self._show()
        if message.fault:
            self.tell(message.fault, is_fault=True)
        elif not self._shown:
            self.tell(f"Nothing closes in the next {self._months} months.")
        else:
            self.tell(self._saved or "left and right try another day, nothing is saved by that")
        self._saved = ""

    @property
    def _months(self) -> int:
        return self.garage.settings.horizon_months

    # -- showing -------------------------------------------------------------------------------

    def _show(self) -> None:
        lines = [visit_line(each, self._days.get(each.key, each.on)) for each in self._shown]
        self.query_one(ItemTable).show(lines)
        self._tell_visit()

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        self._tell_visit()

    @property
    def at_hand(self) -> Shown | None:
        """Give the visit under the cursor."""
        key = self.query_one(ItemTable).cursor_key
        return next((each for each in self._shown if each.key == key), None)

    def _tell_visit(self) -> None:
        here = self.at_hand
        told: Sequence[str] = ()
        if here is not None:
            told = tuple(self._told(here))
        width = self.size.width - _MARGIN
        lines = [line for each in told for line in hanging(each, width)]
        self.query_one("#visit", Static).update("\n".join(lines[:_MOST_TOLD]))

    def _told(self, here: Shown) -> Iterable[str]:
        day = self._days.get(here.key, here.on)
        late = here.past_on(day)
        if day != here.on and not late:
            yield f"{day:%a} {day}: nothing goes past its window"
        for name, closes in late:
            yield f"!! {name}: past its window by then, it closes on {closes:%a} {closes}"
        if day == here.on:
            yield from here.told
        yield DEFERRING_LINE

    # -- keys ----------------------------------------------------------------------------------

    def action_shift(self, by: int) -> None:
        """Try the next open day, or the one before; nothing is saved yet."""
        here, found = self.at_hand, self.found
        if here is None or found is None:
            return
        days = OpenDays(found.of_car.line.calendar)
        at = self._days.get(here.key, here.on) + timedelta(days=by)
        while days.today <= at.toordinal() <= days.until and not days.is_open(at.toordinal()):
            at += timedelta(days=by)
        if days.today <= at.toordinal() <= days.until:
            self._days[here.key] = at
            self._show()

    def action_book(self) -> None:
        here = self.at_hand
        if here is None:
            return
        slug, day = self.car.car.vehicle.slug, self._days.get(here.key, here.on)
        if not here.is_booked:
            names = self._names(here.items)
            self._save(lambda: draft_visit(self.garage, slug, day.isoformat(), names))
        elif day != here.on:
            self._save(lambda: draft_moved(self.garage, slug, here.on.isoformat(), day.isoformat()))
        else:
            self.tell("it is booked: left and right try another day, x calls it off")

    def action_cancel(self) -> None:
        here = self.at_hand
        if here is not None and here.is_booked:
            slug = self.car.car.vehicle.slug
            self._save(lambda: draft_canceled(self.garage, slug, here.on.isoformat()))

    def action_reasons(self) -> None:
        """Open the reasons with what it costs, and how good the plan is known to be."""
        from castlenut.screens.text_page import TextPage

        here, found = self.at_hand, self.found
        if found is None:
            return
        of_car = found.of_car
        called = words.called(of_car.items)
        told = [
            sentence
            for visit in found.plan.visits
            if here is not None and visit.on == here.on and not here.is_booked
            for sentence in reasons(visit, of_car.line, called)
        ]
        if found.has_money:
            told.extend(["", *words.cost_lines(found.plan, self.garage.settings.currency)])
        told.extend(["", *words.left_out_lines(of_car, found.today.items)])
        head = f"Why: {self.car.car.vehicle.description}"
        self.app.push_screen(
            TextPage(self.garage, head=head, right="" if here is None else str(here.on), told=told)
        )

    def _names(self, items: Sequence[ItemId]) -> list[str]:
        found = self.found
        among = () if found is None else found.today.items
        return [unique_name(item) for item in among if item.id in items]

    def _save(self, draft: Callable[[], Draft]) -> None:
        try:
            with GARAGE_TURN:
                saved = save(self.garage, draft())
        except BadInput as refused:
            self.tell(str(refused.faults[0]), is_fault=True)
        except NotSaved as refused:
            self.tell(str(refused), is_fault=True)
        else:
            with GARAGE_TURN:
                self.car = self.garage.today(self.car.car.vehicle.slug)
            self._saved = "; ".join((f"saved: {saved.title}", *saved.told))
            self._look()
