"""The board: which car first, and what is due on the one under the cursor."""

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.car import CarPage
from castlenut.screens.working import Working
from tests.screens.conftest import USUAL, begun, pressed, settled, shown


def board(app: CastlenutApp) -> Board:
    assert isinstance(app.screen, Board)
    return app.screen


async def test_cars_stand_unread_first_then_in_work_then_worst_first(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)

        assert board(app).cars.keys == (
            "stavering-plover",
            "oldbrook-lantern",
            "harrowmead-tanager",
            "quenby-marsh",
        )


async def test_the_cursor_begins_on_the_first_car_once_all_states_are_known(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await settled(pilot)

        assert isinstance(app.screen, Board)
        assert app.screen.cars.cursor_key == app.screen.cars.keys[0] == "stavering-plover"


async def test_a_state_is_said_by_mark_and_word(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)

        assert "!! overdue        Harrowmead Tanager" in shown(app)
        assert "?  no record      Oldbrook Lantern" in shown(app)
        assert ".  ahead          Quenby Marsh" in shown(app)
        assert "?? cannot be read stavering-plover.json" in shown(app)


async def test_the_head_counts_the_cars(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)

        head = shown(app).splitlines()[0]
        assert "4 cars: 1 in work, 1 overdue, 1 unread" in head
        assert head.rstrip().endswith("Wed 2026-11-25")


async def test_below_follows_the_cursor_once_it_rests(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "home", "down")

        assert board(app).cars.cursor_key == "oldbrook-lantern"
        assert "-- Oldbrook Lantern, now ---" in shown(app)


async def test_a_car_that_cannot_be_read_says_why(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "home", "enter")

        assert "damaged at line 1" in board(app).query_one("#told").text  # type: ignore[attr-defined]


async def test_enter_opens_the_car_and_escape_goes_back(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "end", "enter")
        opened = app.screen
        await pressed(pilot, "escape")

        assert isinstance(opened, CarPage)
        assert opened.slug == "quenby-marsh"
        assert isinstance(app.screen, Board)


async def test_w_on_the_lower_list_opens_the_working(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "tab", "w")

        assert isinstance(app.screen, Working)
        assert app.screen.car.car.vehicle.slug == "harrowmead-tanager"


async def test_escape_never_ends_the_program_and_q_does(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "escape", "escape")
        assert app.is_running
        await pilot.press("q")

    assert app.return_code == 0


async def test_a_capital_acts_as_its_small_letter(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "J")

        assert board(app).cars.cursor_key == "quenby-marsh"


async def test_find_narrows_the_cars_by_words_in_any_order(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "slash", "q", "u", "a", "r", "space", "T", "a", "n")

        assert board(app).cars.keys == ("harrowmead-tanager",)
        assert "1 of 4 shown" in shown(app)
        assert "enter take it  esc back  ^p more" in shown(app)


async def test_escape_clears_what_was_sought(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "slash", "m", "a", "r", "enter")
        kept = board(app).cars.keys
        await pressed(pilot, "escape")

        assert kept == ("quenby-marsh",)
        assert len(board(app).cars.keys) == 4


async def test_what_is_nowhere_is_said_with_names_near_it(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "slash", *"tanagre", "enter")

        assert 'nothing has "tanagre": esc shows all; near: Harrowmead Tanager' in shown(app)


async def test_an_empty_garage_says_which_key_takes_a_car_in(empty_shop: Garage) -> None:
    app = CastlenutApp(empty_shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)

        assert "No car yet. n takes one in" in shown(app)


async def test_a_change_by_somebody_else_is_shown_and_said(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        app.look_for_outside_changes()
        file = shop.path / "vehicles" / "quenby-marsh.json"
        file.write_text(file.read_text().replace("Quenby Marsh", "Quenby Fen"))
        app.look_for_outside_changes()
        await settled(pilot)

        assert "Quenby Fen" in shown(app)
        assert "quenby-marsh changed on disk" in shown(app)
        assert board(app).cars.cursor_key == "harrowmead-tanager"


async def test_a_click_moves_and_a_second_one_opens(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pilot.click("#cars", offset=(25, 6))
        await settled(pilot)
        moved_to = board(app).cars.cursor_key
        await pilot.click("#cars", offset=(25, 6))
        await settled(pilot)

        assert moved_to == "quenby-marsh"
        assert isinstance(app.screen, CarPage)


async def test_a_click_on_a_key_does_it(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pilot.click("#keys", offset=(3, 0))
        await settled(pilot)

        assert isinstance(app.screen, CarPage)


async def test_in_one_column_the_cars_keep_their_states(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=(60, 20)) as pilot:
        await begun(pilot)

        assert "!! overdue        Harrowmead Tanager" in shown(app)


async def test_below_the_least_size_one_line_says_so_and_nothing_is_lost(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "down")
        await pilot.resize_terminal(52, 18)
        await settled(pilot)
        small = shown(app)
        await pilot.press("enter")
        await pilot.resize_terminal(80, 24)
        await settled(pilot)

        assert "60x20 is the least; this is 52x18" in small
        assert board(app).cars.cursor_key == "quenby-marsh"
