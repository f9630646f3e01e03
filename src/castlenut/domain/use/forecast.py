"""The forecast of a car's use: when it gets where, and how far it is on a day."""

from collections.abc import Sequence
from datetime import date, timedelta

from castlenut.domain.frozen import dataclass
from castlenut.domain.oddity import Cause
from castlenut.domain.odometer import Odometer
from castlenut.domain.pieces import Driven
from castlenut.domain.units import Distance, Unit, convert
from castlenut.domain.use.ahead import Ahead
from castlenut.domain.use.almanac import Almanac
from castlenut.domain.use.estimate import (
    NO_DAY,
    BandFrom,
    DateBand,
    DistanceBand,
    LastReading,
    Outlook,
    UseBasis,
)
from castlenut.domain.use.habit import DrivingDays, driving_days
from castlenut.domain.use.past import NO_DISTANCE, Past
from castlenut.domain.use.posterior import Belief, Run, posterior, prior
from castlenut.domain.use.ways import GOOD_MONTHS, Season
from castlenut.domain.vehicle import Use

HORIZON_DAYS = 3_650
_NEW_YEARS = 25  # a younger car's dial tells how it was driven, if it cannot have passed its end
_ROUND_YEARS = 5  # in fewer no older car passes the end of five digits
_MOST_RUNS = 40  # so that a car read every week is not slower than any other
_SHORT_DAYS = 31
_MOSTLY = 0.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Owner:
    """What is said of a car's use, beside its readings. `south`: its summer is in December."""

    declared: Use | None = None
    first_use_year: int | None = None
    laid_up: tuple[tuple[date, date | None], ...] = ()
    south: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """Where a forecast begins: on the morning of a reading, with what is believed then."""

    since: date
    unit: Unit
    almanac: Almanac
    ahead: Ahead
    beliefs: Sequence[Belief]

    def expected(self, first: date, last: date) -> float:
        """Give the miles thought to be driven between two mornings, also before the start.

        Of the use now: its season and the lay-ups told of are counted in, a change of use is not.
        """
        years = dict(zip(Season, self.almanac.between(first, last), strict=True))
        return sum(
            years[belief.way.season]
            * sum(rate * chance for rate, chance in zip(belief.rates, belief.driven, strict=True))
            for belief in self.beliefs
        )

    def days_to(self, day: date) -> int:
        """Give the days from the start to a day, 0 for a day before it."""
        return self.ahead.days_to(day)

    def driven_by(self, day: date) -> DistanceBand:
        """Give the distance driven since the start by the morning of a day."""
        days = self.days_to(day)
        p10, p50, p90 = (
            Distance(convert(self.ahead.miles(part, days), given=Unit.MI, wanted=self.unit))
            for part in (0.1, 0.5, 0.9)
        )
        return DistanceBand(p10=p10, p50=p50, p90=p90)

    def chance(self, distance: float, day: date) -> float:
        """Give the chance that so far is driven since the start by the morning of a day."""
        miles = convert(distance, given=self.unit, wanted=Unit.MI)
        return self.ahead.chance(miles, self.days_to(day))

    def reached(self, distance: float, horizon: date) -> DateBand:
        """Give the mornings by which so far is driven, a day after the start at the earliest.

        The earliest is rounded down to a day, the others up. None: later than the horizon.
        """
        miles = convert(distance, given=self.unit, wanted=Unit.MI)
        most = self.days_to(horizon)
        p10, p50, p90 = self.ahead.mornings(miles, most=most)
        return DateBand(p10=p10, p50=p50, p90=p90)


def start(odometer: Odometer, *, since: date, owner: Owner) -> Start:
    """Learn from what was read up to a morning how a car is used from then on."""
    unit = odometer.dial.unit
    almanac = Almanac(clock=driving_days(owner.laid_up), south=owner.south)
    age = None if owner.first_use_year is None else max(since.year - owner.first_use_year, 0)
    first = prior(owner.declared, age=age, a_year=_by_dial(odometer, age))
    runs = [
        Run(
            first=each.first,
            last=each.last,
            miles=convert(each.distance, given=unit, wanted=Unit.MI),
        )
        for each in odometer.driven
        if each.last <= since
    ]
    beliefs = posterior(first, _thinned(runs), almanac)
    return Start(
        since=since,
        unit=unit,
        almanac=almanac,
        ahead=Ahead(beliefs, since=since, almanac=almanac),
        beliefs=beliefs,
    )


def _thinned(runs: Sequence[Run]) -> Sequence[Run]:
    """Take the latest runs, short ones together: older ones hardly tell more."""
    if len(runs) <= _MOST_RUNS:
        return runs
    thin: list[Run] = []
    for run in runs:
        before = thin[-1] if thin else None
        if before and before.last == run.first and (run.last - before.first).days <= _SHORT_DAYS:
            thin[-1] = Run(first=before.first, last=run.last, miles=before.miles + run.miles)
        else:
            thin.append(run)
    return thin[-_MOST_RUNS:]


def _by_dial(odometer: Odometer, age: int | None) -> float | None:
    """Give the miles a year that a dial tells of, None where it may have passed its end."""
    last = odometer.last()
    if last is None or not age or age >= _NEW_YEARS:
        return None
    if odometer.dial.digits < 6 and age > _ROUND_YEARS:
        return None
    return convert(float(last.shown), given=odometer.dial.unit, wanted=Unit.MI) / age


