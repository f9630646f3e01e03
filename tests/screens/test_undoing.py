"""Undo on the screens: `u` takes back what was saved, over restarts; redo from the commands."""

from decimal import Decimal

from textual.pilot import Pilot

from castlenut.garage.garage import Garage, open_garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from tests.screens import garages
from tests.screens.conftest import USUAL, begun, pressed, settled, shown, typed

CAR = "harrowmead-tanager"


def figures(shop: Garage) -> list[Decimal]:
    return [each.figure for each in shop.car(CAR).car.readings]


async def reading_saved(pilot: Pilot[int], figure: str) -> None:
    await pressed(pilot, "r")
    await typed(pilot, figure)
    await pressed(pilot, "ctrl+s")


async def test_a_save_says_that_u_takes_it_back_and_it_does(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await reading_saved(pilot, "61900")
        assert "saved: reading 61,900 mi on 2026-11-25  u takes it back" in shown(app)
        await pressed(pilot, "u")

        assert figures(shop) == [61240, 61410, 61600]
        assert "taken back: reading 61,900 mi on 2026-11-25, harrowmead-tanager" in shown(app)


async def test_undo_works_after_a_restart_and_redo_stands_among_the_commands(shop: Garage) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await reading_saved(pilot, "61900")
    again = open_garage(shop.path, garages.surroundings(first=6_000))
    app = CastlenutApp(again)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "u")
        assert figures(again) == [61240, 61410, 61600]
        await pressed(pilot, "ctrl+p", *"redo", "enter")

        assert figures(again) == [61240, 61410, 61600, 61900]
        assert "done again: reading 61,900 mi" in shown(app)


async def test_with_nothing_to_undo_the_line_says_so(empty_shop: Garage) -> None:
    app = CastlenutApp(empty_shop)

    async with app.run_test(size=USUAL) as pilot:
        await settled(pilot)
        await pressed(pilot, "u")

        assert "nothing to undo" in shown(app)


async def test_undoing_the_taking_in_of_a_car_closes_its_page(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "n")
        await typed(pilot, "Brackley Hollow")
        await pressed(pilot, "ctrl+s", "escape", "enter", "u")

        assert isinstance(app.screen, Board)
        assert "brackley-hollow" not in app.screen.cars.keys
        assert "taken back: brackley-hollow added" in shown(app)


async def test_undo_on_a_car_leaves_what_was_done_on_another(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await reading_saved(pilot, "61900")
        app.screen.query_one("#cars").focus()
        assert isinstance(app.screen, Board)
        app.screen.cars.put_cursor("quenby-marsh")
        await settled(pilot)
        await pressed(pilot, "enter", "u")

        assert Decimal(61900) in figures(shop)
