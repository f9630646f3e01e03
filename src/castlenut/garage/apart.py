"""What else while it is apart, asked for one car."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.apart import Apart, Opening, apart, read_opening
from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.item import Item
from castlenut.domain.months import months_after
from castlenut.domain.rules.rule import Per
from castlenut.domain.visits.of_car import Booked, OfCar, access_name, line_of
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.together import Together, together
from castlenut.garage.garage import Garage
from castlenut.garage.visits import terms_of

NO_RATE = Decimal(1)
"""Where no hourly rate is set, an hour counts one: hours are held against hours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What is worth doing on a day while something is open, over all that follows.

    `items` are those the plan knows, by their names in it. `has_money` False: no rate is set, an
    hour counts one and a visit as much as an hour.
    """

    on: date
    items: Mapping[str, Item]
    found: Together
    has_money: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """What lies behind what is open, made ready to be judged: the garage is not asked any more."""

    on: date
    of_car: OfCar
    opened: frozenset[str]
    has_money: bool


def weighing(garage: Garage, asked: "Asked") -> Weighing:
    """Make what lies behind what is open ready, for the next open day from today on.

    Raises:
        BadInput: the garage has no open hours at all.
    """
    today = asked.today
    car = today.car
    terms = terms_of(garage, refused=[each.on for each in car.visits if each.is_refused])
    booked = [
        Booked(on=each.on, items=frozenset(each.items))
        for each in car.booked_from(today.today + timedelta(days=1))
    ]
    of_car = line_of(today, garage.book, terms, booked)
    day = OpenDays(of_car.line.calendar).first_from(today.today.toordinal())
    if day is None:
        raise AssertionError("a calendar without an open day was let through")
    names = frozenset(access_name(one) for one in asked.found.open)
    return Weighing(
        on=date.fromordinal(day),
        of_car=of_car,
        opened=names & frozenset(of_car.line.access),
        has_money=garage.settings.hourly_rate is not None,
    )


def judged(
    ready: Weighing,
    *,
    may_go_on: Callable[[], bool],
    tell: Callable[[int, int], object] | None = None,
) -> Judged:
    """Judge it over all that follows; `tell` is told how far that is."""
    found = together(
        ready.of_car.line,
        on=ready.on,
        opened=ready.opened,
        doing=frozenset(),
        may_go_on=may_go_on,
        tell=tell,
    )
    return Judged(on=ready.on, items=ready.of_car.items, found=found, has_money=ready.has_money)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What lies behind what is open on a car; `told` beside it, `months` the horizon.

    `hourly_rate` None: the garage has set none, and money is not told.
    """

    today: CarToday
    found: Apart
    hourly_rate: Fraction | None
    months: int
    told: tuple[str, ...]


def apart_on(garage: Garage, slug: str, texts: Sequence[str]) -> Asked:
    """Give what else to do while what the texts name is off: `wheel LF`, `hub LF`, `trim L`.

    Raises:
        BadInput: with every fault: no such access, no place of this car, a place where none counts.
    """
    today = garage.today(slug)
    accesses = garage.book.accesses
    openings: list[Opening] = []
    faults: list[Fault] = []
    told: list[str] = []
    for text in texts:
        try:
            found = read_opening(text, accesses, dual=today.car.vehicle.dual)
        except BadInput as bad:
            faults.extend(bad.faults)
            continue
        openings.append(found)
        if found.place is None and accesses[found.key].per is not Per.CAR:
            told.append(f"{found.key} without a place is every {accesses[found.key].per.value}")
    if faults:
        raise BadInput(*faults)
    rate = garage.settings.hourly_rate
    months = garage.settings.horizon_months
    return Asked(
        today=today,
        found=apart(
            today,
            openings,
            accesses,
            until=months_after(today.today, months),
            hourly_rate=Fraction(rate or NO_RATE),
        ),
        hourly_rate=None if rate is None else Fraction(rate),
        months=months,
        told=tuple(told),
    )
