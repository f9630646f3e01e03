"""An event as it would be published, before it is held against what stands in the ledger."""

from datetime import date, timedelta
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.feed.text import cut_lines

WEEK_BEFORE = "-P6DT15H"
"""09:00 seven days before the first day: relative to its start, which is midnight."""

DAY_BEFORE = "-PT15H"
"""09:00 the day before."""

ALARM_LEADS = {
    WEEK_BEFORE: timedelta(days=6, hours=15),
    DAY_BEFORE: timedelta(hours=15),
}
"""How long before the start each alarm rings."""


class Kind(Enum):
    """What an event stands for."""

    ITEM = "item"
    VISIT = "visit"
    OWN_CHECKS = "own"
    OPEN_WORK = "open"
    EMPTY = "empty"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What is settled together: one kind of event, one audience, one vehicle, garage or feed."""

    kind: Kind
    audience: str
    subject: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """An event as the records have it now.

    `on` is the day it would stand on by itself, which may lie in the past. `is_exact`: nothing
    holds it on the day published before. `expected` is the line that tells the band of dates,
    frozen with the day published; it stands between `before` and `after`. `longest` None: no limit.
    `is_frozen_once_past`: what was published stays as it is once its day has passed.
    """

    uid: str
    on: date
    is_exact: bool
    summary: str
    category: str
    before: tuple[str, ...] = ()
    expected: str = ""
    after: tuple[str, ...] = ()
    longest: int | None = None
    days: int = 1
    location: str = ""
    alarms: tuple[str, ...] = ()
    is_frozen_once_past: bool = False

    def description(self, expected: str) -> str:
        """Give the whole text with this line as the band of dates."""
        band = (expected,) if expected else ()
        return cut_lines((*self.before, *band, *self.after), self.longest)
