"""The list of items, cars or parts: a head, rows with a mark and a state, one cursor."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from castlenut.screens.widgets.cells import cut, filled, folded, plain
from castlenut.screens.widgets.columns import MARGIN, Column, Line, laid_out, longest


class ItemTable(ScrollView, can_focus=True):
    """A list that paints only the rows seen, and repaints only the rows changed."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "item-table--head",
        "item-table--heading",
        "item-table--cursor",
        "item-table--text",
        "item-table--overdue",
        "item-table--due",
        "item-table--ahead",
        "item-table--no-record",
        "item-table--quiet",
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", "up", show=False),
        Binding("down,j", "move(1)", "down", show=False),
        Binding("pageup", "page(-1)", "page up", show=False),
        Binding("pagedown", "page(1)", "page down", show=False),
        Binding("home", "move_to_end(False)", "first row", show=False),
        Binding("end", "move_to_end(True)", "last row", show=False),
    ]

    @dataclass
    class Moved(Message):
        """The cursor came to another row, or to none."""

        table: "ItemTable"
        key: str | None

        @property
        def control(self) -> "ItemTable":
            """Give the list whose cursor moved."""
            return self.table

    @dataclass
    class Chosen(Message):
        """A row was clicked a second time."""

        table: "ItemTable"
        key: str

        @property
        def control(self) -> "ItemTable":
            """Give the list whose row was chosen."""
            return self.table

    def __init__(
        self,
        *columns: Column,
        empty: str = "",
        has_head: bool = True,
        id: str | None = None,  # noqa: A002 (Textual's own name)
    ) -> None:
        """Make an empty list; `empty` says what would be here and which key makes the first."""
        super().__init__(id=id)
        self.columns = columns
        self._top = 1 if has_head else 0
        self.empty = empty
        self.marked: set[str] = set()
        """Keys of the rows marked with space."""
        self._lines: tuple[Line, ...] = ()
        self._needed = longest(self.columns, self._lines)
        self._shown: tuple[Line, ...] = ()
        self._sought: tuple[str, ...] = ()
        self._cursor: str | None = None
        self._clicked: str | None = None

    # -- what stands in it ---------------------------------------------------------------------

    @property
    def cursor_key(self) -> str | None:
        """Give the key under the cursor; None in an empty list."""
        return self._cursor

    @property
    def cursor_line(self) -> Line | None:
        """Give the row under the cursor."""
        return next((line for line in self._shown if line.key == self._cursor), None)

    @property
    def keys(self) -> tuple[str, ...]:
        """Give the keys of the rows shown, top to bottom."""
        return tuple(line.key for line in self._shown if not line.is_heading)

    @property
    def counts(self) -> tuple[int, int]:
        """Give how many rows are shown, and how many there are."""
        return len(self.keys), sum(not line.is_heading for line in self._lines)

    def show(self, lines: Iterable[Line], columns: Sequence[Column] | None = None) -> None:
        """Take new rows. The cursor stays on its key, else on its place in the list.

        `columns`: other columns than before, where the new rows say something else.
        """
        self._lines = tuple(lines)
        if columns is not None and self.columns != tuple(columns):
            self.columns = tuple(columns)
            self.refresh()
        needed, self._needed = self._needed, longest(self.columns, self._lines)
        self.marked &= {line.key for line in self._lines}
        self._reshow()
        if needed != self._needed:
            self.refresh()  # the head and every row stand in other widths now

    def find(self, text: str) -> None:
        """Show only the rows that hold all words, in any order; an empty text shows all."""
        self._sought = tuple(folded(text).split())
        self._reshow()

    def nearest(self, text: str) -> tuple[str, ...]:
        """Give up to three names like the words sought, for when no row holds them."""
        # needed only where nothing is found, and slow to import
        from difflib import get_close_matches

        names = [line.name for line in self._lines if not line.is_heading]
        words = {folded(word): name for name in reversed(names) for word in (name, *name.split())}
        close = get_close_matches(folded(text), list(words), n=3, cutoff=0.6)
        return tuple(dict.fromkeys(plain(words[each]) for each in close))

    def put_cursor(self, key: str) -> None:
        """Move the cursor to a row by its key, if it is shown."""
        if key in self.keys:
            self._place_cursor(key)

    def _reshow(self) -> None:
        before, place = self._shown, self._index(self._cursor)
        self._shown = tuple(
            line
            for line in self._lines
            if not self._sought or (not line.is_heading and line.holds(self._sought))
        )
        self.virtual_size = Size(self.size.width, len(self._shown) + self._top)
        if len(before) == len(self._shown):
            for number, (old, new) in enumerate(zip(before, self._shown, strict=True)):
                if old != new:
                    self.refresh_line(number + self._top)
        else:
            self.refresh()
        if self._cursor not in self.keys:
            self._place_cursor(self._nearest(place or 0))

    def _nearest(self, place: int) -> str | None:
        after = [line.key for line in self._shown[place:] if not line.is_heading]
        return after[0] if after else self.keys[-1] if self.keys else None

    def _index(self, key: str | None) -> int | None:
        return next((at for at, line in enumerate(self._shown) if line.key == key), None)

    # -- moving --------------------------------------------------------------------------------

    def _place_cursor(self, key: str | None) -> None:
        old, self._cursor = self._cursor, key
        if old != key:
            for changed in (self._index(old), self._index(key)):
                if changed is not None:
                    self.refresh_line(changed + self._top)
            self.post_message(self.Moved(self, key))
        self._bring_into_view()

    def _bring_into_view(self) -> None:
        at, height = self._index(self._cursor), self.size.height - self._top
        if at is None or height <= 0:
            return
        # A heading just above the first row of its part comes into view with it.
        top = at - 1 if at and self._shown[at - 1].is_heading else at
        if top < self.scroll_offset.y:
            self.scroll_to(y=top, animate=False)
        elif at >= self.scroll_offset.y + height:
            self.scroll_to(y=at - height + 1, animate=False)

    def action_move(self, by: int) -> None:
        keys = self.keys
        if keys:
            at = keys.index(self._cursor) if self._cursor in keys else 0
            self._clicked = None
            self._place_cursor(keys[min(max(at + by, 0), len(keys) - 1)])

    def action_page(self, by: int) -> None:
        self.action_move(by * max(self.size.height - self._top - 1, 1))

    def action_move_to_end(self, is_last: bool) -> None:  # noqa: FBT001 (an action has only places)
        self.action_move(len(self.keys) if is_last else -len(self.keys))

    def mark(self) -> None:
        """Mark the row under the cursor, or take its mark off, and go on to the next."""
        if self._cursor is not None:
            self.marked ^= {self._cursor}
            at = self._index(self._cursor)
            if at is not None:
                self.refresh_line(at + self._top)
            self.action_move(1)

    def unmark(self) -> None:
        """Take every mark off."""
        self.marked.clear()
        self.refresh()

    def on_click(self, event: events.Click) -> None:
        at = int(event.y) - self._top + self.scroll_offset.y
        if event.y < self._top or at >= len(self._shown) or self._shown[at].is_heading:
            return
        key = self._shown[at].key
        if self._clicked == key:
            self.post_message(self.Chosen(self, key))
        self._place_cursor(key)
        self._clicked = key

    def on_resize(self) -> None:
        self.virtual_size = Size(self.size.width, len(self._shown) + self._top)
        self._bring_into_view()

    # -- painting ------------------------------------------------------------------------------

    def render_line(self, y: int) -> Strip:
        """Paint one line: the head, or the row that is scrolled to this place."""
        width, base = self.size.width, self.rich_style
        if y < self._top:
            style = base + self._component("head")
            heads = self._laid_out(tuple(column.head for column in self.columns))
            return Strip([Segment(filled(" " * MARGIN + " ".join(heads), width), style)], width)
        at = y - self._top + self.scroll_offset.y
        if not self._lines and y == self._top and self.empty:
            text = filled(" " * MARGIN + self.empty, width)
            return Strip([Segment(text, base + self._component("quiet"))], width)
        if at >= len(self._shown):
            return Strip.blank(width, base)
        return self._row(self._shown[at], width, base)

    def _row(self, line: Line, width: int, base: Style) -> Strip:
        if line.is_heading:
            text = f" -- {plain(line.cells[0])} "
            text += "-" * max(width - cell_len(text), 0)
            return Strip([Segment(filled(text, width), base + self._component("heading"))], width)
        is_here = line.key == self._cursor
        style = base + self._component("cursor") if is_here and self.has_cursor else base
        margin = f" {'>' if is_here else ' '}{'*' if line.key in self.marked else ' '}"
        whole = [cut(cell, width - MARGIN) for cell in line.cells] if line.spans else None
        cells = whole or self._laid_out(line.cells)
        first, rest = cells[0], "".join(f" {cell}" for cell in cells[1:])
        room = max(width - MARGIN - cell_len(first), 0)
        segments = [
            Segment(margin, style),
            Segment(first, style + self._component(line.color)),
            Segment(filled(rest, room), style),
        ]
        return Strip(segments).adjust_cell_length(width, style)

    @property
    def has_cursor(self) -> bool:
        """Tell whether the cursor row is shown on its ground: only where the keys go."""
        return self.has_focus

    def _component(self, name: str) -> Style:
        return self.get_component_rich_style(f"item-table--{name}", partial=True)

    def _laid_out(self, cells: tuple[str, ...]) -> list[str]:
        return laid_out(self.columns, self._needed, cells, self.size.width)

    def on_focus(self) -> None:
        self.refresh()

    def on_blur(self) -> None:
        self.refresh()
