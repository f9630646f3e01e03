"""Visits on screen: a car's list by date, another day tried and booked, the weeks of the garage."""

import pytest

from castlenut.domain.vehicle import VisitState
from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.forms.booking import BookForm
from castlenut.screens.forms.day import DayForm
from castlenut.screens.forms.rows.done import DoneRow
from castlenut.screens.visits import car as car_visits
from castlenut.screens.visits import weeks
from castlenut.screens.visits.car import CarVisitsPage
from castlenut.screens.visits.moving import MovePage
from castlenut.screens.visits.weeks import WeeksPage
from castlenut.screens.widgets.item_table import ItemTable
from tests.screens.conftest import USUAL, begun, pressed, shown
from tests.screens.test_pictures import Compare, after

CAR = "harrowmead-tanager"
WIDE = (120, 36)


@pytest.fixture(autouse=True)
def _time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the search come to its end, so that every machine shows the same days."""
    for module in (car_visits, weeks):
        monkeypatch.setattr(module, "FIRST_SECONDS", 60.0)
        monkeypatch.setattr(module, "LOOKING_SECONDS", 60.0)


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
        assert "# booked, = proposed, . free, + over" in shown(app)
        assert "48 Nov 23" in shown(app)


async def test_the_jobs_of_a_visit_stand_below_it(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v")
        here = page(app).at_hand
        assert here is not None

        assert page(app).jobs.keys == tuple(str(each) for each in here.items)


async def test_space_moves_one_job_and_tells_what_that_costs(shop: Garage) -> None:
    """Among proposed visits nothing is saved by it; the plan shown has the job there."""
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v", "down", "tab", "space")
        assert isinstance(app.screen, MovePage)
        rows = app.screen.query_one(ItemTable).keys
        told = shown(app)
        await pressed(pilot, "enter")

        found, job = page(app).found, page(app).job_at_hand
        assert found is not None
        assert job is not None
        assert "what changes" in told
        moved = [each.on.isoformat() for each in found.plan.done_on(job.key)]
        assert rows[0] in moved
        assert shop.car(CAR).car.visits == ()


async def test_a_job_of_a_booked_visit_is_moved_in_the_record(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v", "enter")
        (before,) = shop.car(CAR).car.visits
        page(app).visits.put_cursor(f"booked {before.record}")
        await pressed(pilot, "tab", "space", "enter")

        after = {each.on: each.items for each in shop.car(CAR).car.visits}
        assert len(after) == 2
        assert set(before.items) == {item for items in after.values() for item in items}


async def test_d_tells_a_booked_visit_done_with_its_jobs(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "v", "enter")
        (booked,) = shop.car(CAR).car.visits
        page(app).visits.put_cursor(f"booked {booked.record}")
        await pressed(pilot, "d", "equals_sign")
        form = app.screen
        assert isinstance(form, DayForm)
        rows = len(form.query(DoneRow))
        await pressed(pilot, "ctrl+s")

        (visit,) = shop.car(CAR).car.visits
        assert rows > 0
        assert (visit.state, visit.record) == (VisitState.DONE, booked.record)


async def test_b_books_the_item_under_the_cursor(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "b")
        assert isinstance(app.screen, BookForm)
        items = {item.id for item in app.screen.items}
        await pressed(pilot, "ctrl+s")

        (visit,) = shop.car(CAR).car.visits
        assert set(visit.items) == items


async def test_l_lists_the_visits_of_all_cars_by_date(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "v", "l")

        assert isinstance(app.screen, WeeksPage)
        days = [key.split()[0] for key in app.screen.upper.keys if not key.startswith("cannot")]
        assert days
        assert days == sorted(days)


async def test_the_month_stands_at_the_right_on_a_wide_terminal(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=WIDE) as pilot:
        await begun(pilot)
        await pressed(pilot, "v")

        assert "November 2026" in shown(app)
        assert "December 2026" in shown(app)


async def test_enter_goes_from_a_week_to_its_cars_and_to_the_visits_of_one(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "v", "enter", "enter")

        assert isinstance(app.screen, CarVisitsPage)


async def test_s_lets_cars_come_in_sooner(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "v", "s")

        assert isinstance(app.screen, WeeksPage)
        assert app.screen.found is not None
        assert app.screen.found.days_sooner == 1
        assert "cars may come 1 day sooner" in shown(app)


def test_picture_of_the_visits_of_a_car(shop: Garage, snap_compare: Compare) -> None:
    assert snap_compare(
        CastlenutApp(shop), terminal_size=USUAL, run_before=after("enter", "v", "down", "right")
    )


def test_picture_of_the_weeks(shop: Garage, snap_compare: Compare) -> None:
    assert snap_compare(CastlenutApp(shop), terminal_size=WIDE, run_before=after("v"))
