"""Laws of windows and of what the next due point is counted from."""

from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.interval import Interval, Point, length_days, scaled
from castlenut.domain.window import (
    Allowance,
    NextFrom,
    Standing,
    Window,
    days_allowed,
    distance_allowed,
    due_point,
    inside_at,
    inside_on,
    next_base,
    standing,
    window_around,
)

DAYS = st.dates(date(1950, 1, 1), date(2100, 12, 31))
DISTANCES = st.integers(0, 9_999_990).map(lambda tenths: tenths / 10)
INTERVALS = st.builds(
    lambda months, distance: Interval(months=months, distance=float(distance)),
    st.integers(1, 240),
    st.integers(1, 100_000),
)
ALLOWANCES = st.builds(
    Allowance,
    percent=st.integers(0, 100).map(Fraction),
    cap_days=st.none() | st.integers(0, 400),
    cap_distance=st.none() | st.integers(0, 5000).map(float),
    whole_months=st.booleans(),
)
POINTS = st.builds(Point, on=DAYS, at=DISTANCES)


@given(POINTS, INTERVALS, ALLOWANCES, ALLOWANCES)
def test_window_holds_its_due_point(
    due: Point, interval: Interval, lead: Allowance, tolerance: Allowance
) -> None:
    """A window always holds its due point, both ends included."""
    window = window_around(due.on, due.at, interval, lead=lead, tolerance=tolerance)

    assert inside_on(window, due.on)
    assert inside_at(window, due.at)


@given(INTERVALS, ALLOWANCES)
def test_allowance_never_passes_share_or_cap(interval: Interval, allowance: Allowance) -> None:
    """7.01: ten percent of the interval, at most so many days; part-days dropped (7.07)."""
    days = days_allowed(interval, allowance)

    length = length_days(interval)
    assert length is not None
    assert days <= length * allowance.percent / 100
    assert allowance.cap_days is None or days <= allowance.cap_days
    assert allowance.cap_days is not None or length * allowance.percent / 100 - days < 1
    assert allowance.cap_distance is None or distance_allowed(interval, allowance) <= (
        allowance.cap_distance
    )


@given(POINTS, INTERVALS, ALLOWANCES, st.integers(-400, 400))
def test_lateness_inside_the_window_does_not_add_up(
    due: Point, interval: Interval, allowance: Allowance, late: int
) -> None:
    """7.02, 7.03, 7.20: inside, the next is due + interval; outside, done + interval."""
    window = window_around(due.on, due.at, interval, lead=allowance, tolerance=allowance)
    assert due.on is not None
    assert window.opens_on is not None
    assert window.closes_on is not None
    done = Point(on=due.on + timedelta(days=late))

    base = next_base(done, due, window, NextFrom.SCHEDULE)

    inside = window.opens_on <= due.on + timedelta(days=late) <= window.closes_on
    assert base.on == (due.on if inside else done.on)
    assert base.at is None


@given(POINTS, INTERVALS, POINTS)
def test_sides_never_touch_each_other(due: Point, interval: Interval, done: Point) -> None:
    """7.07: each side computed on its own."""
    tolerance = Allowance(percent=Fraction(10))
    window = window_around(due.on, due.at, interval, lead=tolerance, tolerance=tolerance)

    both = due_point(next_base(done, due, window, NextFrom.SCHEDULE), interval)

    by_date = due_point(next_base(Point(on=done.on), due, window, NextFrom.SCHEDULE), interval)
    by_distance = due_point(next_base(Point(at=done.at), due, window, NextFrom.SCHEDULE), interval)
    assert both == Point(on=by_date.on, at=by_distance.at)


@given(INTERVALS, st.integers(1, 99).map(lambda hundredths: Fraction(hundredths, 100)))
def test_exposure_never_lengthens_an_interval(interval: Interval, factor: Fraction) -> None:
    """Factors shorten both sides."""
    shortened = scaled(interval, factor)

    assert (length_days(shortened) or 0) <= (length_days(interval) or 0)
    assert (shortened.distance or 0.0) <= (interval.distance or 0.0)


@given(POINTS, INTERVALS, ALLOWANCES, DAYS, st.integers(0, 2000), DISTANCES)
def test_time_only_carries_an_item_onward(
    due: Point, interval: Interval, allowance: Allowance, today: date, later: int, at: float
) -> None:
    """Ahead, then due, then overdue: no day takes an item back."""
    window = window_around(due.on, due.at, interval, lead=allowance, tolerance=allowance)
    order = list(Standing)

    now = standing(window, today=today, at_today=at)
    then = standing(window, today=today + timedelta(days=later), at_today=at)

    assert now is not None
    assert then is not None
    assert order.index(now) <= order.index(then)


@given(DAYS)
def test_window_not_known_tells_nothing(today: date) -> None:
    """Not known is never today."""
    assert standing(Window(), today=today, at_today=None) is None
