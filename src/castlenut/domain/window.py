"""The window around a due point: when it opens and closes, and what the next is counted from."""

from datetime import date
from enum import Enum
from fractions import Fraction
from typing import TypeVar

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.interval import Interval, Point, due_at, due_on, exact, length_days
from castlenut.domain.months import DAYS_IN_MONTH, after_span, last_of_month

_T = TypeVar("_T", date, float)


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """How far a window reaches to one side of its due point: a share of the interval, with caps.

    A cap of None means no cap. With `whole_months` the time side is counted in whole calendar
    months instead of days of a 30-day month (7.25).
    """

    percent: Fraction
    cap_days: int | None = None
    cap_distance: float | None = None
    whole_months: bool = False

    def __post_init__(self) -> None:
        """Refuse a share that is none, and caps below nothing."""
        faults = []
        # By its whole numbers: comparing fractions takes as long as all the rest of an allowance.
        if not 0 <= self.percent.numerator <= 100 * self.percent.denominator:
            faults.append(
                Fault(f"{float(self.percent):g} is not possible", "percent", "give 0 to 100")
            )
        if self.cap_days is not None and self.cap_days < 0:
            faults.append(Fault(f"{self.cap_days} is below 0", "cap_days", "give 0 or more"))
        if self.cap_distance is not None and not self.cap_distance >= 0:
            faults.append(
                Fault(f"{self.cap_distance} is below 0", "cap_distance", "give 0 or more")
            )
        if faults:
            raise BadInput(*faults)


