"""What holds for every screen: widths, contrast, marks with their words, text of any kind."""

import re
from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from textual.theme import Theme

from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.sum_layout import laid_out
from castlenut.screens.themes import DAYLIGHT, THEMES, WORKSHOP
from castlenut.screens.widgets.cells import cut, ends, filled, plain, wrapped
from castlenut.words.states import STAMPS
from castlenut.words.sum_row import SumRow
from tests.screens.conftest import begun, pressed, settled, shown

TEXT_CONTRAST = 4.5  # WCAG 2.2, success criterion 1.4.3
RULE_CONTRAST = 3.0  # WCAG 2.2, success criterion 1.4.11
GROUNDS = ("background", "panel", "cursor-row")
TEXTS = ("foreground", "quiet", "overdue", "due", "ahead", "no-record", "accent")

WAYS = {
    "board": (),
    "car": ("enter",),
    "fitted": ("enter", "2"),
    "working": ("enter", "w"),
    "help": ("question_mark",),
    "commands": ("ctrl+p",),
    "reading": ("r",),
    "day": ("enter", "d"),
    "part": ("enter", "f"),
    "vehicle": ("n",),
    "intake": ("n", *"moor", "ctrl+s", "1", "2", "enter", "3", "1"),
    "tires": ("enter", "3"),
    "use": ("enter", "4"),
    "jobs": ("enter", "5"),
    "figures": ("enter", "6"),
    "opened up": ("enter", "o"),
    "visits": ("enter", "v"),
    "weeks": ("v",),
    "paper": ("enter", "p"),
    "feeds": ("c",),
    "to ring": ("a",),
    "found": ("enter", "n"),
    "year": ("enter", "ctrl+p", *"theyear", "enter"),
    "trip": ("enter", "ctrl+p", *"trip", "enter"),
    "history": ("enter", "ctrl+p", *"history", "enter"),
    "rules": ("ctrl+p", *"rules", "enter"),
    "settings": ("ctrl+p", *"settings", "enter"),
    "ready": ("enter", "ctrl+p", *"ready", "enter"),
}
USUALLY = {"board", "car", "fitted", "working", "help", "reading"}
"""The others take seconds each."""
SIZES = ((60, 20), (80, 24), (120, 36))


def luminance(color: str) -> float:
    """Give the relative luminance by WCAG 2.2."""
    parts = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio by WCAG 2.2."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def color(theme: Theme, name: str) -> str:
    named = {
        "background": theme.background,
        "panel": theme.panel,
        "foreground": theme.foreground,
        "accent": theme.accent,
    }
    found = named.get(name) or theme.variables[name]
    assert found is not None
    return found


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("text", TEXTS)
def test_text_can_be_read_on_every_ground(theme: Theme, ground: str, text: str) -> None:
    assert contrast(color(theme, text), color(theme, ground)) >= TEXT_CONTRAST


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("ground", ["background", "panel"])
def test_rules_can_be_seen(theme: Theme, ground: str) -> None:
    assert contrast(color(theme, "ruled"), color(theme, ground)) >= RULE_CONTRAST


def test_contrast_is_reckoned_as_published() -> None:
    """Black on white is 21 to 1 by the definition itself."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert round(contrast(WORKSHOP.foreground or "", WORKSHOP.background or ""), 1) == 13.9
    assert round(contrast(DAYLIGHT.foreground or "", DAYLIGHT.background or ""), 1) == 14.9


def test_every_stamp_has_a_mark_and_a_word_of_its_own() -> None:
    assert len({stamp.mark for stamp in STAMPS}) == len(STAMPS)
    assert len({stamp.word for stamp in STAMPS}) == len(STAMPS)
    assert all(stamp.mark.isascii() for stamp in STAMPS)


@pytest.mark.parametrize(
    "screen",
    [pytest.param(each, marks=() if each in USUALLY else pytest.mark.long) for each in WAYS],
)
async def test_every_line_is_as_wide_as_the_terminal_and_no_letter_wider_than_a_cell(
    shop: Garage, screen: str
) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=SIZES[0]) as pilot:
        await begun(pilot)
        await pressed(pilot, *WAYS[screen])
        for size in SIZES:
            await pilot.resize_terminal(*size)
            await settled(pilot)

            lines = shown(app).splitlines()
            assert len(lines) == size[1]
            assert {cell_len(line) for line in lines} == {size[0]}
            assert all(cell_len(letter) == 1 for letter in "".join(lines))


@pytest.mark.long
async def test_nothing_but_ascii_where_the_terminal_has_nothing_else(shop: Garage) -> None:
    for screen, keys in WAYS.items():
        app = CastlenutApp(shop, ascii_only=True)
        async with app.run_test(size=(80, 24)) as pilot:
            await begun(pilot)
            await pressed(pilot, *keys)

            assert (screen, re.sub("[\x00-\x7f]", "", shown(app))) == (screen, "")


ANY_TEXT = st.text(max_size=60) | st.sampled_from(
    ["\x1b[31m", "[/]", "[b]x", "\u202eabc", "\u200b", "\t", "\u5bec" * 200, "e\u0301", "\ufe0f"]
)


@given(text=ANY_TEXT, width=st.integers(min_value=0, max_value=100))
def test_a_text_of_any_kind_fills_its_cells_exactly(text: str, width: int) -> None:
    """screens.md: no text of any record breaks a row's width."""
    assert cell_len(filled(text, width)) == width
    assert cell_len(filled(text, width, is_right=True)) == width
    assert cell_len(cut(text, width)) <= width


@given(text=ANY_TEXT)
def test_nothing_raw_is_left_of_a_text(text: str) -> None:
    told = plain(text)

    assert "\n" not in told
    assert "\x1b" not in told
    assert "\u202e" not in told


@given(left=ANY_TEXT, right=ANY_TEXT, width=st.integers(min_value=1, max_value=100))
def test_two_ends_fill_a_line_exactly(left: str, right: str, width: int) -> None:
    assert cell_len(ends(left, right, width)) == width


@given(text=ANY_TEXT, width=st.integers(min_value=2, max_value=60))
def test_a_wrapped_text_has_no_line_too_wide(text: str, width: int) -> None:
    assert all(cell_len(line) <= width for line in wrapped(text, width))


ROWS = st.builds(
    SumRow,
    label=st.text(max_size=40),
    distance=st.sampled_from(["", "61,530 mi", "61,380 to 61,530 mi"]),
    date=st.sampled_from(["", "2026-10-06", "2026-07-12 to 2026-08-11", "12 months"]),
    remark=ANY_TEXT,
)


@given(rows=st.lists(ROWS, max_size=5), width=st.sampled_from([38, 57, 77, 117]))
def test_a_sum_is_never_wider_than_its_place(rows: Iterable[SumRow], width: int) -> None:
    assert all(cell_len(line) <= width for line in laid_out(tuple(rows), width))
