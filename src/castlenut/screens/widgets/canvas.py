"""Lines, points and words drawn into rows of text: in Braille dots, or in ASCII signs.

Pure: it knows no widget and no color. Places are in cells, from the left and from the top, and may
lie between two cells; what lies outside is left out.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from math import ceil, floor

from rich.cells import cell_len

from castlenut.screens.widgets.cells import plain

_ACROSS, _DOWN = 2, 4  # dots of a cell
_BRAILLE = 0x2800
_DOTS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))

Point = tuple[float, float]
"""Cells from the left, cells from the top."""


class Stroke(Enum):
    """How a line is drawn: in ASCII by this sign, a link by the sign of its slope."""

    LINE = "*"
    DOTTED = "."
    LEVEL = "-"
    LINK = "/"

    @property
    def every(self) -> int:
        """Give which dots are set: each, each second, of a level each fourth from the left."""
        return {Stroke.DOTTED: 2, Stroke.LEVEL: 4}.get(self, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Values from `low` to `high` over so many cells; with `is_down` the high ones are on top."""

    low: float
    high: float
    cells: int
    is_down: bool = False

    def at(self, value: float) -> float:
        """Give the place of a value: those at the ends lie in the middle of the outer cells."""
        span = self.high - self.low
        share = (value - self.low) / span if span else 0.5
        return 0.5 + (1 - share if self.is_down else share) * (self.cells - 1)


class Canvas:
    """A field of cells. Words cover points, points cover lines."""

    def __init__(self, width: int, height: int, *, ascii_only: bool = False) -> None:
        self.width, self.height, self._is_ascii = max(width, 0), max(height, 0), ascii_only
        self._dots: dict[tuple[int, int], int] = {}
        self._signs: dict[tuple[int, int], str] = {}
        self._words: dict[tuple[int, int], str] = {}

    def line(self, start: Point, end: Point, stroke: Stroke = Stroke.LINE) -> None:
        """Draw a straight line."""
        if self._is_ascii and stroke is Stroke.LINK:
            self._link(start, end)
            return
        for number, (across, down) in enumerate(_steps(start, end)):
            cell = (across // _ACROSS, down // _DOWN)
            at = across if stroke is Stroke.LEVEL else number
            if self._holds(*cell) and at % stroke.every == 0:
                self._dots[cell] = self._dots.get(cell, 0) | _DOTS[across % 2][down % 4]
                self._signs.setdefault(cell, stroke.value)

    def path(self, points: Sequence[Point], stroke: Stroke = Stroke.LINE) -> None:
        """Draw straight lines from point to point."""
        for start, end in pairwise(points):
            self.line(start, end, stroke)

    def write(self, across: int, down: int, text: str) -> None:
        """Write a text from a cell to the right."""
        for number, letter in enumerate(plain(text)):
            if self._holds(across + number, down):
                fits = cell_len(letter) == 1
                self._words[across + number, down] = letter if fits else "?"

    def label(self, across: int, down: int, text: str) -> None:
        """Write a text beside the end of a line, in the nearest row where nothing is written.

        It stays inside the canvas; without a free row it is left out.
        """
        needed = len(plain(text))
        start = max(min(across, self.width - needed), 0)
        cells = range(start, start + needed)
        for row in sorted(range(self.height), key=lambda each: (abs(each - down), each)):
            if not any((cell, row) in self._words for cell in cells):
                self.write(start, row, text)
                return

    def rows(self) -> tuple[str, ...]:
        """Give the rows, each of the whole width."""
        return tuple(
            "".join(self._sign(across, down) for across in range(self.width))
            for down in range(self.height)
        )

    def _sign(self, across: int, down: int) -> str:
        cell = (across, down)
        dots = chr(_BRAILLE + self._dots[cell]) if cell in self._dots else " "
        return self._words.get(cell) or (self._signs.get(cell, " ") if self._is_ascii else dots)

    def _holds(self, across: int, down: int) -> bool:
        return 0 <= across < self.width and 0 <= down < self.height

    def _link(self, start: Point, end: Point) -> None:
        """Draw a line of signs: one a row, level ones a sign a column."""
        (left, top), (right, bottom) = start, end
        rows, columns = floor(bottom) - floor(top), floor(right) - floor(left)
        sign, steps = ("\\" if (rows > 0) == (columns > 0) else "/"), abs(rows)
        if rows == 0:
            sign, steps = "-", abs(columns)
        elif columns == 0:
            sign = "|"
        for number in range(steps + 1):
            share = number / steps if steps else 0.0
            cell = (floor(left + share * (right - left)), floor(top) + round(share * rows))
            if self._holds(*cell):
                self._signs[cell] = "X" if {self._signs.get(cell), sign} == {"/", "\\"} else sign


def _steps(start: Point, end: Point) -> Iterator[tuple[int, int]]:
    """Give the dots of a straight line, both ends among them."""
    (left, top), (right, bottom) = start, end
    across, down = (right - left) * _ACROSS, (bottom - top) * _DOWN
    steps = max(ceil(abs(across)), ceil(abs(down)), 1)
    for number in range(steps + 1):
        share = number / steps
        yield floor(left * _ACROSS + share * across), floor(top * _DOWN + share * down)


def words_along(width: int, words: Iterable[tuple[float, str]]) -> str:
    """Give the row under a chart: words centered on their places, one that would touch left out."""
    row = [" "] * width
    for at, word in words:
        text = plain(word)
        start = min(max(round(at - len(text) / 2), 0), width - len(text))
        if start >= 0 and not "".join(row[max(start - 1, 0) : start + len(text) + 1]).strip():
            row[start : start + len(text)] = text
    return "".join(row)
