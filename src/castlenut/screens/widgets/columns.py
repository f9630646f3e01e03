"""Columns and rows of a list, and how wide each column is in the room there is."""

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from castlenut.domain.vocabulary import all_words
from castlenut.screens.widgets.cells import filled, folded, plain

_NARROW = 78
_LEAST = 6
MARGIN = 3
"""Cells before the first column: cursor, mark of a chosen row, and a space."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: at least `width` cells, and `grow` shares of what is left over, as far as needed.

    One that `fits` gives up what its longest text does not need. `least` is the width of the list
    from which the column is shown; one that `yields` is not shown where a text of the first growing
    column would be cut. In a narrow list only the last `narrow` cells of each text are shown: of a
    day, month and day.
    """

    head: str
    width: int
    grow: int = 0
    is_right: bool = False
    fits: bool = False
    yields: bool = False
    least: int = 0
    narrow: int | None = None

    def width_in(self, whole: int, needed: int) -> int:
        """Give the least width of the column in a list `whole` cells wide."""
        if self.narrow is not None and whole < _NARROW:
            return self.narrow
        return min(self.width, needed) if self.fits else self.width


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A row under a key that stays the same when the list is read anew.

    `color` is the ending of the component class for the first cell. `name` names the row where no
    row holds the words sought; `sought` holds further words by which it is found. A heading parts
    the rows and is never under the cursor. One that `spans` has one text in all columns.
    """

    key: str
    cells: tuple[str, ...]
    color: str = "text"
    name: str = ""
    sought: str = ""
    is_heading: bool = False
    spans: bool = False

    def copied(self) -> str:
        """Give the row as plain text, as it is copied."""
        return "  ".join(plain(cell).strip() for cell in self.cells if cell.strip())

    def holds(self, words: Sequence[str]) -> bool:
        """Tell whether every word stands somewhere in the row."""
        own = " ".join((*self.cells, self.name, self.sought))
        text = folded(f"{own} {all_words(own)}")
        return all(word in text for word in words)


def longest(columns: Sequence[Column], lines: Sequence[Line]) -> tuple[int, ...]:
    """Give the longest text of each column, its head among them, in cells."""
    texts = [line.cells for line in lines if not (line.is_heading or line.spans)]
    return tuple(
        max(cell_len(column.head), *(cell_len(cells[at]) for cells in texts), 0)
        for at, column in enumerate(columns)
    )


def laid_out(
    columns: Sequence[Column], needed: Sequence[int], cells: Sequence[str], whole: int
) -> list[str]:
    """Give the cells of the columns shown in a list `whole` cells wide, each at its width."""
    return [
        filled(
            cell if column.narrow is None or width > column.narrow else cell[-width:],
            width,
            is_right=column.is_right,
        )
        for column, width, cell in zip(columns, widths(columns, needed, whole), cells, strict=True)
        if width
    ]


def widths(columns: Sequence[Column], needed: Sequence[int], whole: int) -> list[int]:
    """Give the width of each column; 0 is not shown."""
    shown = [whole >= column.least for column in columns]
    found = _shared(columns, needed, whole, shown)
    first = next((at for at, column in enumerate(columns) if column.grow), None)
    if first is not None and found[first] < needed[first]:
        fewer = [is_shown and not columns[at].yields for at, is_shown in enumerate(shown)]
        return _shared(columns, needed, whole, fewer)
    return found


def _shared(
    columns: Sequence[Column], needed: Sequence[int], whole: int, shown: Sequence[bool]
) -> list[int]:
    """Share the room out among the columns shown.

    Spare room goes to the columns that grow, as far as their texts need it, the rest of it to the
    first of them. Where there is too little, the growing columns give way, the last one first.
    """
    found = [
        column.width_in(whole, need) if is_shown else 0
        for column, need, is_shown in zip(columns, needed, shown, strict=True)
    ]
    growing = [at for at, column in enumerate(columns) if column.grow and found[at]]
    spare = whole - MARGIN - sum(width + 1 for width in found if width)
    shares = sum(columns[at].grow for at in growing)
    for is_by_share in (True, False):
        room = max(spare, 0)
        for at in growing:
            limit = room * columns[at].grow // shares if is_by_share else max(spare, 0)
            more = min(max(needed[at] - found[at], 0), limit)
            found[at] += more
            spare -= more
    if growing:
        found[growing[0]] += max(spare, 0)
    for at in reversed(growing):
        less = min(max(-spare, 0), max(found[at] - _LEAST, 0))
        found[at] -= less
        spare += less
    return found
