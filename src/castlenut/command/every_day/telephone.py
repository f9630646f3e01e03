"""On the telephone: whom to call, a car sold."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    EVERY_DAY,
    Command,
    gives_json,
    takes_vehicle,
    takes_when,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _ring_arguments(parser: ArgumentParser) -> None:
    gives_json(parser)


def _ring(call: Call) -> int:
    from castlenut.command.every_day.cars import CarsAsked
    from castlenut.garage.ring import in_order, ring_of
    from castlenut.words.ring import ring_answer, ring_line

    garage = call.garage()
    slugs = [slug for slug, _ in CarsAsked(call, garage)]
    found = in_order(each for slug in slugs if (each := ring_of(garage, slug)) is not None)
    if call.as_json:
        output.write_json([ring_answer(each.today, each.reasons) for each in found])
    elif found:
        output.write(*(ring_line(each.today, each.reasons) for each in found))
    else:
        output.write("nobody has to be called")
    return output.FINE


def _sold_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    takes_when(parser, at=False)
    parser.add_argument("--to", metavar="NAME", help="who has it now")
    parser.add_argument("--back", action="store_true", help="it is not sold after all")
    gives_json(parser)


def _sold(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.changes.selling import draft_back, draft_sold

    garage = call.garage(by_rules=False)
    slug = garage.find(call.text("vehicle"))
    on, to = call.maybe("on"), call.maybe("to")
    if call.flag("back"):
        if on is not None or to is not None:
            raise BadInput(Fault("takes the sale back", "--back", "give it without --on and --to"))
        save_and_tell(call, garage, draft_back(garage, slug))
    else:
        save_and_tell(call, garage, draft_sold(garage, slug, on=on, to=to))
    return output.FINE


COMMANDS = (
    Command(
        "ring",
        group=EVERY_DAY,
        words="whom to call, and why",
        example="castlenut ring",
        add_arguments=_ring_arguments,
        run=_ring,
    ),
    Command(
        "sold",
        group=EVERY_DAY,
        words="record a car as sold: it leaves board, calls and calendars",
        example='castlenut sold millrace --on 2026-11-20 --to "Rufus Penhallick-Gray"',
        add_arguments=_sold_arguments,
        run=_sold,
    ),
)
