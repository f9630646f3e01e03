"""The garage's weeks: planned visits of all cars against the hours there are.

Each open day in turn gives its hours to the visits that are in, the one that must be done first
before the others. Hours can be divided, so no other order fits more of them; the spans in which
more is asked than there is prove it.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from itertools import accumulate

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.line import Calendar
from castlenut.domain.visits.open_days import OpenDays, Stint

_LEAST_HOURS = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A visit: its hours, the first day the car can be in, the last on which its work is done."""

    id: str
    hours: float
    from_on: date
    by_on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A visit with the hours it gets, day by day, and those for which there is no room."""

    id: str
    work: tuple[Stint, ...]
    unplaced: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """A week from its Monday: hours worked, and hours there are."""

    monday: date
    hours: float
    capacity: float

    @property
    def share(self) -> float | None:
        """Give how much of the week is taken; None where nothing is open."""
        return self.hours / self.capacity if self.capacity else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """A span in which its visits ask for more hours than there are."""

    from_on: date
    by_on: date
    hours: float
    capacity: float
    visits: tuple[str, ...]

    @property
    def short(self) -> float:
        """Give the hours that are missing."""
        return self.hours - self.capacity


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """Visits with their work, the weeks, and where there is not enough room."""

    visits: tuple[Placed, ...]
    weeks: tuple[Week, ...]
    over: tuple[Over, ...]


def load(
    visits: Sequence[Wanted],
    calendar: Calendar,
    *,
    day_hours: float,
    days: Mapping[date, float],
) -> Load:
    """Put visits into the days; `days` have other hours than the others, 0 is closed."""
    capacity = capacities(calendar, day_hours=day_hours, days=days)
    work: dict[str, list[Stint]] = {each.id: [] for each in visits}
    left = {each.id: each.hours for each in visits}
    in_order = sorted(visits, key=lambda each: (each.by_on, each.from_on, each.id))
    for day, there in capacity.items():
        still = there
        for each in in_order:
            spent = min(still, left[each.id])
            if each.from_on <= day <= each.by_on and spent > _LEAST_HOURS:
                work[each.id].append(Stint(on=day, hours=spent))
                left[each.id] -= spent
                still -= spent
    return Load(
        visits=tuple(
            Placed(
                id=each.id,
                work=tuple(work[each.id]),
                unplaced=left[each.id] if left[each.id] > _LEAST_HOURS else 0.0,
            )
            for each in visits
        ),
        weeks=_weeks(calendar, capacity, work),
        over=_over(visits, capacity),
    )


def capacities(
    calendar: Calendar, *, day_hours: float, days: Mapping[date, float]
) -> dict[date, float]:
    """Give the hours of every open day of a calendar, in order."""
    open_days = OpenDays(calendar)
    found: dict[date, float] = {}
    for number in range(open_days.today, open_days.until + 1):
        day = date.fromordinal(number)
        hours = days.get(day, day_hours if open_days.is_open(number) else 0.0)
        if hours > 0:
            found[day] = hours
    return found


def _weeks(
    calendar: Calendar, capacity: Mapping[date, float], work: Mapping[str, Sequence[Stint]]
) -> tuple[Week, ...]:
    hours: dict[date, float] = {}
    for stints in work.values():
        for stint in stints:
            hours[_monday(stint.on)] = hours.get(_monday(stint.on), 0.0) + stint.hours
    there: dict[date, float] = {}
    for day, of_day in capacity.items():
        there[_monday(day)] = there.get(_monday(day), 0.0) + of_day
    found: list[Week] = []
    monday = _monday(calendar.today)
    while monday <= calendar.until:
        found.append(
            Week(monday=monday, hours=hours.get(monday, 0.0), capacity=there.get(monday, 0.0))
        )
        monday += timedelta(days=7)
    return tuple(found)


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _over(visits: Sequence[Wanted], capacity: Mapping[date, float]) -> tuple[Over, ...]:
    """Give the spans that do not overlap and in which the most hours are missing together."""
    begins = sorted({each.from_on for each in visits}, reverse=True)
    ends = sorted({each.by_on for each in visits})
    open_days = list(capacity)
    sums = [0.0, *accumulate(capacity.values())]
    asked = dict.fromkeys(begins, 0.0)  # by first day, of the visits that end so far
    # For each end, the most that is missing in spans up to it, and those spans.
    best: list[tuple[float, tuple[tuple[date, date], ...]]] = [(0.0, ())]
    for end in ends:
        for each in visits:
            if each.by_on == end:
                asked[each.from_on] += each.hours
        missing, spans = best[-1]
        hours = 0.0
        for begin in begins:
            if begin > end:
                continue
            hours += asked[begin]
            there = sums[bisect_right(open_days, end)] - sums[bisect_left(open_days, begin)]
            before = best[bisect_left(ends, begin)]
            total = before[0] + hours - there
            if total > missing + _LEAST_HOURS:
                missing, spans = total, (*before[1], (begin, end))
        best.append((missing, spans))
    return tuple(_span(visits, capacity, begin, end) for begin, end in best[-1][1])


def _span(visits: Sequence[Wanted], capacity: Mapping[date, float], begin: date, end: date) -> Over:
    inside = [each for each in visits if begin <= each.from_on and each.by_on <= end]
    return Over(
        from_on=begin,
        by_on=end,
        hours=sum(each.hours for each in inside),
        capacity=sum(hours for day, hours in capacity.items() if begin <= day <= end),
        visits=tuple(each.id for each in inside),
    )
