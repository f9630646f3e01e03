"""What every item of one car rests on, put together once: distance, use, events, work done."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.car import Car
from castlenut.domain.component import Component
from castlenut.domain.dial_history import history_of, owner_of
from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import Job, Measurement, Statement
from castlenut.domain.ids import ItemId, RecordId
from castlenut.domain.matching import About, Circumstances, about_of, circumstances
from castlenut.domain.odometer import Odometer
from castlenut.domain.place import Place, touches
from castlenut.domain.rules.distances import exact
from castlenut.domain.rules.rule import Rule
from castlenut.domain.units import Distance, Unit
from castlenut.domain.use.estimate import DistanceBand, Use
from castlenut.domain.use.forecast import forecast
from castlenut.domain.vehicle import LAID_UP, Exposure
from castlenut.domain.working import DialRead


@dataclass(frozen=True, slots=True, kw_only=True)
class EventHere:
    """An event of the car's record. `record` is the happening, or the job that raised it."""

    name: str
    record: RecordId
    on: date
    at: Decimal | None
    distance: Distance | None
    place: Place | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """One car on a day, made ready to be asked for all its items.

    `distances` keeps those asked for: many items rest on the same few jobs.
    """

    car: Car
    today: date
    south: bool
    odometer: Odometer
    use: Use
    distance_today: DistanceBand | None
    dial_read: DialRead
    around: Circumstances
    in_work_since: date | None
    layup: Exposure | None
    run_at: Mapping[RecordId, Distance | None]
    done: Mapping[ItemId, Sequence[tuple[Job, bool]]]
    done_by: Mapping[RecordId, str | None]
    visits: Sequence[Job]
    events: Mapping[str, Sequence[EventHere]]
    measured: Mapping[str, Sequence[Measurement]]
    checked: Mapping[ItemId, Sequence[Measurement]]
    stated: Mapping[About, Sequence[Statement]]
    distances: dict[tuple[Decimal, date | None], Distance | None]

    @property
    def unit(self) -> Unit:
        """Give the unit that all distances of this car are in."""
        return self.car.vehicle.dial.unit

    def distance_of(self, at: Decimal | None, on: date | None) -> Distance | None:
        """Give the true distance at which the dial showed a figure on a day."""
        if at is None:
            return None
        known = self.distances
        if (at, on) not in known:
            known[at, on] = self.odometer.distance_of(at, on)
        return known[at, on]

    def length(self, distance: Fraction, rule: Rule) -> Fraction:
        """Give a bare distance of a rule in the car's unit."""
        return exact(distance, given=rule.unit, wanted=self.unit)


def ground(car: Car, *, today: date, south: bool) -> Ground:
    """Put together what the items of a car rest on; the record is taken as of that day."""
    dial = history_of(car, south=south)
    use = forecast(dial, today=today, owner=owner_of(car, south=south))
    stay = car.stay_on(today)
    run_at = {
        job.record: None if job.at is None else dial.distance_of(job.at, job.on) for job in car.jobs
    }
    done: dict[ItemId, list[tuple[Job, bool]]] = defaultdict(list)
    for job in car.jobs:
        for item in job.items:
            done[item].append((job, False))
        for item in job.includes:
            done[item].append((job, True))
    measured: dict[str, list[Measurement]] = defaultdict(list)
    checked: dict[ItemId, list[Measurement]] = defaultdict(list)
    for each in car.measurements:
        if each.measure is not None:
            measured[each.measure].append(each)
        elif each.item is not None:
            checked[each.item].append(each)
    stated: dict[About, list[Statement]] = defaultdict(list)
    for statement in car.statements:
        stated[about_of(statement)].append(statement)
    now = use.distance_on(today)
    return Ground(
        car=car,
        today=today,
        south=south,
        odometer=dial,
        use=use,
        distance_today=now,
        dial_read=DialRead(
            today=today,
            p10=None if now is None else dial.shown_of(now.p10),
            p50=None if now is None else dial.shown_of(now.p50),
            p90=None if now is None else dial.shown_of(now.p90),
            basis=use.basis,
        ),
        around=circumstances(car, today),
        in_work_since=stay.since if stay else None,
        layup=max(
            (each for each in car.exposures if each.name == LAID_UP and each.holds_on(today)),
            key=lambda each: each.since,
            default=None,
        ),
        run_at=run_at,
        done=done,
        done_by={job.record: job.by for job in car.jobs},
        visits=tuple(job for job in car.jobs if job.by is None),
        events=_events(car, dial, run_at, today),
        measured=measured,
        checked=checked,
        stated=stated,
        distances={},
    )


def _events(
    car: Car, dial: Odometer, run_at: Mapping[RecordId, Distance | None], today: date
) -> Mapping[str, Sequence[EventHere]]:
    """Gather the events of the record by name.

    Those are the recorded ones, those that jobs raised, the jobs themselves by the ids of their
    rules, and the first and last days of lay-ups.
    """
    places = {part.record: part for part in car.components}
    found: dict[str, list[EventHere]] = defaultdict(list)

    def add(
        name: str,
        record: RecordId,
        on: date,
        at: Decimal | None = None,
        distance: Distance | None = None,
        place: Place | None = None,
    ) -> None:
        found[name].append(
            EventHere(name=name, record=record, on=on, at=at, distance=distance, place=place)
        )

    for each in car.happenings:
        distance = None if each.at is None else dial.distance_of(each.at, each.on)
        # what was saved in one entry with a job counts as raised by it
        add(each.event, each.job or each.record, each.on, each.at, distance, each.place)
    for job in car.jobs:
        distance = run_at[job.record]
        for raised in job.events:
            add(raised.event, job.record, job.on, job.at, distance, raised.place)
        for item in (*job.items, *job.includes):
            part = places.get(item.component)
            place = part.place_on(job.on) if part else None
            add(item.rule, job.record, job.on, job.at, distance, place)
    for exposure in car.exposures:
        if exposure.name == LAID_UP and exposure.since <= today:
            add("layup", exposure.record, exposure.since)
            if exposure.until is not None and exposure.until <= today:
                add("layup-end", exposure.record, exposure.until)
    for events in found.values():
        events.sort(key=lambda event: (event.on, event.record, str(event.place)))
    return found


def reaches(event: EventHere, component: Component) -> bool:
    """Tell whether an event concerns a component: it was on the car then, and stood there."""
    if component.on is not None and event.on < component.on:
        return False
    return touches(event.place, component.place_on(event.on))
