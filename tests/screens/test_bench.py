"""Work at the bench on the screens: in work and over, findings, a day's work of many rows."""

from decimal import Decimal

import pytest

from castlenut.domain.findings import Decided
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.car import CarPage
from castlenut.screens.forms.day import DayForm
from castlenut.screens.forms.stay import StayForm
from castlenut.screens.ready import Ready
from tests.screens.conftest import USUAL, begun, pressed, shown, typed

CAR = "harrowmead-tanager"
IN_WORK = "oldbrook-lantern"
SEAM = "sill seam rusted"


async def test_a_car_is_taken_in_work(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "s", "ctrl+s")

        assert "in work since 11-25" in shown(app)
        assert [each.since.isoformat() for each in shop.car(CAR).car.stays] == ["2026-11-25"]


async def test_a_stay_that_is_not_ready_is_ended_at_the_second_time_and_no_has_the_focus(
    shop: Garage,
) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "home", "down", "enter", "s")
        assert isinstance(app.screen, StayForm)
        app.screen.field("at").enter()
        await typed(pilot, "=")
        told = shown(app)
        await pressed(pilot, "ctrl+s")
        asked = shown(app)
        (stay,) = shop.car(IN_WORK).car.stays

        assert "not ready: " in told
        assert "not ready: end it all the same? [Save] does" in asked
        assert stay.over is None
        assert app.focused is app.screen.query_one("#cancel")

        await pressed(pilot, "ctrl+s")
        assert "saved:" in shown(app)
        (stay,) = shop.car(IN_WORK).car.stays
        assert stay.over is not None


async def test_a_repair_shows_its_cautions_and_asks_for_the_other_side(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "n")
        await typed(pilot, SEAM)
        await pressed(pilot, "enter")
        await typed(pilot, "L")
        await pressed(pilot, "enter", "enter", "enter")
        await typed(pilot, "mend")
        told = shown(app)
        await pressed(pilot, "ctrl+s")
        await typed(pilot, "=")
        await pressed(pilot, "ctrl+s")

        assert "[x] and R? it is to be looked at" in told
        assert "Battery and alternator off" in told
        assert "this program plans, it does not certify" in told
        assert [(str(each.place), each.decided) for each in shop.car(CAR).car.findings] == [
            ("L", Decided.MEND),
            ("R", None),
        ]
        assert f"mend {SEAM}" in shown(app)


async def test_what_is_to_be_done_about_a_finding_has_to_be_said(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "n")
        await typed(pilot, SEAM)
        await pressed(pilot, "ctrl+s")

        assert "x what is to be done about it? mend, watch or declined" in shown(app)
        assert shop.car(CAR).car.findings == ()


@pytest.mark.long
async def test_a_finding_is_mended_from_the_list_once_it_is_said_how(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "n")
        await typed(pilot, SEAM)
        await pressed(pilot, "enter", "enter", "enter", "enter")
        await typed(pilot, "mend")
        await pressed(pilot, "ctrl+s")
        await typed(pilot, "=")
        await pressed(pilot, "ctrl+s")
        page = app.screen
        assert isinstance(page, CarPage)
        page.due.put_cursor(next(key for key in page.due.keys if key.startswith("own~")))
        await pressed(pilot, "d")
        await typed(pilot, "=")
        await pressed(pilot, "ctrl+s")
        refused = shown(app)
        await typed(pilot, "weld")
        await pressed(pilot, "ctrl+s")

        assert "x how was it mended? weld, patch, braze, part" in refused
        (finding,) = shop.car(CAR).car.findings
        assert finding.mended_by is not None
        assert "paint" in shown(app)


@pytest.mark.long
async def test_an_evening_of_several_rows_is_one_change(shop: Garage) -> None:
    """Done, happened and found, in the order they came to mind: one job, one change."""
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "d")
        assert isinstance(app.screen, DayForm)
        await typed(pilot, "61610")
        app.screen.field("add").enter()
        await typed(pilot, "happ")
        await pressed(pilot, "enter")
        await typed(pilot, "pothole")
        await pressed(pilot, "enter")
        app.screen.field("add").enter()
        await typed(pilot, "found")
        await pressed(pilot, "enter")
        await typed(pilot, "axle seal leaks")
        app.screen.field("3-decided").enter()
        await typed(pilot, "watch")
        await pressed(pilot, "enter")
        await typed(pilot, "500mi")
        before = {each.id: each.values for each in shop.file(CAR).records()}
        await pressed(pilot, "ctrl+s")

        made = [each for each in shop.file(CAR).records() if each.id not in before]
        assert sorted(each.table for each in made) == ["finding", "happening", "job", "own_item"]
        (job,) = (each.id for each in made if each.table == "job")
        assert {
            each.values.get("job") for each in made if each.table in {"finding", "happening"}
        } == {job}
        assert len({str(each.revisions[0]["rev"]).partition(".")[0] for each in made}) == 1
        await pressed(pilot, "u")
        assert {each.id: each.values for each in shop.file(CAR).records()} == before
        assert "taken back: done" in shown(app)


@pytest.mark.long
async def test_treads_are_asked_for_tire_by_tire(shop: Garage) -> None:
    save(shop, draft_fit(shop, CAR, "tire", "all", {"size": "185/70R14"}, on="-"))
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "d")
        assert isinstance(app.screen, DayForm)
        await typed(pilot, "=")
        app.screen.field("1-item").text = ""
        app.screen.field("add").enter()
        await typed(pilot, "tread")
        await pressed(pilot, "enter")
        await typed(pilot, "8/32")
        await pressed(pilot, "enter")
        await typed(pilot, "x")
        await pressed(pilot, "ctrl+s")
        refused = shown(app)
        app.screen.field("2-RF").text = "7/32"
        await pressed(pilot, "ctrl+s")

        assert "RF" in refused
        measured = shop.car(CAR).car.measurements
        assert [(str(each.place), each.values) for each in measured] == [
            ("LF", (Decimal(8),)),
            ("RF", (Decimal(7),)),
        ]


async def test_the_sheet_of_an_alignment_goes_in_by_its_measures(shop: Garage) -> None:
    save(shop, draft_fit(shop, CAR, "alignment", on="2026-11-20", at="61550"))
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        page = app.screen
        assert isinstance(page, CarPage)
        page.due.put_cursor(next(key for key in page.due.keys if key.startswith("align~")))
        await pressed(pilot, "d")
        await typed(pilot, "=")
        await pressed(pilot, "enter")
        await typed(pilot, "Copse Hill")
        await pressed(pilot, "enter", "enter")
        await typed(pilot, "0.06in")
        await pressed(pilot, "enter")
        await typed(pilot, "0.5deg")
        await pressed(pilot, "ctrl+s")

        (job,) = (each for each in shop.car(CAR).car.jobs if each.items)
        assert job.by == "Copse Hill"
        assert [(each.measure, each.job) for each in shop.car(CAR).car.measurements] == [
            ("toe", job.record),
            ("camber", job.record),
        ]


async def test_whether_it_may_roll_is_found_among_the_commands(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "home", "down", "ctrl+p")
        await typed(pilot, "may it roll")
        await pressed(pilot, "enter")

        assert isinstance(app.screen, Ready)
        assert "May it roll? Oldbrook Lantern" in shown(app)
        assert "? no record" in shown(app)
        await pressed(pilot, "escape")
        assert not isinstance(app.screen, Ready)
