"""The rules about tires as they hold for one car: least tread, differences, interval."""

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from math import pi
from typing import TypeVar

from castlenut.domain.car import OwnFigure
from castlenut.domain.component import Component
from castlenut.domain.counted import InForce, interval_in_force
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.ids import ROTATE, ItemId, RecordId, RuleId
from castlenut.domain.matching import holds
from castlenut.domain.measures import IN, MM, in_unit
from castlenut.domain.place import Place, Spot, touches
from castlenut.domain.rules.precedence import for_car
from castlenut.domain.rules.rule import Bound, Rule, RuleBook
from castlenut.domain.sides import subject
from castlenut.domain.tires.amiss import FigureNotRead
from castlenut.domain.tires.assembly import GREATEST_DIFFERENCE_MM, LEAST_TREAD_MM, AxleNeeds
from castlenut.domain.tires.axle import Axle
from castlenut.domain.tires.size import Construction, read_size

T = TypeVar("T")

TREAD = RuleId("tire-tread")
SPREAD = RuleId("awd-spread")
TIRE_SET = "tire set"

_TRADE_LIMIT = Fraction(254 * 2, 320)  # 2/32 in, which the trade writes as 1.6 mm
_TRADE_SPREAD = Fraction(1, 4)  # in of circumference, which 4.30 gives as 1.0 mm of tread
_SPREAD_MM = 1.0
_KG_PER_LB = 0.45359237
_KMH_PER_MPH = 1.609344


@dataclass(frozen=True, slots=True, kw_only=True)
class TireRules:
    """What holds for the tires of a car.

    `limit_mm` is the least tread, `front_limit_mm` that of the front axle, `max_difference_mm` the
    greatest difference on all-wheel drive. `rotation` None: no distance between rotations is in
    force. `not_read` are figures of an axle in words that cannot be read: they state nothing.
    """

    limit_mm: float
    front_limit_mm: float
    max_difference_mm: float
    rotation: InForce | None
    front: AxleNeeds
    rear: AxleNeeds
    not_read: tuple[FigureNotRead, ...]


def tire_rules(ground: Ground, book: RuleBook) -> TireRules:
    """Give the rules about tires in force for a car on its day."""
    tread, spread = _rule(TREAD, ground, book), _rule(SPREAD, ground, book)
    rear = _least_tread(tread, Spot.LR, ground)
    not_read: list[FigureNotRead] = []
    return TireRules(
        limit_mm=rear,
        front_limit_mm=_least_tread(tread, Spot.LF, ground),
        max_difference_mm=_difference(spread, ground),
        rotation=_rotation(ground, book),
        front=_needs(Axle.FRONT, ground, not_read),
        rear=_needs(Axle.REAR, ground, not_read),
        not_read=tuple(not_read),
    )


def tire_set(ground: Ground) -> Component | None:
    """Give the set of tires on the car, to which rotation belongs."""
    return next(
        (part for part in ground.car.fitted(ground.today) if part.kind == TIRE_SET),
        None,
    )


def _rule(id_: RuleId, ground: Ground, book: RuleBook) -> Rule | None:
    rule = book.rules.get(id_)
    return None if rule is None else for_car(rule, ground.car.rule_changes)


def _least_tread(rule: Rule | None, spot: Spot, ground: Ground) -> float:
    """Give the strictest limit of tread that holds at a place, 1.6 mm where no rule tells one."""
    if rule is None:
        return LEAST_TREAD_MM
    at = Place(spot)
    tire = Component(record=RecordId(""), kind="tire", place=at)
    found = [
        mm
        for limit in rule.limits
        if limit.measure == "tread_depth"
        and limit.bound is Bound.AT_LEAST
        and isinstance(limit.value, Fraction)
        and holds(limit.where, tire, ground.around, at) is not None
        and (mm := in_unit(limit.value, limit.unit, MM)) is not None
    ]
    if not found or max(found) == _TRADE_LIMIT:
        return LEAST_TREAD_MM
    return float(max(found))


