"""The visits of one car by date: agreed and proposed, moved with what that does, booked, done."""

from collections.abc import Callable, Iterable, Iterator
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
from castlenut.domain.frozen import replace
from castlenut.domain.naming import unique_name
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import Plan
from castlenut.garage.changes.visiting import (
    draft_canceled,
    draft_item_moved,
    draft_moved,
    draft_visit,
)
from castlenut.garage.drafts import Draft, Saved, save
from castlenut.garage.garage import Garage
from castlenut.garage.visits import CarVisits, ask, better_of, planned
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.visits.rows import (
    JOB_COLUMNS,
    VISIT_COLUMNS,
    JobShown,
    Shown,
    cannot_lines,
    job_lines,
    shown_visits,
    visit_line,
)
from castlenut.screens.visits.told import reasons_of, told_of
from castlenut.screens.widgets.cells import hanging
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.store.faults import NotSaved
from castlenut.words import car_visits as words
from castlenut.words import cautions

FIRST_SECONDS, LOOKING_SECONDS = 0.5, 8.0
"""After how long a first plan is shown, and how long a better one is looked for at the most."""
LOOKING = "still looking, esc keeps this one"
_MARGIN = 2
_MOST_TOLD = 5


class CarVisitsPage(Page):
    """When a car comes in and what is done then, a list by date."""

    TITLE_WORDS: ClassVar[str] = "visits of a car"
    ANSWERS: ClassVar[str] = (
        "When should the car come in, so that nothing runs over and it is opened up once? Left and"
        " right try another day and say at once what goes past its window then; space moves one job"
        " of the list below to another visit; enter books the visit, d tells it done."
    )
    CSS_PATH = "../styles/visits.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "book", "book it"),
        Binding("space", "move", "move a job"),
        Binding("right", "shift(1)", "a day later"),
        Binding("left", "shift(-1)", "a day sooner"),
        Binding("d", "done", "done"),
        Binding("x", "cancel", "call it off"),
        Binding("w", "reasons", "why"),
        Binding("tab", "app.focus_next", "the other list", show=False),
        Binding("escape,v", "back", "back"),
    ]

    @dataclass
    class Planned(Message):
        """A plan was made, or why it cannot be. `is_last`: no better one is looked for."""

        found: CarVisits | None
        is_last: bool = True
        fault: str = ""

    def __init__(self, garage: Garage, car: CarToday, *, at: date | None = None) -> None:
        """Show a car's visits, the cursor on the one of a day."""
        super().__init__(garage)
        self.car = car
        self.found: CarVisits | None = None
        """The visits, once they are planned."""
        self.is_looking = False
        """Whether a better plan is looked for."""
        self._at: date | None = at or car.today
        self._days: dict[str, date] = {}
        self._has_moved = False
        self._saved = ""
        self._shown: tuple[Shown, ...] = ()

    def body(self) -> Iterable[Widget]:
        empty = f"Nothing closes in the next {self._months} months."
        yield ItemTable(*VISIT_COLUMNS, empty=empty, id="visits")
        yield ItemTable(*JOB_COLUMNS, id="jobs")
        yield Static("", id="visit", markup=False)

    @property
    def visits(self) -> ItemTable:
        """Give the list of visits."""
        return self.query_one("#visits", ItemTable)

    @property
    def jobs(self) -> ItemTable:
        """Give the list of what is done in the visit under the cursor."""
        return self.query_one("#jobs", ItemTable)

    def on_mount(self) -> None:
        self.say_where(f"Visits: {self.car.car.vehicle.description}")
        self.visits.focus()
        self._look()

    def on_resize(self) -> None:
        self.call_after_refresh(self._tell_visit)

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Plan anew what the change may have moved."""
        if changed is None or self.car.car.vehicle.slug in changed:
            with GARAGE_TURN:
                self.car = self.garage.today(self.car.car.vehicle.slug)
            self._look()

    # -- planning ------------------------------------------------------------------------------

    def _look(self) -> None:
        self.tell("looking for the days")
        self._days.clear()
        self._has_moved = False
        self.is_looking = True
        self.plan()

    @work(thread=True, exclusive=True, group="visits")
    def plan(self) -> None:
        """Plan the visits, off the keys: a first plan soon, then a better one if there is time."""
        worker, begin = get_current_worker(), monotonic()

        def until(seconds: float) -> Callable[[], bool]:
            return lambda: not worker.is_cancelled and monotonic() < begin + seconds

        try:
            with GARAGE_TURN:
                asked = ask(self.garage, self.car.car.vehicle.slug)
        except BadInput as refused:
            self.post_message(self.Planned(None, fault=str(refused.faults[0])))
            return
        found = planned(asked, may_go_on=until(FIRST_SECONDS))
        is_last = found.plan.is_proved or not until(LOOKING_SECONDS)()
        if not worker.is_cancelled:
            self.post_message(self.Planned(found, is_last))
        if not is_last:
            better = better_of(found, planned(asked, may_go_on=until(LOOKING_SECONDS)))
            if not worker.is_cancelled:
                self.post_message(self.Planned(better))

    def on_car_visits_page_planned(self, message: Planned) -> None:
        if self.found is not None and self.is_looking and self._is_tried:
            # what was tried meanwhile is not taken away from under the hand
            self.is_looking = False
            self.tell("a better plan was found: esc, then v again shows it")
            return
        self.is_looking = not message.is_last
        self.found = message.found
        self._days.clear()
        self._show_found()
        if message.fault:
            self.tell(message.fault, is_fault=True)
        elif self.is_looking:
            self.tell(LOOKING)
        else:
            self.tell(self._saved or "left and right try another day, nothing is saved by that")
            self._saved = ""

    @property
    def _is_tried(self) -> bool:
        return bool(self._days) or self._has_moved

    @property
    def _months(self) -> int:
        return self.garage.settings.horizon_months

    def step_back(self) -> None:
        """Keep the plan that is shown while a better one is looked for; else go back."""
        if self.is_looking and self.found is not None:
            self.is_looking = False
            self.workers.cancel_group(self, "visits")
            self.tell("this plan is kept")
        else:
            super().step_back()

    # -- showing -------------------------------------------------------------------------------

    def _show_found(self) -> None:
        self._shown = () if self.found is None else shown_visits(self.found)
        self._show()
        if self._at is not None and self._shown:
            here = next((each for each in self._shown if each.on >= self._at), self._shown[-1])
            self.visits.put_cursor(here.key)
            self._at = None

    def _show(self) -> None:
        booked = {each.on for each in self._shown if each.is_booked}
        visits = [
            visit_line(each, self._days.get(each.key, each.on), booked=booked)
            for each in self._shown
        ]
        cannot = () if self.found is None else tuple(cannot_lines(self.found))
        self.visits.show((*cannot, *visits))
        self._show_jobs()

    def _show_jobs(self) -> None:
        here = self.at_hand
        self.jobs.show(() if here is None else job_lines(here.jobs))
        self._tell_visit()

    def on_item_table_moved(self, message: ItemTable.Moved) -> None:
        if message.table is self.visits:
            self._show_jobs()
        else:
            self._tell_visit()

    def on_descendant_focus(self) -> None:
        self._tell_visit()

    @property
    def at_hand(self) -> Shown | None:
        """Give the visit under the cursor."""
        key = self.visits.cursor_key
        return next((each for each in self._shown if each.key == key), None)

    @property
    def job_at_hand(self) -> JobShown | None:
        """Give the job under the cursor of the list below."""
        here, key = self.at_hand, self.jobs.cursor_key
        return next((each for each in here.jobs if each.key == key), None) if here else None

    def _tell_visit(self) -> None:
        width = self.size.width - _MARGIN
        lines = [line for each in self._told() for line in hanging(each, width)]
        self.query_one("#visit", Static).update("\n".join(lines[:_MOST_TOLD]))

    def _told(self) -> Iterator[str]:
        here, line = self.at_hand, self.visits.cursor_line
        if here is None:
            if line is not None:
                yield f"!! {line.name}"
            yield cautions.DEFERRING_LINE
            return
        job = self.job_at_hand if self.jobs.has_focus else None
        yield from told_of(here, self._days.get(here.key, here.on), self.found, job)

    # -- keys ----------------------------------------------------------------------------------

    def action_shift(self, by: int) -> None:
        """Try the next open day, or the one before; nothing is saved yet."""
        here, found = self.at_hand, self.found
        if here is None or found is None or here.is_past:
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
        if here.is_past:
            self.tell("it was booked and is not told done: d tells it, x calls it off")
        elif not here.is_booked:
            self._save(lambda: draft_visit(self.garage, slug, day.isoformat(), here.names))
        elif day != here.on:
            self._save(lambda: draft_moved(self.garage, slug, here.on.isoformat(), day.isoformat()))
        else:
            self.tell("it is booked: left and right try another day, x calls it off, d tells done")

    def action_cancel(self) -> None:
        here = self.at_hand
        if here is not None and here.is_booked:
            slug = self.car.car.vehicle.slug
            self._save(lambda: draft_canceled(self.garage, slug, here.on.isoformat()))
        elif here is not None:
            self.tell("it is proposed only: there is nothing to call off")

    def action_done(self) -> None:
        """Open the day's work with the jobs of the visit; a booked one is told done with it."""
        from castlenut.screens.forms.day import DayForm

        here = self.at_hand
        if here is None:
            return
        items = tuple(each.item for each in here.jobs)
        self.app.push_screen(
            DayForm(self.garage, self.car, begin="done", items=items, visit=here.record),
            self._take_saved,
        )

    def _take_saved(self, saved: Saved | None) -> None:
        if saved is not None:
            self._tell_saved(saved)

    def action_move(self) -> None:
        """Open the visits to which the job at hand may go, each with what that costs."""
        from castlenut.screens.visits.moving import MovePage

        here, job, found = self.at_hand, self.job_at_hand, self.found
        if not self.jobs.has_focus:
            self.jobs.focus()
            self.tell("which job? space moves the one under the cursor to another visit")
        elif here is not None and job is not None and found is not None:
            self.app.push_screen(MovePage(self.garage, found, here, job, self._take_moved))

    def _take_moved(self, here: Shown, job: JobShown, to: date, plan: Plan | None) -> None:
        """Take a job moved: among proposed visits it is tried only, with a booked one it is saved.

        `plan`: as it is with the job moved.
        """
        slug, on, name = self.car.car.vehicle.slug, here.on.isoformat(), unique_name(job.item)
        booked = () if self.found is None else self.found.booked
        if here.is_booked:
            self._save(lambda: draft_item_moved(self.garage, slug, name, on, to.isoformat()))
        elif any(each.on == to for each in booked):
            self._save(lambda: draft_visit(self.garage, slug, to.isoformat(), [name]))
        elif self.found is not None and plan is not None:
            self._has_moved = True
            self.found = replace(self.found, plan=plan)
            self._at = to
            self._show_found()
            self.tell(f"{words.title(job.item)} goes to {to:%a} {to}: enter books that visit")

    def action_reasons(self) -> None:
        """Open the reasons with what it costs, and how good the plan is known to be."""
        from castlenut.screens.text_page import TextPage

        here, found = self.at_hand, self.found
        if found is None:
            return
        told = reasons_of(found, here, self.garage.settings.currency)
        head = f"Why: {self.car.car.vehicle.description}"
        self.app.push_screen(
            TextPage(
                self.garage,
                head=head,
                right="" if here is None else str(here.on),
                told=tuple(told),
            )
        )

    def _save(self, draft: Callable[[], Draft]) -> None:
        try:
            with GARAGE_TURN:
                saved = save(self.garage, draft())
        except BadInput as refused:
            self.tell(str(refused.faults[0]), is_fault=True)
        except NotSaved as refused:
            self.tell(str(refused), is_fault=True)
        else:
            self._tell_saved(saved)

    def _tell_saved(self, saved: Saved) -> None:
        with GARAGE_TURN:
            self.car = self.garage.today(self.car.car.vehicle.slug)
        self._saved = "; ".join((f"saved: {saved.title}", *saved.told))
        self._look()
