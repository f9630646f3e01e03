"""Visits on screen: a car's list by date, another day tried and booked, the weeks of the garage."""

from datetime import date

import pytest

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.visits import car as car_visits
from castlenut.screens.visits import weeks
from castlenut.screens.visits.car import CarVisitsPage
from castlenut.screens.visits.weeks import WeeksPage
from tests.screens.conftest import USUAL, begun, pressed, shown
from tests.screens.test_pictures import Compare, after

CAR = "harrowmead-tanager"
WIDE = (120, 36)


@pytest.fixture(autouse=True)
def _time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the search come to its end, so that every machine shows the same days."""
    monkeypatch.setattr(car_visits, "LOOKING_SECONDS", 60.0)
    monkeypatch.setattr(weeks, "LOOKING_SECONDS", 60.0)


def page(app: CastlenutApp) -> CarVisitsPage:
    assert isinstance(app.screen, CarVisitsPage)
    return app.screen


async def test_v_lists_the_visits_of_the_car_by_date(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v")

        found = page(app).found
        assert found is not None
        assert found.plan.is_proved
        told = shown(app)
        assert all(f"{visit.on:%a} {visit.on}" in told for visit in found.plan.visits)


async def test_another_day_tells_at_once_what_goes_past_its_window(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v", "down")
        here = page(app).at_hand
        assert here is not None
        await pressed(pilot, "right")

        assert "past its window by then" in shown(app)
        assert shop.car(CAR).car.visits == ()


async def test_enter_books_the_visit_on_the_day_shown(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v", "down")
        here = page(app).at_hand
        assert here is not None
        await pressed(pilot, "enter")

        (visit,) = shop.car(CAR).car.visits
        assert (visit.on, set(visit.items)) == (here.on, set(here.items))
        assert "booked" in shown(app)


async def test_w_tells_why_with_its_cost(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v", "w")

        assert " because " in shown(app)


async def test_v_on_the_board_shows_the_weeks_of_all_cars(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "v")

        assert isinstance(app.screen, WeeksPage)
        assert app.screen.found is not None
        assert "# booked, = proposed, . free" in shown(app)
        assert date(2026, 11, 23).isoformat() in shown(app)


def test_picture_of_the_visits_of_a_car(shop: Garage, snap_compare: Compare) -> None:
    assert snap_compare(
        CastlenutApp(shop), terminal_size=USUAL, run_before=after("enter", "v", "down", "right")
    )


def test_picture_of_the_weeks(shop: Garage, snap_compare: Compare) -> None:
    assert snap_compare(CastlenutApp(shop), terminal_size=WIDE, run_before=after("v"))
