"""The garage's weeks: load by week as a picture, what closes, and which cars come in."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from time import monotonic
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import get_current_worker

from castlenut.domain.errors import BadInput
from castlenut.garage.garage import CannotRead, Garage
from castlenut.garage.visits import CarVisits
from castlenut.garage.weeks import GarageWeeks, PlannedVisit, ask_all, weeks_of
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.visits.car import LOOKING, CarVisitsPage
from castlenut.screens.visits.week_rows import (
    CAR_COLUMNS,
    LIST_COLUMNS,
    WEEK_COLUMNS,
    car_line,
    job_line,
    load_words,
    month_lines,
    visit_key,
    week_line,
)
from castlenut.screens.widgets.cells import hanging, plain
from castlenut.screens.widgets.columns import Line
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import car_visits as words
from castlenut.words import figures

FIRST_SECONDS, LOOKING_SECONDS = 1.5, 20.0
"""After how long first plans are shown, and how long better ones are looked for at the most."""
CANNOT_SHOWN = 2
"""Rows of cars of which something cannot be kept; of the others it is said that there are some."""
SOONER = (0, 1, 2, 3, 5, 10)
_MARGIN = 2
_MOST_TOLD = 4


class WeeksPage(Page):
    """All cars' visits against the hours there are: by week, or as a list by date."""

    TITLE_WORDS: ClassVar[str] = "the weeks"
    ANSWERS: ClassVar[str] = (
        "How full are the weeks, with what is booked and what is proposed? What closes when, what"
        " does not fit, and what would make it fit? Enter goes to the week's cars, and from there"
        " to the visits of one; space moves a job of it. l is the same as a list by date."
    )
    CSS_PATH = "../styles/visits.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "its cars"),
        Binding("space", "move", "move a job"),
        Binding("l", "list", "list by date"),
        Binding("s", "sooner", "cars in sooner"),
        Binding("y", "copy", "copy"),
        Binding("tab", "app.focus_next", "the other list", show=False),
        Binding("escape,v", "back", "back"),
    ]

    @dataclass
    class Planned(Message):
        """The weeks were planned, or why they cannot be. `is_last`: none better is looked for."""

        found: GarageWeeks | None
        is_last: bool = True
        fault: str = ""

    def __init__(self, garage: Garage) -> None:
        super().__init__(garage)
        self.found: GarageWeeks | None = None
        """The weeks, once they are planned."""
        self.is_looking = False
        """Whether better plans are looked for."""
        self.is_list = False
        """Whether the visits stand as a list by date."""
        self._sooner = 0

    def body(self) -> Iterable[Widget]:
        empty = f"Nothing closes in the next {self.garage.settings.horizon_months} months."
        with Horizontal(id="panes"):
            with Vertical(id="lists"):
                yield ItemTable(*WEEK_COLUMNS, empty=empty, id="visits")
                yield ItemTable(*CAR_COLUMNS, has_head=False, id="jobs")
            yield Static("", id="month", markup=False)
        yield Static("", id="visit", markup=False)

    @property
    def upper(self) -> ItemTable:
        """Give the list of weeks, or of visits by date."""
        return self.query_one("#visits", ItemTable)

    @property
    def lower(self) -> ItemTable:
        """Give the cars of the week under the cursor, or the jobs of the visit."""
        return self.query_one("#jobs", ItemTable)

    def on_mount(self) -> None:
        self.say_where("Visits")
        self.upper.focus()
        self.show_anew()

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Plan all cars anew, whichever changed."""
        del changed
        self.tell("looking for the days of every car")
        self.is_looking = True
        self.plan(self._sooner)

    # -- planning ------------------------------------------------------------------------------

    @work(thread=True, exclusive=True, group="weeks")
    def plan(self, sooner: int) -> None:
        """Plan every car, off the keys: first plans soon, then better ones if there is time."""
        worker, begin = get_current_worker(), monotonic()

        def share(end: float) -> Callable[[int], Callable[[], bool]]:
            def may_go_on(cars: int) -> Callable[[], bool]:
                until = monotonic() + (end - monotonic()) / cars
                return lambda: not worker.is_cancelled and monotonic() < until

            return may_go_on

        known: Mapping[str, CarVisits] = {}
        try:
            with GARAGE_TURN:
                slugs = [slug for slug in self.garage.slugs() if self._is_here(slug)]
            asked = ask_all(self.garage, slugs, turn=GARAGE_TURN)
            for seconds in (FIRST_SECONDS, LOOKING_SECONDS):
                found = weeks_of(
                    self.garage,
                    asked,
                    may_go_on=share(begin + seconds),
                    days_sooner=sooner,
                    known=known,
                )
                known = found.cars
                is_last = seconds == LOOKING_SECONDS or not found.unproved
                if not worker.is_cancelled:
                    self.post_message(self.Planned(found, is_last))
                if is_last:
                    return
        except BadInput as refused:
            self.post_message(self.Planned(None, fault=str(refused.faults[0])))

    def _is_here(self, slug: str) -> bool:
        try:
            return self.garage.car(slug).car.vehicle.sold_on is None
        except CannotRead:
            return False

    def on_weeks_page_planned(self, message: Planned) -> None:
        is_first = self.found is None
        self.found, self.is_looking = message.found, not message.is_last
        self._show()
        if is_first and self.found is not None and self.found.load.weeks:
            self.upper.put_cursor(self.found.load.weeks[0].monday.isoformat())
        self.tell(
            message.fault or (LOOKING if self.is_looking else ""), is_fault=bool(message.fault)
        )

    def step_back(self) -> None:
        """Keep the plan that is shown while a better one is looked for; else go back."""
        if self.is_looking and self.found is not None:
            self.is_looking = False
            self.workers.cancel_group(self, "weeks")
            self.tell("this plan is kept")
        else:
            super().step_back()

    # -- showing -------------------------------------------------------------------------------

    def _show(self) -> None:
        found = self.found
        self.upper.columns = LIST_COLUMNS if self.is_list else WEEK_COLUMNS
        self.upper.show(() if found is None else self._upper_lines(found))
        if found is not None:
            self.say_where(f"Visits: {load_words(found.load.weeks, found)}")
        self._show_lower()

    def _upper_lines(self, found: GarageWeeks) -> Iterator[Line]:
        for slug, count in found.cannot[:CANNOT_SHOWN]:
            items = figures.count(count, "item")
            told = f"{found.called(slug)}: {items} past the window; enter tells which"
            yield Line(
                key=f"cannot {slug}", cells=(f"!! {told}",), color="overdue", name=told, spans=True
            )
        more = len(found.cannot) - CANNOT_SHOWN
        if more > 0:
            told = f"{figures.count(more, 'more car')} with items past their windows: y copies"
            yield Line(key="cannot", cells=(f"!! {told}",), color="overdue", name=told, spans=True)
        if self.is_list:
            yield from (car_line(each, in_list=True) for each in found.visits)
        else:
            yield from (week_line(each, found, today=self.day) for each in found.load.weeks)

    def _show_lower(self) -> None:
        visit, monday = self._visit_at(self.upper), self._monday
        if self.found is None:
            lines: Iterable[Line] = ()
        elif visit is not None:
            lines = (job_line(each) for each in visit.jobs)
        elif monday is not None:
            lines = (car_line(each, in_list=False) for each in self.found.in_week(monday))
        else:
            lines = ()
        self.lower.show(lines)
        self._tell()

    @property
    def _monday(self) -> date | None:
        key = self.upper.cursor_key
        weeks = () if self.found is None or self.is_list else self.found.load.weeks
        return next((each.monday for each in weeks if each.monday.isoformat() == key), None)

    def _visit_at(self, table: ItemTable) -> PlannedVisit | None:
        visits = () if self.found is None else self.found.visits
        return next((each for each in visits if visit_key(each) == table.cursor_key), None)

    def on_item_table_moved(self, message: ItemTable.Moved) -> None:
        if message.table is self.upper:
            self._show_lower()

    def on_resize(self) -> None:
        self.call_after_refresh(self._tell)

    def _tell(self) -> None:
        found = self.found
        if found is None:
            return
        told = list(self._does_not_fit(found))
        width = self.size.width - _MARGIN
        lines = [line for each in told for line in hanging(each, width)]
        if len(lines) > _MOST_TOLD:
            lines = [*lines[: _MOST_TOLD - 1], "and more: y copies all of it"]
        self.query_one("#visit", Static).update("\n".join(lines))
        visit = self._visit_at(self.upper)
        day = visit.on if visit is not None else self._monday or self.day
        month = "\n".join(plain(each) if each else "" for each in month_lines(found, day))
        self.query_one("#month", Static).update(month)

    def _does_not_fit(self, found: GarageWeeks) -> Iterator[str]:
        sooner = f"; cars may come {figures.count(self._sooner, 'day')} sooner" * bool(self._sooner)
        yield f"# booked, = proposed, . free, + over{sooner}"
        for visit, placed in zip(found.visits, found.load.visits, strict=True):
            if placed.unplaced:
                day = found.fits_from(visit, placed)
                life = None if day is None else found.life_from(visit, day)
                yield (
                    f"+ {visit.called} {visit.on:%a} {visit.on}: {placed.unplaced:.1f} h do not"
                    f" fit; {words.would_fit(day, life)}"
                )

    # -- keys ----------------------------------------------------------------------------------

    def action_list(self) -> None:
        """Show the visits by date, or the weeks again."""
        self.is_list = not self.is_list
        self._show()
        self.upper.focus()
        self.upper.refresh()

    def action_sooner(self) -> None:
        """Let cars come in some days before their own, more each time, then not any more."""
        self._sooner = SOONER[(SOONER.index(self._sooner) + 1) % len(SOONER)]
        self.show_anew()

    async def action_open(self) -> None:
        """Go to the cars of the week, from there to the visits of one."""
        key = self.upper.cursor_key or ""
        visit = self._visit_at(self.lower if self.lower.has_focus else self.upper)
        if key.startswith("cannot ") and not self.lower.has_focus:
            self._open_visits(key.removeprefix("cannot "), self.day)
        elif visit is None:
            visit = self._visit_at(self.upper)
        if visit is not None:
            self._open_visits(visit.slug, visit.on)
        elif self.lower.keys:
            self.lower.focus()

    async def action_move(self) -> None:
        """Go to the jobs of the visit at hand, one of which may be moved."""
        await self.action_open()

    def _open_visits(self, slug: str, on: date) -> None:
        with GARAGE_TURN:
            today = self.garage.today(slug)
        self.app.push_screen(CarVisitsPage(self.garage, today, at=on))

    def action_copy(self) -> None:
        """Copy what stands in both lists and below them."""
        found = self.found
        if found is None:
            return
        lines = [
            *(f"!! {found.called(slug)}: {count} past the window" for slug, count in found.cannot),
            *(
                line.copied()
                for line in self._upper_lines(found)
                if not line.key.startswith("cannot")
            ),
        ]
        self.app.copy_to_clipboard("\n".join((*lines, *self._does_not_fit(found))))
        self.tell("copied the weeks" if not self.is_list else "copied the visits")
