"""History and differences on the screens, and what is changed outside while they are open."""

import os
import time
from collections.abc import Iterator
from decimal import Decimal

import pytest

from castlenut.domain.frozen import replace
from castlenut.garage.garage import Garage, open_garage
from castlenut.garage.undoing import undo
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.car import CarPage
from castlenut.screens.forms.reading import ReadingForm
from castlenut.screens.history import HistoryPage
from castlenut.store.folder import Folder
from castlenut.store.revisions import Changed
from tests.screens import garages
from tests.screens.conftest import USUAL, begun, pressed, settled, shown, typed
from tests.screens.test_pictures import Compare, after

CAR = "harrowmead-tanager"


@pytest.fixture(autouse=True)
def utc() -> Iterator[None]:
    """Show every instant as it stands in the record, wherever the tests run."""
    before = os.environ.get("TZ")
    os.environ["TZ"] = "UTC"
    time.tzset()
    yield
    if before is None:
        del os.environ["TZ"]
    else:
        os.environ["TZ"] = before
    time.tzset()


def words(app: CastlenutApp) -> str:
    return " ".join(shown(app).replace("│", " ").split())


def by(shop: Garage, device: str, first: int) -> Garage:
    """Give the same garage as another machine sees it."""
    here = garages.surroundings(first=first)
    return open_garage(
        shop.path,
        replace(here, device=lambda: device, command="screens"),
    )


def correct(garage: Garage, figure: int, *, held: Garage | None = None) -> None:
    """Set the last reading, from what `held` knows of it."""
    file = (held or garage).file(CAR)
    record = max(file.table("reading"), key=lambda each: str(each.values["on"]))
    edit = Changed(table="reading", id=record.id, values={"figure": figure})
    garage.took(garage.folder.save(file, [edit], garage.change()).file)


def differing(shop: Garage) -> None:
    """Let two machines set the last reading to different figures, from the same state."""
    began = by(shop, "dev-9f00", 7_000)
    began.car(CAR)
    file = began.file(CAR)
    correct(by(shop, "dev-1a2b", 8_000), 61610)
    record = max(file.table("reading"), key=lambda each: str(each.values["on"]))
    edit = Changed(table="reading", id=record.id, values={"figure": 61620})
    began.folder.save(file, [edit], began.change())


async def test_history_lists_what_was_changed_and_shows_fields_before_and_after(
    shop: Garage,
) -> None:
    correct(shop, 61610)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "ctrl+p", *"history", "enter")
        assert isinstance(app.screen, HistoryPage)
        assert "corrected: figure" in shown(app)
        await pressed(pilot, "enter")

        assert "figure: 61,600 -> 61,610" in words(app)


async def test_u_takes_back_the_change_under_the_cursor_only_if_it_is_the_latest(
    shop: Garage,
) -> None:
    correct(shop, 61610)
    correct(shop, 61620)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "ctrl+p", *"history", "enter", "down", "u")
        assert "comes first" in shown(app)
        await pressed(pilot, "up", "u")

        figures = [each.figure for each in shop.car(CAR).car.readings]
        assert Decimal(61610) in figures
        assert "undone" in shown(app)
        await pressed(pilot, "ctrl+p", *"redo", "enter")
        assert Decimal(61620) in [each.figure for each in shop.car(CAR).car.readings]


async def test_a_difference_is_shown_with_both_values_and_settled_by_a_digit(shop: Garage) -> None:
    differing(shop)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "ctrl+p", *"look at", "enter")
        assert "1 * 61,620 dev-9f00" in words(app)
        assert "2 61,610 dev-1a2b" in words(app)
        await pressed(pilot, "2")

        assert isinstance(app.screen, CarPage)
        assert "figure of reading 2026-11-24 settled" in words(app)
        readings = shop.file(CAR).table("reading")
        assert not any(each.differences for each in readings)
        assert 61610 in [each.values["figure"] for each in readings]


