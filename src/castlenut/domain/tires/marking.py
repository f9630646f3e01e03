"""Reading a marking from left to right, so that a fault can say at which character it stands."""

import re
from typing import NoReturn

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.tires.service import SPEED_KMH
from castlenut.domain.units import MM_PER_IN

_LEAST_RIM_IN, _MOST_RIM_IN = 8.0, 30.0
_RIMS_MM = (315, 340, 365, 390, 415, 440)  # metric rims of the 1970s and 1980s: from memory
_MOST_LOAD_INDEX = 279  # the standard's last: from memory
_LONGEST_SHOWN = 40


class Marking:
    """The text of a marking and how far it has been read."""

    def __init__(self, text: str, where: str) -> None:
        self._text = text
        self._where = where
        self._at = 0
        self.take(r"\s*")

    def sees(self, pattern: str) -> bool:
        """Tell whether what comes next is of this form."""
        return self._match(pattern) is not None

    def take(self, pattern: str) -> str:
        """Read what is of this form and the blanks behind it; an empty text where nothing is."""
        found = self._match(pattern)
        if found is None:
            return ""
        self._at = found.end()
        blanks = self._match(r"\s*")
        self._at = blanks.end() if blanks else self._at
        return found.group()

    def need(self, pattern: str, expected: str) -> str:
        """Read what must come next."""
        return self.take(pattern) or self._fail(self._at, expected)

    def whole(self, lengths: tuple[int, ...], least: int, most: int, expected: str) -> int:
        """Read a whole number of so many digits that lies in a range."""
        start = self._at
        digits = self.take(r"\d*")
        if len(digits) not in lengths:
            self._fail(start + min(len(digits), max(lengths)), expected)
        if not least <= int(digits) <= most:
            self._fail(start, expected)
        return int(digits)

    def rim_in(self) -> tuple[float, str]:
        """Read the rim diameter, and give it with its spelling; three digits are millimeters."""
        start = self._at
        text = self.take(r"\d+(\.\d)?")
        if len(text) == 3 and text.isdigit() and int(text) in _RIMS_MM:
            return int(text) / MM_PER_IN, text
        if not text or not _LEAST_RIM_IN <= float(text) <= _MOST_RIM_IN:
            self._fail(start, "a rim diameter from 8 to 30 in")
        return float(text), f"{float(text):g}"

    def service(self) -> tuple[int, int | None, str]:
        """Read load index, that of a pair if there is one, and speed symbol."""
        self.take(r"\(")
        begin = self._at
        alone = self.take(r"\d+")
        paired = self.take(r"\d+") if self.take("/") else ""
        start = self._at
        for index in (alone, paired):
            if index and int(index) > _MOST_LOAD_INDEX:
                self._fail(begin, f"a load index up to {_MOST_LOAD_INDEX}")
        symbol = self.take(r"[A-Z][1-8]?").upper()
        if symbol not in SPEED_KMH:
            self._fail(start, "a speed symbol")
        self.take(r"\)")
        return int(alone), int(paired) if paired else None, symbol

    def end(self) -> None:
        """Make sure that nothing is left."""
        if self._at < len(self._text):
            self._fail(self._at, "the end, a service description such as 91H, XL or a load range")

    def fail_at_start(self, expected: str) -> NoReturn:
        """Refuse the marking from its first character on."""
        self._fail(0 if self._text.strip() else len(self._text), expected)

    def _match(self, pattern: str) -> re.Match[str] | None:
        return re.compile(pattern, re.IGNORECASE | re.ASCII).match(self._text, self._at)

    def _fail(self, at: int, expected: str) -> NoReturn:
        shown = ascii(self._text[:_LONGEST_SHOWN])
        found = f"character {at + 1}, {self._text[at]!a}" if at < len(self._text) else "its end"
        raise BadInput(
            Fault(f"{shown} cannot be read at {found}", self._where, f"expected there: {expected}")
        )
