"""Make the pictures of docs/screens.md from the sample fleet: run this file as a script.

The dots of Braille letters are drawn as dots, so that the pictures look alike with any font, and
no font is fetched from anywhere.
"""

import asyncio
import re
import shutil
import sys
import tempfile
from datetime import UTC, date, datetime
from html import unescape
from pathlib import Path
from unittest.mock import patch

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from textual.widgets import Input  # noqa: E402 (the root of the checkout comes first)

from castlenut.garage.garage import Surroundings, open_garage  # noqa: E402
from castlenut.screens.app import CastlenutApp  # noqa: E402
from castlenut.screens.board import Board  # noqa: E402
from tests.screens.conftest import pressed, settled  # noqa: E402

FOLDER = ROOT / "docs" / "pictures"
TODAY = date(2026, 11, 25)
USUAL, WIDE = (80, 24), (120, 36)
BOARD = ("",)
"""Put before the keys where the board itself is to be seen, not the car."""
PELLWORTH = "pellworth-fallowmere"
ADDRESS = "192.0.2.7"
"""An address kept for examples (RFC 5737): not the one of the computer that draws."""

_CELL, _ROW, _BASE = 12.2, 24.4, 18.5  # of Textual's own export: cell, row, baseline in a row
_BRAILLE = 0x2800
_DOTS = ((0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3))
_TEXT = re.compile(r'<text class="([^"]*)" x="([\d.]+)" y="([\d.]+)"([^>]*)>([^<]*)</text>')
_FONT = re.compile(r"@font-face \{[^}]*\}")

_NAMES = {"/": "slash", " ": "space", "=": "equals_sign", "\n": "enter"}


def _typed(text: str) -> tuple[str, ...]:
    return tuple(_NAMES.get(letter, letter) for letter in text)


_WIDER = ("f", "tab", *_typed("wheel\nrear"), "ctrl+s", *_typed("disc\n6\n14\n20"), "ctrl+s")
_TAKEN_IN = ("q", "n", *_typed("Dunford Millpond\n\n1956"), "ctrl+s")
_BRAKES = (
    *("1", "1", "1", "1", "1", "1", "1", "enter", "a", "a", "1"),
    *_typed("2025-03-01 41000\n"),
    *("3", "3", "2"),
    *_typed("2027-05-25\n"),
    *("3", "3", "1"),
    *_typed("2024-06"),
)


def _by_command(words: str) -> tuple[str, ...]:
    return ("ctrl+p", *_typed(words), "enter")


PICTURES: dict[str, tuple[str, tuple[int, int], tuple[str, ...]]] = {
    "board": (PELLWORTH, USUAL, BOARD),
    "board-wide": (PELLWORTH, WIDE, BOARD),
    "to-ring": (PELLWORTH, USUAL, (*BOARD, "a")),
    "find": (PELLWORTH, USUAL, (*BOARD, "slash", *_typed("moss"))),
    "car": (PELLWORTH, USUAL, ()),
    "car-wide": (PELLWORTH, WIDE, ()),
    "working": (PELLWORTH, USUAL, ("w",)),
    "fitted": (PELLWORTH, USUAL, ("2",)),
    "use": ("brantholm-cobblegate", USUAL, ("4",)),
    "jobs": (PELLWORTH, USUAL, ("5",)),
    "figures": (PELLWORTH, USUAL, ("6",)),
    "day": (PELLWORTH, USUAL, ("down", "space", "space", "d", "equals_sign")),
    "found-form": ("wendlecot-millrace", USUAL, ("n", *_typed("floor seam"))),
    "ready": ("wendlecot-millrace", USUAL, _by_command("may it roll")),
    "opened-up": (PELLWORTH, USUAL, ("o", "down", "down", "down", "space", "tab")),
    "opened-hub": (
        "mossburn-stackyard",
        WIDE,
        ("o", "slash", *_typed("hub lf\n"), "space", "tab"),
    ),
    "visits": (PELLWORTH, USUAL, ("v",)),
    "visits-year": ("brantholm-cobblegate", WIDE, ("v", "down")),
    "visit-move": (PELLWORTH, USUAL, ("v", "down", "tab", "space")),
    "weeks": (PELLWORTH, USUAL, (*BOARD, "v")),
    "weeks-wide": (PELLWORTH, WIDE, (*BOARD, "v")),
    "paper": (PELLWORTH, USUAL, ("p",)),
    "feeds": (PELLWORTH, USUAL, (*BOARD, "c")),
    "rules": (PELLWORTH, USUAL, _by_command("rules")),
    "settings": (PELLWORTH, USUAL, _by_command("settings:")),
    "help": (PELLWORTH, USUAL, (*BOARD, "question_mark")),
    "commands": (PELLWORTH, USUAL, ("ctrl+p",)),
    "tires": ("kestrin-fellside", USUAL, ("3",)),
    "tires-wide": ("brantholm-cobblegate", WIDE, ("3",)),
    "tires-staggered": ("pellworth-fallowmere", USUAL, ("3", "down")),
    "tires-duals": ("mossburn-stackyard", USUAL, ("3", "down")),
    "reasons": ("pellworth-fallowmere", USUAL, ("3", "down", "w")),
    "plan": ("brantholm-cobblegate", USUAL, ("3", "l")),
    "plan-how-good": ("brantholm-cobblegate", USUAL, ("3", "l", "w")),
    "treads": ("brantholm-cobblegate", USUAL, ("3", "a")),
    "tread-form": ("kestrin-fellside", USUAL, ("3", "t", *_typed("=\n12\n"))),
    "rotation-form": ("brantholm-cobblegate", USUAL, ("3", "enter", *_typed("="))),
    "wider-rear": ("brantholm-cobblegate", USUAL, ("2", *_WIDER)),
    "intake": ("kestrin-fellside", USUAL, (*_TAKEN_IN, *"11121111")),
    "intake-brakes": ("kestrin-fellside", USUAL, (*_TAKEN_IN, *_BRAKES)),
    "trip": ("brantholm-cobblegate", USUAL, (*_by_command("trip"), *_typed("2026-12-24\n1500\n"))),
    "year": ("carrowby-hartsedge", USUAL, _by_command("the year")),
    "compare": (
        "brantholm-cobblegate",
        WIDE,
        ("3", "c", *_typed("195/65R14\n185/65R14/205/60R14\n")),
    ),
}
"""The name of each picture: which car, how large, which keys, pressed on it or on the board."""


