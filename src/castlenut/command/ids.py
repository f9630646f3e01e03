"""Ids of records and changes: UUIDs of version 7, whose order is that of their making (RFC 9562).

Not by the library `uuid6`: it asks for its own version as it is loaded, which brings email and zip
along and took an eighth of a short writing command. A test holds the two against each other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

_VERSION, _VARIANT = 0x7 << 76, 0x2 << 62
_RAND_A, _RAND_B = 0xFFF << 64, (1 << 62) - 1
_RANDOM_BYTES = 10
_MS_BITS = 48
_NS_IN_MS = 1_000_000


class RisingIds:
    """A source of ids, each higher than the one before, also within a millisecond.

    `clock_ns`: the nanoseconds since 1970. `draw` gives so many bytes that nobody can guess.
    """

    def __init__(self, clock_ns: Callable[[], int], draw: Callable[[int], bytes]) -> None:
        self._clock_ns = clock_ns
        self._draw = draw
        self._last_ms = -1

    def __call__(self) -> str:
        """Give the next id, in lower case."""
        self._last_ms = max(self._clock_ns() // _NS_IN_MS, self._last_ms + 1)
        return uuid7(self._last_ms, self._draw(_RANDOM_BYTES))


def uuid7(milliseconds: int, random: bytes) -> str:
    """Give the UUID of a millisecond since 1970: of ten random bytes all but six bits are in it."""
    drawn = int.from_bytes(random, "big")
    number = (milliseconds & ((1 << _MS_BITS) - 1)) << 80
    number |= _VERSION | (drawn & _RAND_A) | _VARIANT | (drawn & _RAND_B)
    text = f"{number:032x}"
    return f"{text[:8]}-{text[8:12]}-{text[12:16]}-{text[16:20]}-{text[20:]}"