def _difference(rule: Rule | None, ground: Ground) -> float:
    """Give how much tread may differ: the car's own figure, else that of the rule."""
    if rule is None or rule.origin != "this car":
        own = [figure for figure in ground.car.figures if figure.name == "circumference_spread"]
        if own:
            last = max(own, key=lambda each: each.record)
            value = last.value
            inches = None if isinstance(value, str) else in_unit(value, last.unit or IN, IN)
            if inches is not None:
                return _of_tread(inches)
    for limit in rule.limits if rule is not None else ():
        inches = in_unit(limit.value, limit.unit, IN) if isinstance(limit.value, Fraction) else None
        if limit.measure == "circumference_spread" and inches is not None:
            return _of_tread(inches)
    return GREATEST_DIFFERENCE_MM


def _of_tread(circumference_in: Fraction) -> float:
    """Give the tread that a difference of circumference is (4.31)."""
    if circumference_in == _TRADE_SPREAD:
        return _SPREAD_MM
    return float(circumference_in) * 25.4 / (2 * pi)


def _rotation(ground: Ground, book: RuleBook) -> InForce | None:
    rule = _rule(ROTATE, ground, book)
    if rule is None:
        return None
    part = tire_set(ground) or Component(record=RecordId(""), kind=TIRE_SET)
    id_ = ItemId(rule=rule.id, component=part.record)
    found = interval_in_force(subject(id_, rule, part, None, (), ground))
    return None if found is None or found.interval.distance is None else found


def _needs(axle: Axle, ground: Ground, not_read: list[FigureNotRead]) -> AxleNeeds:
    """Give what the car's own figures say that an axle takes; a figure without a place is both's.

    They are named tire_size, tire_construction, rim_width, rim_diameter, wheel_offset, tire_load
    and tire_speed. What of them cannot be read is added to `not_read`.
    """
    return AxleNeeds(
        size=_read("tire_size", axle, ground, read_size, not_read),
        construction=_read("tire_construction", axle, ground, _construction, not_read),
        rim_width_in=_figure("rim_width", axle, ground, {IN: 1.0, MM: 1 / 25.4}),
        rim_diameter_in=_figure("rim_diameter", axle, ground, {IN: 1.0, MM: 1 / 25.4}),
        offset_mm=_figure("wheel_offset", axle, ground, {MM: 1.0, IN: 25.4}),
        need_kg=_figure("tire_load", axle, ground, {"kg": 1.0, "lb": _KG_PER_LB}),
        need_kmh=_figure("tire_speed", axle, ground, {"km/h": 1.0, "mph": _KMH_PER_MPH}),
    )


def _figure(name: str, axle: Axle, ground: Ground, units: Mapping[str, float]) -> float | None:
    found = [
        (figure.place is not None, figure.record, float(figure.value) * units[figure.unit])
        for figure in _own(name, axle, ground)
        if figure.unit in units
    ]
    return max(found)[2] if found else None


def _own(name: str, axle: Axle, ground: Ground) -> Iterator[OwnFigure]:
    at = Place(Spot.FRONT if axle is Axle.FRONT else Spot.REAR)
    for figure in ground.car.figures:
        if figure.name.replace(" ", "_").lower() == name and touches(figure.place, at):
            yield figure


def _read(
    name: str,
    axle: Axle,
    ground: Ground,
    read: Callable[[str], T],
    not_read: list[FigureNotRead],
) -> T | None:
    """Read a figure in words: that of the axle before that of both, and the latest of them."""
    found = [
        (figure.place is not None, figure.record, str(figure.value))
        for figure in _own(name, axle, ground)
    ]
    if not found:
        return None
    try:
        return read(max(found)[2])
    except BadInput as bad:
        not_read.extend(FigureNotRead(axle=axle, fault=fault) for fault in bad.faults)
        return None


def _construction(text: str) -> Construction:
    try:
        return Construction(" ".join(text.lower().split()))
    except ValueError:
        names = ", ".join(each.value for each in Construction)
        raise BadInput(
            Fault(f"{text!r} is no construction", "tire_construction", f"give one of {names}")
        ) from None