def main() -> None:
    """Make all pictures, or those named."""
    FOLDER.mkdir(exist_ok=True)
    for name in sys.argv[1:] or PICTURES:
        svg = asyncio.run(_pictured(*PICTURES[name]))
        (FOLDER / f"{name}.svg").write_text(_plain(svg), encoding="utf-8")


async def _pictured(slug: str, size: tuple[int, int], keys: tuple[str, ...]) -> str:
    with (
        tempfile.TemporaryDirectory() as folder,
        patch("castlenut.screens.feed.own_address", lambda: ADDRESS),
        patch("castlenut.screens.feed_serving.own_address", lambda: ADDRESS),
    ):
        copy = shutil.copytree(ROOT / "sample_fleet", Path(folder) / "garage")
        app = CastlenutApp(open_garage(copy, _world()))
        async with app.run_test(size=size) as pilot:
            await settled(pilot)
            assert isinstance(app.screen, Board)
            app.screen.cars.put_cursor(slug)
            if keys[:1] != BOARD:
                await pressed(pilot, "enter")
            await pressed(pilot, *(key for key in keys if key not in BOARD))
            for box in app.screen.query(Input):
                box.cursor_blink = False
            await pilot.pause()
            return app.export_screenshot()


def _world() -> Surroundings:
    ids = iter(range(1, 10_000))
    return Surroundings(
        today=TODAY,
        now=lambda: datetime(2026, 11, 25, 9, 30, tzinfo=UTC),
        new_id=lambda: f"01935f00-0000-7000-9000-{next(ids):012x}",
        draw=bytes,
        device=lambda: "dev-1a2b",
        command="screens",
    )


def _plain(svg: str) -> str:
    """Give the picture without fonts from elsewhere, blanks kept, Braille as dots."""
    drawn = _TEXT.sub(_drawn, _FONT.sub("", svg))
    own = re.sub(r"terminal-\d+", "terminal", drawn)
    return own.replace("<svg ", '<svg xml:space="preserve" ', 1).replace("&#160;", " ")


def _drawn(found: re.Match[str]) -> str:
    """Give a text with its Braille letters as dots of the same color."""
    style, left, base, rest, text = found.groups()
    letters = unescape(text)
    if not any(_is_braille(letter) for letter in letters):
        return found[0]
    dots = [
        f'<circle cx="{float(left) + (number + (0.25, 0.75)[across]) * _CELL:.1f}"'
        f' cy="{float(base) - _BASE + (0.125 + 0.25 * down) * _ROW:.1f}" r="1.3"/>'
        for number, letter in enumerate(letters)
        if _is_braille(letter)
        for bit, (across, down) in enumerate(_DOTS)
        if ord(letter) - _BRAILLE >> bit & 1
    ]
    bare = re.sub("[\u2800-\u28ff]", " ", text)
    is_written = bool(unescape(bare).replace("\xa0", " ").strip())
    written = f'<text class="{style}" x="{left}" y="{base}"{rest}>{bare}</text>'
    return f'{written if is_written else ""}<g class="{style}">{"".join(dots)}</g>'


def _is_braille(letter: str) -> bool:
    return _BRAILLE < ord(letter) <= _BRAILLE + 0xFF


if __name__ == "__main__":
    main()
