"""The garage's weeks: load by week as a picture, and which cars come in."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from time import monotonic
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import get_current_worker

from castlenut.domain.errors import BadInput
from castlenut.garage.garage import CannotRead, Garage
from castlenut.garage.visits import GarageWeeks, weeks_of
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.visits.rows import WEEK_COLUMNS, week_line
from castlenut.screens.widgets.cells import hanging
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import car_visits as words

LOOKING_SECONDS = 8.0
_MARGIN = 2
_MOST_TOLD = 6


class WeeksPage(Page):
    """All cars' visits against the hours there are."""

    TITLE_WORDS: ClassVar[str] = "the weeks"
    ANSWERS: ClassVar[str] = (
        "How full are the weeks, with what is booked and what is proposed? What does not fit, and"
        " what would make it fit? Enter opens the first car of the week."
    )
    CSS_PATH = "../styles/visits.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "its first car"),
        Binding("escape,v", "back", "back"),
    ]

    @dataclass
    class Planned(Message):
        """The weeks were planned, or why they cannot be."""

        found: GarageWeeks | None
        fault: str = ""

    def __init__(self, garage: Garage) -> None:
        super().__init__(garage)
        self.found: GarageWeeks | None = None
        """The weeks, once they are planned."""

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*WEEK_COLUMNS, id="visits")
        yield Static("", id="visit", markup=False)

    def on_mount(self) -> None:
        self.say_where("Visits: the weeks of all cars")
        self.query_one(ItemTable).focus()
        self.show_anew()

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Plan all cars anew, whichever changed."""
        del changed
        self.tell("looking for the days of every car")
        self.plan()

    @work(thread=True, exclusive=True, group="weeks")
    def plan(self) -> None:
        """Plan every car, off the keys."""
        worker = get_current_worker()
        end = monotonic() + LOOKING_SECONDS

        def may_go_on(cars: int) -> Callable[[], bool]:
            until = monotonic() + (end - monotonic()) / cars
            return lambda: not worker.is_cancelled and monotonic() < until

        with GARAGE_TURN:
            slugs = [slug for slug in self.garage.slugs() if self._is_here(slug)]
        try:
            found = weeks_of(self.garage, slugs, may_go_on=may_go_on, turn=GARAGE_TURN)
        except BadInput as refused:
            self.post_message(self.Planned(None, str(refused.faults[0])))
            return
        self.post_message(self.Planned(found))

    def _is_here(self, slug: str) -> bool:
        try:
            return self.garage.car(slug).car.vehicle.sold_on is None
        except CannotRead:
            return False

    def on_weeks_page_planned(self, message: Planned) -> None:
        found = self.found = message.found
        weeks = () if found is None else found.load.weeks
        lines = [week_line(each, found) for each in weeks] if found is not None else []
        self.query_one(ItemTable).show(lines)
        self.tell(message.fault, is_fault=bool(message.fault))
        self._lay_out()

    def on_resize(self) -> None:
        self.call_after_refresh(self._lay_out)

    def _lay_out(self) -> None:
        found = self.found
        if found is None:
            return
        told = ["# booked, = proposed, . free"]
        told.extend(f"!! {slug}: {count} past the window" for slug, count in found.cannot)
        for visit, placed in zip(found.visits, found.load.visits, strict=True):
            if placed.unplaced:
                told.append(
                    f"+ {visit.slug} {visit.on:%a} {visit.on}: {placed.unplaced:.1f} h do not fit; "
                    f"{words.would_fit(found.fits_from(visit, placed))}"
                )
        width = self.size.width - _MARGIN
        lines = [line for each in told for line in hanging(each, width)]
        self.query_one("#visit", Static).update("\n".join(lines[:_MOST_TOLD]))

    async def action_open(self) -> None:
        key, found = self.query_one(ItemTable).cursor_key, self.found
        if key is None or found is None:
            return
        week = next((each for each in found.load.weeks if each.monday.isoformat() == key), None)
        cars = () if week is None else found.in_week(week.monday)
        if cars:
            await self.open_car(cars[0].slug)
