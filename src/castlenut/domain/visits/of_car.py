"""A car's items made ready for planning: what enters the plan, and what is left out and why."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from enum import Enum

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.opened import Opened, opened
from castlenut.domain.place import touches
from castlenut.domain.rules.included import included_rules
from castlenut.domain.rules.rule import Counting, RuleBook
from castlenut.domain.visits.curve import Curve
from castlenut.domain.visits.line import (
    AccessPrice,
    Calendar,
    Every,
    Line,
    NextFrom,
    PlannedItem,
    Span,
    Use,
    Weekday,
)
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.series import Series
from castlenut.domain.working import Aged, Binds, Counted, Shortened, State

SAFETY_CRITICAL = 1
"""The danger of an item that is planned by the early date (work.md section 2)."""
_A_WEEK = 7


class Left(Enum):
    """Why an item is not in the plan."""

    OWN_CHECK = "the owner's own check"
    NO_RECORD = "no record: nobody knows when it was last done"
    DECLINED = "declined by the owner"
    BEFORE_IT_ROLLS = "before it rolls, in the work that is going on"
    COVERED = "done along with another item"
    BOOKED = "in a visit that is booked"
    NOT_POSSIBLE = "cannot be done as the car stands"
    NO_DAY = "no day is known"


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What the garage plans by. Hours by weekday; a day that is missing, or 0, is closed.

    `refused`: days on which this car's owner will not come.
    """

    until: date
    visit_cost: float
    hourly_rate: float
    hours: Mapping[Weekday, float]
    closed: tuple[date, ...] = ()
    refused: tuple[date, ...] = ()
    allow_late: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Booked:
    """A visit agreed. No items: whatever may be done by its day."""

    on: date
    items: frozenset[ItemId]


@dataclass(frozen=True, slots=True, kw_only=True)
class OfCar:
    """The line of a car, its items by their names in it, and what was left out.

    `without_distance`: items whose distance side is not planned, as nothing is known of the use.
    """

    line: Line
    items: Mapping[str, Item]
    left_out: Mapping[ItemId, Left]
    without_distance: tuple[str, ...]


def line_of(today: CarToday, book: RuleBook, terms: Terms, booked: Sequence[Booked]) -> OfCar:
    """Make the line of a car.

    Raises:
        BadInput: no day is open from today until the end of the plan.
    """
    calendar = calendar_of(terms, today=today.today, laid_up=today.car.laid_up())
    use = _use(today, terms.until)
    left_out: dict[ItemId, Left] = {}
    planned: dict[str, PlannedItem] = {}
    items: dict[str, Item] = {}
    access: dict[str, AccessPrice] = {}
    without: list[str] = []
    for item in today.items:
        reason = _left_out(item)
        name = str(item.id)
        if reason is None:
            needs = needed(item, today, book)
            entering = _planned(item, name, needs, use)
            after = _after_booked(item, entering, booked, use)
            if item.due_at is not None and use is None:
                without.append(name)
            if after is None:
                reason = Left.BOOKED
            elif after.due_on is None and after.due_at is None:
                reason = Left.NO_DAY
            else:
                planned[name] = after
                items[name] = item
                for one in needs:
                    access[access_name(one)] = AccessPrice(
                        hours=float(book.accesses[one.key].hours)
                    )
        if reason is not None:
            left_out[item.id] = reason
    line = Line(
        calendar=calendar,
        visit_cost=terms.visit_cost,
        hourly_rate=terms.hourly_rate,
        day_hours=min(each for each in terms.hours.values() if each > 0),
        allow_late=terms.allow_late,
        use=use,
        access=access,
        items=tuple(planned.values()),
    )
    covered = _covered(line, items, book)
    left_out.update({items[name].id: Left.COVERED for name in covered})
    return OfCar(
        line=replace(line, items=tuple(each for each in line.items if each.id not in covered)),
        items={name: item for name, item in items.items() if name not in covered},
        left_out=left_out,
        without_distance=tuple(name for name in without if name in planned),
    )


def calendar_of(
    terms: Terms, *, today: date, laid_up: Sequence[tuple[date, date | None]] = ()
) -> Calendar:
    """Give the days there are.

    Raises:
        BadInput: none is open until the end of the plan.
    """
    closed_weekdays = frozenset(day for day in Weekday if terms.hours.get(day, 0.0) <= 0)
    calendar = Calendar(
        today=today,
        until=terms.until,
        closed_weekdays=closed_weekdays,
        closed=tuple((day, day) for day in (*terms.closed, *terms.refused)),
        laid_up=tuple((first, terms.until if last is None else last) for first, last in laid_up),
    )
    if len(closed_weekdays) == len(Weekday) or not OpenDays(calendar).all:
        raise BadInput(
            Fault(
                f"no day is open until {terms.until.isoformat()}",
                "hours",
                "set open hours, as settings hours=mon:8,tue:8; or end the lay-up",
            )
        )
    return calendar


def access_name(one: Opened) -> str:
    """Give an opening as it is typed: `wheel LF`."""
    return one.key if one.place is None else f"{one.key} {one.place}"


