"""Visits asked: the plan of one car, and the weeks of the whole garage."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from datetime import date, timedelta

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.months import months_after
from castlenut.domain.vehicle import VisitRecord
from castlenut.domain.visits.at_risk import AtRisk, at_risk
from castlenut.domain.visits.line import Weekday
from castlenut.domain.visits.of_car import Booked, OfCar, Terms, calendar_of, line_of, needed
from castlenut.domain.visits.plan import Plan, Visit, plan_visits
from castlenut.domain.visits.weeks import Load, Placed, Wanted, load
from castlenut.garage.garage import Garage
from castlenut.garage.settings import Settings

NO_RATE = 1.0
"""Where no hourly rate is set, an hour counts one, and a visit as much as an hour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CarVisits:
    """A car's plan, with what is booked and refused.

    `hours` of the booked ones, by record. `has_money` False: no rate is set.
    """

    today: CarToday
    of_car: OfCar
    plan: Plan
    at_risk: tuple[AtRisk, ...]
    booked: tuple[VisitRecord, ...]
    refused: tuple[date, ...]
    hours: Mapping[RecordId, float]
    has_money: bool


def terms_of(garage: Garage, *, refused: Sequence[date] = (), until: date | None = None) -> Terms:
    """Give what the garage plans by, from its settings."""
    settings = garage.settings
    rate, cost = settings.hourly_rate, settings.visit_cost
    hourly = NO_RATE if rate is None else float(rate)
    return Terms(
        until=until or months_after(garage.today_date, settings.horizon_months),
        visit_cost=hourly if cost is None else float(cost),
        hourly_rate=hourly,
        hours=open_hours(settings),
        closed=settings.closed,
        refused=tuple(refused),
    )


def open_hours(settings: Settings) -> Mapping[Weekday, float]:
    """Give the open hours by weekday."""
    return {day: float(settings.hours.get(day.value, 0)) for day in Weekday}


@dataclass(frozen=True, slots=True, kw_only=True)
class CarAsked:
    """A car made ready to be planned: all that the garage is asked for."""

    today: CarToday
    of_car: OfCar
    booked: tuple[VisitRecord, ...]
    refused: tuple[date, ...]
    hours: Mapping[RecordId, float]
    has_money: bool


def ask(garage: Garage, slug: str, *, until: date | None = None) -> CarAsked:
    """Make a car ready to be planned.

    Raises:
        BadInput: the garage has no open hours at all, or the end is before today.
        CannotRead: its file cannot be read.
    """
    if until is not None and until < garage.today_date:
        raise BadInput(Fault(f"{until.isoformat()} is past", "--until", "give a day to come"))
    today = garage.today(slug)
    booked = today.car.booked_from(today.today)
    refused = tuple(sorted(each.on for each in today.car.visits if each.is_refused))
    return CarAsked(
        today=today,
        of_car=line_of(
            today,
            garage.book,
            terms_of(garage, refused=refused, until=until),
            [Booked(on=each.on, items=frozenset(each.items)) for each in booked],
        ),
        booked=booked,
        refused=tuple(day for day in refused if day >= garage.today_date),
        hours={each.record: visit_hours(garage, today, each) for each in booked},
        has_money=garage.settings.hourly_rate is not None,
    )


def planned(asked: CarAsked, *, may_go_on: Callable[[], bool]) -> CarVisits:
    """Plan a car that was made ready; the garage is not asked any more."""
    plan = plan_visits(asked.of_car.line, may_go_on=may_go_on)
    return CarVisits(
        today=asked.today,
        of_car=asked.of_car,
        plan=plan,
        at_risk=at_risk(asked.of_car.line, plan),
        booked=asked.booked,
        refused=asked.refused,
        hours=asked.hours,
        has_money=asked.has_money,
    )


