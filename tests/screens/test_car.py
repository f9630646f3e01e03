"""A car: its head as on a job card, what is due, what is fitted, and the working behind it."""

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.car import DUE, FITTED, CarPage
from castlenut.screens.forms.day import DayForm
from castlenut.screens.working import Working
from castlenut.words.cautions import DEFERRING_LINE
from tests.screens.conftest import USUAL, begun, pressed, settled, shown


def page(app: CastlenutApp) -> CarPage:
    assert isinstance(app.screen, CarPage)
    return app.screen


async def test_the_head_is_a_job_card(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")

        card = shown(app).splitlines()
        assert "Harrowmead Tanager 1974, rear drive" in card[0]
        assert card[0].rstrip().endswith("Isolde Quarrington  tel. 555-0117")
        assert "dial [6][1][6][0][0] mi 2026-11-24" in card[1]
        assert "[1 due 9]  2 fitted 7 " in card[2]


async def test_a_car_in_work_says_since_when(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "home", "down", "enter")

        assert "in work since 11-19" in shown(app).splitlines()[0]


async def test_every_page_is_named_with_its_key(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")

        names = shown(app).splitlines()[2]
        assert "[1 due" in names
        assert " 3 tires" in names
        assert " 4 use" in names
        assert " 5 jobs 0" in names


async def test_items_of_one_rule_that_stand_alike_are_one_row(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")

        assert shown(app).count("brake pads, measure") == 1
        assert "brake pads, measure LF RF" in " ".join(shown(app).split())


async def test_own_checks_are_one_row_until_enter_lists_them(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "end")
        before = page(app).due.keys
        await pressed(pilot, "enter")

        assert before[-1] == "own checks"
        assert len(page(app).due.keys) > len(before)
        assert "own checks" not in page(app).due.keys


async def test_a_shows_what_is_ahead_too(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "end", "enter")
        closed = shown(app)
        await pressed(pilot, "a")

        assert "ahead" not in closed
        assert ".  ahead" in shown(app)


async def test_the_deferring_line_stands_under_the_list(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")

        assert DEFERRING_LINE in " ".join(shown(app).split())


async def test_2_shows_what_is_fitted_and_1_goes_back(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "2")
        fitted = shown(app)
        number = page(app).number
        await pressed(pilot, "1")

        assert number == FITTED
        assert "[2 fitted 7]" in fitted
        assert "air filter" in fitted
        assert "AF-204" in fitted
        assert page(app).number == DUE


async def test_a_page_is_opened_by_a_click_on_its_name(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        await pilot.click("#pages", offset=(14, 0))
        await settled(pilot)

        assert page(app).number == FITTED


async def test_q_goes_back_to_the_board(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "w", "q")

        assert isinstance(app.screen, Board)


async def test_marked_rows_go_into_one_day_of_work(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "space", "down", "down", "down", "space", "d")

        assert isinstance(app.screen, DayForm)
        assert "1 done        [brake fluid, renew" in shown(app)
        assert "2 done        [engine oil, renew" in shown(app)


async def test_the_working_of_an_item_is_one_key_away(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "w")

        told = shown(app)
        assert isinstance(app.screen, Working)
        assert "Working: brake fluid, renew" in told
        assert "!! overdue" in told.splitlines()[0]
        assert "= due at              67,000 mi      2026-08-11   date binds" in told


async def test_down_goes_to_the_next_item_without_closing(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "w", "down", "down")
        here = shown(app).splitlines()[0]
        await pressed(pilot, "up")

        assert "Working: brake fluid, renew" in here
        assert "Working: new linings, bed in" in shown(app).splitlines()[0]


async def test_the_working_ends_with_the_deferring_line(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=(80, 60)) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "w")

        assert DEFERRING_LINE in " ".join(shown(app).split())


async def test_y_copies_the_working_as_plain_lines(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "w", "y")

        lines = app.clipboard.splitlines()
        assert lines[0].startswith("fitted 52,000 mi, 2025-02-11 (brake fluid")
        assert lines[-1] == DEFERRING_LINE


async def test_y_copies_the_row_of_a_part(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "2", "y")

        assert app.clipboard == "air filter  -  -  2026-03-02  58,100  AF-204"


async def test_help_is_made_from_the_bindings(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "question_mark")

        told = shown(app)
        assert "Help: car" in told
        assert "declined" in told
        assert "!~" in told
        assert "castlenut --help" in told
        await pressed(pilot, "escape")
        assert isinstance(app.screen, CarPage)


async def test_the_commands_open_a_car_by_its_name(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "ctrl+p", *"quenby", "enter")
        await settled(pilot)

        assert page(app).slug == "quenby-marsh"


async def test_a_wide_terminal_shows_the_working_beside_the_list(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=(120, 36)) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down")

        assert "= due at 67,000 mi or 2026-08-11" in shown(app)
