"""Days of driving, and the distance on days gone by."""

from datetime import date

import pytest

from castlenut.domain.pieces import Point
from castlenut.domain.units import Distance
from castlenut.domain.use.habit import Standing, driving_days
from castlenut.domain.use.past import Past

JANUARY = (date(2026, 1, 1), date(2026, 1, 31))


def test_spans_that_overlap_or_follow_at_once_are_one() -> None:
    inside = (date(2026, 1, 10), date(2026, 1, 20))
    at_once = (date(2026, 2, 1), date(2026, 2, 10))
    later = (date(2026, 3, 1), date(2026, 3, 5))

    clock = driving_days([later, at_once, inside, JANUARY])

    assert clock.spans == (
        Standing(first=date(2026, 1, 1), last=date(2026, 2, 10), stood=0),
        Standing(first=date(2026, 3, 1), last=date(2026, 3, 5), stood=41),
    )


def test_a_span_that_ends_before_it_begins_holds_no_day() -> None:
    assert driving_days([(date(2026, 2, 1), date(2026, 1, 1))]).spans == ()


def test_a_car_laid_up_until_further_notice_drives_no_more() -> None:
    clock = driving_days([(date(2026, 1, 1), None)])

    assert clock.before(date(2026, 6, 1)) == clock.before(date(2026, 1, 1))
    assert clock.morning(clock.before(date(2026, 1, 1)) + 1) is None


def past(a_day: float = 10.0) -> Past:
    """1,000 on 22 December, 1,100 on 1 February; laid up in January, so ten days of 10."""
    points = (
        Point(on=date(2025, 12, 22), distance=Distance(1000.0)),
        Point(on=date(2026, 2, 1), distance=Distance(1100.0)),
    )
    return Past(points=points, clock=driving_days([JANUARY]), a_day=a_day)


@pytest.mark.parametrize(
    ("day", "distance"),
    [
        (date(2025, 12, 12), 900.0),
        (date(2025, 12, 22), 1000.0),
        (date(2025, 12, 27), 1050.0),
        (date(2026, 1, 1), 1100.0),
        (date(2026, 1, 20), 1100.0),
        (date(2026, 2, 1), 1100.0),
        (date(2020, 1, 1), 0.0),
    ],
)
def test_the_distance_lies_on_the_line_and_stands_while_the_car_does(
    day: date, distance: float
) -> None:
    assert past().distance_on(day) == pytest.approx(distance)


@pytest.mark.parametrize(
    ("distance", "day"),
    [
        (1050.0, date(2025, 12, 27)),
        (1051.0, date(2025, 12, 28)),
        (1000.0, date(2025, 12, 22)),
        (900.0, date(2025, 12, 12)),
    ],
)
def test_the_first_morning_on_which_a_distance_was_reached(distance: float, day: date) -> None:
    assert past().reached(Distance(distance)) == day


def test_before_the_first_point_without_a_rate_nothing_was_driven() -> None:
    assert past(a_day=0.0).reached(Distance(500.0)) == date(2025, 12, 22)
