"""Page 5 of a car: the jobs done, each as recorded, corrected, struck out."""

from castlenut.garage.changes.jobs import draft_job
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.car import JOBS, CarPage
from castlenut.screens.forms.form import Form
from tests.screens.conftest import USUAL, begun, pressed, settled, shown

CAR = "harrowmead-tanager"


def with_job(shop: Garage) -> None:
    """Record an oil change of two days ago, done elsewhere."""
    draft = draft_job(
        shop, CAR, ["oil"], on="2026-11-23", at="61650", by="Ardlow Motors", hours="0.8", cost="74"
    )
    save(shop, draft)


async def test_5_says_which_key_makes_the_first_job(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "5")

        assert isinstance(app.screen, CarPage)
        assert app.screen.number == JOBS
        assert "[5 jobs 0]" in shown(app)
        assert "No job yet: d records the first" in shown(app)
        await pressed(pilot, "e")
        assert "none is recorded yet" in shown(app)


async def test_a_job_is_read_corrected_and_struck(shop: Garage) -> None:
    with_job(shop)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "5")
        row = next(line for line in shown(app).splitlines() if "2026-11-23" in line)
        assert row.split() == [
            *(">", "2026-11-23", "61,650", "engine", "oil,", "renew"),
            *("Ardlow", "Motors", "0.8", "h", "74.00"),
        ]

        await pressed(pilot, "enter")
        for line in ("61,650 mi by Ardlow Motors", "cost: 74.00", "done: engine oil, renew"):
            assert line in " ".join(shown(app).split())

        await pressed(pilot, "escape", "e")
        form = app.screen
        assert isinstance(form, Form)
        form.field("cost").text = "79"
        await settled(pilot)
        await pressed(pilot, "ctrl+s")
        assert "corrected: cost" in shown(app)
        assert "79.00" in shown(app)

        await pressed(pilot, "x")
        form = app.screen
        assert isinstance(form, Form)
        form.field("why").text = "another car's"
        await settled(pilot)
        await pressed(pilot, "ctrl+s")
        assert "[5 jobs 0]" in shown(app)


async def test_a_correction_that_cannot_be_is_told_at_its_field(shop: Garage) -> None:
    with_job(shop)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "5", "e", "ctrl+s")
        assert "nothing is changed yet" in shown(app)
        form = app.screen
        assert isinstance(form, Form)
        form.field("on").text = "2027-01-01"
        await settled(pilot)
        await pressed(pilot, "ctrl+s")

        assert form.field("on").has_fault
