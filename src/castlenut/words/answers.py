"""The structures of docs/json.md: what every reading command answers to other programs."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import TypeAlias

from castlenut.domain.component import Component
from castlenut.domain.dial import Dial
from castlenut.domain.happenings import Decline
from castlenut.domain.item import Baseline, Item
from castlenut.domain.naming import unique_name
from castlenut.domain.odometer import Odometer
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.use.estimate import DistanceBand
from castlenut.domain.vehicle import Vehicle
from castlenut.domain.working import From
from castlenut.words import accesses, figures, working

Answer: TypeAlias = "bool | int | float | str | Sequence[Answer] | Mapping[str, Answer] | None"
"""What JSON can hold."""


def item_answer(item: Item, slug: str, dial: Dial, book: RuleBook) -> dict[str, Answer]:
    """Give an item with its working; distances are what the dial shows or will show."""
    return {
        "vehicle": slug,
        "item": unique_name(item),
        "title": item.rule.title,
        "component": item.component.kind,
        "position": str(item.place) if item.place else None,
        "state": item.state.value,
        "due_on": _day(item.due_on),
        "due_at": _dial(item.shown.due_at, dial),
        "unit": dial.unit.value,
        "window": {
            "opens_on": _day(item.window.opens_on),
            "closes_on": _day(item.window.closes_on),
            "opens_at": _dial(item.shown.opens_at, dial),
            "closes_at": _dial(item.shown.closes_at, dial),
        },
        "binds": item.binds.value if item.binds else None,
        "expected": {
            "p10": _day(item.expected.p10),
            "p50": _day(item.expected.p50),
            "p90": _day(item.expected.p90),
        },
        "may_be": item.may_be.value if item.may_be else None,
        "danger": item.rule.danger,
        "baseline": None if item.baseline is None else _baseline(item.baseline, dial),
        "rule": item.rule.id,
        "source": item.rule.source,
        "access": list(accesses.access_keys(item, book)),
        "hours": figures.as_number(item.rule.hours),
        "cautions": list(item.rule.cautions),
        "why": list(working.lines(item, dial)),
        "component_id": item.component.record,
        "basis": item.rule.basis.value,
        "rank": item.rank,
        "left": {"days": item.days_left, "distance": _left(item.distance_left, dial)},
        "before_it_rolls": item.before_it_rolls,
        "owner_check": item.rule.is_own_check,
        "declined": None if item.declined is None else _decline(item.declined, item),
    }


def _day(when: date | None) -> str | None:
    return None if when is None else when.isoformat()


def _dial(figure: Decimal | float | None, dial: Dial) -> int | float | None:
    return None if figure is None else figures.plain_number(figure, dial)


def _left(distance: float | None, dial: Dial) -> int | float | None:
    if distance is None:
        return None
    return figures.as_number(figures.left(distance, dial))


THIS_GARAGE = "this garage"
_BY_SOMEBODY = frozenset({From.DONE, From.INCLUDED, From.VISIT})


def _baseline(baseline: Baseline, dial: Dial) -> dict[str, Answer]:
    return {
        "on": _day(baseline.on),
        "at": _dial(baseline.at, dial),
        "from": baseline.how.value,
        "by": baseline.by or (THIS_GARAGE if baseline.how in _BY_SOMEBODY else None),
        "record": baseline.record,
    }


def _decline(decline: Decline, item: Item) -> dict[str, Answer]:
    return {
        "on": _day(decline.on),
        "who": decline.who,
        "why": decline.why,
        "until": _day(decline.until),
        "without_it": item.reckoned.value,
    }


def distance_answer(band: DistanceBand | None, odometer: Odometer) -> dict[str, Answer]:
    """Give the distance today as the dial will show it; nulls where no reading is known."""
    if band is None:
        return {"p10": None, "p50": None, "p90": None}
    return {
        name: _dial(odometer.shown_of(distance), odometer.dial)
        for name, distance in (("p10", band.p10), ("p50", band.p50), ("p90", band.p90))
    }


def vehicle_answer(vehicle: Vehicle) -> dict[str, Answer]:
    """Give a vehicle as it stands in the record."""
    return {
        "vehicle": vehicle.slug,
        "description": vehicle.description,
        "year": vehicle.year,
        "drive": vehicle.drive.value if vehicle.drive else None,
        "dual": vehicle.dual,
        "weight_lb": vehicle.weight_lb,
        "owner": vehicle.owner,
        "phone": vehicle.phone,
        "plate": vehicle.plate,
        "vin": vehicle.vin,
        "use": vehicle.use.value if vehicle.use else None,
        "kept_at": vehicle.kept_at.value if vehicle.kept_at else None,
        "unit": vehicle.dial.unit.value,
        "digits": vehicle.dial.digits,
        "tenths": vehicle.dial.tenths,
        "sold_on": _day(vehicle.sold_on),
    }


def component_answer(component: Component, slug: str, dial: Dial, today: date) -> dict[str, Answer]:
    """Give a component: fitted, on the shelf or removed."""
    place = component.place_on(today)
    return {
        "vehicle": slug,
        "id": component.record,
        "table": component.origin.value,
        "kind": component.kind,
        "position": str(place) if place else None,
        "state": component_state(component, today),
        "attributes": dict(component.attributes),
        "part": component.part,
        "made": _day(component.made),
        "on": _day(component.on),
        "at": _dial(component.at, dial),
        "unit": dial.unit.value,
        "removed_on": _day(component.removed_on),
        "removed_at": _dial(component.removed_at, dial),
        "why": component.why,
        "stamped": dict(component.stamped),
        "every": component.every,
    }


def component_state(component: Component, today: date) -> str:
    """Tell where a component is on a day: fitted, shelf or removed."""
    if component.is_on_shelf:
        return "shelf"
    return "fitted" if component.is_fitted_on(today) else "removed"
