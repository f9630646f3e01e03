"""The days on which an item's window opens, it falls due and closes, as the use is expected."""

from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.item import Item
from castlenut.domain.units import Distance


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowDays:
    """Each is the earlier of its two sides; None where nobody can tell."""

    opens: date | None
    due: date | None
    closes: date | None


def window_days(item: Item, today: CarToday) -> WindowDays:
    """Give the days of an item's window; a distance counts by the day it is most likely reached."""
    window = item.window
    return WindowDays(
        opens=_earlier(window.opens_on, window.opens_at, today),
        due=_earlier(item.due_on, item.due_at, today),
        closes=_earlier(window.closes_on, window.closes_at, today),
    )


def _earlier(on: date | None, at: float | None, today: CarToday) -> date | None:
    reached = None if at is None else today.use.reached(Distance(at)).p50
    return min((day for day in (on, reached) if day is not None), default=None)
