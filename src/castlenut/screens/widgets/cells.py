"""Text by terminal cells: cut, filled, and harmless, never measured by its letters."""

import unicodedata
from functools import lru_cache

from rich.cells import cell_len, chop_cells, set_cell_size

from castlenut.words.escape import one_line

DOTS = "..."
_GAP = " "
_INDENT = 2
_LONGEST = 2_000
_NO_CELL = frozenset({"Cc", "Cf", "Cn", "Cs"})
_SELECTORS = ("\ufe00", "\ufe0f")


def plain(text: str) -> str:
    """Give a text on one line in which nothing moves the cursor or turns the reading direction.

    What takes no cell of its own (joiners, variation selectors) is left out: terminals differ.
    """
    return "".join(
        letter
        for letter in one_line(text, longest=_LONGEST)
        if unicodedata.category(letter) not in _NO_CELL
        and not _SELECTORS[0] <= letter <= _SELECTORS[1]
    )


def cut(text: str, width: int) -> str:
    """Give a text that takes no more than `width` cells; what is cut off is shown by dots."""
    harmless = plain(text)
    if cell_len(harmless) <= width:
        return harmless
    if width <= len(DOTS):
        return DOTS[: max(width, 0)]
    return set_cell_size(harmless, width - len(DOTS)).rstrip() + DOTS


def filled(text: str, width: int, *, is_right: bool = False) -> str:
    """Give a text of exactly `width` cells, cut or filled up with spaces."""
    short = cut(text, width)
    gap = " " * (width - cell_len(short))
    return gap + short if is_right else short + gap


def ends(left: str, right: str, width: int) -> str:
    """Give one line with a text at either end; the left one gives way."""
    end = cut(right, width)
    room = width - cell_len(end) - len(_GAP)
    return filled(left, room) + _GAP + end if end and room > 0 else filled(left or end, width)


@lru_cache(maxsize=8192)
def folded(text: str) -> str:
    """Give a text for finding: case and accents left aside."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def wrapped(text: str, width: int) -> list[str]:
    """Give a text in lines of at most `width` cells, broken between words where it can be."""
    lines, line = [], ""
    for word in plain(text).split():
        longer = f"{line} {word}" if line else word
        if cell_len(longer) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = chop_cells(word, max(width, 1)) or [""]
        lines.extend(whole)
    return [*lines, line] if line else lines


def hanging(told: str, width: int) -> list[str]:
    """Give a sentence in lines of at most `width` cells; it goes on indented under itself."""
    lead = " " * min(len(told) - len(told.lstrip(" ")), max(width // 2, 0))
    first, *more = wrapped(told, width - len(lead)) or [""]
    under = f"{lead}{'':{_INDENT}}"
    rest = wrapped(" ".join(more), width - len(under))
    return [f"{lead}{first}".rstrip(), *(f"{under}{line}" for line in rest)]
