"""Where one job may go: every other visit, with what that costs and what goes past its window."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.visits.moving import Moved
from castlenut.domain.visits.plan import Plan
from castlenut.garage.garage import Garage
from castlenut.garage.visits import CarVisits
from castlenut.screens.page import Page
from castlenut.screens.visits.rows import JobShown, Shown
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.columns import Column, Line
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import car_visits, cautions
from castlenut.words.moved import cost_word, past_words, what_changes

COLUMNS = (
    Column(head="to", width=14),
    Column(head="", width=16),
    Column(head="in all", width=14),
    Column(head="what changes", width=24, grow=1),
)
Take = Callable[[Shown, JobShown, date, Plan | None], None]


class MovePage(Page):
    """The visits to which a job may be moved."""

    TITLE_WORDS: ClassVar[str] = "move a job"
    ANSWERS: ClassVar[str] = (
        "What does it cost to do this job in another visit? Every visit it may go to stands with"
        " what changes by it; enter takes it there."
    )
    CSS_PATH = "../styles/visits.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", "move it there"),
        Binding("escape", "back", "back"),
    ]

    def __init__(
        self, garage: Garage, found: CarVisits, here: Shown, job: JobShown, take: Take
    ) -> None:
        super().__init__(garage)
        self._found = found
        self._here = here
        self._job = job
        self._take = take
        self._days: dict[str, date] = {}
        self._plans: dict[str, Plan] = {}

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*COLUMNS, empty="There is no other visit it may go to.", id="visits")
        yield Static("", id="visit", markup=False)

    def on_mount(self) -> None:
        on = self._here.on
        self.say_where(f"Move {car_visits.title(self._job.item)} from {on:%a} {on} to")
        table = self.query_one(ItemTable)
        table.show(self._lines())
        table.focus()

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Leave it when the car changed: what was to be moved may be elsewhere now."""
        if changed is None or self._found.today.car.vehicle.slug in changed:
            self.app.pop_screen()

    def _lines(self) -> Iterator[Line]:
        name, on = str(self._job.item.id), self._here.on
        if self._here.is_booked:
            # its items are not in the plan: what is told is whether they go past their windows
            visits = {each.on for each in self._found.plan.visits}
            booked = {each.on for each in self._found.booked}
            days = sorted((visits | booked) - {on})
            for day in days:
                told = past_words(car_visits.title(self._job.item), self._job.closes, day)
                yield self._line(day, "-", told)
            return
        moving = self._found.moving()
        for day in moving.days_for(name, on):
            moved = moving.moved(name, on, day)
            self._plans[day.isoformat()] = moved.plan
            told = what_changes(moved, has_money=self._found.has_money)
            yield self._line(day, self._cost(moved), told)

    def _cost(self, moved: Moved) -> str:
        return cost_word(moved) if self._found.has_money else "-"

    def _line(self, day: date, cost: str, told: str) -> Line:
        self._days[day.isoformat()] = day
        if any(each.on == day for each in self._found.booked):
            state = "booked"
        elif any(each.on == day for each in self._found.plan.visits):
            state = "proposed"
        else:
            state = "its own last day"
        return Line(
            key=day.isoformat(),
            cells=(f"{day:%a} {day}", state, cost, told),
            color="overdue" if told.startswith("!!") else "text",
            name=told,
        )

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        line = self.query_one(ItemTable).cursor_line
        keys = self._job.item.rule.cautions
        told = [
            *([] if line is None else [f"{line.cells[0]}: {line.cells[2]}; {line.name}"]),
            " ".join(cautions.sentences(keys)[:1]) or cautions.DEFERRING_LINE,
        ]
        self.query_one("#visit", Static).update("\n".join(map(plain, told)))

    def action_take(self) -> None:
        key = self.query_one(ItemTable).cursor_key
        if key is not None:
            self.app.pop_screen()
            self._take(self._here, self._job, self._days[key], self._plans.get(key))

    def on_item_table_chosen(self, _message: ItemTable.Chosen) -> None:
        self.action_take()
