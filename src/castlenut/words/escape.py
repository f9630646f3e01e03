"""Text from a record made harmless for a terminal: nothing a file holds reaches it raw."""

import re

LONGEST_NAME = 200
LONGEST_TEXT = 4_000
_CUT = "..."

# Control characters, lone surrogates, line and paragraph separators, and what turns the reading
# direction: any of them could move the cursor, or show one text as another.
_HOSTILE = "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff\ufeff]"
_BLANK = "[\t\n]+"


def one_line(text: str, longest: int = LONGEST_NAME) -> str:
    r"""Give a text as one line: hostile characters as `\x1b` or `\u202e`, cut with dots.

    A line feed or tab, which a note may hold, becomes a blank.
    """
    if text.isascii() and text.isprintable():
        shown = text
    else:
        shown = re.sub(_HOSTILE, _escaped, re.sub(_BLANK, " ", text))
    return shown if len(shown) <= longest else shown[: longest - len(_CUT)] + _CUT


def lines_of(note: str) -> tuple[str, ...]:
    """Give a note line by line, each made harmless, none cut."""
    return tuple(re.sub(_HOSTILE, _escaped, line.replace("\t", " ")) for line in note.split("\n"))


def _escaped(found: re.Match[str]) -> str:
    code = ord(found[0])
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"
