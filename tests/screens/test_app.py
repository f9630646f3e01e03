"""The program as a whole: what it loads at its start, what it does when something goes wrong."""

import subprocess
import sys
from pathlib import Path

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp, run
from castlenut.screens.board import Board
from tests.screens import garages
from tests.screens.conftest import USUAL, begun, pressed, settled, shown


class Breaking(CastlenutApp):
    """The program with a key that fails in a way nobody foresaw."""

    def action_break(self) -> None:
        raise ZeroDivisionError


def test_no_form_is_loaded_before_it_is_opened() -> None:
    """docs/speed.md: forms, working and help are imported when they are first opened."""
    code = "import sys, castlenut.screens.board, castlenut.screens.app; print(*sys.modules)"

    answer = subprocess.run(  # our own interpreter, our own code
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )

    loaded = answer.stdout.split()
    assert "castlenut.screens.board" in loaded
    assert not [name for name in loaded if name.startswith("castlenut.screens.forms.")]
    assert "castlenut.screens.working" not in loaded
    assert "castlenut.screens.help" not in loaded
    assert "castlenut.domain.due" not in loaded  # what reckons is loaded after the first paint
    assert "textual.command" not in loaded or "castlenut.screens.commands" not in loaded


def test_a_folder_that_is_no_garage_is_refused_before_anything_is_shown(tmp_path: Path) -> None:
    with pytest.raises(BadInput):
        run(tmp_path / "nowhere", garages.surroundings())


async def test_an_unforeseen_error_is_said_and_the_screen_stays(shop: Garage) -> None:
    app = Breaking(shop, report=lambda _error: "reports/2026-11-25.txt")

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await app.run_action("break")
        await settled(pilot)

        assert isinstance(app.screen, Board)
        assert (
            "something went wrong; nothing was changed; details in reports/2026-11-25.txt"
            in shown(app)
        )


async def test_the_commands_change_the_theme(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "ctrl+p", *"theme", "enter")

        assert app.theme == "daylight"


async def test_ctrl_c_says_how_to_quit(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "ctrl+c")

        assert app.is_running
        assert "q on the board ends the program" in shown(app)


async def test_markup_in_a_record_is_shown_as_text(shop: Garage) -> None:
    garages.add_car(shop, "marked", "[b]bold[/b] [red]")
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)

        assert "[b]bold[/b] [red]" in shown(app)


async def test_a_handler_that_fails_ends_the_program_with_one_sentence(
    shop: Garage, capsys: pytest.CaptureFixture[str]
) -> None:
    app = CastlenutApp(shop, report=lambda _error: "report.txt")

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        app._handle_exception(ZeroDivisionError())  # as the loop of a widget does

    assert app.return_code == 3
    assert capsys.readouterr().err.splitlines() == [
        "castlenut: something went wrong; what was saved stands; details in report.txt"
    ]
