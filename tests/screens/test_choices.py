"""What the user chooses for himself: theme, keys, settings, and a first garage."""

from pathlib import Path

import pytest
from textual.events import Key
from textual.pilot import Pilot

from castlenut.garage.garage import Garage
from castlenut.screens import own_keys
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.first_start import Choice, FirstStart, is_nothing_yet
from castlenut.screens.forms.settings import SettingsForm
from castlenut.screens.rules import RulesPage
from castlenut.screens.text_page import TextPage
from castlenut.store.preferences import read_preferences
from tests.screens.conftest import USUAL, pressed, settled, shown


def the_app(shop: Garage, place: Path, text: str | None = None) -> CastlenutApp:
    """Give the program with a settings.toml of this text."""
    if text is not None:
        place.write_text(text)
    return CastlenutApp(shop, preferences=place)


async def opened(pilot: Pilot[int], action: str) -> None:
    """Do what an entry of the commands does."""
    await pilot.app.run_action(f"app.{action}")
    await settled(pilot)


# -- theme and keys -----------------------------------------------------------------------------


async def test_the_theme_chosen_is_there_the_next_time(shop: Garage, tmp_path: Path) -> None:
    place = tmp_path / "settings.toml"
    async with the_app(shop, place).run_test(size=USUAL) as pilot:
        await opened(pilot, "other_theme")

    assert read_preferences(place).theme == "daylight"
    assert the_app(shop, place).theme == "daylight"


async def test_a_key_of_ones_own_takes_the_place_of_ours(shop: Garage, tmp_path: Path) -> None:
    app = the_app(shop, tmp_path / "settings.toml", '[keys]\nhelp = "z"\n')
    async with app.run_test(size=USUAL) as pilot:
        await settled(pilot)

        assert "z help" in shown(app).splitlines()[-1]
        await pressed(pilot, "z")
        assert "Help: board" in shown(app)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[keys]\nreading = "d"\n', "d stands for day's work and reading (board)"),
        ('[keys]\nreeding = "z"\n', 'no action is named "reeding"; did you mean reading?'),
        ('theme = "dark"\n', 'no theme is named "dark"; there are workshop and daylight'),
        ("theme = \n", "nothing in it is used until it is mended"),
    ],
)
async def test_a_choice_that_cannot_be_is_told_at_the_start(
    shop: Garage, tmp_path: Path, text: str, told: str
) -> None:
    app = the_app(shop, tmp_path / "settings.toml", text)
    async with app.run_test(size=(240, 24)) as pilot:
        await settled(pilot)

        assert told in shown(app)


def test_every_key_that_may_be_changed_stands_in_the_document() -> None:
    document = Path(__file__).parents[2].joinpath("docs", "screens.md").read_text()

    assert [name for name in own_keys.names() if f"| `{name}` |" not in document] == []


# -- settings -----------------------------------------------------------------------------------


async def test_the_form_saves_what_was_changed_and_nothing_else(
    shop: Garage, tmp_path: Path
) -> None:
    place = tmp_path / "settings.toml"
    app = the_app(shop, place)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(pilot)
        await opened(pilot, "open_settings")
        form = app.screen
        assert isinstance(form, SettingsForm)
        form.field("hourly_rate").text = "65"
        form.field("hours").text = "mon:7,sat:4"
        form.field("theme").text = "daylight"
        await settled(pilot)
        await pressed(pilot, "ctrl+s")

        assert "saved: settings: hourly_rate, hours" in shown(app)
        assert app.theme == "daylight"

    assert f"{shop.settings.hourly_rate:.2f}" == "65.00"
    assert {day: int(length) for day, length in shop.settings.hours.items()} == {"mon": 7, "sat": 4}
    assert read_preferences(place).theme == "daylight"


