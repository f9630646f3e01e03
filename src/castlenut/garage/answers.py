"""Questions over one car or all: how each stands, for the board and the list of vehicles."""

from collections.abc import Iterator, Sequence
from datetime import date

from castlenut.domain.car import Car
from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.item import Item
from castlenut.domain.order import Row, rows, sort_key, worst
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.stay import against_rolling
from castlenut.domain.working import State
from castlenut.garage.garage import CannotRead, Garage

BoardKey = tuple[int, tuple[object, ...], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardRow:
    """One car on the board.

    `state` None: nothing is due on it, or it cannot be read (`fault` tells why). `first` is the
    thing that stands worst; of a car in work, how many things stand against its rolling. `open`
    counts the lines of open work; `next_on` is its next booked visit. `worst` sorts it.
    `is_blank`: nothing is recorded as fitted, so nothing can be told of it.
    """

    slug: str
    description: str
    owner: str | None = None
    state: State | None = None
    may_be: State | None = None
    first: str | None = None
    open: int = 0
    next_on: date | None = None
    in_work: bool = False
    is_sold: bool = False
    is_blank: bool = False
    fault: str | None = None
    worst: Item | None = None


def board(garage: Garage) -> Iterator[BoardRow]:
    """Give a row for every car by short name, each as soon as it is reckoned."""
    return (board_row(garage, slug) for slug in garage.slugs())


def board_row(garage: Garage, slug: str) -> BoardRow:
    """Reckon one car and give its row."""
    try:
        record = garage.car(slug)
    except CannotRead as refused:
        return BoardRow(slug=slug, description=slug, fault=refused.fault.message)
    today = garage.today(slug)
    vehicle = record.car.vehicle
    top = worst(today.items)
    in_work = record.car.stay_on(today.today) is not None
    return BoardRow(
        slug=slug,
        description=vehicle.description,
        owner=vehicle.owner,
        state=top.state if top else None,
        may_be=top.may_be if top else None,
        first=_against_rolling(today, garage.book) if in_work else _first(today.items),
        open=len(open_rows(today)),
        next_on=next_visit(record.car, today=today.today),
        in_work=in_work,
        is_sold=vehicle.sold_on is not None and vehicle.sold_on <= today.today,
        is_blank=not record.car.components,
        worst=top,
    )


def board_order(row: BoardRow) -> BoardKey:
    """Give the sorting key of the board: unread cars, cars in work, then the worst first."""
    group = 0 if row.fault is not None else 1 if row.in_work else 2
    key = (1,) if row.worst is None else (0, sort_key(row.worst))
    return group, key, row.description


def vehicles(garage: Garage, *, sold: bool = False) -> tuple[BoardRow, ...]:
    """Give every car in the order of the board; sold ones only when asked for."""
    return tuple(sorted((row for row in board(garage) if sold or not row.is_sold), key=board_order))


def open_rows(today: CarToday) -> tuple[Row, ...]:
    """Give the lines of open work of a car, the owner's own checks left aside."""
    return rows([item for item in today.items if item.is_open])


def next_visit(car: Car, *, today: date) -> date | None:
    """Give the day of the next visit booked for a car."""
    return next((each.on for each in car.booked_from(today)), None)


def _first(items: Sequence[Item]) -> str | None:
    found = next((row for row in rows(items) if not row.first.rule.is_own_check), None)
    if found is None:
        return None
    return f"{found.first.rule.title}, {found.places}" if found.places else found.first.rule.title


def _against_rolling(today: CarToday, book: RuleBook) -> str:
    """Say how many things stand against handing over a car in work: as many as `ready` lists."""
    blocking = sum(each.blocks for each in against_rolling(today, book))
    return f"{blocking} before it rolls" if blocking else "ready to roll"
