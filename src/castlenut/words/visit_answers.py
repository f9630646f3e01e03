"""Visits and weeks for other programs (docs/json.md)."""

from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.domain.visits.of_car import OfCar
from castlenut.domain.visits.plan import Doing, Plan, Visit
from castlenut.words import car_visits
from castlenut.words.answers import Answer
from castlenut.words.visits import not_kept, reasons


def visit_answer(visit: Visit, of_car: OfCar) -> dict[str, Answer]:
    """Give a proposed visit."""
    called = car_visits.called(of_car.items)
    return {
        "on": visit.on.isoformat(),
        "state": "proposed",
        "record": None,
        "hours": to_cents(visit.hours),
        "work": [[each.on.isoformat(), to_cents(each.hours)] for each in visit.work],
        "items": [_doing(each, visit, of_car) for each in visit.doings],
        "access": list(visit.access),
        "cost": {"visit": to_cents(visit.visit_cost), "access": to_cents(visit.access_cost)},
        "why": list(reasons(visit, of_car.line, called)),
        "a_week_later": [
            unique_name(of_car.items[each.item]) for each in car_visits.if_later(visit, 7)
        ],
    }


def _doing(doing: Doing, visit: Visit, of_car: OfCar) -> dict[str, Answer]:
    item = of_car.items[doing.item]
    return {
        **named(item),
        "closes_on": doing.closes_on.isoformat(),
        "life": to_cents(doing.life),
        "why": car_visits.plainly(doing, visit, of_car),
    }


def named(item: Item) -> dict[str, Answer]:
    """Give an item by its name, title and place."""
    return {
        "item": unique_name(item),
        "title": item.rule.title,
        "position": str(item.place) if item.place is not None else None,
    }


def plan_answer(plan: Plan, of_car: OfCar) -> dict[str, Answer]:
    """Give what a plan costs, how good it is known to be, and what cannot be kept."""
    called = car_visits.called(of_car.items)
    return {
        "cost": {
            "visits": to_cents(plan.cost.visits),
            "access": to_cents(plan.cost.access),
            "life": to_cents(plan.cost.life),
            "late": to_cents(plan.cost.late),
            "total": to_cents(plan.cost.total),
        },
        "bound": to_cents(plan.bound),
        "proved": plan.is_proved,
        "gap": 0.0 if plan.is_proved else round(plan.gap, 6),
        "cannot": [
            {
                **named(of_car.items[each.item]),
                "closes_on": each.closes_on.isoformat(),
                "planned_on": None if each.planned_on is None else each.planned_on.isoformat(),
                "why": not_kept(each, of_car.line, called),
            }
            for each in plan.cannot
        ],
        "later": [unique_name(of_car.items[each]) for each in plan.later],
    }


def left_out_answer(of_car: OfCar, items: tuple[Item, ...]) -> list[Answer]:
    """Give what is not in the plan, each with why."""
    return [
        {**named(item), "why": of_car.left_out[item.id].value}
        for item in items
        if item.id in of_car.left_out
    ]


def to_cents(amount: float) -> float:
    """Give money or hours to the hundredth."""
    return round(amount, 2) + 0.0
