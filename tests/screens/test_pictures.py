"""A picture of each screen: a changed picture is a changed product, to be looked at and said."""

from collections.abc import Awaitable, Callable
from typing import Protocol

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.themes import DAYLIGHT
from tests.screens.conftest import begun, pressed

USUAL, WIDE, SMALL = (80, 24), (120, 36), (60, 20)


class Compare(Protocol):
    """Holds a picture against the one kept."""

    def __call__(
        self,
        app: CastlenutApp,
        *,
        terminal_size: tuple[int, int],
        run_before: Callable[[Pilot[int]], Awaitable[None]],
    ) -> bool:
        """Tell whether they are the same."""


def after(*keys: str) -> Callable[[Pilot[int]], Awaitable[None]]:
    """Give what presses keys and lets all come to rest, the cursor standing still."""

    async def press(pilot: Pilot[int]) -> None:
        await begun(pilot)
        await pressed(pilot, *keys)
        for box in pilot.app.screen.query(Input):
            box.cursor_blink = False
        await pilot.pause()

    return press


FIGURE = ("6", "1", "9", "0", "0")
ODD = ("r", "6", "1", "0", "6", "0", "ctrl+s")
DONE = ("enter", "down", "down", "d", "equals_sign")
PART = ("enter", "2", "down", "down", "f", "ctrl+s")
SCREENS = {
    "car": ("enter",),
    "car_in_work": ("home", "down", "enter"),
    "car_with_nothing_open": ("end", "enter"),
    "car_all": ("enter", "a"),
    "fitted": ("enter", "2"),
    "working": ("enter", "w"),
    "working_without_record": ("home", "down", "enter", "w"),
    "working_further_down": ("enter", "w", "pagedown"),
    "found": ("slash", "m", "a", "r", "enter"),
    "commands": ("enter", "ctrl+p"),
    "reading": ("r",),
    "reading_with_a_fault": ("r", *FIGURE, "tab", "x", "ctrl+s"),
    "vehicle": ("n",),
    "feeds": ("c",),
    "feed_folder": ("c", "f"),
    "feed_code": ("c", "enter"),
    "done": DONE,
    "measured": ("enter", "m"),
    "declined": ("enter", "x"),
    "happened": ("enter", "h"),
    "use": ("enter", "4"),
    "use_as_a_table": ("enter", "4", "a"),
    "use_with_a_question": (*ODD, "enter", "4"),
    "settle": (*ODD, "enter", "4", "enter"),
    "settle_as_replaced": (*ODD, "enter", "4", "enter", "2"),
    "part_first_step": PART[:-1],
    "part_second_step": PART,
    "part_last_step": (*PART, "ctrl+s"),
}


def test_board(snap_compare: Compare, shop: Garage) -> None:
    assert snap_compare(CastlenutApp(shop), terminal_size=USUAL, run_before=after())


def test_board_empty(snap_compare: Compare, empty_shop: Garage) -> None:
    assert snap_compare(CastlenutApp(empty_shop), terminal_size=USUAL, run_before=after())


def test_board_wide(snap_compare: Compare, shop: Garage) -> None:
    assert snap_compare(CastlenutApp(shop), terminal_size=WIDE, run_before=after())


def test_board_small(snap_compare: Compare, shop: Garage) -> None:
    assert snap_compare(CastlenutApp(shop), terminal_size=SMALL, run_before=after())


def test_board_daylight(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop, theme=DAYLIGHT.name)

    assert snap_compare(app, terminal_size=USUAL, run_before=after())


def test_board_sixteen_colors(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop, theme=DAYLIGHT.name, sixteen_colors=True)

    assert snap_compare(app, terminal_size=USUAL, run_before=after())


def test_board_without_color(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop, color=False)

    assert snap_compare(app, terminal_size=USUAL, run_before=after())


@pytest.mark.parametrize("screen", SCREENS)
def test_screen(snap_compare: Compare, shop: Garage, screen: str) -> None:
    app = CastlenutApp(shop)

    assert snap_compare(app, terminal_size=USUAL, run_before=after(*SCREENS[screen]))


@pytest.mark.parametrize("screen", ["car", "fitted", "working", "use_with_a_question"])
def test_screen_wide(snap_compare: Compare, shop: Garage, screen: str) -> None:
    app = CastlenutApp(shop)

    assert snap_compare(app, terminal_size=WIDE, run_before=after(*SCREENS[screen]))


def test_use_small(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop)

    assert snap_compare(app, terminal_size=SMALL, run_before=after("enter", "4"))


def test_use_in_ascii(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop, ascii_only=True)

    assert snap_compare(app, terminal_size=USUAL, run_before=after("enter", "4"))