async def test_a_further_value_is_typed_and_a_bad_one_refused(shop: Garage) -> None:
    differing(shop)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "ctrl+p", *"look at", "enter", "3")
        await typed(pilot, "abc")
        await pressed(pilot, "enter")
        assert "a number is needed" in words(app)
        await pressed(pilot, "backspace", "backspace", "backspace")
        await typed(pilot, "61615")
        await pressed(pilot, "enter")

        readings = shop.file(CAR).table("reading")
        assert 61615 in [each.values["figure"] for each in readings]
        assert not any(each.differences for each in readings)


async def test_later_leaves_the_difference(shop: Garage) -> None:
    differing(shop)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "ctrl+p", *"look at", "enter", "escape")

        assert isinstance(app.screen, CarPage)
        assert any(each.differences for each in shop.file(CAR).table("reading"))


async def test_a_form_keeps_its_text_when_the_car_changes_outside(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        app.look_for_outside_changes()
        await pressed(pilot, "r")
        await typed(pilot, "61900")
        correct(by(shop, "dev-9f00", 7_000), 61620)
        app.look_for_outside_changes()
        await settled(pilot)
        assert isinstance(app.screen, ReadingForm)
        assert app.screen.text("figure") == "61900"
        assert "changed on disk: what is typed stays" in words(app)
        await pressed(pilot, "ctrl+s")

        figures = {each.figure for each in shop.car(CAR).car.readings}
        assert {Decimal(61900), Decimal(61620)} <= figures


async def test_a_car_whose_file_vanished_stays_shown_and_the_next_save_makes_it_anew(
    shop: Garage,
) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        app.look_for_outside_changes()
        path = shop.folder.place(CAR).path
        path.unlink()
        app.look_for_outside_changes()
        await settled(pilot)
        assert f"{CAR} is gone from the folder; still shown from memory" in words(app)
        await pressed(pilot, "r")
        await typed(pilot, "61900")
        await pressed(pilot, "ctrl+s")

        assert path.exists()
        assert "saved: reading 61,900 mi" in shown(app)


async def test_a_car_damaged_while_it_is_open_stays_shown(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter")
        app.look_for_outside_changes()
        path = shop.folder.place(CAR).path
        path.write_bytes(path.read_bytes()[:-50])
        app.look_for_outside_changes()
        await settled(pilot)

        assert isinstance(app.screen, CarPage)
        assert "damaged at line" in words(app)
        assert "Harrowmead Tanager" in shown(app)


async def test_a_folder_that_cannot_be_written_is_named_in_the_head(
    shop: Garage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Folder, "may_be_written", lambda _folder: False)
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)

        assert isinstance(app.screen, Board)
        assert "read only" in shown(app).splitlines()[0]


def test_a_change_from_what_a_form_began_with_becomes_a_difference_at_once(shop: Garage) -> None:
    from castlenut.garage.changes.corrections import draft_correction
    from castlenut.garage.drafts import save

    began = shop.car(CAR)
    record = max(began.file.table("reading"), key=lambda each: str(each.values["on"])).id
    correct(by(shop, "dev-9f00", 7_000), 61620)
    with shop.holding(began):
        draft = draft_correction(shop, CAR, record, {"figure": "61610"})

    saved = save(shop, draft)

    assert len(saved.told) == 1
    assert "61610" in saved.told[0]
    assert "61620 by dev-9f00" in saved.told[0]


HISTORY = ("enter", "ctrl+p", *"history of what", "enter", "enter")
DIFFERENCES = ("enter", "ctrl+p", *"look at", "enter")


@pytest.mark.parametrize(
    "size",
    [USUAL, *(pytest.param(each, marks=pytest.mark.long) for each in ((120, 36), (60, 20)))],
    ids=str,
)
@pytest.mark.parametrize("keys", [HISTORY, DIFFERENCES], ids=["history", "differences"])
def test_picture(
    snap_compare: Compare, shop: Garage, keys: tuple[str, ...], size: tuple[int, int]
) -> None:
    correct(shop, 61605)
    undo(shop)
    differing(shop)

    assert snap_compare(CastlenutApp(shop), terminal_size=size, run_before=after(*keys))
