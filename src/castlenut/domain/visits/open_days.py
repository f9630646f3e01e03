"""The days on which a visit may start, and the days its work takes."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.line import Calendar, Weekday

_WEEK = tuple(Weekday)
_LEAST_HOURS = 1e-9


class OpenDays:
    """The open days of a calendar, as ordinals in order; each question is asked in ordinals."""

    def __init__(self, calendar: Calendar) -> None:
        self.today = calendar.today.toordinal()
        self.until = calendar.until.toordinal()
        self._weekdays = tuple(each in calendar.closed_weekdays for each in _WEEK)
        self._closed = tuple(
            (first.toordinal(), last.toordinal())
            for first, last in (*calendar.closed, *calendar.laid_up)
        )
        self.all = tuple(day for day in range(self.today, self.until + 1) if self.is_open(day))

    def is_open(self, day: int) -> bool:
        """Tell whether a day is open, past the end of the plan too."""
        return not self._weekdays[(day - 1) % 7] and not any(
            first <= day <= last for first, last in self._closed
        )

    def last_by(self, day: int) -> int | None:
        """Give the last open day of the plan that is not after `day`."""
        place = bisect_right(self.all, day)
        return self.all[place - 1] if place else None

    def first_from(self, day: int) -> int | None:
        """Give the first open day of the plan that is not before `day`."""
        place = bisect_left(self.all, day)
        return self.all[place] if place < len(self.all) else None

    def open_from(self, day: int) -> Iterator[int]:
        """Give the open days from `day` on, past the end of the plan too."""
        last = date.max.toordinal()
        while day <= last:
            if self.is_open(day):
                yield day
            day += 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """Hours worked on one day."""

    on: date
    hours: float


def worked(
    visits: Iterable[tuple[int, float]], days: OpenDays, day_hours: float
) -> list[Sequence[Stint]]:
    """Give the days on which the hours of each visit are worked, visits in order.

    A visit is worked from its own day on, after the work of the one before it.
    """
    taken: dict[int, float] = {}
    found: list[Sequence[Stint]] = []
    begin = 0
    for on, hours in visits:
        stints: list[Stint] = []
        left = hours
        for day in days.open_from(max(on, begin)):
            if left <= _LEAST_HOURS:
                break
            spent = min(left, day_hours - taken.get(day, 0.0))
            if spent > _LEAST_HOURS:
                stints.append(Stint(on=date.fromordinal(day), hours=spent))
                taken[day] = taken.get(day, 0.0) + spent
                left -= spent
                begin = day
        found.append(tuple(stints))
    return found
