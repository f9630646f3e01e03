"""Visits asked: the plan of one car."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import RecordId
from castlenut.domain.months import months_after
from castlenut.domain.opened import Opened
from castlenut.domain.vehicle import VisitRecord
from castlenut.domain.visits.at_risk import AtRisk, at_risk
from castlenut.domain.visits.line import Weekday
from castlenut.domain.visits.moving import Moving
from castlenut.domain.visits.of_car import Booked, OfCar, Terms, access_name, line_of, needed
from castlenut.domain.visits.plan import Plan, plan_visits
from castlenut.garage.garage import Garage
from castlenut.garage.settings import Settings

NO_RATE = 1.0
"""Where no hourly rate is set, an hour counts one, and a visit as much as an hour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CarVisits:
    """A car's plan, with what is booked and refused.

    `waiting`: booked for a day that is past, and not told done. `hours` of the booked ones, by
    record; `open_on`: what is open on their days. `has_money` False: no rate is set.
    """

    today: CarToday
    of_car: OfCar
    plan: Plan
    at_risk: tuple[AtRisk, ...]
    booked: tuple[VisitRecord, ...]
    waiting: tuple[VisitRecord, ...]
    refused: tuple[date, ...]
    hours: Mapping[RecordId, float]
    open_on: Mapping[date, frozenset[str]]
    has_money: bool

    def moving(self) -> Moving:
        """Give the plan as one whose items may be moved, booked visits being there anyway."""
        return Moving(self.of_car.line, self.plan, in_anyway=self.open_on)


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
    waiting: tuple[VisitRecord, ...]
    refused: tuple[date, ...]
    hours: Mapping[RecordId, float]
    open_on: Mapping[date, frozenset[str]]
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
    all_booked = today.car.booked_from(date.min)
    waiting = tuple(each for each in all_booked if each not in booked)
    opened = {each.on: _opened(garage, today, each) for each in booked}
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
        waiting=waiting,
        refused=tuple(day for day in refused if day >= garage.today_date),
        hours={each.record: visit_hours(garage, today, each) for each in all_booked},
        open_on={day: frozenset(map(access_name, each)) for day, each in opened.items()},
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
        waiting=asked.waiting,
        refused=asked.refused,
        hours=asked.hours,
        open_on=asked.open_on,
        has_money=asked.has_money,
    )


def better_of(one: CarVisits, other: CarVisits) -> CarVisits:
    """Give the cheaper of two plans of a car, with what is known below either."""
    best = one if one.plan.cost.total <= other.plan.cost.total else other
    bound = min(best.plan.cost.total, max(one.plan.bound, other.plan.bound))
    return replace(best, plan=replace(best.plan, bound=bound))


def visits_of(
    garage: Garage, slug: str, *, may_go_on: Callable[[], bool], until: date | None = None
) -> CarVisits:
    """Plan the visits of a car.

    Raises:
        BadInput: the garage has no open hours at all, or the end is before today.
        CannotRead: its file cannot be read.
    """
    return planned(ask(garage, slug, until=until), may_go_on=may_go_on)


def visit_hours(garage: Garage, today: CarToday, booked: VisitRecord) -> float:
    """Give the hours of a booked visit: as written down, else those of its jobs and openings."""
    if booked.hours is not None:
        return float(booked.hours)
    jobs = [item for item in today.items if item.id in booked.items]
    accesses = garage.book.accesses
    opened = _opened(garage, today, booked)
    return float(
        sum(item.rule.hours for item in jobs) + sum(accesses[one.key].hours for one in opened)
    )


def _opened(garage: Garage, today: CarToday, booked: VisitRecord) -> tuple[Opened, ...]:
    """Give what is opened in a booked visit, each once."""
    jobs = [item for item in today.items if item.id in booked.items]
    return tuple(dict.fromkeys(one for item in jobs for one in needed(item, today, garage.book)))
