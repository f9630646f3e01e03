"""The weeks of the whole garage: all cars' visits against the hours there are."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from datetime import date, timedelta
from types import MappingProxyType

from castlenut.domain.frozen import dataclass
from castlenut.domain.item import Item
from castlenut.domain.visits.line import Weekday
from castlenut.domain.visits.of_car import calendar_of
from castlenut.domain.visits.plan import Visit
from castlenut.domain.visits.weeks import Load, Placed, Wanted, load
from castlenut.domain.window_days import window_days
from castlenut.garage.garage import Garage
from castlenut.garage.visits import (
    CarAsked,
    CarVisits,
    ask,
    better_of,
    open_hours,
    planned,
    terms_of,
)

_NONE: Mapping[str, CarVisits] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """An item in a visit. `closes_on` None: no day is known; `is_past`: no open day was left."""

    item: Item
    closes_on: date | None
    is_past: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedVisit:
    """A visit of some car, proposed or booked, in the garage's weeks.

    `called`: the car as on the board. `by_on`: the first close of its jobs.
    """

    slug: str
    called: str
    on: date
    by_on: date
    hours: float
    is_booked: bool
    jobs: tuple[Job, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GarageWeeks:
    """All cars' visits against the hours there are. `load` names them by their place in `visits`.

    `cars` has the plan of each, `days_sooner` how many days before its own a visit may begin.
    """

    visits: tuple[PlannedVisit, ...]
    load: Load
    capacity: Mapping[date, float]
    cars: Mapping[str, CarVisits]
    days_sooner: int

    @property
    def cannot(self) -> tuple[tuple[str, int], ...]:
        """Give by car for how many items no open day is left."""
        return tuple(
            (slug, len(each.plan.cannot)) for slug, each in self.cars.items() if each.plan.cannot
        )

    def called(self, slug: str) -> str:
        """Give a car as it is called on the board."""
        return self.cars[slug].today.car.vehicle.description

    @property
    def unproved(self) -> tuple[str, ...]:
        """Give the cars whose plan is not proved."""
        return tuple(slug for slug, each in self.cars.items() if not each.plan.is_proved)

    @property
    def booked_hours(self) -> Mapping[date, float]:
        """Give the hours worked for booked visits, by the Monday of their week."""
        found: dict[date, float] = {}
        for visit, placed in zip(self.visits, self.load.visits, strict=True):
            if visit.is_booked:
                for stint in placed.work:
                    monday = stint.on - timedelta(days=stint.on.weekday())
                    found[monday] = found.get(monday, 0.0) + stint.hours
        return found

    @property
    def unplaced_hours(self) -> Mapping[date, float]:
        """Give the hours that do not fit, by the Monday of the week their visit is in."""
        found: dict[date, float] = {}
        for visit, placed in zip(self.visits, self.load.visits, strict=True):
            if placed.unplaced:
                monday = visit.on - timedelta(days=visit.on.weekday())
                found[monday] = found.get(monday, 0.0) + placed.unplaced
        return found

    def fits_from(self, visit: PlannedVisit, placed: Placed) -> date | None:
        """Give the day before its own from which a visit would fit; None: there is none."""
        taken: dict[date, float] = {}
        for each in self.load.visits:
            for stint in each.work:
                taken[stint.on] = taken.get(stint.on, 0.0) + stint.hours
        missing = placed.unplaced
        for day in sorted((each for each in self.capacity if each < visit.on), reverse=True):
            missing -= self.capacity[day] - taken.get(day, 0.0)
            if missing <= 0:
                return day
        return None

    def life_from(self, visit: PlannedVisit, day: date) -> float | None:
        """Give what a proposed visit gives up by being on an earlier day; None: it is booked."""
        car = self.cars[visit.slug]
        there = next((each for each in car.plan.visits if each.on == visit.on), None)
        if visit.is_booked or there is None:
            return None
        return car.moving().life_on(there, day)

    def in_week(self, monday: date) -> tuple[PlannedVisit, ...]:
        """Give the visits that begin in a week."""
        return tuple(each for each in self.visits if monday <= each.on < monday + timedelta(days=7))


def ask_all(
    garage: Garage, slugs: Sequence[str], *, turn: AbstractContextManager[object] | None = None
) -> Mapping[str, CarAsked]:
    """Make cars ready to be planned. `turn`: held for each, where others ask the garage too.

    Raises:
        BadInput: the garage has no open hours at all.
    """
    found: dict[str, CarAsked] = {}
    for slug in slugs:
        with turn or nullcontext():
            found[slug] = ask(garage, slug)
    return found


def weeks_of(
    garage: Garage,
    asked: Mapping[str, CarAsked],
    *,
    may_go_on: Callable[[int], Callable[[], bool]],
    days_sooner: int = 0,
    known: Mapping[str, CarVisits] = _NONE,
) -> GarageWeeks:
    """Plan all cars and put their visits into the weeks.

    `may_go_on` gives, for a number of cars still to be planned, how long the next may take.
    `days_sooner`: how many days before its own a visit may begin. `known`: plans made already;
    those that are proved are not made again, of the others the better one is kept.
    """
    cars = {slug: known[slug] for slug in asked if slug in known}
    ahead = [slug for slug in asked if slug not in cars or not cars[slug].plan.is_proved]
    for place, slug in enumerate(ahead):
        found = planned(asked[slug], may_go_on=may_go_on(len(ahead) - place))
        cars[slug] = better_of(cars[slug], found) if slug in cars else found
    cars = {slug: cars[slug] for slug in asked}
    visits = [each for slug, found in cars.items() for each in _visits(slug, found)]
    visits.sort(key=lambda each: (each.on, each.slug))
    settings, terms = garage.settings, terms_of(garage)
    hours = open_hours(settings)
    week_days = tuple(Weekday)
    days = {
        day: 0.0 if day in settings.closed else hours[week_days[day.weekday()]]
        for day in _days(garage.today_date, terms.until)
    }
    wanted = [
        Wanted(
            id=str(place),
            hours=each.hours,
            from_on=max(garage.today_date, each.on - timedelta(days=days_sooner)),
            by_on=max(each.on, each.by_on),
        )
        for place, each in enumerate(visits)
    ]
    calendar = calendar_of(terms, today=garage.today_date)
    return GarageWeeks(
        visits=tuple(visits),
        load=load(wanted, calendar, day_hours=max(hours.values()), days=days),
        capacity={day: there for day, there in days.items() if there > 0},
        cars=cars,
        days_sooner=days_sooner,
    )


def _visits(slug: str, found: CarVisits) -> Iterator[PlannedVisit]:
    items = found.of_car.items
    for visit in found.plan.visits:
        yield PlannedVisit(
            slug=slug,
            called=found.today.car.vehicle.description,
            on=visit.on,
            by_on=last_day_of(visit),
            hours=visit.hours,
            is_booked=False,
            jobs=tuple(
                Job(
                    item=items[each.item],
                    closes_on=each.closes_on,
                    is_past=not each.occurrence.is_kept,
                )
                for each in visit.doings
            ),
        )
    for record in found.booked:
        jobs = [item for item in found.today.items if item.id in record.items]
        closes = [window_days(item, found.today).closes for item in jobs]
        yield PlannedVisit(
            slug=slug,
            called=found.today.car.vehicle.description,
            on=record.on,
            by_on=record.on,
            hours=found.hours[record.record],
            is_booked=True,
            jobs=tuple(
                Job(item=item, closes_on=day, is_past=day is not None and day < record.on)
                for item, day in zip(jobs, closes, strict=True)
            ),
        )


def last_day_of(visit: Visit) -> date:
    """Give the last day on which the work of a visit must be done: its last stint, or its close."""
    closes = min((each.closes_on for each in visit.doings), default=visit.on)
    return max([visit.on, closes, *(stint.on for stint in visit.work)])


def _days(first: date, last: date) -> Iterator[date]:
    while first <= last:
        yield first
        first += timedelta(days=1)
