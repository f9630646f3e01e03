"""Whom to call and why: a window and no visit agreed, first points to come, no reading for long."""

from collections.abc import Collection, Iterator
from datetime import date
from enum import Enum

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.matching import STORAGE
from castlenut.domain.months import months_after
from castlenut.domain.order import Row, rows
from castlenut.domain.window_days import window_days
from castlenut.domain.working import Pointed, State

WITHIN_MONTHS = 1
"""A window that opens or closes within so many months is worth a call."""
QUIET_MONTHS = 6
"""From so many months without a reading on, a car with items by distance is asked for one."""

_OPEN = frozenset({State.DUE, State.OVERDUE})


class Why(Enum):
    """Why an owner is called."""

    WINDOW = "window"
    FIRST_POINTS = "first points"
    NO_READING = "no reading"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One reason to call, with the rows it is about, the most pressing first.

    `opens_on` and `closes_on` are the expected days of the first row's window, None where nobody
    can tell. `last_reading`: of no reading, the day of the last one, None where there is none.
    """

    why: Why
    rows: tuple[Row, ...] = ()
    opens_on: date | None = None
    closes_on: date | None = None
    last_reading: date | None = None


def reasons(today: CarToday, *, agreed: Collection[ItemId] = ()) -> tuple[Reason, ...]:
    """Give the reasons to call the owner of a car; none for a car in work or sold.

    `agreed`: items of which a visit is booked already. The owner's own checks, what he declined,
    what has no record and the care of a car laid up at the garage are no reason.
    """
    car = today.car
    sold_on = car.vehicle.sold_on
    if car.stay_on(today.today) is not None or (sold_on is not None and sold_on <= today.today):
        return ()
    waiting = [
        item
        for item in today.items
        if not item.rule.is_own_check
        and item.rule.part != STORAGE
        and item.id not in agreed
        and item.declined is None
    ]
    return tuple(_reasons(today, waiting))


def _reasons(today: CarToday, waiting: Collection[Item]) -> Iterator[Reason]:
    until = months_after(today.today, WITHIN_MONTHS)
    first: list[Item] = []
    windows: list[Item] = []
    for item in waiting:
        days = window_days(item, today)
        is_near = item.state in _OPEN or any(
            day is not None and day <= until for day in (days.opens, days.closes)
        )
        if item.state not in {*_OPEN, State.AHEAD}:
            continue
        if _is_first_point(item) and _was_handed_over(today):
            if is_near or (days.opens is None and days.closes is None):
                first.append(item)
        elif is_near:
            windows.append(item)
    for why, items in ((Why.WINDOW, windows), (Why.FIRST_POINTS, first)):
        if items:
            together = rows(sorted(items, key=lambda item: _pressing(item, today)))
            days = window_days(together[0].first, today)
            yield Reason(
                why=why,
                rows=together,
                opens_on=days.opens,
                closes_on=days.closes,
            )
    quiet = _quiet_since(today, waiting)
    if quiet is not None:
        yield quiet


def _pressing(item: Item, today: CarToday) -> tuple[bool, date, int]:
    closes = window_days(item, today).closes
    return item.state is not State.OVERDUE, closes or date.max, item.rule.danger


def _is_first_point(item: Item) -> bool:
    return item.due_at is not None and any(isinstance(step, Pointed) for step in item.working)


def _was_handed_over(today: CarToday) -> bool:
    return any(stay.over is not None and stay.over <= today.today for stay in today.car.stays)


def _quiet_since(today: CarToday, waiting: Collection[Item]) -> Reason | None:
    """Give that no reading came for long, where something falls due by distance.

    A car laid up shows the same figure all winter: nobody is asked for it.
    """
    counted = tuple(item for item in waiting if item.due_at is not None)
    is_laid_up = any(
        first <= today.today and (last is None or today.today <= last)
        for first, last in today.car.laid_up()
    )
    last = today.use.basis.last
    if not counted or is_laid_up:
        return None
    if last is not None and months_after(last.on, QUIET_MONTHS) > today.today:
        return None
    return Reason(
        why=Why.NO_READING,
        rows=rows(counted),
        last_reading=None if last is None else last.on,
    )
