"""Habits of use that stop the clock: the days on which a car is laid up."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date

from castlenut.domain.frozen import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Days on which the car is laid up, first and last included.

    `stood` is how many days the clock had stood still before.
    """

    first: date
    last: date
    stood: int

    @property
    def clock(self) -> int:
        """What the clock shows all the while."""
        return self.first.toordinal() - self.stood

    @property
    def days(self) -> int:
        """How many days these are."""
        return self.last.toordinal() - self.first.toordinal() + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class DrivingDays:
    """A clock that counts the days on which a car may be driven. `spans` are apart, in order."""

    spans: tuple[Standing, ...]

    def before(self, day: date) -> int:
        """Give what the clock shows on the morning of a day; only differences mean anything."""
        index = bisect_right(self.spans, day, key=lambda span: span.first)
        if not index:
            return day.toordinal()
        span = self.spans[index - 1]
        standing = min(day.toordinal() - span.first.toordinal(), span.days)
        return day.toordinal() - span.stood - standing

    def morning(self, clock: int) -> date | None:
        """Give the first morning on which the clock has come so far; None: never."""
        index = bisect_left(self.spans, clock, key=lambda span: span.clock)
        stood = self.spans[index - 1].stood + self.spans[index - 1].days if index else 0
        ordinal = max(clock + stood, 1)
        return date.fromordinal(ordinal) if ordinal <= date.max.toordinal() else None


def driving_days(laid_up: Sequence[tuple[date, date | None]]) -> DrivingDays:
    """Make the clock from the spans in which a car is laid up, first and last day included.

    An end of None is until further notice. Spans may overlap; one that ends before it begins holds
    no day.
    """
    spans: list[Standing] = []
    for first, last in sorted((first, last or date.max) for first, last in laid_up):
        stood = 0
        if spans:
            before = spans[-1]
            if last <= before.last:
                continue
            if first.toordinal() <= before.last.toordinal() + 1:
                spans[-1] = Standing(first=before.first, last=last, stood=before.stood)
                continue
            stood = before.stood + before.days
        if first <= last:
            spans.append(Standing(first=first, last=last, stood=stood))
    return DrivingDays(spans=tuple(spans))
