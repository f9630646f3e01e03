"""Asking: what is due and why, which cars there are, and what is fitted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import EVERY_DAY, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call
    from castlenut.domain.due import CarToday
    from castlenut.garage.garage import Garage


def _due_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument(
        "--within", metavar="TIME", help="of what is ahead, only what falls due in 90d, 12w, 6m, 1y"
    )
    parser.add_argument(
        "--by",
        metavar="DATE",
        help="what falls due by then, as before a trip",
    )
    trip = parser.add_mutually_exclusive_group()
    trip.add_argument("--miles", metavar="N", help="with --by: if so many miles are driven")
    trip.add_argument("--km", metavar="N", help="with --by: if so many km are driven")
    parser.add_argument(
        "--check",
        action="store_true",
        help="exit 1 when anything is overdue, due or no record, or a car cannot be read",
    )
    gives_json(parser)


def due(call: Call) -> int:
    """Answer what is due."""
    from castlenut.command.every_day.due import answer_due

    return answer_due(call)


def _why_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "item",
        metavar="ITEM",
        help="rule, rule@PLACE or rule@PLACE~8 digits; a rule alone is all its items",
    )
    gives_json(parser)


def _why(call: Call) -> int:
    from castlenut.domain.naming import find_items
    from castlenut.words.answers import item_answer
    from castlenut.words.listing import heading
    from castlenut.words.working import lines

    garage, slug = call.garage_and_car()
    today = _reckoned(garage, slug, call.text("item"))
    dial = today.car.vehicle.dial
    items = find_items(call.text("item"), today.items)
    if call.as_json:
        output.write_json([item_answer(item, slug, dial, garage.book) for item in items])
        return output.FINE
    for number, item in enumerate(items):
        if number:
            output.write("")
        output.write(heading(item, today.items), *lines(item, dial))
    return output.FINE


def _reckoned(garage: Garage, slug: str, item: str) -> CarToday:
    """Reckon a car; where a rule is named in full and has items there, only what it is about."""
    from castlenut.domain.ids import RuleId

    rule = RuleId(item.strip().partition("~")[0].partition("@")[0].strip().lower())
    if rule in garage.book.kinds_of:
        today = garage.today_by_rule(slug, rule)
        if any(each.rule.id == rule for each in today.items):
            return today
    return garage.today(slug)


def _vehicles_arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--all", action="store_true", help="sold cars too")
    gives_json(parser)


def _vehicles(call: Call) -> int:
    from castlenut.command.every_day.vehicles import answer_vehicles

    return answer_vehicles(call)


def _components_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument("--part", metavar="NUMBER", help="only parts of this number, on every car")
    parser.add_argument(
        "--all", action="store_true", help="those taken off too, and those on the shelf"
    )
    gives_json(parser)


def _components(call: Call) -> int:
    from castlenut.command.every_day.cars import CarsAsked
    from castlenut.domain.component import Origin
    from castlenut.words.answers import component_answer, component_state
    from castlenut.words.listing import component_line

    garage = call.garage(by_rules=False)
    part = call.maybe("part")
    wanted = {"fitted", "shelf", "removed"} if call.flag("all") or part else {"fitted", "shelf"}
    day = call.today()
    found = [
        (record.car, component)
        for _, record in CarsAsked(call, garage)
        for component in record.car.components
        if component.origin is not Origin.VEHICLE
        and component_state(component, day) in wanted
        and (part is None or (component.part or "").casefold() == part.strip().casefold())
    ]
    if call.as_json:
        output.write_json(
            [
                component_answer(component, car.vehicle.slug, car.vehicle.dial, day)
                for car, component in found
            ]
        )
        return output.FINE
    if found:
        output.write(*(component_line(component, car.vehicle, day) for car, component in found))
    else:
        output.write("nothing recorded as fitted: castlenut fit and castlenut intake record it")
    return output.FINE


COMMANDS = (
    Command(
        "due",
        group=EVERY_DAY,
        words="what is due, worst first, on one car or on all",
        example="castlenut due millrace --within 90d",
        add_arguments=_due_arguments,
        run=due,
    ),
    Command(
        "why",
        group=EVERY_DAY,
        words="the working of a due date, line by line",
        example="castlenut why millrace u-bolts@rear",
        add_arguments=_why_arguments,
        run=_why,
    ),
    Command(
        "vehicles",
        group=EVERY_DAY,
        words="every car, worst first, with what comes first on it",
        example="castlenut vehicles",
        add_arguments=_vehicles_arguments,
        run=_vehicles,
    ),
    Command(
        "components",
        group=EVERY_DAY,
        words="what is fitted, since when, with its part number",
        example="castlenut components millrace",
        add_arguments=_components_arguments,
        run=_components,
    ),
)