def visits_of(
    garage: Garage, slug: str, *, may_go_on: Callable[[], bool], until: date | None = None
) -> CarVisits:
    """Plan the visits of a car.

    Raises:
        BadInput: the garage has no open hours at all, or the end is before today.
        CannotRead: its file cannot be read.
    """
    return planned(ask(garage, slug, until=until), may_go_on=may_go_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedVisit:
    """A visit of some car, proposed or booked, in the garage's weeks. `by_on`: its first close."""

    slug: str
    on: date
    by_on: date
    hours: float
    is_booked: bool
    jobs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class GarageWeeks:
    """All cars' visits against the hours there are. `load` names them by their place in `visits`.

    `cannot` has, by car, how many no open day is left for; `unproved` the cars whose plan is not
    proved.
    """

    visits: tuple[PlannedVisit, ...]
    load: Load
    capacity: Mapping[date, float]
    cannot: tuple[tuple[str, int], ...]
    unproved: tuple[str, ...]

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

    def in_week(self, monday: date) -> tuple[PlannedVisit, ...]:
        """Give the visits that begin in a week."""
        return tuple(each for each in self.visits if monday <= each.on < monday + timedelta(days=7))


def weeks_of(
    garage: Garage,
    slugs: Sequence[str],
    *,
    may_go_on: Callable[[int], Callable[[], bool]],
    days_sooner: int = 0,
    turn: AbstractContextManager[object] | None = None,
) -> GarageWeeks:
    """Plan all cars and put their visits into the weeks.

    `may_go_on` gives, for a number of cars still to be planned, how long the next may take.
    `days_sooner`: how many days before its own a visit may begin. `turn`: held while the garage is
    asked, where others ask it too.

    Raises:
        BadInput: the garage has no open hours at all.
    """
    visits: list[PlannedVisit] = []
    cannot: list[tuple[str, int]] = []
    unproved: list[str] = []
    for place, slug in enumerate(slugs):
        with turn or nullcontext():
            asked = ask(garage, slug)
        found = planned(asked, may_go_on=may_go_on(len(slugs) - place))
        visits.extend(_visits(slug, found))
        if found.plan.cannot:
            cannot.append((slug, len(found.plan.cannot)))
        if not found.plan.is_proved:
            unproved.append(slug)
    visits.sort(key=lambda each: (each.on, each.slug))
    settings, terms = garage.settings, terms_of(garage)
    calendar = calendar_of(terms, today=garage.today_date)
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
    return GarageWeeks(
        visits=tuple(visits),
        load=load(wanted, calendar, day_hours=max(hours.values()), days=days),
        capacity={day: there for day, there in days.items() if there > 0},
        cannot=tuple(cannot),
        unproved=tuple(unproved),
    )


def _visits(slug: str, found: CarVisits) -> Iterator[PlannedVisit]:
    for visit in found.plan.visits:
        yield PlannedVisit(
            slug=slug,
            on=visit.on,
            by_on=last_day_of(visit),
            hours=visit.hours,
            is_booked=False,
            jobs=len(visit.doings),
        )
    for each in found.booked:
        hours = found.hours[each.record]
        yield PlannedVisit(
            slug=slug,
            on=each.on,
            by_on=each.on,
            hours=hours,
            is_booked=True,
            jobs=len(each.items),
        )


def last_day_of(visit: Visit) -> date:
    """Give the last day on which the work of a visit must be done: its last stint, or its close."""
    closes = min((each.closes_on for each in visit.doings), default=visit.on)
    return max([visit.on, closes, *(stint.on for stint in visit.work)])


def visit_hours(garage: Garage, today: CarToday, booked: VisitRecord) -> float:
    """Give the hours of a booked visit: as written down, else those of its jobs and openings."""
    if booked.hours is not None:
        return float(booked.hours)
    book = garage.book
    jobs = [item for item in today.items if item.id in booked.items]
    opened = dict.fromkeys(one for item in jobs for one in needed(item, today, book))
    return float(
        sum(item.rule.hours for item in jobs) + sum(book.accesses[one.key].hours for one in opened)
    )


def _days(first: date, last: date) -> Iterator[date]:
    while first <= last:
        yield first
        first += timedelta(days=1)
