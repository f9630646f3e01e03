"""What the screens cost in process, driven by a pilot; a plain Textual app is driven the same way.

Clock: the time of the main thread alone, where keys are taken and rows painted. The board reckons
its cars on another thread; what that costs is measured on a terminal (bench_terminal.py).
"""

import asyncio
import time
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.app import App, ComposeResult
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import DataTable, Footer, Static

from castlenut.garage import answers
from castlenut.garage.answers import BoardRow, board_row
from castlenut.garage.garage import Garage, Surroundings, open_garage
from castlenut.screens import board
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.widgets.columns import Column, Line
from castlenut.screens.widgets.item_table import ItemTable
from tests.bench import big_garage
from tests.bench.measuring import HEIGHT, WIDTH, Bench, Measure, cases, judge, main

KEYS = 20
LONG_LIST = 1_000

Work = Callable[[Pilot[object]], Awaitable[float]]


class BareTable(App[object]):
    """The baseline: a DataTable of 50 rows and a footer."""

    def compose(self) -> ComposeResult:
        yield DataTable(cursor_type="row")
        yield Footer()

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        table.add_columns("state", "car", "first thing", "open", "next")
        for number in range(50):
            table.add_row("due", f"car {number}", "something to do", "3", "12 Jun")
        table.focus()


class BarePage(Screen[None]):
    """The other baseline: a screen of one text and a footer."""

    def compose(self) -> ComposeResult:
        yield Static("a page")
        yield Footer()


class LongList(App[object]):
    """Our own list with a thousand rows."""

    def compose(self) -> ComposeResult:
        yield ItemTable(
            Column(head="state", width=17), Column(head="item", width=20, grow=1), id="long"
        )
        yield Footer()

    def on_mount(self) -> None:
        self.table.show(
            Line(key=f"item-{number}", cells=("due", f"part {number} of the car, renew"))
            for number in range(LONG_LIST)
        )
        self.table.focus()

    @property
    def table(self) -> ItemTable:
        return self.query_one("#long", ItemTable)


def surroundings() -> Surroundings:
    return Surroundings(
        today=big_garage.TODAY,
        now=lambda: datetime(2026, 11, 25, 9, 30, tzinfo=UTC),
        new_id=lambda: "01935f00-0000-7000-8000-00000000ffff",
        draw=bytes,
        device=lambda: big_garage.DEVICE,
        command="screens",
    )


def garage(folder: Path, cars: int, records: int = 8) -> Garage:
    """Give a garage of many small cars: what is on them does not count here."""
    path = folder / f"cars-{cars}-{records}"
    if not path.exists():
        big_garage.write_garage(path, cars=cars, records=records)
    return open_garage(path, surroundings())


def held(make: Callable[[], App[object]]) -> Measure:
    """Give the measure of a held key: the board's lower pane follows only once the cursor rests.

    The cars are reckoned in the first round alone: that takes seconds, and is not what is measured.
    """
    work = driven(make, keys_down)
    rows: dict[str, BoardRow] = {}

    def known(garage: Garage, slug: str) -> BoardRow:
        if slug not in rows:
            rows[slug] = board_row(garage, slug)
        return rows[slug]

    def measured() -> float:
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(board, "REST_SECONDS", 60)
            patched.setattr(answers, "board_row", known)
            return work()

    return measured


def driven(make: Callable[[], App[object]], work: Work) -> Measure:
    """Give the measure of a work on an app that is shown."""

    async def drive() -> float:
        app = make()
        async with app.run_test(size=(WIDTH, HEIGHT)) as pilot:
            await pilot.pause()
            return await work(pilot)

    return lambda: asyncio.run(drive())


def first_paint(make: Callable[[], App[object]]) -> Measure:
    """Give the measure of an app from its making until it is painted.

    The board reckons its cars after that; here it does not, so that only the painting is counted.
    """

    async def paint() -> float:
        begun = time.thread_time()
        app = make()
        async with app.run_test(size=(WIDTH, HEIGHT)) as pilot:
            await pilot.pause()
            return time.thread_time() - begun

    def measured() -> float:
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(Board, "reckon", lambda *_: None)
            return asyncio.run(paint())

    return measured


async def shown(pilot: Pilot[object]) -> None:
    """Wait until the board has shown every state."""
    screen = pilot.app.screen
    while isinstance(screen, Board) and any(not each.is_finished for each in pilot.app.workers):
        await pilot.pause(0.05)
    await pilot.pause()


