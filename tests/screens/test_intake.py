"""The intake on the screens: ticks, pages of kinds, left at any time; and the trip."""

import pytest
from textual.widgets import Input

from castlenut.domain.happenings import Answer
from castlenut.garage.changes.intake import intake_of
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.car import CarPage
from castlenut.screens.intake.page import IntakePage
from castlenut.screens.trip import Trip
from castlenut.screens.widgets.item_table import ItemTable
from tests.screens.conftest import USUAL, begun, pressed, settled, shown, typed

TICKS = "1111111121112112211"
"""Rear drive, no duals, a spare, drums, one circuit, no booster, sealed ball joints, a box;
no power steering, manual; chain, points, carburetor, 12 V, green, seat belts, no extinguisher.

Of 70 kinds 15 are not there: knuckle, transfer case; pad, rotor, caliper; booster; kingpin,
trunnion; rack; power steering; automatic, overdrive; timing belt; harness; extinguisher.
"""


async def test_a_car_of_which_nothing_is_known_is_taken_on_in_53_keys(
    empty_shop: Garage,
) -> None:
    """Name and year typed (20), nineteen ticks, a page one key: well under three minutes."""
    app = CastlenutApp(empty_shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        keys = ["n", *"dunford", "space", *"millpond", "enter", "enter", *"1956", "ctrl+s"]
        await pilot.press(*keys)
        await settled(pilot)
        (slug,) = empty_shop.slugs()
        assert isinstance(app.screen, IntakePage)
        built = shown(app)
        more = [*TICKS, "enter", *("a" for _ in range(9))]
        await pilot.press(*more)
        await settled(pilot)

        assert len(keys) + len(more) == 53
        assert "( ) kingpins" in built
        assert isinstance(app.screen, Board)
        progress = intake_of(empty_shop, slug)
        assert (progress.left, progress.answered, progress.kinds) == ((), 55, 55)
        car = empty_shop.car(slug).car
        assert car.vehicle.ticks["timing"] == "chain"
        assert car.vehicle.year == 1956
        assert {each.answer for each in car.statements} == {Answer.UNKNOWN}
        assert not [each for each in car.components if each.kind == "timing belt"]
        file = empty_shop.file(slug)
        changes = {each.heads[0].partition(".")[0] for each in file.table("statement")}
        assert len(changes) == 9  # one a page


@pytest.mark.long
async def test_an_intake_is_left_at_any_time_and_gone_on_with_from_the_car(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "n")
        await typed(pilot, "millpond")
        await pressed(pilot, "ctrl+s")
        # drums in front are ticked, then the pages of tires and bearings
        await pressed(pilot, *"1111", "enter", "a", "a")
        assert isinstance(app.screen, IntakePage)
        await pressed(pilot, "1")
        await typed(pilot, "2027-03-01")
        await pressed(pilot, "enter")
        refused = shown(app)
        app.screen.query_one("#field-stated Input", Input).value = ""
        await typed(pilot, "2025-03-01")
        await pressed(pilot, "enter", "2")
        await typed(pilot, "2027-05-25")
        await pressed(pilot, "enter", "4", "enter")
        unsaid = shown(app)
        await pressed(pilot, "escape", "escape")

        assert "x 2027-03-01 is after today" in refused
        assert "x no reason is given" in unsaid
        said = [
            (each.kind, str(each.place), each.answer)
            for each in shop.car("millpond").car.statements
        ]
        assert {each for each in said if each[2] is not Answer.UNKNOWN} == {
            ("brake pad", "LR", Answer.STATED),
            ("brake pad", "RR", Answer.STATED),
            ("rotor", "LR", Answer.INSPECTED),
            ("rotor", "RR", Answer.INSPECTED),
        }

    again = CastlenutApp(shop)
    progress = intake_of(shop, "millpond")
    async with again.run_test(size=USUAL) as pilot:
        await begun(pilot)
        again.screen.query_one("#cars", ItemTable).put_cursor("millpond")
        await pressed(pilot, "enter")
        car = shown(again)
        again.screen.query_one("#due", ItemTable).put_cursor("intake")
        await pressed(pilot, "enter")

        assert 0 < progress.answered < progress.kinds
        row = f"intake: {progress.answered} of {progress.kinds} kinds answered: enter goes on"
        assert row in car
        assert isinstance(again.screen, IntakePage)
        assert again.screen.page == "Brakes"


async def test_a_car_of_which_nothing_is_recorded_leads_to_its_intake(shop: Garage) -> None:
    """Left at once, the intake was found no more: the page said that nothing was open."""
    save(shop, draft_vehicle(shop, "blank", {"description": "Blank pickup"}))
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        app.screen.query_one("#cars", ItemTable).put_cursor("blank")
        await pressed(pilot, "enter")
        car = shown(app)
        await pressed(pilot, "enter")

        assert "kinds answered: enter begins" in car
        assert "Nothing is open on this car" not in car
        assert isinstance(app.screen, IntakePage)


async def test_what_falls_due_on_a_trip_is_told_beside_what_is_due_already(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        page = app.screen
        assert isinstance(page, CarPage)
        await page.action_trip()
        await settled(pilot)
        await typed(pilot, "2027-12-24")
        await pressed(pilot, "enter")
        await typed(pilot, "far")
        refused = shown(app)
        assert isinstance(app.screen, Trip)
        app.screen.query_one("#field-far Input", Input).value = ""
        await typed(pilot, "1500")
        told = shown(app)

        assert "'far' is no number" in refused
        assert "falls due on the way, 0 --" in told
        assert "due already, 9 --" in told
        assert "> !! overdue brake pads, measure" in told
