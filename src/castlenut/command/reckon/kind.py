"""What every kind of reckoning is made of."""

from collections.abc import Callable, Sequence
from datetime import date

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.domain.frozen import dataclass
from castlenut.domain.interval import exact


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of reckoning: its name, one line of help, its fields and what answers them."""

    name: str
    summary: str
    fields: Sequence[Field]
    answers: Sequence[Field]
    answer: Callable[[Fields], Answer]


def day(on: date | None) -> str | None:
    """Give a day as it is written in an answer."""
    return None if on is None else on.isoformat()


def figure(value: float | None) -> float | int | None:
    """Give a number as an answer holds it: to a millionth, whole numbers without a point."""
    if value is None:
        return None
    rounded = exact(value)
    return int(rounded) if rounded == int(rounded) else rounded
