"""A car's distance on days gone by: on the line between the days on which it is known."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date, timedelta
from math import ceil, floor

from castlenut.domain.frozen import dataclass
from castlenut.domain.pieces import Point
from castlenut.domain.units import Distance
from castlenut.domain.use.habit import DrivingDays

NO_DISTANCE = 1e-6  # of two distances that were computed: less than any dial shows
_NOISE = 1e-9  # of a day that was computed


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """What is known, one point at least, and the rate that stands for what lies before it.

    The clock stands still while the car is laid up; what was run all the same is believed, and
    spread evenly.
    """

    points: Sequence[Point]
    clock: DrivingDays
    a_day: float

    def distance_on(self, day: date) -> Distance:
        """Give the distance on the morning of a day not after the last point, to 0 at the least."""
        first = self.points[0]
        if day < first.on:
            days = self.clock.before(first.on) - self.clock.before(day)
            return Distance(max(first.distance - self.a_day * days, min(first.distance, 0.0)))
        after = bisect_right(self.points, day, key=lambda point: point.on)
        if after == len(self.points):
            return self.points[-1].distance
        one, other = self.points[after - 1], self.points[after]
        passed = self.clock.before(day) - self.clock.before(one.on)
        days = self.clock.before(other.on) - self.clock.before(one.on)
        if not days:
            passed, days = (day - one.on).days, (other.on - one.on).days
        return Distance(one.distance + (other.distance - one.distance) * passed / days)

    def reached(self, distance: Distance) -> date:
        """Give the first morning on which a distance not beyond the last point was reached."""
        if distance <= self.points[0].distance + NO_DISTANCE:
            return self._long_ago(distance)
        distance = min(distance, self.points[-1].distance)
        after = bisect_left(self.points, distance, key=lambda point: point.distance)
        one, other = self.points[after - 1], self.points[after]
        share = (distance - one.distance) / (other.distance - one.distance)
        begun = self.clock.before(one.on)
        days = self.clock.before(other.on) - begun
        day = self.clock.morning(begun + ceil(share * days - _NOISE)) if days else None
        if day is None:
            day = one.on + timedelta(days=ceil(share * (other.on - one.on).days - _NOISE))
        return day

    def _long_ago(self, distance: Distance) -> date:
        first = self.points[0]
        if not self.a_day:
            return first.on
        days = floor(max(first.distance - distance, 0.0) / self.a_day + _NOISE)
        return self.clock.morning(self.clock.before(first.on) - days) or first.on
