"""Readings that do not fit their car, and what may have caused it."""

from datetime import date
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.units import Distance, Shown


class Cause(Enum):
    """What may be behind a reading that does not fit."""

    ROLLED_OVER = "rolled over"
    REPLACED = "replaced or set back"
    SWAPPED = "digits swapped"
    OTHER_UNIT = "miles for km"
    ONE_DIGIT = "one digit"
    TENTHS = "tenths"
    DATE = "date"
    MISREAD = "misread"


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbor:
    """A sound reading beside another one, `shown` in the dial's unit."""

    record: RecordId
    on: date
    shown: Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Oddity:
    """What is odd about a reading.

    `would_fit` is the figure that would, in the dial's unit, and `would_fit_on` the day on which
    the figure would; None where no single slip explains it. `before` and `after` are the sound
    readings around it. `digits`: the dial has so many, too few for the figure. `distance`: run
    since the reading before, if the dial passed its end. Not held back: a rollover, which is
    counted and asked about, and a reading only as likely to be the mistaken one as `instead`, the
    one held back.
    """

    cause: Cause
    held: bool
    would_fit: Shown | None = None
    would_fit_on: date | None = None
    before: Neighbor | None = None
    after: Neighbor | None = None
    digits: int | None = None
    distance: Distance | None = None
    instead: Neighbor | None = None
