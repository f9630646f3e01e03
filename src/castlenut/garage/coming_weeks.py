"""The next weeks at a glance, before any plan is made: hours booked, and windows that close."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.order import rows
from castlenut.domain.visits.line import Weekday
from castlenut.domain.window_days import window_days
from castlenut.domain.working import State
from castlenut.garage.garage import Garage
from castlenut.garage.visits import open_hours, visit_hours

WEEKS = 8
_STAY_OPEN = frozenset({State.OVERDUE, State.DUE, State.AHEAD})


@dataclass(frozen=True, slots=True, kw_only=True)
class CarWeeks:
    """What one car brings into the next weeks, by the Monday of each.

    `closing` counts the lines of work whose window closes in the week, `overdue` those whose window
    is closed; `booked` has the hours of its booked visits.
    """

    closing: Mapping[date, int]
    overdue: int
    booked: Mapping[date, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class ComingWeek:
    """A week of all cars: hours booked of those there are, and how many windows close in it."""

    monday: date
    booked: float
    capacity: float
    closing: int


def weeks_of_car(garage: Garage, today: CarToday) -> CarWeeks:
    """Give what a car brings into the weeks; the owner's own checks left aside."""
    closing, overdue = Counter[date](), 0
    items = [each for each in today.items if each.state in _STAY_OPEN]
    for row in rows([each for each in items if not each.rule.is_own_check]):
        closes = window_days(row.first, today).closes
        if row.first.state is State.OVERDUE:
            overdue += 1
        elif closes is not None:
            closing[_monday(closes)] += 1
    booked: defaultdict[date, float] = defaultdict(float)
    for visit in today.car.booked_from(today.today):
        booked[_monday(visit.on)] += visit_hours(garage, today, visit)
    return CarWeeks(closing=closing, overdue=overdue, booked=booked)


def coming_weeks(garage: Garage, cars: Sequence[CarWeeks]) -> tuple[ComingWeek, ...]:
    """Put the cars together, for this week and those that follow it."""
    today, settings = garage.today_date, garage.settings
    hours, week_days = open_hours(settings), tuple(Weekday)
    first = _monday(today)
    found = []
    for number in range(WEEKS):
        monday = first + timedelta(days=7 * number)
        days = [monday + timedelta(days=each) for each in range(7)]
        open_days = [day for day in days if day >= today and day not in settings.closed]
        found.append(
            ComingWeek(
                monday=monday,
                booked=sum(each.booked.get(monday, 0.0) for each in cars),
                capacity=sum(hours[week_days[day.weekday()]] for day in open_days),
                closing=sum(each.closing.get(monday, 0) for each in cars),
            )
        )
    return tuple(found)


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())