def needed(item: Item, today: CarToday, book: RuleBook) -> tuple[Opened, ...]:
    """Give all that has to be opened for an item."""
    return opened(
        item.rule.access,
        item.place,
        book.accesses,
        fitted=today.car.fitted(today.today),
        dual=today.car.vehicle.dual,
    )


def _left_out(item: Item) -> Left | None:
    if item.rule.is_own_check:
        return Left.OWN_CHECK
    if item.against:
        return Left.NOT_POSSIBLE
    if item.before_it_rolls or (item.has_open_point_at_0 and item.reckoned is State.DUE):
        return Left.BEFORE_IT_ROLLS
    if item.state is State.DECLINED:
        return Left.DECLINED
    if item.state is State.NO_RECORD:
        return Left.NO_RECORD
    return None


def _use(today: CarToday, until: date) -> Use | None:
    """Give the use curve, week by week; None where nothing is known of the distance."""
    days = [today.today]
    while days[-1] < until:
        days.append(min(until, days[-1] + timedelta(days=_A_WEEK)))
    bands = [today.use.distance_on(day) for day in days]
    expected: list[float] = []
    fast: list[float] = []
    for band in bands:
        if band is None:
            return None
        expected.append(max(float(band.p50), expected[-1] if expected else 0.0))
        fast.append(max(float(band.p90), expected[-1], fast[-1] if fast else 0.0))
    return Use(dates=tuple(days), expected=tuple(expected), fast=tuple(fast))


def _planned(item: Item, name: str, needs: Sequence[Opened], use: Use | None) -> PlannedItem:
    window, is_safe = item.window, item.rule.danger == SAFETY_CRITICAL
    is_once = item.binds is Binds.EVENT
    every = None if is_once else _every(item, has_use=use is not None)
    is_fixed = is_once or bool(item.rule.season) or item.rule.counting is Counting.SCHEDULE
    due_on, due_at = item.due_on, None if use is None else item.due_at
    return PlannedItem(
        id=name,
        hours=float(item.rule.hours),
        access=tuple(dict.fromkeys(map(access_name, needs))),
        due_on=due_on,
        due_at=due_at,
        every=every,
        window=Span(
            before_days=_days(window.opens_on, due_on),
            after_days=0 if is_safe else _days(due_on, window.closes_on),
            before_distance=_far(window.opens_at, due_at),
            after_distance=0.0 if is_safe else _far(due_at, window.closes_at),
        ),
        next_from=NextFrom.SCHEDULE if is_fixed else NextFrom.DONE,
        is_safety_critical=is_safe,
    )


def _days(first: date | None, last: date | None) -> int:
    return 0 if first is None or last is None else max(0, (last - first).days)


def _far(first: float | None, last: float | None) -> float:
    return 0.0 if first is None or last is None else max(0.0, last - first)


def _every(item: Item, *, has_use: bool) -> Every | None:
    """Give the interval in force, as the item's own working has it; None: it is done once."""
    found: Every | None = None
    for step in item.working:
        if isinstance(step, Counted | Shortened):
            distance = None if step.distance is None or not has_use else float(step.distance)
            if step.months or step.days or distance:
                found = Every(
                    months=step.months or None, days=step.days or None, distance=distance or None
                )
        elif isinstance(step, Aged) and found is None and step.months:
            found = Every(months=step.months)
    if found is None and item.rule.season:
        return Every(months=12)
    return found


def _after_booked(
    item: Item, planned: PlannedItem, booked: Sequence[Booked], use: Use | None
) -> PlannedItem | None:
    """Give an item with the base it will have after the last visit booked for it.

    None: it is done then once and for all.
    """
    days = [each.on for each in booked if item.id in each.items or _is_for(each, item)]
    if not days:
        return planned
    on = max(days)
    every = planned.every
    if every is None:
        return None
    at = None
    if every.distance is not None and use is not None:
        values = use.fast if planned.is_safety_critical else use.expected
        at = Curve(use.dates, values).at(on.toordinal()) + every.distance
    return replace(planned, due_on=every.day_after(on), due_at=at)


def _is_for(visit: Booked, item: Item) -> bool:
    """Tell whether a visit booked for nothing in particular is for an item: it is open by then."""
    if visit.items:
        return False
    days = (item.window.opens_on, item.expected.p50)
    return any(day is not None and day <= visit.on for day in days)


def _covered(line: Line, items: Mapping[str, Item], book: RuleBook) -> frozenset[str]:
    """Give what another item includes that falls due no later than it closes."""
    days = OpenDays(line.calendar)
    first = {item.id: Series(item, line, days).first() for item in line.items}
    found: set[str] = set()
    for name, item in items.items():
        closes = first[name]
        if closes is None:
            continue
        for other_name, other in items.items():
            due = first[other_name]
            if (
                other_name != name
                and other_name not in found
                and due is not None
                and item.id.rule in included_rules(other.rule, book.rules)
                and touches(item.place, other.place)
                and due.due <= closes.closes
            ):
                found.add(name)
                break
    return frozenset(found)
