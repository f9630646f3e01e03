"""The feed screen: addresses, QR code, publishing, the base, and the server by a key."""

import http.client
import shutil
import socket
from functools import partial
from pathlib import Path

import pytest
from textual.pilot import Pilot

from castlenut.garage.garage import Garage, open_garage
from castlenut.screens import feed_serving
from castlenut.screens.app import CastlenutApp
from tests.screens import garages
from tests.screens.conftest import USUAL, begun, pressed, settled, shown


@pytest.fixture
def port(monkeypatch: pytest.MonkeyPatch) -> int:
    """Let the server take a port that is free here."""
    with socket.socket() as link:
        link.bind(("127.0.0.1", 0))
        free = int(link.getsockname()[1])
    real = feed_serving.FeedServing
    monkeypatch.setattr(feed_serving, "FeedServing", partial(real, port=free))
    return free


@pytest.fixture
def web(tmp_path: Path) -> Path:
    folder = tmp_path / "web"
    folder.mkdir()
    return folder


async def at_feeds(pilot: Pilot[int]) -> None:
    await begun(pilot)
    await pressed(pilot, "c")


def address(app: CastlenutApp) -> str:
    """Give the address that stands on the screen."""
    line = next(line for line in shown(app).splitlines() if line.strip().startswith("http"))
    return line.strip()


async def answered(pilot: Pilot[int], text: str) -> None:
    """Type an answer into the dialog that is open, and press enter."""
    for box in pilot.app.screen.query("Input"):
        box.value = text  # type: ignore[attr-defined]
    await pressed(pilot, "enter")


async def test_every_feed_is_listed_with_its_own_address(shop: Garage) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        first = address(app)
        await pressed(pilot, "down")

        assert first.startswith("http://192.0.2.7:8737/")
        assert first.endswith("/garage.ics")
        assert address(app).endswith("/vehicle.ics")
        assert address(app).replace("http", "webcal") in shown(app)


async def test_y_copies_the_address(shop: Garage) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "y")

        assert app.clipboard == address(app)


@pytest.mark.parametrize(
    ("size", "is_drawn"), [((80, 24), True), ((80, 23), False), ((60, 20), False)]
)
async def test_the_code_is_drawn_where_it_fits(
    shop: Garage, size: tuple[int, int], *, is_drawn: bool
) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=size) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "enter")

        assert ("\N{LOWER HALF BLOCK}" in shown(app)) is is_drawn
        assert ("the QR code needs 43x24" in shown(app)) is not is_drawn


async def test_the_key_serves_and_ends_it(shop: Garage, port: int) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        target = address(app).partition(":8737")[2]
        await pressed(pilot, "s")
        link = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        link.request("GET", target)
        body = link.getresponse().read()
        link.close()

        assert body.startswith(b"BEGIN:VCALENDAR")
        assert f"serving on 192.0.2.7:{port}  s stops" in shown(app)
        await pressed(pilot, "s")
        assert "not serving" in shown(app)


async def test_the_server_ends_with_the_program(shop: Garage, port: int) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "s")

    with socket.socket() as link:
        assert link.connect_ex(("127.0.0.1", port)) != 0


async def test_a_port_in_use_is_said_and_the_screen_stays(shop: Garage, port: int) -> None:
    with socket.socket() as taken:
        taken.bind(("0.0.0.0", port))
        taken.listen()
        app = CastlenutApp(shop)
        async with app.run_test(size=USUAL) as pilot:
            await at_feeds(pilot)
            await pressed(pilot, "s")

            assert f"Port {port} is in use." in shown(app)
            assert "not serving" in shown(app)


async def test_a_folder_is_added_and_kept_up_to_date(shop: Garage, web: Path) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "f")
        await answered(pilot, str(web))

        assert len(list(web.iterdir())) == 1
        assert "1 published" in shown(app)
        assert "published: the garage's feed in" in shown(app)


async def test_what_is_no_folder_is_said_under_the_field_and_stays_typed(shop: Garage) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "f")
        await answered(pilot, "/no/such/place")

        assert "is no folder and no calendar file" in shown(app)
        assert "/no/such/place" in shown(app)


async def test_publishing_is_stopped_by_a_key_on_its_row(shop: Garage, web: Path) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "f")
        await answered(pilot, str(web))
        await pressed(pilot, "tab", "x")

        assert "0 published" in shown(app)
        assert len(list(web.iterdir())) == 1


async def test_the_base_changes_every_address(shop: Garage) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "e")
        await answered(pilot, "https://example.org/calendars")

        assert address(app).startswith("https://example.org/calendars/")


async def test_a_new_address_ends_the_old_one(shop: Garage) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        before = address(app)
        await pressed(pilot, "n")

        assert address(app) != before
        assert "new address for the garage's feed" in shown(app)


async def test_a_feed_that_cannot_be_written_is_told_on_the_board(shop: Garage, web: Path) -> None:
    app = CastlenutApp(shop)
    async with app.run_test(size=USUAL) as pilot:
        await at_feeds(pilot)
        await pressed(pilot, "f")
        await answered(pilot, str(web))
    shutil.rmtree(web)
    again = CastlenutApp(open_garage(shop.path, garages.surroundings(first=9_000)))
    async with again.run_test(size=(120, 36)) as pilot:
        await begun(pilot)
        assert again.keeper is not None
        again.keeper.close()
        await settled(pilot)

        assert "feed not written" in shown(again)
        assert "the folder is gone" in shown(again)