NO_ALLOWANCE = Allowance(percent=Fraction(0))
USUAL_ALLOWANCE = Allowance(percent=Fraction(10), cap_days=30, cap_distance=500.0)
"""Ten percent, at most 30 days (7.01, 7.05) and 500 miles."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """From when to when a job may be done and count as done in time, both ends included.

    None means there is no such side, or its due point is not known. A window always holds its
    due point.
    """

    opens_on: date | None = None
    closes_on: date | None = None
    opens_at: float | None = None
    closes_at: float | None = None


class NextFrom(Enum):
    """What the next due point is counted from."""

    DONE = "done"
    """From the job, wherever it fell (7.21)."""
    SCHEDULE = "schedule"
    """From the due point while the job fell inside the window, else from the job (7.02, 7.03)."""
    END_OF_MONTH = "end of month"
    """From the job, to the last day of the month it leads to (7.26)."""


class Standing(Enum):
    """How a day and a distance stand to a window."""

    AHEAD = "ahead"
    DUE = "due"
    OVERDUE = "overdue"


_RANK = tuple(Standing)


class Side(Enum):
    """Which side of an interval is meant."""

    DATE = "date"
    DISTANCE = "distance"


def days_allowed(interval: Interval, allowance: Allowance) -> int:
    """Give the days an allowance grants: months as 30 days, part-days dropped, then the cap.

    Ten percent of 14 days are 1 day (7.07); of 6 months 18 days (7.04). 0 without a time side.
    """
    share = allowance.percent
    days = (length_days(interval) or 0) * share.numerator // (100 * share.denominator)
    return days if allowance.cap_days is None else min(days, allowance.cap_days)


def months_allowed(interval: Interval, allowance: Allowance) -> int:
    """Give the whole calendar months an allowance grants; a cap in days counts 30 to a month."""
    share = allowance.percent
    days = (length_days(interval) or 0) * share.numerator
    months = days // (100 * DAYS_IN_MONTH * share.denominator)
    if allowance.cap_days is None:
        return months
    return min(months, allowance.cap_days // DAYS_IN_MONTH)


def distance_allowed(interval: Interval, allowance: Allowance) -> float:
    """Give the distance an allowance grants, never above its cap. 0 without a distance side."""
    share = allowance.percent
    distance = exact((interval.distance or 0.0) * (share.numerator / share.denominator) / 100)
    return distance if allowance.cap_distance is None else min(distance, allowance.cap_distance)


def window_around(
    due_on: date | None,
    due_at: float | None,
    interval: Interval,
    *,
    lead: Allowance,
    tolerance: Allowance,
) -> Window:
    """Give the window that opens by `lead` and closes by `tolerance`, each side on its own (7.07).

    Raises:
        BadInput: an end would leave the calendar.
    """
    return Window(
        opens_on=None if due_on is None else _moved(due_on, interval, lead, -1),
        closes_on=None if due_on is None else _moved(due_on, interval, tolerance, 1),
        opens_at=None if due_at is None else exact(due_at - distance_allowed(interval, lead)),
        closes_at=None if due_at is None else exact(due_at + distance_allowed(interval, tolerance)),
    )


def _moved(due_on: date, interval: Interval, allowance: Allowance, sign: int) -> date:
    if allowance.whole_months:
        return after_span(due_on, sign * months_allowed(interval, allowance), 0)
    return after_span(due_on, 0, sign * days_allowed(interval, allowance))


def inside_on(window: Window, day: date | None) -> bool | None:
    """Tell whether a day lies inside the window; None when either is not known."""
    if day is None or window.opens_on is None or window.closes_on is None:
        return None
    return window.opens_on <= day <= window.closes_on


def inside_at(window: Window, distance: float | None) -> bool | None:
    """Tell whether a distance lies inside the window; None when either is not known."""
    if distance is None or window.opens_at is None or window.closes_at is None:
        return None
    return window.opens_at <= exact(distance) <= window.closes_at


def next_base(done: Point, due: Point, window: Window, next_from: NextFrom) -> Point:
    """Give what the next due point is counted from, each side on its own.

    By schedule a side done inside its window counts from its due point, so that lateness inside
    the window does not add up (7.20); outside it counts from the job. A side of the job that is
    not known stays None.
    """
    if next_from is not NextFrom.SCHEDULE:
        return done
    return Point(
        on=due.on if inside_on(window, done.on) else done.on,
        at=due.at if inside_at(window, done.at) else done.at,
    )


def due_point(base: Point, interval: Interval, next_from: NextFrom = NextFrom.DONE) -> Point:
    """Give the due point an interval makes from a base, each side on its own.

    Counted to the end of the month, the day is the last of the month it falls in (7.26).

    Raises:
        BadInput: the calendar ends before that day.
    """
    on = None if base.on is None else due_on(base.on, interval)
    if on is not None and next_from is NextFrom.END_OF_MONTH:
        on = last_of_month(on)
    return Point(on=on, at=None if base.at is None else due_at(base.at, interval))


def standing(window: Window, *, today: date | None, at_today: float | None) -> Standing | None:
    """Tell how today stands to a window: the side that is further along decides (7.07).

    The day and the distance on which a window closes still count as due. None when neither side
    is known on both hands.
    """
    known = [
        side
        for side in (
            _side(window.opens_on, window.closes_on, today),
            _side(window.opens_at, window.closes_at, None if at_today is None else exact(at_today)),
        )
        if side is not None
    ]
    return max(known, key=_RANK.index, default=None)


def _side(opens: _T | None, closes: _T | None, now: _T | None) -> Standing | None:
    if opens is None or closes is None or now is None:
        return None
    if now > closes:
        return Standing.OVERDUE
    return Standing.DUE if now >= opens else Standing.AHEAD


def binding_side(
    due: Point, window: Window, interval: Interval, *, today: date | None, at_today: float | None
) -> Side | None:
    """Tell which side decides: the further along, then the smaller share of its interval left.

    Without a forecast the share left stands for which is reached first. Equal shares go to the
    date, which needs no driving. None when neither side is known on both hands.
    """
    on_side = standing(window, today=today, at_today=None)
    at_side = standing(window, today=None, at_today=at_today)
    if on_side is None or at_side is None:
        return Side.DATE if on_side else Side.DISTANCE if at_side else None
    if on_side is not at_side:
        return Side.DATE if _RANK.index(on_side) > _RANK.index(at_side) else Side.DISTANCE
    if due.on is None or due.at is None or today is None or at_today is None:
        return None
    days, distance = length_days(interval), interval.distance
    if not days or not distance:
        return Side.DATE if days else Side.DISTANCE
    share_of_days = (due.on - today).days / days
    share_of_distance = exact(due.at - at_today) / distance
    return Side.DATE if share_of_days <= share_of_distance else Side.DISTANCE
