"""Recording what was read, done, measured, refused, and what happened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    EVERY_DAY,
    Command,
    gives_json,
    takes_by,
    takes_hours_and_cost,
    takes_note,
    takes_vehicle,
    takes_when,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _reading_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("figure", metavar="FIGURE", nargs="?", help="what the dial shows")
    takes_when(parser, at=False)
    parser.add_argument("--unit", metavar="mi|km", help="without it the dial's")
    parser.add_argument(
        "--from",
        dest="source",
        metavar="-",
        help="read lines FIGURE [DATE [NOTE]] from standard input, each saved by itself",
    )
    takes_note(parser)
    gives_json(parser)


def _reading(call: Call) -> int:
    from castlenut.command.every_day.readings import one_reading, readings_from_lines
    from castlenut.domain.errors import BadInput, Fault

    source, figure = call.maybe("source"), call.maybe("figure")
    if source is None and figure is not None:
        return one_reading(call, figure)
    if source == "-" and figure is None:
        return readings_from_lines(call)
    if source not in {None, "-"}:
        raise BadInput(
            Fault(f'"{source}" cannot be read from', "--from", "write --from - for standard input")
        )
    what = "no figure is given" if figure is None else "a figure and --from are both given"
    raise BadInput(Fault(what, "FIGURE", "give a figure or --from -"))


def _done_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("items", metavar="ITEM", nargs="+", help="rule, rule@PLACE, ...")
    takes_when(parser)
    takes_by(parser)
    parser.add_argument(
        "--measured",
        metavar="VALUE",
        action="append",
        help="what was measured, with its unit: 4.5mm; once an item, in their order",
    )
    takes_hours_and_cost(parser)
    parser.add_argument(
        "--not",
        dest="left_out",
        metavar="INCLUDED",
        action="append",
        help="an item it usually includes and that was not done",
    )
    takes_note(parser)
    gives_json(parser)


def _done(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.jobs import draft_job
    from castlenut.words.listing import next_line

    garage, slug = call.garage_and_car()
    draft = draft_job(
        garage,
        slug,
        call.texts("items"),
        **call.given("on", "at", "by"),
        measured=call.texts("measured"),
        **call.given("hours", "cost", "note"),
        left_out=call.texts("left_out"),
        declined=(),
    )
    save_and_tell(call, garage, draft)
    if not call.as_json:
        after = garage.today(slug)
        output.write(*(next_line(item, after) for item in after.items if item.id in draft.items))
    return output.FINE


def _measure_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("item", metavar="ITEM", help="rule, rule@PLACE, ...")
    parser.add_argument(
        "value", metavar="VALUE", help='with its unit: 4.5mm, 5/32; "7 7 6"; good, "not good"'
    )
    takes_when(parser)
    takes_by(parser)
    takes_note(parser)
    gives_json(parser)


def _measure(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.jobs import draft_measurement

    garage, slug = call.garage_and_car()
    draft = draft_measurement(
        garage,
        slug,
        call.text("item"),
        call.text("value"),
        **call.given("on", "at", "by", "note"),
    )
    save_and_tell(call, garage, draft)
    return output.FINE


def _decline_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("items", metavar="ITEM", nargs="+", help="rule, rule@PLACE, ...")
    parser.add_argument("--who", metavar="NAME", help="who said no")
    parser.add_argument("--why", metavar="WORDS", help="what was said")
    parser.add_argument("--until", metavar="DATE", help="when to ask again")
    takes_when(parser, at=False)
    gives_json(parser)


def _decline(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.jobs import draft_decline

    garage, slug = call.garage_and_car()
    draft = draft_decline(
        garage,
        slug,
        call.texts("items"),
        **call.given("who", "why", "until", "on"),
    )
    save_and_tell(call, garage, draft)
    return output.FINE


def _happened_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("event", metavar="EVENT", help="any word of it: curb, ford, heat")
    takes_when(parser)
    parser.add_argument("--where", metavar="PLACE", help="LF, front, ...; without it the whole car")
    takes_note(parser)
    gives_json(parser)


def _happened(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.garage.changes.happenings import draft_happening

    garage, slug = call.garage_and_car()
    draft = draft_happening(
        garage,
        slug,
        call.text("event"),
        **call.given("on", "at", "where", "note"),
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


COMMANDS = (
    Command(
        "reading",
        group=EVERY_DAY,
        words="record what the odometer shows",
        example="castlenut reading millrace 61600 --on yesterday",
        add_arguments=_reading_arguments,
        run=_reading,
    ),
    Command(
        "done",
        group=EVERY_DAY,
        words="record items as done",
        example="castlenut done millrace u-bolts@rear --at 61610 --hours 0.5",
        add_arguments=_done_arguments,
        run=_done,
    ),
    Command(
        "measure",
        group=EVERY_DAY,
        words="record a measurement, or the result of a check",
        example="castlenut measure millrace pad-measure@LF 4.5mm",
        add_arguments=_measure_arguments,
        run=_measure,
    ),
    Command(
        "decline",
        group=EVERY_DAY,
        words="record that the owner said no; the item stays counted",
        example='castlenut decline millrace drain-door --who owner --why "next year"',
        add_arguments=_decline_arguments,
        run=_decline,
    ),
    Command(
        "happened",
        group=EVERY_DAY,
        words="record that something happened: a curb hit, a ford, overheating",
        example="castlenut happened millrace curb-hit --where LF",
        add_arguments=_happened_arguments,
        run=_happened,
    ),
)
