"""Text made fit for a calendar file: cleaned of what clients choke on, and cut at a word's end."""

import re
import unicodedata
from collections.abc import Sequence

UNTITLED = "Untitled"
_CUT = "…"

# Half characters, non-characters, marks of byte order and of reading direction: they break
# decoding in some readers, or show one text as another.
_REMOVED = re.compile("[\ud800-\udfff\ufffd-\uffff\ufeff\u200e\u200f\u202a-\u202e\u2066-\u2069]")
_BREAK = re.compile("\r\n|[\n\r\x0b\x0c\x1c-\x1e\x85\u2028\u2029]")
_CONTROL = re.compile("[\x00-\x08\x0e-\x1b\x1f\x7f-\x9f]")
_BLANKS = re.compile(" +")


def one_line(text: str) -> str:
    """Give a text as one clean line; line breaks become blanks. May be empty."""
    return _BLANKS.sub(" ", _cleaned(text).replace("\n", " ")).strip()


def lines_of(text: str) -> tuple[str, ...]:
    """Give the clean lines of a text, without those that hold nothing."""
    lines = (_BLANKS.sub(" ", line).strip() for line in _cleaned(text).split("\n"))
    return tuple(line for line in lines if line)


def _cleaned(text: str) -> str:
    if text.isascii() and text.isprintable():
        return text
    broken = _BREAK.sub("\n", _REMOVED.sub("", text)).replace("\t", " ")
    # Composed last: a control character taken out may have stood between a letter and its accent.
    return unicodedata.normalize("NFC", _CONTROL.sub("", broken))


def cut(text: str, longest: int) -> str:
    """Give a one-line text of at most `longest` characters, cut at a word's end with a mark."""
    if len(text) <= longest:
        return text
    room = longest - len(_CUT)
    head = text[:room]
    if text[room] != " " and " " in head:
        head = head[: head.rfind(" ")]
    return head.rstrip(" ,;:") + _CUT


def cut_lines(lines: Sequence[str], longest: int | None) -> str:
    """Join lines to a text of at most `longest` characters, cut at a line's end with a mark.

    A first line that is too long by itself is cut at a word's end. None: no limit.
    """
    whole = "\n".join(lines)
    if longest is None or len(whole) <= longest:
        return whole
    kept = ""
    for line in lines:
        longer = f"{kept}\n{line}" if kept else line
        if len(longer) + 1 + len(_CUT) > longest:
            break
        kept = longer
    return f"{kept} {_CUT}" if kept else cut(lines[0], longest)


def listed(lines: Sequence[str], most: int = 25) -> tuple[str, ...]:
    """Give a list of at most so many lines, and how many more there are."""
    more = len(lines) - most
    return tuple(lines) if more <= 0 else (*lines[:most], f"and {more} more")
