"""A car: its head as on a job card, and its pages."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.component import Component
from castlenut.domain.due import CarToday
from castlenut.domain.happenings import Job
from castlenut.domain.item import Item
from castlenut.domain.order import Row
from castlenut.domain.tires.today import TiresToday
from castlenut.garage.answers import open_rows
from castlenut.garage.car_record import CarRecord
from castlenut.garage.changes.intake import intake_of
from castlenut.garage.garage import Garage
from castlenut.garage.message import message
from castlenut.garage.tires import tires_of
from castlenut.screens import component_rows, figure_rows, job_rows
from castlenut.screens.car_words import (
    dial_lines,
    head_of_car,
    owner_of_car,
)
from castlenut.screens.item_page import ItemPage
from castlenut.screens.item_rows import (
    COLUMNS,
    INTAKE,
    OWN_CHECKS,
    ahead_rows,
    intake_lines,
    item_row,
    own_check_rows,
    row_key,
)
from castlenut.screens.sum_layout import laid_out
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.columns import Line
from castlenut.screens.widgets.head_line import HeadLine
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.one_line import OneLine
from castlenut.screens.widgets.page_names import PageNames
from castlenut.words import cautions, working
from castlenut.words.in_short import rotation_row

if TYPE_CHECKING:
    from castlenut.screens.tires.pane import TiresPane
    from castlenut.screens.use.pane import UsePane

DUE, FITTED, TIRES, USE, JOBS, FIGURES = range(6)
_ON = {
    TIRES: frozenset({"rotate", "plan", "tread_here", "compare", "reasons", "treads"}),
    USE: frozenset({"settle", "as_table"}),
    JOBS: frozenset({"job_card", "correct_job", "strike_job"}),
    FIGURES: frozenset({"edit"}),
}
_LISTS = {
    FITTED: (component_rows.COLUMNS, component_rows.EMPTY, "fitted"),
    JOBS: (job_rows.COLUMNS, job_rows.EMPTY, "jobs"),
    FIGURES: (figure_rows.COLUMNS, figure_rows.EMPTY, "figures"),
}
_NOT_ON_PANES = frozenset({"work", "all", "mark"})
_NOTHING_OPEN = "Nothing is open on this car. a shows what is ahead"


class CarPage(ItemPage):
    """One car: 1 what is due, 2 fitted, 3 tires, 4 use, 5 jobs, 6 its own figures."""

    TITLE_WORDS: ClassVar[str] = "car"
    ANSWERS: ClassVar[str] = (
        "What is due, and why (w)? What is fitted (2)? May its tires be rotated (3)?"
        " How far is it driven (4)? What was done (5)? What are its own figures (6)?"
    )
    CSS_PATH = "styles/car.tcss"
    ALSO: ClassVar[tuple[tuple[str, str], ...]] = (
        *ItemPage.ALSO,
        ("a rule for this car alone: the one of the item", "own_rule"),
        ("look at what differs or is set aside", "differences"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "rotate", "record it"),
        Binding("l", "plan", "plan"),
        Binding("t", "tread_here", "tread"),
        Binding("c", "compare", "compare"),
        Binding("w", "reasons", "reasons"),
        Binding("a", "treads", "treads over distance", show=False),
        Binding("enter", "settle", "settle it"),
        Binding("enter", "job_card", "job card"),
        Binding("e", "correct_job", "correct"),
        Binding("x", "strike_job", "strike out"),
        Binding("w,enter", "work", "working"),
        Binding("d", "record('done')", "done"),
        Binding("m", "record('measured')", "measured"),
        Binding("x", "record('declined')", "declined"),
        Binding("f", "fit", "fit"),
        Binding("r", "reading", "reading"),
        Binding("n", "record('found')", "something found", show=False),
        Binding("t", "tread", "tread depths", show=False),
        Binding("space", "mark", "mark for one job", show=False),
        Binding("a", "as_table", "as a table"),
        Binding("a", "all", "ahead and removed, too", show=False),
        Binding("1", "page(0)", "what is due", show=False),
        Binding("2", "page(1)", "what is fitted", show=False),
        Binding("3", "page(2)", "tires", show=False),
        Binding("4", "page(3)", "odometer and use", show=False),
        Binding("5", "page(4)", "jobs done", show=False),
        Binding("6", "page(5)", "its own figures", show=False),
        Binding("e", "edit", "correct"),
        Binding("o", "open_up", "open up: what else", show=False),
        Binding("b", "book", "book into a visit", show=False),
        Binding("v", "app.open_visits", "visits", show=False),
        Binding("y", "copy", "copy five lines", show=False),
        Binding("escape", "back", "back", show=False),
    ]

    @dataclass
    class TiresReckoned(Message):
        """What stands on the car and what may move was found out."""

        tires: TiresToday

    def __init__(self, garage: Garage, slug: str) -> None:
        super().__init__(garage)
        self.slug = slug
        self.number = DUE
        self.tires: TiresToday | None = None
        """Its tires, once they are reckoned."""
        self._pane: TiresPane | None = None
        with GARAGE_TURN:
            self.record: CarRecord = garage.car(slug)
            self.car: CarToday = garage.today(slug)
        self._shows_all = False
        self._shows_own = False
        self._rows: tuple[Row, ...] = ()
        self._use: UsePane | None = None
        self._lists: dict[int, ItemTable] = {}
        """The lists of parts and of its own figures, each made when its page is first opened."""

    def body(self) -> Iterable[Widget]:
        yield OneLine(id="dial")
        yield PageNames(id="pages")
        with Horizontal(id="panes"):
            yield ItemTable(*COLUMNS, empty=_NOTHING_OPEN, id="due")
            yield Static("", id="aside", markup=False)
        yield OneLine(id="rotation")
        yield Static("", id="remark", markup=False)
        yield Static("", id="caution", markup=False)

    @property
    def due(self) -> ItemTable:
        """Give the list of what is due."""
        return self.query_one("#due", ItemTable)

    async def on_mount(self) -> None:
        self._show()
        self.reckon_tires()
        await self.action_page(DUE)

    def on_resize(self) -> None:
        # what stands at the right is laid out for its width, which is known after the layout
        self.call_after_refresh(self._tell_row)

    # -- showing -------------------------------------------------------------------------------

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Read the car anew, if its file is among those changed."""
        if changed is None or self.slug in changed:
            with GARAGE_TURN:
                self.record = self.garage.car(self.slug)
                self.car = self.garage.today(self.slug)
            self._show()
            self.reckon_tires()

    def _show(self) -> None:
        car = self.car.car
        head = self.query_one("#head", HeadLine)
        head.left = head_of_car(self.car)
        head.right = owner_of_car(car)
        whole, *shorter = dial_lines(self.car)
        dial = self.query_one("#dial", OneLine)
        dial.text, dial.shorter = f" {whole}", tuple(f" {each}" for each in shorter)
        open_items, parts = open_rows(self.car), component_rows.fitted(self.car)
        names = self.query_one("#pages", PageNames)
        names.names = (
            f"due {len(open_items)}",
            f"fitted {len(parts)}",
            "tires",
            self._use_name(),
            f"jobs {len(car.jobs)}",
            f"figures {len(self.car.car.figures)}",
        )
        look_at = len(self.record.look_at)
        names.right = f"look at: {look_at}  {self.day}" if look_at else f"{self.day}"
        own = own_check_rows(self.car)
        self._rows = (
            *open_items,
            *(own if self._shows_own else ()),
            *(ahead_rows(self.car) if self._shows_all else ()),
        )
        self.due.show((*self._intake_lines(), *self._due_lines(len(own))))
        for number in self._lists:
            self._show_list(number)
        if self._use is not None:
            self._use.show(self.car, self._item_at_hand())
        self._tell_row()

    def _show_list(self, number: int) -> None:
        """Show the parts, the jobs done, or the car's own figures."""
        table = self._lists[number]
        if number == FITTED:
            table.show(self._part_lines())
            return
        with GARAGE_TURN:
            if number == JOBS:
                table.show(job_rows.job_lines(self.car, self.garage.book))
            else:
                table.show(figure_rows.figure_lines(self.car, self.garage))

    def _part_lines(self) -> Iterator[Line]:
        dial = self.car.odometer.dial
        shown = list(component_rows.fitted(self.car))
        if self._shows_all:
            shown += component_rows.apart(self.car, on_shelf=False)
        for each in shown:
            yield component_rows.component_row(each, dial, self.day)
        shelf = component_rows.apart(self.car, on_shelf=True)
        if shelf:
            yield Line(key="shelf", cells=("on the shelf",), is_heading=True)
        for each in shelf:
            yield component_rows.component_row(each, dial, self.day)

    @work(thread=True, exclusive=True, group="tires")
    def reckon_tires(self) -> None:
        """Find out, off the keys, what stands on the car and what may move."""
        with GARAGE_TURN:
            tires = tires_of(self.garage, self.slug)
        self.post_message(self.TiresReckoned(tires))

    def on_car_page_tires_reckoned(self, message: TiresReckoned) -> None:
        """Say in one row how the car may be rotated, and show its tires where they are open."""
        self.tires = message.tires
        line = self.query_one("#rotation", OneLine)
        line.text = rotation_row(message.tires)
        line.set_class(bool(line.text), "-told")
        if self._pane is not None:
            self._pane.show(self.car, message.tires)

    def _use_name(self) -> str:
        asked = sum(each.oddity is not None for each in self.car.odometer.placed)
        return f"use ?? {asked}" if asked else "use"

    def _intake_lines(self) -> Iterable[Line]:
        is_begun = bool(self.car.car.vehicle.ticks)
        if not is_begun and component_rows.fitted(self.car):  # taken on without an intake
            return ()
        with GARAGE_TURN:
            return tuple(intake_lines(intake_of(self.garage, self.slug)))

    def _due_lines(self, own: int) -> Iterator[Line]:
        for row in self._rows:
            yield item_row(row, self.car)
        if own and not self._shows_own:
            cells = ("-  own checks", f"{own}: enter lists", "-", "-", "-", "-", "own")
            yield Line(key=OWN_CHECKS, cells=cells, color="quiet", name="own checks")

    def on_item_table_moved(self, message: ItemTable.Moved) -> None:
        if message.table in (self.due, self._lists.get(FITTED)):
            self._tell_row()

    def _tell_row(self) -> None:
        """Say below the list what belongs to the row: its caution, then the deferring line."""
        item = self._item_at_hand() if self.number == DUE else None
        keys = () if item is None else item.rule.cautions
        told = " ".join(cautions.sentences(keys)[:1])
        self.query_one("#remark", Static).update(plain(told))
        self.query_one("#caution", Static).update(cautions.DEFERRING_LINE)
        aside = self.query_one("#aside", Static)
        if item is None or not aside.display:
            aside.update("")
        else:
            rows = working.sum_rows(item, self.car.odometer.dial)
            aside.update("\n".join(laid_out(rows, max(aside.size.width - 1, 30))))

    # -- what is at hand -----------------------------------------------------------------------

    def car_at_hand(self) -> CarToday:
        return self.car

    def undoes_on(self) -> str:
        return self.slug

    def action_differences(self) -> None:
        """Open what differs between two machines, and what else needs a look."""
        from castlenut.garage.car_record import differences_of
        from castlenut.screens.differences import Differences

        differing = {*differences_of(self.record.file.records())}
        others = [each for each in self.record.look_at if each not in differing]
        title = self.car.car.vehicle.description
        self.open_form(Differences(self.garage, self.slug, title, others))

    def rows_at_hand(self) -> tuple[Row, ...]:
        return self._rows if self.number == DUE else ()

    def _item_at_hand(self) -> Item | None:
        """Give the item under the cursor of page 1, whichever page is open."""
        key = self.due.cursor_key
        return next((row.first for row in self._rows if row_key(row) == key), None)

    def row_at_hand(self) -> int | None:
        keys = [row_key(row) for row in self.rows_at_hand()]
        return keys.index(self.due.cursor_key) if self.due.cursor_key in keys else None

    def items_at_hand(self) -> tuple[Item, ...]:
        marked = [row for row in self.rows_at_hand() if row_key(row) in self.due.marked]
        return tuple(item for row in marked for item in row.items) or super().items_at_hand()

    def part_at_hand(self) -> Component | None:
        if self.number != FITTED:
            return None
        key = self.found_in.cursor_key
        return next((part for part in self.car.car.components if part.record == key), None)

    # -- keys ----------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave out what the page that is open has nothing to do with."""
        others = {each for page, actions in _ON.items() if page != self.number for each in actions}
        if action in others or (self.number in _ON and action in _NOT_ON_PANES):
            return False
        if action == "differences" and not self.record.look_at:
            return False
        return super().check_action(action, parameters)

    async def action_page(self, number: int) -> None:
        """Open a page by its number, counted from 0."""
        self.number = number
        self.query_one("#pages", PageNames).number = number
        self.set_class(number == FITTED, "-fitted")
        self.set_class(number == TIRES, "-tires")
        self.set_class(number == USE, "-use")
        self.set_class(number == JOBS, "-jobs")
        self.set_class(number == FIGURES, "-figures")
        if number == TIRES:
            (await self.tires_pane()).table.focus()
        elif number == USE:
            (await self.use_pane()).table.focus()
        else:
            (await self._list(number)).focus()
        self._tell_row()
        self.refresh_bindings()

    async def _list(self, number: int) -> ItemTable:
        """Give the list of a page, made when it is first opened."""
        if number in _LISTS and number not in self._lists:
            columns, empty, name = _LISTS[number]
            table = ItemTable(*columns, empty=empty, id=name)
            await self.query_one("#panes").mount(table, before="#aside")
            self._lists[number] = table
            self._show_list(number)
        return self._lists.get(number, self.due)

    async def tires_pane(self) -> "TiresPane":
        """Give the page of tires, made when it is first opened."""
        from castlenut.screens.tires.pane import TiresPane

        if self._pane is None:
            self._pane = TiresPane(depth_unit=self.garage.settings.depth_unit)
            await self.query_one("#panes").mount(self._pane)
            if self.tires is not None:
                self._pane.show(self.car, self.tires)
        return self._pane

    async def use_pane(self) -> "UsePane":
        """Give the page of the odometer, made when it is first opened."""
        from castlenut.screens.use.pane import UsePane

        if self._use is None:
            self._use = UsePane()
            await self.query_one("#panes").mount(self._use)
        self._use.show(self.car, self._item_at_hand())
        return self._use

    async def on_page_names_chosen(self, message: PageNames.Chosen) -> None:
        await self.action_page(message.number)

    async def on_item_table_chosen(self, message: ItemTable.Chosen) -> None:
        message.table.focus()
        if self.number == USE:
            self.action_settle()
        elif self.number == JOBS:
            self.action_job_card()
        else:
            await self.action_work()

    def action_mark(self) -> None:
        if self.number == DUE and self.row_at_hand() is not None:
            self.due.mark()

    def action_all(self) -> None:
        self._shows_all = not self._shows_all
        self._show()
        self.tell("all shown: a shows what is open" if self._shows_all else "")

    async def action_work(self) -> None:
        if self.number == DUE and self.due.cursor_key == INTAKE:
            self.action_intake()
        elif self.number == DUE and self.due.cursor_key == OWN_CHECKS:
            self._shows_own = True
            self._show()
        elif self.number == DUE:
            await super().action_work()
        elif self.number == FIGURES:
            self.action_edit()

    def action_edit(self) -> None:
        from castlenut.screens.forms.figure import FigureForm

        figure = figure_rows.figure_of(self.car, self.found_in.cursor_key)
        self.open_form(FigureForm(self.garage, self.car, figure))

    # -- keys of the page of jobs --------------------------------------------------------------

    def _job_at_hand(self) -> Job | None:
        job = job_rows.job_of(self.car, self.found_in.cursor_key)
        if job is None:
            self.tell("jobs: none is recorded yet; d records the first")
        return job

    def action_job_card(self) -> None:
        """Open the job under the cursor as it was recorded."""
        from castlenut.screens.told import job_told

        job = self._job_at_hand()
        if job is not None:
            self.app.push_screen(job_told(self.garage, self.car, job))

    def action_correct_job(self) -> None:
        from castlenut.screens.forms.job import CorrectJobForm

        job = self._job_at_hand()
        if job is not None:
            self.open_form(CorrectJobForm(self.garage, self.car, job))

    def action_strike_job(self) -> None:
        from castlenut.screens.forms.job import StrikeJobForm

        job = self._job_at_hand()
        if job is not None:
            self.open_form(StrikeJobForm(self.garage, self.car, job))

    def action_own_rule(self) -> None:
        items = self.items_at_hand()
        if not items or items[0].id.rule not in self.garage.book.rules:
            self.tell("a rule for this car alone: put the cursor on an item first")
            return
        from castlenut.screens.forms.own_rule import OwnRuleForm

        self.open_form(OwnRuleForm(self.garage, self.car, items[0].rule))

    def action_copy(self) -> None:
        """Copy the five lines for a message; on the other pages the row."""
        if self.number != DUE:
            super().action_copy()
            return
        with GARAGE_TURN:
            lines = message(self.garage, self.slug)
        self.app.copy_to_clipboard("\n".join(lines))
        self.tell("copied five lines for a message")

    # -- keys of the page of tires -------------------------------------------------------------

    def action_rotate(self) -> None:
        tires, choice = self.tires, None if self._pane is None else self._pane.choice
        if tires is None or choice is None:
            self.tell("rotation: put the cursor on a pattern first")
            return
        from castlenut.screens.forms.rotation import RotationForm

        self.open_form(RotationForm(self.garage, self.car, tires, choice.name))

    def action_plan(self) -> None:
        from castlenut.screens.tires.plan import PlanPage

        self.app.push_screen(PlanPage(self.garage, self.car))

    def action_compare(self) -> None:
        if self.tires is None:
            self.tell("compare: the tires are still being looked at")
            return
        from castlenut.screens.tires.compare import compare_page

        self.app.push_screen(compare_page(self.garage, self.tires))

    def action_tread_here(self) -> None:
        self.action_tread()

    def action_reasons(self) -> None:
        tires, choice = self.tires, None if self._pane is None else self._pane.choice
        if tires is None or choice is None:
            self.tell("reasons: put the cursor on a pattern first")
            return
        from castlenut.screens.tires.told import reasons_page

        unit = self.garage.settings.depth_unit
        self.app.push_screen(reasons_page(self.garage, tires, choice, depth_unit=unit))

    def action_treads(self) -> None:
        if self.tires is None or self._pane is None:
            return
        from castlenut.screens.tires.treads_page import TreadsPage

        self.app.push_screen(TreadsPage(self.garage, self.car, self.tires, self._pane.outlook))

    # -- keys of the page of the odometer ------------------------------------------------------

    def action_settle(self) -> None:
        """Ask what the reading under the cursor was."""
        placed = None if self._use is None else self._use.reading
        if placed is None or placed.oddity is None:
            self.tell("settle: nothing is asked about this reading; ?? marks those that are")
            return
        from castlenut.garage.dial_questions import question
        from castlenut.screens.forms.settle import SettleForm

        with GARAGE_TURN:
            asked = question(self.garage, self.slug, self.car.odometer, placed)
        if asked is not None:
            self.open_form(SettleForm(self.garage, self.car, asked))

    def action_as_table(self) -> None:
        """Show the distance ahead as a table, or as a chart again."""
        if self._use is not None:
            self._use.turn()

    @property
    def found_in(self) -> ItemTable:
        if self.number == TIRES:
            return self.query_one("#patterns", ItemTable)
        if self.number == USE and self._use is not None:
            return self._use.table
        return self._lists.get(self.number, self.due)
