"""A paper as plain lines: to be read on a terminal, or printed on anything."""

from collections.abc import Iterator
from textwrap import wrap

from castlenut.paper.paper import Line, Paper
from castlenut.words.cautions import DEFERRING_LINE
from castlenut.words.escape import LONGEST_TEXT, one_line

WIDTH = 76
_BLANK = "_" * 12
_BOLD = "** {} **"


def lines(paper: Paper) -> tuple[str, ...]:
    """Give the paper line by line, none wider than `WIDTH` but a long word."""
    return tuple(_lines(paper))


def _lines(paper: Paper) -> Iterator[str]:
    head = paper.head
    yield from _folded(f"{paper.kind.value.upper()}: {head.car}")
    if head.garage:
        yield from _folded(", ".join(head.garage))
    yield from _folded("  ".join(f"{name}: {told}" for name, told in head.facts))
    yield ""
    # what stands against handing over is bold on a page
    yield from _folded(_BOLD.format(head.ready))
    for each in head.standing:
        yield from _folded(_BOLD.format(each), "   ")
    for section in paper.sections:
        if section.lines or section.empty:
            yield ""
            yield from _folded(section.title.upper())
        if not section.lines and section.empty:
            yield from _folded(section.empty, "  ")
        for line in section.lines:
            yield from _one(line)
    yield ""
    for name in paper.signatures:
        yield f"{name}: ".ljust(WIDTH, "_")
    if paper.feed is not None:
        from castlenut.words.qr import qr_rows  # loads segno

        yield ""
        yield "YOUR DATES IN YOUR CALENDAR: open this address on the phone"
        yield one_line(paper.feed, LONGEST_TEXT)
        yield from (row.rstrip() for row in qr_rows(paper.feed))
    yield ""
    for caution in paper.cautions:
        yield from _folded(f"CAUTION: {caution}")
    yield from _folded(DEFERRING_LINE)


def _one(line: Line) -> Iterator[str]:
    number = "" if line.number is None else f"{line.number:>2}"
    lead = f"{number:<2}  " if number else "  - "
    if line.what:
        yield from _folded(line.what, lead)
    for each in line.told:
        yield from _folded(each, "      ")
    for box in line.boxes:
        name = f"      {one_line(box)} "
        # what belongs to no point is written in words, and needs the room
        yield f"{name}{_BLANK}" if line.what else name.ljust(WIDTH, "_")


def _folded(text: str, lead: str = "") -> list[str]:
    """Fold a text between words; what goes on stands under its beginning."""
    return wrap(
        one_line(text, LONGEST_TEXT),
        WIDTH,
        initial_indent=lead,
        subsequent_indent=" " * len(lead),
        break_long_words=False,
        break_on_hyphens=False,
    )
