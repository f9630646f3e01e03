"""The car's own figures, what else while it is apart, a rule of this car, the five lines."""

from textual.widgets import Static

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.car import FIGURES, CarPage
from castlenut.screens.forms.day import DayForm
from castlenut.screens.forms.own_rule import OwnRuleForm
from castlenut.screens.opened import Opened
from tests.screens.conftest import USUAL, begun, pressed, shown, typed

CAR = "harrowmead-tanager"


def page(app: CastlenutApp) -> CarPage:
    assert isinstance(app.screen, CarPage)
    return app.screen


async def test_6_shows_the_figures_and_what_is_missing_while_there_is_none(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "6")

        assert page(app).number == FIGURES
        assert "[6 figures 0]" in shown(app)
        assert "limits that say spec are not known" in shown(app)


async def test_e_enters_a_figure_and_shows_it(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "6", "e")
        await typed(pilot, "lug nut torque")
        await pressed(pilot, "tab")
        await typed(pilot, "75")
        await pressed(pilot, "tab")
        await typed(pilot, "ft-lb")
        await pressed(pilot, "tab", "tab")
        await typed(pilot, "its book, p 12")
        await pressed(pilot, "ctrl+s")

        assert "lug nut torque" in shown(app)
        assert "wheel-nut" in shown(app)
        assert [each.values["value"] for each in shop.file(CAR).table("figure")] == [75]


async def test_a_wrong_unit_is_told_in_the_form_and_nothing_is_lost(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "6", "e")
        await typed(pilot, "toe")
        await pressed(pilot, "tab")
        await typed(pilot, "2")
        await pressed(pilot, "tab")
        await typed(pilot, "psi")
        await pressed(pilot, "ctrl+s")

        assert "has a unit that toe is not measured in" in " ".join(shown(app).split())
        assert "psi" in shown(app)
        assert shop.file(CAR).table("figure") == ()


async def test_o_ticks_one_wheel_and_shows_what_lies_behind_it(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "o", "slash")
        await typed(pilot, "wheel lf")
        await pressed(pilot, "enter", "space", "tab")

        assert isinstance(app.screen, Opened)
        assert app.screen.off == ["wheel LF"]
        behind = [line for line in shown(app).splitlines() if "brake pads, measure" in line]
        assert [" LF " in line for line in behind] == [True]
        told = app.screen.query_one("#remark", Static)
        assert "RF has the same, its wheel is on" in str(told.render())


async def test_what_lies_behind_is_marked_into_the_days_work(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "o", "slash")
        await typed(pilot, "wheel lf")
        await pressed(pilot, "enter", "space", "tab", "space", "d")

        assert isinstance(app.screen, DayForm)
        assert "brake pads, measure" in shown(app)


async def test_a_rule_for_this_car_alone_is_written_from_its_item(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        page(app).action_own_rule()
        await pressed(pilot)
        assert isinstance(app.screen, OwnRuleForm)
        await typed(pilot, "9k/9m")
        await pressed(pilot, "tab", "tab", "tab", "tab")
        await typed(pilot, "its book, p 31")
        await pressed(pilot, "ctrl+s")

        (change,) = shop.file(CAR).table("rule_change")
        assert (change.values["every"], change.values["why"]) == ("9k/9m", "its book, p 31")


async def test_y_copies_five_lines_for_a_message(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "y")

        lines = app.clipboard.splitlines()
        assert len(lines) == 5
        assert lines[0].startswith("Harrowmead Tanager 1974, November 25, 2026")
        assert "copied five lines for a message" in shown(app)


async def test_a_on_the_board_shows_whom_to_ring_then_the_sold_cars(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "a")
        to_ring = shown(app)
        await pressed(pilot, "a")
        sold = shown(app)
        await pressed(pilot, "a")

        assert "to ring, " in to_ring
        assert "Harrowmead Tanager tel. 555-0117 overdue, no visit agreed" in to_ring
        assert "no car is sold" in sold
        assert "in work, 1" in shown(app)


async def test_parts_are_told_from_the_commands(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        page(app).action_parts()
        await pressed(pilot)

        assert "On hand for Harrowmead Tanager" in shown(app)
        assert "brake pad, LF RF" in shown(app)


async def test_an_assembly_unfolds_into_its_parts(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=(80, 36)) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "2", "f", "tab")
        for _ in range(30):
            await pilot.press("backspace")
        await typed(pilot, "loaded caliper")
        await pressed(pilot, "enter")
        await typed(pilot, "front")
        await pressed(pilot, "ctrl+s")

        assert "caliper slides" in shown(app)
        assert "brake pad new" in shown(app)


async def test_the_year_of_a_car_has_its_windows_under_the_months(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await app.run_action("screen.year")
        await pressed(pilot)
        year = shown(app)
        await pressed(pilot, "w")
        working = shown(app)

        assert "The year: Harrowmead Tanager" in year
        assert "= window  o due" in year
        assert "Working: " in working
