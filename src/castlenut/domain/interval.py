"""How often: an interval of time, of distance or of both, and where it ends."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from itertools import pairwise
from math import isfinite

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.months import DAYS_IN_MONTH, after_span, rounded_days, scaled_months

MOST_MONTHS = 1200
MOST_DAYS = 36525
MOST_DISTANCE = 10_000_000.0
"""Far beyond any car; a figure above it is a slip of the hand."""


def exact(figure: float) -> float:
    """Put a sum of decimals back on the figure that was meant.

    1306.4 and 50 make 1356.4 and not the neighbor binary sums may land on, so that what is done
    exactly at the end of a window or exactly on a limit is counted as inside.
    """
    return round(figure, 6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """A time side, a distance side, or both, of which the first reached counts.

    The time side is `months` calendar months and then `days` days; None on both means no time
    side. The distance is in the vehicle's own unit; None means no such side.
    """

    months: int | None = None
    days: int | None = None
    distance: float | None = None

    def __post_init__(self) -> None:
        """Refuse an interval without a side, or one that no car could reach."""
        months, days, distance = self.months, self.days, self.distance
        if (
            (months is None or 0 < months <= MOST_MONTHS)
            and (days is None or 0 < days <= MOST_DAYS)
            and (distance is None or 0 < distance <= MOST_DISTANCE)
            and not (months is None and days is None and distance is None)
        ):
            return
        faults = [
            Fault(f"{given} is not possible", f"every.{side}", f"give more than 0, at most {most}")
            for side, given, most in (
                ("months", months, MOST_MONTHS),
                ("days", days, MOST_DAYS),
                ("distance", distance, int(MOST_DISTANCE)),
            )
            if given is not None and not (isfinite(given) and 0 < given <= most)
        ]
        if months is None and days is None and distance is None:
            faults.append(Fault("has no side", "every", "give months, days or distance"))
        raise BadInput(*faults)

    @property
    def has_time(self) -> bool:
        """Whether there is a time side."""
        return self.months is not None or self.days is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A day and a true distance: of a due point, of a job, of what is counted from.

    None means that side is not known, or that there is no such side.
    """

    on: date | None = None
    at: float | None = None


def scaled(interval: Interval, factor: Fraction) -> Interval:
    """Give the interval an exposure leaves: both sides times the factor.

    Months become whole calendar months and days of a 30-day month. A side never falls below one
    day.

    Raises:
        BadInput: the factor is not above 0 and at most 1.
    """
    if not 0 < factor <= 1:
        raise BadInput(
            Fault(f"{float(factor):g} is not possible", "factor", "give more than 0, at most 1")
        )
    if factor == 1:
        return interval
    months, days = scaled_months(interval.months or 0, factor)
    days += rounded_days((interval.days or 0) * factor)
    if interval.has_time and not months and not days:
        days = 1
    return Interval(
        months=months or None,
        days=days or None,
        distance=None if interval.distance is None else exact(interval.distance * float(factor)),
    )


def due_on(anchor: date, interval: Interval) -> date | None:
    """Give the day the time side ends, or None where the interval has none.

    Raises:
        BadInput: the calendar ends before that day.
    """
    if not interval.has_time:
        return None
    return after_span(anchor, interval.months or 0, interval.days or 0)


def due_at(anchor_distance: float, interval: Interval) -> float | None:
    """Give the distance at which the distance side ends, or None where there is none."""
    if interval.distance is None:
        return None
    return exact(anchor_distance + interval.distance)


def length_days(interval: Interval) -> int | None:
    """Give the time side in days, months counted as 30 days (7.04), or None where there is none.

    For tolerances and shares only: a due date is counted in calendar months (7.06).
    """
    if not interval.has_time:
        return None
    return (interval.months or 0) * DAYS_IN_MONTH + (interval.days or 0)


def points_after(
    start: float, first: Sequence[float], *, every: float | None, count: int
) -> tuple[float, ...]:
    """Give the first `count` distances at which something is due, counted from `start`.

    The points of `first` are distances after the start; after the last of them `every` takes
    over, from that last one (4.24, 9.17). Without `every` there are no more than `first` holds.

    Raises:
        BadInput: the first points do not rise.
    """
    if any(later <= earlier for earlier, later in pairwise(first)):
        raise BadInput(Fault("does not rise from point to point", "first", "sort the points"))
    points = [exact(start + point) for point in first[:count]]
    last = start + (first[-1] if first else 0.0)
    if every is not None:
        more = count - len(points)
        points.extend(exact(last + every * number) for number in range(1, more + 1))
    return tuple(points)
