"""While it is apart: what else lies behind what is opened, hours saved against life given up."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.item import Item
from castlenut.domain.naming import choose
from castlenut.domain.opened import Opened, opened
from castlenut.domain.place import (
    CORNERS,
    DUAL_CORNERS,
    Place,
    Spot,
    on_car,
    place,
)
from castlenut.domain.rules.distances import exact
from castlenut.domain.rules.rule import Access, Per
from castlenut.domain.working import State

_MIRROR = {
    Spot.LF: Spot.RF,
    Spot.LR: Spot.RR,
    Spot.LRO: Spot.RRO,
    Spot.LRI: Spot.RRI,
    Spot.L: Spot.R,
}
_OTHER_SIDE = {**_MIRROR, **{right: left for left, right in _MIRROR.items()}}


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """What is taken off, as it was typed: an access, and where; no place is all of it."""

    key: str
    place: Place | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Behind:
    """An item that what is open leads to.

    `shared`: the keys of what it needs and is open. `is_there`: it needs something that is open at
    a place, and not only what is open for the whole car, as the lift is. `hours_saved`: of opening
    and closing what is shared, which a visit of its own would take. `besides`: what it needs and is
    not open. `days_early`: how long before its due day it would be done, 0 for what is due already,
    None where no day is known. `share_left`: of its interval, from 0 to 1; None where that is not
    known. `twin`: the same job on the other side, still closed.
    """

    item: Item
    shared: tuple[str, ...]
    is_there: bool
    hours_saved: Fraction
    besides: tuple[Opened, ...]
    days_early: int | None
    share_left: Fraction | None
    twin: Item | None

    def life_given_up(self, hourly_rate: Fraction) -> Fraction | None:
        """Give the money of the job's own hours that doing it early throws away."""
        if self.share_left is None:
            return None
        return self.item.rule.hours * hourly_rate * self.share_left

    def net(self, hourly_rate: Fraction) -> Fraction:
        """Give what doing it now gains: the opening saved less the life given up."""
        return self.hours_saved * hourly_rate - (self.life_given_up(hourly_rate) or Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """All that is open, each once, and what lies behind: at that place first, worth first.

    What has no record stands apart.
    """

    open: tuple[Opened, ...]
    hours: Fraction
    items: tuple[Behind, ...]
    no_record: tuple[Behind, ...]


def read_opening(text: str, accesses: Mapping[str, Access], *, dual: bool) -> Opening:
    """Read what is taken off: a key of an access with a place where one counts, `wheel LF`.

    Raises:
        BadInput: no such access, no place of this car, or a place where none counts.
    """
    words = text.split()
    for length in range(len(words), 0, -1):
        name = " ".join(words[:length])
        try:
            key = choose(name, accesses, what="access", also=_words(accesses), in_trade=True)
        except BadInput:
            if length == 1:
                raise
            continue
        rest = " ".join(words[length:])
        where = on_car(place(rest), dual=dual)
        if where is not None and accesses[key].per is Per.CAR:
            raise BadInput(
                Fault(f"{key} is opened for the whole car", "--open", f'write it as "{key}"')
            )
        return Opening(key=key, place=where)
    raise BadInput(Fault("nothing is named", "--open", 'write it as "wheel LF"'))


def _words(accesses: Mapping[str, Access]) -> Mapping[str, str]:
    return {access.words: access.key for access in accesses.values()}


def apart(
    today: CarToday,
    openings: Sequence[Opening],
    accesses: Mapping[str, Access],
    *,
    until: date,
    hourly_rate: Fraction,
) -> Apart:
    """Give what lies behind what is opened, and would bring the car back by a day, or is open.

    An item lies behind it if all it needs is open, or some of it at a place. The owner's own checks
    are left out; so is what needs nothing open.
    """
    car = today.car
    fitted = car.fitted(today.today)
    dual = car.vehicle.dual

    def closure(keys: Iterable[str], at: Place | None) -> tuple[Opened, ...]:
        found = opened(keys, at, accesses, fitted=fitted, dual=dual)
        return tuple(
            dict.fromkeys(one for each in found for one in _each(each, accesses, dual=dual))
        )

    is_open = tuple(
        dict.fromkeys(one for each in openings for one in closure((each.key,), each.place))
    )
    behind: list[Behind] = []
    for item in today.items:
        needs = closure(item.rule.access, item.place)
        if item.rule.is_own_check or not _lies_behind(needs, frozenset(is_open)):
            continue
        if item.state is State.AHEAD and not _comes_by(item, until):
            continue
        shared = tuple(each for each in needs if each in is_open)
        behind.append(
            Behind(
                item=item,
                shared=tuple(dict.fromkeys(each.key for each in shared)),
                is_there=any(each.place is not None for each in shared),
                hours_saved=_hours(shared, accesses),
                besides=tuple(each for each in needs if each not in is_open),
                days_early=_days_early(item, today),
                share_left=_share_left(item, today),
                twin=_twin(item, today.items),
            )
        )
    shown = {each.item.id for each in behind}
    told = [
        each if each.twin is None or each.twin.id not in shown else replace(each, twin=None)
        for each in behind
    ]
    return Apart(
        open=is_open,
        hours=_hours(is_open, accesses),
        items=tuple(
            sorted(
                (each for each in told if each.item.state is not State.NO_RECORD),
                key=lambda each: (
                    not each.is_there,
                    -each.net(hourly_rate),
                    len(each.besides),
                    str(each.item.id),
                ),
            )
        ),
        no_record=tuple(
            sorted(
                (each for each in told if each.item.state is State.NO_RECORD),
                key=lambda each: not each.is_there,
            )
        ),
    )


def _each(one: Opened, accesses: Mapping[str, Access], *, dual: bool) -> Iterator[Opened]:
    """Give an opening of all wheels or both sides as one of each."""
    if one.place is not None:
        yield one
        return
    spots: Sequence[Spot | None]
    match accesses[one.key].per:
        case Per.CAR:
            spots = (None,)
        case Per.WHEEL:
            spots = DUAL_CORNERS if dual else CORNERS
        case Per.AXLE:
            spots = (Spot.FRONT, Spot.REAR)
        case Per.SIDE:
            spots = (Spot.L, Spot.R)
    for spot in spots:
        yield Opened(key=one.key, place=None if spot is None else Place(spot))


def _lies_behind(needs: Sequence[Opened], is_open: frozenset[Opened]) -> bool:
    shared = [each for each in needs if each in is_open]
    return bool(shared) and (len(shared) == len(needs) or any(each.place for each in shared))


def _hours(opened_there: Iterable[Opened], accesses: Mapping[str, Access]) -> Fraction:
    return sum((accesses[each.key].hours for each in opened_there), start=Fraction(0))


def _comes_by(item: Item, until: date) -> bool:
    days = (item.window.closes_on, item.expected.p50)
    return any(day is not None and day <= until for day in days)


def _days_early(item: Item, today: CarToday) -> int | None:
    if item.state is not State.AHEAD:
        return 0
    due = item.expected.p50 or item.due_on
    return None if due is None else max((due - today.today).days, 0)


def _share_left(item: Item, today: CarToday) -> Fraction | None:
    """Give how much of the interval is left today, the smaller over its sides, from 0 to 1."""
    if item.state is not State.AHEAD:
        return Fraction(0)
    base = item.baseline
    shares: list[Fraction] = []
    if base is not None and base.on is not None and item.due_on is not None:
        whole = (item.due_on - base.on).days
        if whole > 0:
            shares.append(Fraction((item.due_on - today.today).days, whole))
    band = today.use.distance_on(today.today)
    if item.due_at is not None and band is not None:
        whole_distance = _interval(item, today)
        if whole_distance is not None and whole_distance > 0:
            shares.append(Fraction(item.due_at - band.p50) / whole_distance)
    if not shares:
        return None
    return min(max(min(shares), Fraction(0)), Fraction(1))


def _interval(item: Item, today: CarToday) -> Fraction | None:
    every = item.rule.every
    if every is None or every.distance is None:
        return None
    return exact(every.distance, given=item.rule.unit, wanted=today.odometer.dial.unit)


def _twin(item: Item, among: Sequence[Item]) -> Item | None:
    """Give the same job on the other side of the car."""
    at = item.place
    if at is None or at.spot not in _OTHER_SIDE:
        return None
    there = Place(_OTHER_SIDE[at.spot], at.which)
    return next(
        (other for other in among if other.id.rule == item.id.rule and other.place == there), None
    )
