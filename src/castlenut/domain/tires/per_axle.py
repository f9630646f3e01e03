"""What is typed for both axles: one figure or size all round, or FRONT/REAR."""

import re
from collections.abc import Callable
from typing import TypeVar

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.tires.size import Size, read_size

T = TypeVar("T")

_BETWEEN = re.compile(r"[/,]")


def per_axle(text: str, read: Callable[[str], T]) -> tuple[T, T]:
    """Read one value all round or FRONT/REAR; what can be read whole is not parted.

    A slash may stand inside a value (205/60R15, 11/32), so each is tried; a comma parts as well.

    Raises:
        BadInput: neither the whole nor any two parts can be read. The fault is of the part that
            spoils it, where the other can be read.
    """
    try:
        whole = read(text)
    except BadInput as bad:
        unread = bad
    else:
        return whole, whole
    half: BadInput | None = None
    for between in _BETWEEN.finditer(text):
        front = _read(text[: between.start()], read, "front")
        rear = _read(text[between.end() :], read, "rear")
        if isinstance(front, BadInput) and isinstance(rear, BadInput):
            continue
        if isinstance(front, BadInput):
            half = half or front
        elif isinstance(rear, BadInput):
            half = half or rear
        else:
            return front, rear
    raise half or unread


def read_pair(text: str, *, where: str = "size") -> tuple[Size, Size]:
    """Read how a car is shod: `205/60R15` all round, `205/60R15/225/60R15` front and rear.

    Raises:
        BadInput: it cannot be read; the fault says at which character of which size.
    """
    return per_axle(text, lambda part: read_size(part, where=where))


def _read(text: str, read: Callable[[str], T], axle: str) -> T | BadInput:
    try:
        return read(text)
    except BadInput as bad:
        return BadInput(
            *(Fault(each.what, f"{each.where}, {axle}", each.remedy) for each in bad.faults)
        )
