"""What the tests of the screens share: a garage on disk, and the program waited for."""

import contextlib
import shutil
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.worker import WorkerCancelled

from castlenut.garage.garage import Garage, open_garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.forms.form import Form
from tests.screens import garages

USUAL = (80, 24)


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build a garage of four invented cars once; each test gets a copy."""
    return garages.garage(tmp_path_factory.mktemp("built") / "wexholt").path


@pytest.fixture
def shop(built: Path, tmp_path: Path) -> Garage:
    """Give a garage of four invented cars."""
    copy = shutil.copytree(built, tmp_path / "wexholt")
    return open_garage(copy, garages.surroundings(first=5_000))


@pytest.fixture
def empty_shop(tmp_path: Path) -> Garage:
    """Give a garage without a car."""
    return garages.empty_garage(tmp_path / "wexholt")


async def settled(pilot: Pilot[int]) -> None:
    """Wait until nothing is being reckoned, looked through or waited for."""
    await pilot.pause()
    for _ in range(200):
        # One that was overtaken by the next is cancelled: that next one is waited for.
        with contextlib.suppress(WorkerCancelled):
            await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        if not _is_busy(pilot):
            return
        await pilot.pause(0.01)
    pytest.fail("the screens did not come to rest")


async def begun(pilot: Pilot[int]) -> None:
    """Wait for the board, and put the cursor on the car that most tests are about."""
    await settled(pilot)
    if isinstance(pilot.app.screen, Board):
        pilot.app.screen.cars.put_cursor("harrowmead-tanager")
        await settled(pilot)


def _is_busy(pilot: Pilot[int]) -> bool:
    screen = pilot.app.screen
    if isinstance(screen, Form):
        return screen.is_looking
    return (isinstance(screen, Board) and screen.is_following) or any(
        not worker.is_finished for worker in pilot.app.workers
    )


async def pressed(pilot: Pilot[int], *keys: str) -> None:
    """Press keys as a user does, and wait until all has come to rest."""
    for key in keys:
        await pilot.press(key)
        await pilot.pause()
    await settled(pilot)


async def typed(pilot: Pilot[int], text: str) -> None:
    """Type a text letter by letter, without a rest between them."""
    names = {" ": "space", ",": "comma", "-": "minus", "/": "slash", "=": "equals_sign"}
    await pilot.press(*(names.get(letter, letter) for letter in text))
    await settled(pilot)


def shown(app: CastlenutApp) -> str:
    """Give what stands on the terminal, as text."""
    return "\n".join(strip.text for strip in app.screen._compositor.render_strips())
