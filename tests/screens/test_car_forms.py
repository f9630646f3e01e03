"""The forms that are found among the commands: laid up, exposed, room at the wheel, sold."""

from datetime import date

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.car import CarPage
from tests.screens.conftest import USUAL, begun, pressed, settled, shown, typed

CAR = "harrowmead-tanager"


async def test_laid_up_exposed_and_sold_are_saved_and_what_moves_is_told_first(
    shop: Garage,
) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        page = app.screen
        assert isinstance(page, CarPage)
        page.action_exposed()
        await settled(pilot)
        await typed(pilot, "dust")
        told = shown(app)
        await pressed(pilot, "ctrl+s")
        page.action_layup()
        await settled(pilot)
        await typed(pilot, "2026-11-20")
        await pressed(pilot, "enter")
        await typed(pilot, "2026-11-10")
        await pressed(pilot, "ctrl+s")
        refused = shown(app)
        await pressed(pilot, "escape", "escape")
        page.action_room()
        await settled(pilot)
        await pressed(pilot, "ctrl+s")
        unsaid = shown(app)
        await pressed(pilot, "escape")
        page.action_sold()
        await settled(pilot)
        await pressed(pilot, "ctrl+s")

        # engine oil: 3,000 mi or 6 months, in dust 0.7 of it
        assert "moves: " in told
        assert "engine oil, renew" in told
        car = shop.car(CAR).car
        assert [(each.name, each.since) for each in car.exposures] == [("dust", date(2026, 11, 25))]
        assert "x 2026-11-10 is before the first day, 2026-11-20" in refused
        assert "x is missing; measure the gap, in mm" in unsaid
        assert car.vehicle.sold_on == date(2026, 11, 25)
        assert "saved: harrowmead-tanager sold on 2026-11-25" in shown(app)
