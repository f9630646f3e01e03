"""What the tests of the screens share: a garage on disk, and the program waited for."""

import shutil
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from textual import events
from textual.command import CommandPalette
from textual.pilot import Pilot
from textual.worker import WorkerCancelled

from castlenut.garage.garage import Garage, open_garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.forms.form import Form
from castlenut.screens.tires.compare import ComparePage
from tests.screens import garages, quicker, tire_garages

USUAL = (80, 24)


@pytest.fixture(scope="package", autouse=True)
def _quicker() -> Iterator[None]:
    """Halve what a test of a screen costs; what it shows stays the same."""
    with pytest.MonkeyPatch.context() as patch:
        quicker.apply(patch)
        yield


@pytest.fixture(autouse=True)
def _network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Give this computer an address kept for examples (RFC 5737)."""
    for where in ("screens.feed", "screens.feed_serving"):
        monkeypatch.setattr(f"castlenut.{where}.own_address", lambda: "192.0.2.7")


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build a garage of four invented cars once; each test gets a copy."""
    return garages.garage(tmp_path_factory.mktemp("built") / "wexholt").path


@pytest.fixture
def shop(built: Path, tmp_path: Path) -> Garage:
    """Give a garage of four invented cars."""
    copy = shutil.copytree(built, tmp_path / "wexholt")
    return open_garage(copy, garages.surroundings(first=5_000))


@pytest.fixture(scope="session")
def built_tires(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the garage of tires once; each test gets a copy."""
    return tire_garages.garage(tmp_path_factory.mktemp("built") / "tires").path


@pytest.fixture
def tire_shop(built_tires: Path, tmp_path: Path) -> Garage:
    """Give a garage of five invented cars that differ in their tires."""
    copy = shutil.copytree(built_tires, tmp_path / "tires")
    return open_garage(copy, garages.surroundings(first=90_000))


@pytest.fixture
def empty_shop(tmp_path: Path) -> Garage:
    """Give a garage without a car."""
    return garages.empty_garage(tmp_path / "wexholt")


async def settled(pilot: Pilot[int]) -> None:
    """Wait until nothing is being reckoned, looked through or waited for."""
    await pilot.pause()
    for _ in range(200):
        # of workers of one group the one before is canceled where the next begins
        with suppress(WorkerCancelled):
            await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        if not _is_busy(pilot):
            await pilot.pause()  # what a message just under way begins is waited for, too
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
    if isinstance(screen, Form | ComparePage):
        return screen.is_looking
    return (isinstance(screen, Board) and screen.is_following) or any(
        not worker.is_finished for worker in pilot.app.workers
    )


async def pressed(pilot: Pilot[int], *keys: str) -> None:
    """Press keys as a user does, and wait until all has come to rest."""
    for key in keys:
        # among the commands a user sees what was found before taking the first of it
        if key == "enter" and isinstance(pilot.app.screen, CommandPalette):
            await settled(pilot)
        await pilot.press(key)
        await pilot.pause()
        # what is saved, and where that leads, is waited for; the next field of a form is not
        if key == "ctrl+s":
            await settled(pilot)
    await settled(pilot)


async def typed(pilot: Pilot[int], text: str) -> None:
    """Type a text letter by letter, as quick as a terminal gives what is pasted into it."""
    names = {" ": "space", ",": "comma", "-": "minus", "/": "slash", "=": "equals_sign"}
    for letter in text:
        key = events.Key(names.get(letter, letter), letter)
        key.set_sender(pilot.app)
        pilot.app.post_message(key)
    await pilot.pause()
    await settled(pilot)


def shown(app: CastlenutApp) -> str:
    """Give what stands on the terminal, as text."""
    return "\n".join(strip.text for strip in app.screen._compositor.render_strips())