async def test_hours_that_cannot_be_are_told_at_their_field(shop: Garage, tmp_path: Path) -> None:
    app = the_app(shop, tmp_path / "settings.toml")
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(pilot)
        await opened(pilot, "open_settings")
        form = app.screen
        assert isinstance(form, SettingsForm)
        form.field("hours").text = "mon:25"
        form.field("theme").text = "daylight"
        await settled(pilot)
        await pressed(pilot, "ctrl+s")

        assert "mon has 25 hours; give 0 to 24, as mon:7,tue:7" in shown(app)
        assert app.theme == "workshop"
        assert isinstance(app.screen, SettingsForm)


# -- rules --------------------------------------------------------------------------------------

OWN_RULE = """
[[rule]]
id = "oil"
every = { miles = 2500, months = 5 }
"""


async def test_a_rule_of_the_garage_stands_beside_the_shipped_one(
    shop: Garage, tmp_path: Path
) -> None:
    (shop.path / "rules.toml").write_text(OWN_RULE)
    app = the_app(shop, tmp_path / "settings.toml")
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(pilot)
        await opened(pilot, "open_rules")
        page = app.screen
        assert isinstance(page, RulesPage)
        page.table.put_cursor("oil")
        await settled(pilot)
        assert "2,500 mi or 5 months" in shown(app)
        assert ", 1 own" in shown(app)
        await pressed(pilot, "enter")

        assert isinstance(app.screen, TextPage)
        told = app.screen.told
        at = told.index("As shipped:")
        assert any(line == "every: 2,500 mi or 5 months" for line in told[:at])
        assert any(line.startswith("every: ") for line in told[at:])


async def test_a_fault_of_the_file_stands_on_top(shop: Garage, tmp_path: Path) -> None:
    (shop.path / "rules.toml").write_text('[[rule]]\nid = "oil"\ntolerance = "ten"\n')
    app = the_app(shop, tmp_path / "settings.toml")
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(pilot)
        await opened(pilot, "open_rules")

        lines = shown(app).splitlines()
        assert "the shipped rules alone are used" in lines[0]
        assert "x  rules.toml" in lines[2]
        await pressed(pilot, "e")
        assert "no editor is set (EDITOR)" in shown(app)


# -- the first start ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "choice"), [("n", Choice.FIRST_CAR), ("s", Choice.SAMPLE), ("q", None)]
)
async def test_the_first_start_asks_what_to_open(
    tmp_path: Path, key: str, choice: Choice | None
) -> None:
    place = tmp_path / "garage"
    app = FirstStart(place)
    async with app.run_test(size=(240, 24)) as pilot:
        await pilot.pause()
        assert f"No garage is at {place} yet." in " ".join(
            strip.text.strip() for strip in app.screen._compositor.render_strips()
        )
        await pilot.press(key)

    assert app.return_value is choice
    assert not place.exists()


def test_only_an_empty_place_is_nothing_yet(tmp_path: Path) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "letter.txt").write_text("")
    (tmp_path / "empty").mkdir()

    told = {name: is_nothing_yet(tmp_path / name) for name in ("full", "empty", "none", "full/x")}

    assert told == {"full": False, "empty": True, "none": True, "full/x": True}


async def test_the_first_car_is_asked_for_at_once(empty_shop: Garage) -> None:
    app = CastlenutApp(empty_shop, takes_first_car=True)
    async with app.run_test(size=USUAL) as pilot:
        await settled(pilot)

        assert "A car taken in" in shown(app)
        assert isinstance(app.screen_stack[-2], Board)


async def test_what_is_typed_before_the_first_form_stands_goes_into_it(empty_shop: Garage) -> None:
    app = CastlenutApp(empty_shop, takes_first_car=True)
    async with app.run_test(size=USUAL) as pilot:
        for letter in "Moor":
            app.post_message(Key(letter, letter))
        await settled(pilot)
        await pressed(pilot, "tab", "tab", *"1979", "tab", "f", "tab")

        assert "car           [Moor " in shown(app)
        assert "drive         [front " in shown(app)
