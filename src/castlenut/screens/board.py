"""The board: which car, and what first."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import events, work
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import Worker, get_current_worker

from castlenut.domain.working import State
from castlenut.garage.garage import CannotRead, Garage
from castlenut.screens import board_rows
from castlenut.screens.car_words import about_car
from castlenut.screens.item_page import ItemPage
from castlenut.screens.item_rows import COLUMNS, ahead_rows, row_key
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.message_line import MessageLine
from castlenut.words import figures

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from castlenut.domain.due import CarToday
    from castlenut.domain.order import Row
    from castlenut.garage.answers import BoardRow
    from castlenut.garage.coming_weeks import CarWeeks
    from castlenut.garage.drafts import Saved

REST_SECONDS = 0.06
"""How long the cursor rests on a car before its items are shown."""
SLOW_SECONDS = 0.2
"""From when on the reckoning is told."""
SECONDS_BETWEEN = 0.1
"""At most ten times a second new states are shown."""
AHEAD_SHOWN = 3
WIDE = 120
"""From this width on there is room beside the lists."""


class Board(ItemPage):
    """Every car, worst first, and what is due on the one under the cursor."""

    TITLE_WORDS: ClassVar[str] = "board"
    ANSWERS: ClassVar[str] = (
        "Which car first, and what on it? Above, every car: those in work, then the worst first."
        " Below, what is open on the car under the cursor."
    )
    CSS_PATH = "styles/board.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "car"),
        Binding("d", "record('done')", "day's work"),
        Binding("r", "reading", "reading"),
        Binding("n", "new_car", "new car"),
        Binding("c", "app.open_feeds", "feed"),
        Binding("v", "app.open_weeks", "visits: the weeks", show=False),
        Binding("slash", "find", "find"),
        Binding("w", "work", "working"),
        Binding("a", "which", "all, to ring, or sold", show=False),
        Binding("q", "end", "end", show=False),
    ]

    @dataclass
    class Reckoned(Message):
        """Some cars were reckoned: how many so far, of how many, and whether it takes long."""

        rows: tuple[BoardRow, ...]
        weeks: Mapping[str, CarWeeks]
        done: int
        of: int
        is_slow: bool

    @dataclass
    class Followed(Message):
        """The car under the cursor was reckoned for the lower list; None: it cannot be read."""

        slug: str
        today: CarToday | None

    @dataclass
    class Rung(Message):
        """It was reckoned whom to call: by car, owner, telephone and why."""

        told: dict[str, tuple[str, ...]]

    @dataclass
    class FeedsSeen(Message):
        """How the published feeds stand: what is wrong with each that is wrong."""

        faults: tuple[str, ...]

    class Shown(Message):
        """Every car's state is shown."""

    def __init__(self, garage: Garage) -> None:
        super().__init__(garage)
        self.is_following = False
        """Whether the lower list is still to follow the cursor."""
        self._rows: dict[str, BoardRow | None] = {}
        self._below: CarToday | None = None
        self._below_rows: tuple[Row, ...] = ()
        self._rest: Timer | None = None
        self._reckoning: Worker[None] | None = None
        self._progress, self._told_before = "", ""
        """What was last told of progress, and what the message line said before it."""
        self._which = board_rows.ALL
        self._rung: dict[str, tuple[str, ...]] = {}
        self._began_at: str | None = None
        self._feed_faults: tuple[str, ...] = ()
        self._weeks: dict[str, CarWeeks] = {}
        self._shows_weeks = False

    def body(self) -> Iterable[Widget]:
        with Horizontal(id="panes"):
            with Vertical(id="lists"):
                yield ItemTable(*board_rows.COLUMNS, empty=board_rows.EMPTY, id="cars")
                yield ItemTable(*COLUMNS, has_head=False, id="below")
            yield Static("", id="aside", markup=False)

    @property
    def cars(self) -> ItemTable:
        """Give the list of cars."""
        return self.query_one("#cars", ItemTable)

    @property
    def below(self) -> ItemTable:
        """Give the list of what is due on the car under the cursor."""
        return self.query_one("#below", ItemTable)

    def on_mount(self) -> None:
        self._rows = dict.fromkeys(self.garage.slugs())
        self._shows_weeks = self.app.size.width >= WIDE
        self._show_cars()
        self._began_at = self.cars.cursor_key
        self.cars.focus()
        self.call_after_refresh(self.reckon, tuple(self._rows))

    # -- the cars ------------------------------------------------------------------------------

    def reckon(self, slugs: tuple[str, ...]) -> None:
        """Reckon cars on another thread: the one under the cursor first."""
        here = self.cars.cursor_key
        first = tuple(slug for slug in slugs if slug == here)
        self._reckoning = self._reckon((*first, *(slug for slug in slugs if slug != here)))

    @work(thread=True, exclusive=True, group="reckon", exit_on_error=False)
    def _reckon(self, slugs: tuple[str, ...]) -> None:
        # Loaded here, after the first paint.
        from castlenut.garage.answers import board_row

        rows: list[BoardRow] = []
        worker, began = get_current_worker(), time.monotonic()
        weeks: dict[str, CarWeeks] = {}
        told = began
        for number, slug in enumerate(slugs, 1):
            if worker.is_cancelled:
                return
            with GARAGE_TURN:
                rows.append(board_row(self.garage, slug))
                if self._shows_weeks and rows[-1].fault is None and not rows[-1].is_sold:
                    # Loaded here: only a wide board says what the next weeks hold.
                    from castlenut.garage.coming_weeks import weeks_of_car

                    weeks[slug] = weeks_of_car(self.garage, self.garage.today(slug))
            now = time.monotonic()
            if number == len(slugs) or now - told >= SECONDS_BETWEEN:
                is_slow = now - began >= SLOW_SECONDS
                reckoned = self.Reckoned(tuple(rows), weeks, number, len(slugs), is_slow)
                self.post_message(reckoned)
                rows, weeks, told = [], {}, now
            time.sleep(0)
        if not slugs:
            self.post_message(self.Shown())

    def on_board_reckoned(self, message: Reckoned) -> None:
        """Take the states of some cars, and say how far the reckoning is while it is slow."""
        self._rows.update({row.slug: row for row in message.rows if row.slug in self._rows})
        self._weeks = {slug: each for slug, each in self._weeks.items() if slug in self._rows}
        self._weeks.update(message.weeks)
        self._show_cars()
        is_done, line = message.done == message.of, self.query_one(MessageLine)
        if not is_done and message.is_slow:
            if line.text != self._progress:
                self._told_before = line.text
            self._progress = f"reckoning {message.done} of {message.of} cars  esc stops"
            self.tell(self._progress)
        elif is_done and self._progress and line.text == self._progress:
            self.tell(self._told_before)
            self._progress = ""
        if is_done:
            self._reckoning = None
            self._begin_at_worst()
            self.follow()
            if self.garage.settings.feed_targets:
                self.look_at_feeds()
            self.post_message(self.Shown())

    @work(thread=True, exclusive=True, group="feeds", exit_on_error=False)
    def look_at_feeds(self) -> None:
        """Look which published feeds could not be brought up to date."""
        # Loaded here: most garages publish nothing.
        from castlenut.garage.feeds.targets import targets

        with GARAGE_TURN:
            found = targets(self.garage)
        faults = (each for each in found if each.fault is not None and not each.is_elsewhere)
        self.post_message(self.FeedsSeen(tuple(f"{each.path}: {each.fault}" for each in faults)))

    def on_board_feeds_seen(self, message: FeedsSeen) -> None:
        """Show under the cars which feeds could not be written."""
        if message.faults != self._feed_faults:
            self._feed_faults = message.faults
            self._show_cars()

    def _begin_at_worst(self) -> None:
        """Put the cursor on the first car once all states are known, unless it was moved before."""
        if self._began_at == self.cars.cursor_key and self.cars.keys:
            self.cars.put_cursor(self.cars.keys[0])
        self._began_at = None

    def _show_cars(self) -> None:
        lines = (
            (*board_rows.car_lines(self._rows), *board_rows.feed_lines(self._feed_faults))
            if self._which == board_rows.ALL
            else board_rows.chosen_lines(self._rows, self._which, self._rung)
        )
        self.cars.show(lines, board_rows.columns_of(self._which))
        self.counted_anew()

    def counted_anew(self) -> None:
        known = [row for row in self._rows.values() if row is not None]
        counts = [
            (sum(row.in_work for row in known), "in work"),
            (sum(row.state is State.OVERDUE for row in known if not row.in_work), "overdue"),
            (sum(row.fault is not None for row in known), "unread"),
        ]
        told = ", ".join(f"{count} {what}" for count, what in counts if count)
        with GARAGE_TURN:
            name = self.garage.settings.name or self.garage.path.name
        cars = figures.count(len(self._rows), "car")
        self.say_where(f"{name}  {cars}{': ' if told else ''}{told}")

    # -- what is below -------------------------------------------------------------------------

    def on_item_table_moved(self, message: ItemTable.Moved) -> None:
        """Follow the cursor on the cars, once it rests."""
        if message.table is self.cars:
            if self._rest is not None:
                self._rest.stop()
            self.is_following = True
            self._rest = self.set_timer(REST_SECONDS, self.follow)

    def follow(self) -> None:
        """Show what is due on the car under the cursor; of one to ring, say the whole why."""
        slug = self.cars.cursor_key
        if self._which == board_rows.TO_RING and slug in self._rung:
            owner, _, why = self._rung[slug]
            self.tell(f"{owner}: {why}")
        if slug is None:
            self.is_following = False
            self._show_below(None)
        else:
            self._follow(slug)

    @work(thread=True, exclusive=True, group="follow", exit_on_error=False)
    def _follow(self, slug: str) -> None:
        try:
            with GARAGE_TURN:
                today = self.garage.today(slug)
        except CannotRead:
            today = None
        self.post_message(self.Followed(slug, today))

    def on_board_followed(self, message: Followed) -> None:
        """Show the items of the car, if the cursor is still on it."""
        if message.slug == self.cars.cursor_key:
            self.is_following = False
            self._show_below(message.today)

    def _show_below(self, today: CarToday | None) -> None:
        self._below = today
        self._below_rows = () if today is None else _rows_of(today)
        key = self.cars.cursor_key
        row = None if key is None else self._rows.get(key)
        if today is not None:
            self.below.show(board_rows.open_lines(today, self._below_rows))
        else:
            fault = None if row is None else row.fault
            self.below.show(board_rows.fault_lines(fault, self.below.size.width))
        self._show_aside()

    def _show_aside(self) -> None:
        """Say beside the lists what car it is, and what the next weeks hold for all of them."""
        aside = self.query_one("#aside", Static)
        told = [] if self._below is None else [*about_car(self._below), ""]
        if self._weeks:
            from castlenut.garage.coming_weeks import coming_weeks
            from castlenut.screens.board_weeks import week_lines

            cars = tuple(self._weeks.values())
            with GARAGE_TURN:
                weeks = coming_weeks(self.garage, cars)
            told.extend(week_lines(weeks, cars))
        # Its size does not follow its text: nothing has to be laid out anew.
        aside.update("\n".join(plain(each) for each in told), layout=False)

    def on_resize(self, event: events.Resize) -> None:
        """Reckon what the next weeks hold, where there is only now room to say it."""
        shows_weeks = event.size.width >= WIDE
        if shows_weeks and not self._shows_weeks and self._rows:
            self._shows_weeks = True
            self.reckon(tuple(self._rows))
        self._shows_weeks = shows_weeks

    # -- keys ----------------------------------------------------------------------------------

    def car_at_hand(self) -> CarToday | None:
        below = self._below
        return below if below and below.car.vehicle.slug == self.cars.cursor_key else None

    def rows_at_hand(self) -> tuple[Row, ...]:
        return self._below_rows if self.below.has_focus else ()

    def row_at_hand(self) -> int | None:
        keys = [row_key(row) for row in self.rows_at_hand()]
        return keys.index(self.below.cursor_key) if self.below.cursor_key in keys else None

    async def on_item_table_chosen(self, message: ItemTable.Chosen) -> None:
        """Take the second click on a row for enter."""
        message.table.focus()
        await self.action_open()

    async def action_open(self) -> None:
        if self.below.has_focus:
            await self.action_work()
        elif self.cars.cursor_key is not None:
            row = self._rows.get(self.cars.cursor_key)
            if row is not None and row.fault is not None:
                self.tell(row.fault, is_fault=True)
            else:
                await self.open_car(self.cars.cursor_key)

    def action_which(self) -> None:
        """Show all cars, then those whose owners are to be called, then those sold."""
        which = board_rows.WHICH
        self._which = which[(which.index(self._which) + 1) % len(which)]
        if self._which == board_rows.TO_RING:
            self.tell("reckoning whom to ring")
            self._ring(self.garage.slugs())
        else:
            self.tell("" if self._which == board_rows.ALL else "sold cars: a shows all")
            self._show_cars()

    @work(thread=True, exclusive=True, group="ring", exit_on_error=False)
    def _ring(self, slugs: tuple[str, ...]) -> None:
        from castlenut.garage.ring import ring_of
        from castlenut.words.ring import ring_cells

        told: dict[str, tuple[str, ...]] = {}
        for slug in slugs:
            try:
                with GARAGE_TURN:
                    found = ring_of(self.garage, slug)
            except CannotRead:
                continue
            if found is not None:
                told[slug] = ring_cells(found.today, found.reasons)
        self.post_message(self.Rung(told))

    def on_board_rung(self, message: Rung) -> None:
        """Show whom to call, unless another choice was made meanwhile."""
        self._rung = message.told
        if self._which == board_rows.TO_RING:
            self.tell("whom to ring, and why: a shows the sold cars")
            self._show_cars()

    def action_new_car(self) -> None:
        from castlenut.screens.forms.vehicle import VehicleForm

        self.app.push_screen(VehicleForm(self.garage), self.take_new_car)

    def take_new_car(self, saved: Saved | None) -> None:
        """Go on to the intake of the car that was taken in."""
        self.take_saved(saved)
        if saved is not None:
            from castlenut.screens.intake.page import IntakePage

            self.app.push_screen(IntakePage(self.garage, saved.slug))

    def action_end(self) -> None:
        self.app.exit()

    def step_back(self) -> None:
        """Stop a slow reckoning; else go back to the list of cars: the program never ends so."""
        if self._reckoning is not None:
            self._reckoning.cancel()
            self._reckoning = None
            self.tell("stopped: cars without a state were not reckoned")
        self.cars.focus()

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Reckon anew the cars whose files changed; cars may have come or gone."""
        slugs = self.garage.slugs()
        self._rows = {slug: self._rows.get(slug) for slug in slugs}
        self._show_cars()
        self.reckon(tuple(slug for slug in slugs if changed is None or slug in changed))

    def take_saved(self, saved: Saved | None) -> None:
        super().take_saved(saved)
        if saved is not None:
            self.cars.put_cursor(saved.slug)


def _rows_of(today: CarToday) -> tuple[Row, ...]:
    """Give what is open on a car, then the next that will be."""
    from castlenut.garage.answers import open_rows

    return (*open_rows(today), *ahead_rows(today)[:AHEAD_SHOWN])
