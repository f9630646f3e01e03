"""The occurrences of one item: when each may be done, what follows, what life is left at the end.

Days are ordinals. An occurrence runs from its base, the day the item was last dealt with.
"""

from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.curve import Curve
from castlenut.domain.visits.line import Line, NextFrom, PlannedItem
from castlenut.domain.visits.open_days import OpenDays


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """Where a window opens, is due and closes; None where the use curve never gets there."""

    opens: int | None
    due: int | None
    closes: int | None
    is_by_distance: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Occurrence:
    """One doing that must be planned: any open day from `first` to `latest`.

    `last` is the last day that is not late; `latest` is later only where lateness is allowed.
    `is_kept` is false where no open day is inside: then `first` and `last` are the first open day
    after the window. Where there is none either, `first` is None and it is not planned.
    `is_by_distance`: the window closes by the use curve, not by a date.
    """

    opens: int
    due: int
    closes: int
    first: int | None
    last: int
    latest: int
    is_kept: bool
    is_by_distance: bool


class Series:
    """The occurrences of one item by what they run from."""

    def __init__(self, item: PlannedItem, line: Line, days: OpenDays) -> None:
        self.item = item
        self.cost = line.cost_of(item)
        self._days = days
        use = line.use
        self._curve = (
            None
            if use is None
            else Curve(use.dates, use.fast if item.is_safety_critical else use.expected)
        )
        self._is_scheduled = item.next_from is NextFrom.SCHEDULE
        late = item.late if line.allow_late and not self._is_scheduled else None
        self._most_late = 0 if late is None or item.is_safety_critical else late.most_days
        self.late_price = 0.0 if late is None or item.is_safety_critical else late.price_per_day
        self._after: dict[int, Occurrence | None] = {}
        self._passed: dict[int, int] = {}

    def first(self) -> Occurrence | None:
        """Give the first occurrence; None where it does not close by the end of the plan."""
        item = self.item
        on = None if item.due_on is None else item.due_on.toordinal()
        return self._occurrence(points(item, on, item.due_at, self._curve), None)

    def after(self, base: int) -> Occurrence | None:
        """Give the occurrence that runs from a base; None where there is none to be planned."""
        if base not in self._after:
            self._after[base] = self._occurrence(self.points_after(base, self._curve), base)
        return self._after[base]

    def points_after(self, base: int, curve: Curve | None) -> Points:
        """Give the window that runs from a base, by a use curve."""
        every = self.item.every
        if every is None:
            return Points(opens=None, due=None, closes=None)
        at = None
        if every.distance is not None and curve is not None:
            at = curve.at(base) + every.distance
        return points(self.item, self._due_on(base), at, curve)

    def price_late(self, occurrence: Occurrence, day: int) -> float:
        """Give what doing it on a day costs for being late; what cannot be kept costs nothing."""
        return self.late_price * max(0, day - occurrence.closes) if occurrence.is_kept else 0.0

    def base_of(self, occurrence: Occurrence, day: int) -> int:
        """Give what the next interval runs from when this one is done on a day (7.02, 7.03)."""
        if not self._is_scheduled:
            return day
        base = occurrence.due if occurrence.opens <= day <= occurrence.closes else day
        # A fixed series keeps its order: the next is not done before this one may still be.
        self._passed[base] = max(occurrence.last, day)
        return base

    def left(self, base: int) -> float:
        """Give the share of its life that is left at the end of the plan, from 0 to 1."""
        every = self.item.every
        if every is None:
            return 0.0
        until = self._days.until
        shares: list[float] = []
        due = self._due_on(base)
        if due is not None:
            shares.append((due - until) / (due - base))
        if every.distance is not None and self._curve is not None:
            driven = self._curve.at(until) - self._curve.at(base)
            shares.append((every.distance - driven) / every.distance)
        return min(1.0, max(0.0, min(shares)))

    def least_used(self) -> float:
        """Give the life used by the item alone, done each time on its last day not late."""
        return self._used_from(self.first(), 0.0)

    def given_up(self, occurrence: Occurrence, day: int) -> float:
        """Give the share of an interval that a doing gives up against the last day not late.

        What all the doings of a plan give up is what it uses more than the item alone.
        """
        base = self.base_of(occurrence, day)
        here = 1 + self._used_from(self.after(base), self.left(base))
        return here - self._used_from(occurrence, 0.0)

    def _used_from(self, occurrence: Occurrence | None, left: float) -> float:
        """Give the life used from an occurrence on, each done on its last day not late."""
        used = 0.0
        while occurrence is not None and occurrence.first is not None:
            base = self.base_of(occurrence, occurrence.last)
            used, left, occurrence = used + 1, self.left(base), self.after(base)
        return used - left

    def used(self, days: tuple[int, ...]) -> float:
        """Give the life used by doing it on these days: times done less the share left."""
        occurrence, base = self.first(), None
        for day in days:
            if occurrence is None:
                raise AssertionError("a day for an occurrence that is not planned")
            base = self.base_of(occurrence, day)
            occurrence = self.after(base)
        return len(days) - (0.0 if base is None else self.left(base))

    def _due_on(self, base: int) -> int | None:
        every = self.item.every
        due = None if every is None else every.day_after(date.fromordinal(base))
        return None if due is None else due.toordinal()

    def _occurrence(self, window: Points, base: int | None) -> Occurrence | None:
        days = self._days
        if window.due is None or window.closes is None or window.closes > days.until:
            return None
        closes = window.closes
        opens = window.due if window.opens is None else window.opens
        begin = days.today if base is None else max(days.today, base + 1)
        last = days.last_by(closes)
        first: int | None
        if self._is_scheduled:
            first, last = self._scheduled_days(opens, closes, base)
        else:
            first = days.first_from(begin)
        latest = days.last_by(min(closes + self._most_late, days.until))
        if first is not None and last is not None and first <= last:
            return Occurrence(
                opens=opens,
                due=window.due,
                closes=closes,
                first=first,
                last=last,
                latest=max(last, latest or last) if self._most_late else last,
                is_kept=True,
                is_by_distance=window.is_by_distance,
            )
        if base is not None:
            begin = max(begin, self._passed.get(base, base) + 1)
        after = days.first_from(max(closes + 1, begin))
        is_late = after is not None and after <= closes + self._most_late
        return Occurrence(
            opens=opens,
            due=window.due,
            closes=closes,
            first=after,
            last=after or closes,
            latest=max(after or closes, latest or 0) if is_late else (after or closes),
            is_kept=is_late,
            is_by_distance=window.is_by_distance,
        )

    def _scheduled_days(
        self, opens: int, closes: int, base: int | None
    ) -> tuple[int | None, int | None]:
        """Give the days of a fixed series: inside the window, else the last open day before it."""
        days = self._days
        begin = days.today
        if base is not None:
            begin = max(begin, 1 + max(self._closed_by(base), self._passed.get(base, base)))
        first = days.first_from(max(begin, opens))
        if first is not None and first <= closes:
            return first, days.last_by(closes)
        before = days.last_by(opens - 1)
        if before is not None and before >= begin:
            return before, before
        return None, None

    def _closed_by(self, base: int) -> int:
        """Give the day the window round a base closes: the series may not run into itself."""
        item, every = self.item, self.item.every
        found: list[int] = []
        if every is not None and (every.months is not None or every.days is not None):
            found.append(base + item.window.after_days)
        if every is not None and every.distance is not None and self._curve is not None:
            reached = self._curve.reached(self._curve.at(base) + item.window.after_distance)
            if reached is not None:
                found.append(reached)
        return min(found, default=base)


def points(item: PlannedItem, on: int | None, at: float | None, curve: Curve | None) -> Points:
    """Give a window by its due point: each side the earliest (7.07)."""
    window = item.window
    opens: list[int | None] = []
    due: list[int | None] = []
    closes: list[int | None] = []
    if on is not None:
        opens.append(on - window.before_days)
        due.append(on)
        closes.append(on + window.after_days)
    if at is not None and curve is not None:
        opens.append(curve.reached(at - window.before_distance))
        due.append(curve.reached(at))
        closes.append(curve.reached(at + window.after_distance))
    last = _earliest(closes)
    return Points(
        opens=_earliest(opens),
        due=_earliest(due),
        closes=last,
        is_by_distance=last is not None and (on is None or last < on + window.after_days),
    )


def _earliest(days: list[int | None]) -> int | None:
    return min((day for day in days if day is not None), default=None)
