"""One car's dial: what was read on it, put in its place the same way for everyone who asks."""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date

from castlenut.domain.car import Car, as_of
from castlenut.domain.dial import Reading
from castlenut.domain.frozen import dataclass
from castlenut.domain.odometer import Odometer
from castlenut.domain.use.by_use import placed
from castlenut.domain.use.estimate import Use
from castlenut.domain.use.forecast import Owner, forecast


@dataclass(frozen=True, slots=True, kw_only=True)
class DialToday:
    """One car's dial on a day: the record as of then, its readings in place, and its use."""

    car: Car
    today: date
    odometer: Odometer
    use: Use


def dial_today(car: Car, *, today: date, south: bool) -> DialToday:
    """Give a car's dial and use on a day; what is dated later is left out."""
    seen = as_of(car, today)
    found = history_of(seen, south=south)
    use = forecast(found, today=today, owner=owner_of(seen, south=south))
    return DialToday(car=seen, today=today, odometer=found, use=use)


def readings_of(car: Car) -> Sequence[Reading]:
    """Give the readings, and the dial figures read when jobs were done: they are readings as well.

    Not one that was estimated, nor one that stands among the readings of that day already. Among
    those of its day a job's figure comes before the first that is higher.
    """
    unit = car.vehicle.dial.unit
    by_day: dict[date, list[Reading]] = defaultdict(list)
    for reading in car.readings:
        by_day[reading.on].append(reading)
    for job in sorted(car.jobs, key=lambda job: job.record):
        if job.at is None or job.estimated:
            continue
        that_day = by_day[job.on]
        shown = [reading.shown(unit) for reading in that_day]
        if job.at in shown:
            continue
        at = next((at for at, figure in enumerate(shown) if figure > job.at), len(shown))
        that_day.insert(at, Reading(record=job.record, on=job.on, figure=job.at, unit=unit))
    return [reading for that_day in by_day.values() for reading in that_day]


def owner_of(car: Car, *, south: bool) -> Owner:
    """Give what is said of a car's use, beside its readings."""
    return Owner(
        declared=car.vehicle.use,
        first_use_year=car.vehicle.year,
        laid_up=car.laid_up(),
        south=south,
    )


def history_of(car: Car, *, south: bool) -> Odometer:
    """Give a car's dial history, the figures read when jobs were done among it."""
    owner = owner_of(car, south=south)
    return placed(car.vehicle.dial, readings_of(car), car.dial_events, owner)
