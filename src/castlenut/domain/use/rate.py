"""The plain use rate: the mean distance a driving day, with a band of the rates seen."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise
from math import ceil, floor

from castlenut.domain.frozen import dataclass
from castlenut.domain.odometer import Odometer
from castlenut.domain.pieces import Point
from castlenut.domain.units import Distance
from castlenut.domain.use.estimate import BandFrom, DateBand, DistanceBand, LastReading, UseBasis
from castlenut.domain.use.habit import DrivingDays, driving_days

HORIZON_DAYS = 3_650
STRETCH_DAYS = 14  # a rate over fewer driving days tells of one outing, not of a habit
_NOISE = 1e-9  # of a day that was computed
_NO_DISTANCE = 1e-6  # of two distances that were computed: less than any dial shows


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainRate:
    """A car that runs on as it did on the average. It stands still while it is laid up.

    `horizon` is the last day that is told; `points` are the days on which the distance is known.
    """

    points: tuple[Point, ...]
    clock: DrivingDays
    horizon: date
    yearly: Distance | None
    basis: UseBasis

    def distance_on(self, day: date) -> DistanceBand | None:
        """Give the true distance on the morning of a day.

        Before the last point it lies on the line between two, without a band; before the first the
        line goes on backward, to 0 at most. With no rate known the nearest point stands for it.
        """
        if not self.points:
            return None
        first, last = self.points[0], self.points[-1]
        if first.on <= day < last.on:
            between = self._between(day)
            return DistanceBand(p10=between, p50=between, p90=between)
        nearest = last if day >= last.on else first
        days = self.clock.before(day) - self.clock.before(nearest.on)
        places = sorted(
            Distance(max(nearest.distance + (rate or 0.0) * days, min(nearest.distance, 0.0)))
            for rate in (self.basis.slowest, self.basis.a_day, self.basis.fastest)
        )
        return DistanceBand(p10=places[0], p50=places[1], p90=places[2])

    def _between(self, day: date) -> Distance:
        after = bisect_right(self.points, day, key=lambda point: point.on)
        one, other = self.points[after - 1], self.points[after]
        passed = self.clock.before(day) - self.clock.before(one.on)
        days = self.clock.before(other.on) - self.clock.before(one.on)
        if not days:  # run while it was laid up: believed, and spread evenly
            passed, days = (day - one.on).days, (other.on - one.on).days
        return Distance(one.distance + (other.distance - one.distance) * passed / days)

    def reached(self, distance: Distance) -> DateBand:
        """Give the morning by which a true distance is reached, or was.

        A distance already run is one day, on the line between two points; one run before the first
        point was reached at the mean rate, or is known only to have been reached by that point.
        """
        if not self.points:
            return DateBand(p10=None, p50=None, p90=None)
        if distance <= self.points[0].distance + _NO_DISTANCE:
            day = self._long_ago(distance)
            return DateBand(p10=day, p50=day, p90=day)
        if distance <= self.points[-1].distance + _NO_DISTANCE:
            day = self._passed(min(distance, self.points[-1].distance))
            return DateBand(p10=day, p50=day, p90=day)
        return DateBand(
            p10=self._ahead(distance, self.basis.fastest, is_first=True),
            p50=self._ahead(distance, self.basis.a_day, is_first=False),
            p90=self._ahead(distance, self.basis.slowest, is_first=False),
        )

    def _ahead(self, distance: Distance, rate: float | None, *, is_first: bool) -> date | None:
        """Give the morning on which a distance is reached at a rate, at least a day ahead.

        The earliest of the three is rounded down to a day, the others up.
        """
        last = self.points[-1]
        if not rate:
            return None
        days = (distance - last.distance) / rate
        if days > (self.horizon - last.on).days + 1:
            return None
        driven = max(floor(days + _NOISE) if is_first else ceil(days - _NOISE), 1)
        day = self.clock.morning(self.clock.before(last.on) + driven)
        return day if day is not None and day <= self.horizon else None

    def _passed(self, distance: Distance) -> date:
        after = bisect_left(self.points, distance, key=lambda point: point.distance)
        one, other = self.points[after - 1], self.points[after]
        share = (distance - one.distance) / (other.distance - one.distance)
        begun = self.clock.before(one.on)
        days = self.clock.before(other.on) - begun
        day = self.clock.morning(begun + ceil(share * days - _NOISE)) if days else None
        if day is None:  # run while it was laid up: believed, and spread evenly
            day = one.on + timedelta(days=ceil(share * (other.on - one.on).days - _NOISE))
        return day

    def _long_ago(self, distance: Distance) -> date:
        first = self.points[0]
        if not self.basis.a_day:
            return first.on
        days = floor(max(first.distance - distance, 0.0) / self.basis.a_day + _NOISE)
        return self.clock.morning(self.clock.before(first.on) - days) or first.on


def plain_rate(
    odometer: Odometer, *, today: date, laid_up: Sequence[tuple[date, date | None]]
) -> PlainRate:
    """Take the mean rate over the driving days between the first and the last known distance.

    The band is the slowest and the fastest rate between neighbors, those with fewer than 14 driving
    days between them taken together; with one stretch only, half and twice the mean. Distance run
    while the car was laid up is believed, but the clock stands still.
    """
    points = odometer.points
    clock = driving_days(laid_up)
    driven = clock.before(points[-1].on) - clock.before(points[0].on) if points else 0
    mean: Distance | None = None
    yearly: Distance | None = None
    slowest: Distance | None = None
    fastest: Distance | None = None
    band = BandFrom.NO_RATE
    if driven:
        mean = Distance((points[-1].distance - points[0].distance) / driven)
        year_on = points[-1].on + timedelta(days=365)
        yearly = Distance(mean * (clock.before(year_on) - clock.before(points[-1].on)))
        rates = _rates(points, clock)
        if len(rates) > 1:
            band, slowest, fastest = BandFrom.SLOWEST_AND_FASTEST, min(rates), max(rates)
        else:
            band = BandFrom.HALF_AND_TWICE
            slowest, fastest = Distance(mean / 2), Distance(mean * 2)
    last = odometer.last()
    return PlainRate(
        points=points,
        clock=clock,
        horizon=date.fromordinal(min(today.toordinal() + HORIZON_DAYS, date.max.toordinal())),
        yearly=yearly,
        basis=UseBasis(
            last=None
            if last is None
            else LastReading(record=last.reading.record, on=last.reading.on, shown=last.shown),
            readings=len(odometer.sound),
            held_back=len(odometer.placed) - len(odometer.sound),
            first_on=points[0].on if points else None,
            last_on=points[-1].on if points else None,
            driving_days=driven,
            a_day=mean,
            slowest=slowest,
            fastest=fastest,
            band=band,
            laid_up=tuple(
                (span.first, None if span.last == date.max else span.last)
                for span in clock.spans
                if points and span.last >= points[0].on
            ),
            notes=odometer.notes,
        ),
    )


def _rates(points: Sequence[Point], clock: DrivingDays) -> Sequence[Distance]:
    """Give the rate of each stretch of 14 driving days or more; what is left joins the last."""
    ends = [points[0]]
    for point in points[1:]:
        if clock.before(point.on) - clock.before(ends[-1].on) >= STRETCH_DAYS:
            ends.append(point)
    if len(ends) > 1:
        ends[-1] = points[-1]
    return [
        Distance((other.distance - one.distance) / (clock.before(other.on) - clock.before(one.on)))
        for one, other in pairwise(ends)
    ]