def outlook(begun: Start, odometer: Odometer, clock: DrivingDays) -> Outlook:
    """Put together what a forecast takes the car's use for."""
    driven = sum(sum(belief.driven) for belief in begun.beliefs)
    seasonal = sum(
        sum(belief.driven) for belief in begun.beliefs if belief.way.season is not Season.ALL_YEAR
    )
    runs = odometer.driven
    return Outlook(
        yearly=begun.driven_by(begun.since + timedelta(days=365)),
        season=_months(begun.almanac) if runs and seasonal > _MOSTLY * driven else None,
        laid_up_chance=1 - driven,
        has_changed=_has_changed(runs, clock),
        longest_days=max(((run.last - run.first).days for run in runs), default=0),
        was_run_laid_up=any(
            run.distance > 0 and clock.before(run.first) == clock.before(run.last) for run in runs
        ),
    )


def _months(almanac: Almanac) -> tuple[int, int]:
    first, last = GOOD_MONTHS
    return ((first + 5) % 12 + 1, (last + 5) % 12 + 1) if almanac.south else (first, last)


def _has_changed(runs: Sequence[Driven], clock: DrivingDays) -> bool:
    """Tell whether the latest year of readings tells of half or twice the use before it."""
    if len(runs) < 4:
        return False
    late = [run for run in runs if (runs[-1].last - run.first).days <= 400]
    early = runs[: len(runs) - len(late)]
    rates = []
    for some in (early, late):
        days = sum(clock.before(run.last) - clock.before(run.first) for run in some)
        if days < 300:
            return False
        rates.append(sum(run.distance for run in some) / days)
    return max(rates) > 2 * min(rates)


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """A car's use as its readings tell it. `horizon` is the last day that is told.

    `past` and `begun` are None where there is no reading.
    """

    past: Past | None
    begun: Start | None
    horizon: date
    yearly: Distance | None
    basis: UseBasis

    def chance(self, distance: Distance, day: date) -> float:
        """Give the chance that a true distance is reached by the morning of a day."""
        if self.past is None or self.begun is None:
            return 0.0
        last = self.past.points[-1]
        if distance <= last.distance + NO_DISTANCE:
            return 1.0 if self.past.reached(distance) <= day else 0.0
        return self.begun.chance(distance - last.distance, day)

    def distance_on(self, day: date) -> DistanceBand | None:
        """Give the true distance on the morning of a day.

        Before the last reading it lies on the line between two, without a band; before the first
        the line goes on backward, to 0 at most.
        """
        if self.past is None or self.begun is None:
            return None
        last = self.past.points[-1]
        if day <= last.on:
            there = self.past.distance_on(day)
            return DistanceBand(p10=there, p50=there, p90=there)
        driven = self.begun.driven_by(day)
        return DistanceBand(
            p10=Distance(last.distance + driven.p10),
            p50=Distance(last.distance + driven.p50),
            p90=Distance(last.distance + driven.p90),
        )

    def reached(self, distance: Distance) -> DateBand:
        """Give the morning by which a true distance is reached, or was: then it is one day."""
        if self.past is None or self.begun is None:
            return NO_DAY
        last = self.past.points[-1]
        if distance <= last.distance + NO_DISTANCE:
            day = self.past.reached(distance)
            return DateBand(p10=day, p50=day, p90=day)
        return self.begun.reached(distance - last.distance, self.horizon)


def forecast(odometer: Odometer, *, today: date, owner: Owner) -> Forecast:
    """Forecast a car's use from its sound readings and from what is said of it."""
    points = odometer.points
    clock = driving_days(owner.laid_up)
    horizon = date.fromordinal(min(today.toordinal() + HORIZON_DAYS, date.max.toordinal()))
    if not points:
        return Forecast(
            past=None,
            begun=None,
            horizon=horizon,
            yearly=None,
            basis=basis(odometer, clock, None),
        )
    begun = start(odometer, since=points[-1].on, owner=owner)
    seen = outlook(begun, odometer, clock)
    driven = clock.before(points[-1].on) - clock.before(points[0].on)
    run = points[-1].distance - points[0].distance
    a_day = run / driven if driven and run else seen.yearly.p50 / 365
    return Forecast(
        past=Past(points=points, clock=clock, a_day=a_day),
        begun=begun,
        horizon=horizon,
        yearly=seen.yearly.p50,
        basis=basis(odometer, clock, seen),
    )


def basis(odometer: Odometer, clock: DrivingDays, seen: Outlook | None) -> UseBasis:
    """Put together what a forecast rests on; `seen` is None where there is no sound reading."""
    points, last = odometer.points, odometer.last()
    yearly = None if seen is None else seen.yearly
    return UseBasis(
        last=None
        if last is None
        else LastReading(record=last.reading.record, on=last.reading.on, shown=last.shown),
        readings=len(odometer.sound),
        held_back=len(odometer.placed) - len(odometer.sound),
        first_on=points[0].on if points else None,
        last_on=points[-1].on if points else None,
        driving_days=clock.before(points[-1].on) - clock.before(points[0].on) if points else 0,
        a_day=None if yearly is None else Distance(yearly.p50 / 365),
        slowest=None if yearly is None else Distance(yearly.p10 / 365),
        fastest=None if yearly is None else Distance(yearly.p90 / 365),
        band=BandFrom.NO_RATE if yearly is None else BandFrom.FORECAST,
        laid_up=tuple(
            (span.first, None if span.last == date.max else span.last)
            for span in clock.spans
            if points and span.last >= points[0].on
        ),
        notes=odometer.notes,
        outlook=seen,
        unconfirmed=sum(
            each.oddity is not None and each.oddity.cause is Cause.ROLLED_OVER
            for each in odometer.sound
        ),
    )