async def keys_down(pilot: Pilot[object]) -> float:
    """Give the time of one key down, from many, of a held key: the lower pane waits for a rest."""
    await shown(pilot)
    begun = time.thread_time()
    for _ in range(KEYS):
        await pilot.press("down")
    return (time.thread_time() - begun) / KEYS


async def keys_down_with_rest(pilot: Pilot[object]) -> float:
    """Give the time of one key down and of what follows it once the cursor rests."""
    await shown(pilot)
    begun = time.process_time()
    for _ in range(KEYS // 2):
        await pilot.press("down")
        await pilot.pause(0.15)
    return (time.process_time() - begun) / (KEYS // 2)


async def letters_found(pilot: Pilot[object]) -> float:
    """Give the time of one letter of a search, from many."""
    app = pilot.app
    assert isinstance(app, LongList)
    begun = time.thread_time()
    for letter in range(KEYS):
        app.table.find("part 1"[: 1 + letter % 6])
        await pilot.pause()
    return (time.thread_time() - begun) / KEYS


async def page_pushed(pilot: Pilot[object]) -> float:
    """Give the time of opening a page with nothing on it."""
    begun = time.thread_time()
    await pilot.app.push_screen(BarePage())
    await pilot.pause()
    return time.thread_time() - begun


async def car_opened(pilot: Pilot[object]) -> float:
    await shown(pilot)
    begun = time.thread_time()
    await pilot.press("enter")
    await pilot.pause()
    return time.thread_time() - begun


async def working_opened(pilot: Pilot[object]) -> float:
    await car_opened(pilot)
    begun = time.thread_time()
    await pilot.press("w")
    await pilot.pause()
    return time.thread_time() - begun


def _board(folder: Path, cars: int, records: int = 8) -> Callable[[], App[object]]:
    made = garage(folder, cars, records)

    def make() -> App[object]:
        app: App[object] = CastlenutApp(open_garage(made.path, surroundings()))  # type: ignore[assignment]  # its result is not looked at
        return app

    return make


KEY = "key on DataTable of 50 rows"
PAGE = "push a screen of one Static + Footer"

BENCHES = (
    Bench(
        what="board in process, 300 cars, to first paint",
        against="DataTable of 50 rows + Footer", clock="cpu", goal=1, fail=2.6,
        raised="from 1.5; measured 1.5 to 2.4: Textual reads our sheets four times at the start",
        sides=lambda folder: (first_paint(_board(folder, 300)), first_paint(BareTable)),
    ),
    Bench(
        what="key down on the board, 300 cars", against=KEY, clock="cpu", goal=1, fail=1.5,
        sides=lambda folder: (
            held(_board(folder, 300)), driven(BareTable, keys_down)
        ),
    ),
    Bench(
        what="key down on a list of 1,000", against=KEY, clock="cpu", goal=1, fail=1.5,
        sides=lambda _: (driven(LongList, keys_down), driven(BareTable, keys_down)),
    ),
    Bench(
        what="key down and the lower pane following", against=KEY, clock="cpu", goal=3, fail=4.5,
        sides=lambda folder: (
            driven(_board(folder, 12, 60), keys_down_with_rest),
            driven(BareTable, keys_down_with_rest),
        ),
    ),
    Bench(
        what="open car from the board", against=PAGE, clock="cpu", goal=2.5, fail=4,
        sides=lambda folder: (
            driven(_board(folder, 4, 60), car_opened), driven(BareTable, page_pushed)
        ),
    ),
    Bench(
        what="open working from the car", against=PAGE, clock="cpu", goal=2.5, fail=4,
        sides=lambda folder: (
            driven(_board(folder, 4, 60), working_opened), driven(BareTable, page_pushed)
        ),
    ),
    Bench(
        what="a letter in find, 1,000 items", against=KEY, clock="cpu", goal=3, fail=5,
        sides=lambda _: (driven(LongList, letters_found), driven(BareTable, keys_down)),
    ),
)  # fmt: skip


@pytest.mark.parametrize("bench", cases(BENCHES))
def test_screens(bench: Bench, tmp_path: Path) -> None:
    judge(bench, tmp_path)


if __name__ == "__main__":
    main(BENCHES)
