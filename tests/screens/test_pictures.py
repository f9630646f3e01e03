"""A picture of each screen: a changed picture is a changed product, to be looked at and said."""

from collections.abc import Awaitable, Callable, Collection, Iterable
from typing import Protocol

import pytest
from _pytest.mark import ParameterSet
from textual.pilot import Pilot
from textual.widgets import Input

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.themes import DAYLIGHT
from tests.screens.conftest import begun, pressed, settled

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
FOUND = ("enter", "n", *"sill", "tab", "l", "tab", "tab", "tab", *"mend", "enter")
NOT_READY = ("home", "down", "enter", "s", "tab", "equals_sign", "ctrl+s")
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
    "stay": ("enter", "s"),
    "stay_not_ready": NOT_READY,
    "found_to_mend": FOUND,
    "ready": ("home", "down", "ctrl+p", *"may", "enter"),
    "figures_none": ("enter", "6"),
    "figure_form": ("enter", "6", "e"),
    "opened_up": ("enter", "o", "down", "down", "down", "space", "tab"),
    "to_ring": ("a",),
    "use": ("enter", "4"),
    "use_as_a_table": ("enter", "4", "a"),
    "use_with_a_question": (*ODD, "enter", "4"),
    "settle": (*ODD, "enter", "4", "enter"),
    "settle_as_replaced": (*ODD, "enter", "4", "enter", "2"),
    "part_first_step": PART[:-1],
    "part_second_step": PART,
    "part_last_step": (*PART, "ctrl+s"),
}


USUALLY = {
    *("car", "car_in_work", "fitted", "working", "commands", "reading_with_a_fault", "feeds"),
    *("done", "stay_not_ready", "ready", "opened_up", "use", "settle", "part_first_step"),
    *("even", "duals", "reasons", "plan", "treads", "rotation"),
}
"""One picture a screen; the others of it, hardly less likely to change alone, are `long`."""


def usual_or_long(names: Iterable[str], usually: Collection[str] = USUALLY) -> list[ParameterSet]:
    """Give the names of pictures, those not looked at usually marked so."""
    return [pytest.param(name, marks=() if name in usually else pytest.mark.long) for name in names]


def of_car(slug: str, *keys: str) -> Callable[[Pilot[int]], Awaitable[None]]:
    """Give what opens the tires of a car, and then presses keys."""

    async def press(pilot: Pilot[int]) -> None:
        await settled(pilot)
        assert isinstance(pilot.app.screen, Board)
        pilot.app.screen.cars.put_cursor(slug)
        await after("enter", "3", *keys)(pilot)

    return press


WIDER = "205/65R15/225/60R15 rim 6/7"
NAMES = {"/": "slash", " ": "space"}
TIRES = {
    "even": ("ellersby-kite",),
    "even_side_to_side": ("ellersby-kite", *["down"] * 4),
    "worn": ("stanwick-fulmar",),
    "spread": ("torvane-cresset",),
    "duals": ("marlholme-ox", "down"),
    "none": ("quenby-marsh",),
    "reasons": ("stanwick-fulmar", "w"),
    "plan": ("ellersby-kite", "l"),
    "plan_impossible": ("stanwick-fulmar", "l"),
    "bound": ("ellersby-kite", "l", "w"),
    "treads": ("ellersby-kite", "a"),
    "compare": ("ellersby-kite", "c", *(NAMES.get(each, each) for each in WIDER), "enter"),
    "tread_too_deep": ("ellersby-kite", "t", "equals_sign", "enter", "1", "2", "enter"),
    "rotation": ("ellersby-kite", "enter", "equals_sign"),
    "rotation_refused": ("stanwick-fulmar", "enter", "equals_sign", "ctrl+s"),
}


@pytest.mark.parametrize("screen", usual_or_long(TIRES))
def test_tires(snap_compare: Compare, tire_shop: Garage, screen: str) -> None:
    app = CastlenutApp(tire_shop)

    assert snap_compare(app, terminal_size=USUAL, run_before=of_car(*TIRES[screen]))


@pytest.mark.parametrize("screen", usual_or_long(("even", "worn", "plan", "compare"), {"even"}))
def test_tires_wide(snap_compare: Compare, tire_shop: Garage, screen: str) -> None:
    app = CastlenutApp(tire_shop)

    assert snap_compare(app, terminal_size=WIDE, run_before=of_car(*TIRES[screen]))


@pytest.mark.parametrize("screen", usual_or_long(("spread", "plan", "rotation"), ()))
def test_tires_small(snap_compare: Compare, tire_shop: Garage, screen: str) -> None:
    app = CastlenutApp(tire_shop)

    assert snap_compare(app, terminal_size=SMALL, run_before=of_car(*TIRES[screen]))


@pytest.mark.long
def test_tires_daylight_sixteen_colors(snap_compare: Compare, tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop, theme=DAYLIGHT.name, sixteen_colors=True)

    assert snap_compare(app, terminal_size=USUAL, run_before=of_car("stanwick-fulmar"))


@pytest.mark.long
def test_tires_without_color_in_ascii(snap_compare: Compare, tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop, color=False, ascii_only=True)

    assert snap_compare(app, terminal_size=USUAL, run_before=of_car("stanwick-fulmar"))


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


@pytest.mark.long
def test_board_sixteen_colors(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop, theme=DAYLIGHT.name, sixteen_colors=True)

    assert snap_compare(app, terminal_size=USUAL, run_before=after())


def test_board_without_color(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop, color=False)

    assert snap_compare(app, terminal_size=USUAL, run_before=after())


@pytest.mark.parametrize("screen", usual_or_long(SCREENS))
def test_screen(snap_compare: Compare, shop: Garage, screen: str) -> None:
    app = CastlenutApp(shop)

    assert snap_compare(app, terminal_size=USUAL, run_before=after(*SCREENS[screen]))


@pytest.mark.parametrize("screen", usual_or_long(("car", "fitted", "working"), {"car"}))
def test_screen_wide(snap_compare: Compare, shop: Garage, screen: str) -> None:
    app = CastlenutApp(shop)

    assert snap_compare(app, terminal_size=WIDE, run_before=after(*SCREENS[screen]))


@pytest.mark.long
def test_use_small(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop)

    assert snap_compare(app, terminal_size=SMALL, run_before=after("enter", "4"))


def test_use_in_ascii(snap_compare: Compare, shop: Garage) -> None:
    app = CastlenutApp(shop, ascii_only=True)

    assert snap_compare(app, terminal_size=USUAL, run_before=after("enter", "4"))
