"""The papers of a car on the screen, and their pages in the garage's folder."""

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.paper import PaperPage
from tests.screens.conftest import USUAL, begun, pressed, shown


async def test_p_shows_one_paper_after_the_other(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "p")

        heads = []
        for _ in range(4):
            heads.append(shown(app).splitlines()[0].split(":")[0].strip())
            assert "ready" in shown(app)
            await pressed(pilot, "p")

        assert heads == ["due sheet", "handover book", "job card", "due sheet"]


async def test_enter_writes_the_paper_shown_and_says_where(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "p", "p", "enter")

        file = shop.path / "paper" / "harrowmead-tanager-handover-book.html"
        assert "Harrowmead Tanager" in file.read_text(encoding="utf-8")
        assert "written: paper/harrowmead-tanager-handover-book.html" in shown(app)


async def test_from_the_board_it_is_the_car_under_the_cursor(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "p")

        assert isinstance(app.screen, PaperPage)
        assert "Harrowmead Tanager" in shown(app).splitlines()[0]


async def test_a_folder_that_cannot_be_made_is_told(shop: Garage) -> None:
    (shop.path / "paper").write_text("a file, not a folder")
    app = CastlenutApp(shop)

    async with app.run_test(size=(240, 24)) as pilot:
        await begun(pilot)
        await pressed(pilot, "p", "enter")

        assert "wexholt/paper" in shown(app)
        assert "written" not in shown(app)
