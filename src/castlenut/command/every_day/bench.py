"""At the bench: what else while it is apart, and which parts to have on hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import EVERY_DAY, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call

_SECONDS = 5.0


def _apart_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "--open",
        dest="open",
        metavar="ACCESS",
        action="append",
        required=True,
        help='what is taken off, with its place: "wheel LF"; several times if need be',
    )
    parser.add_argument(
        "--why", action="store_true", help="with what each is worth over all that follows"
    )
    parser.add_argument("--seconds", metavar="N", help="time to judge that, 5 without it")
    gives_json(parser)


def _apart(call: Call) -> int:
    from castlenut.command.every_day.seconds import clock, seconds
    from castlenut.garage.apart import apart_on, judged, weighing
    from castlenut.words.apart import apart_answer, lines, open_line
    from castlenut.words.cautions import DEFERRING_LINE, sentences
    from castlenut.words.judged import judged_answer, judged_lines

    garage = call.garage()
    asked = apart_on(garage, garage.find(call.text("vehicle")), call.texts("open"))
    for sentence in asked.told:
        output.tell(sentence)
    worth = judged(weighing(garage, asked), may_go_on=clock(seconds(call, usual=_SECONDS)))
    if call.as_json:
        output.write_json(
            {
                **apart_answer(asked.found, asked.today, asked.hourly_rate),
                "plan": judged_answer(
                    worth.found, worth.items, worth.on, has_money=worth.has_money
                ),
            }
        )
        return output.FINE
    output.write(open_line(asked.found))
    output.write(*lines(asked.found.items, asked.today))
    if asked.found.no_record:
        output.write("no record:", *lines(asked.found.no_record, asked.today))
    if not asked.found.items and not asked.found.no_record:
        output.write(f"nothing else behind this within {asked.months} months")
    told = judged_lines(worth.found, worth.items, in_full=call.flag("why"))
    output.write(*told)
    behind = (*asked.found.items, *asked.found.no_record)
    keys = dict.fromkeys(key for each in behind for key in each.item.rule.cautions)
    output.write(*(f"caution: {sentence}" for sentence in sentences(tuple(keys))), DEFERRING_LINE)
    return output.FINE


def _parts_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument(
        "--week",
        metavar="DATE",
        nargs="?",
        const="today",
        help="of all cars, for the week of that day; without a day this week",
    )
    gives_json(parser)


def _parts(call: Call) -> int:
    from castlenut.command.every_day.cars import CarsAsked
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.entry import day
    from castlenut.garage.on_hand import monday_of, parts_of_car, parts_of_week
    from castlenut.words.on_hand import needed_answer, needed_line

    week = call.maybe("week")
    if week is None and call.maybe("vehicle") is None:
        raise BadInput(Fault("no car is named", "VEHICLE", "name one, or give --week"))
    garage = call.garage()
    monday = (
        None
        if week is None
        else monday_of(day(week, today=call.today(), past=False, field="--week"))
    )
    found = [
        (slug, each)
        for slug, record in CarsAsked(call, garage)
        if record.car.vehicle.sold_on is None or call.maybe("vehicle") is not None
        for each in (
            parts_of_car(garage, slug) if monday is None else parts_of_week(garage, slug, monday)
        )
    ]
    found.sort(key=lambda one: (one[1].planned_on is None, one[1].planned_on or monday))
    if call.as_json:
        output.write_json([needed_answer(slug, each) for slug, each in found])
    elif found:
        has_car = call.maybe("vehicle") is None
        output.write(*(needed_line(slug, each, has_car=has_car) for slug, each in found))
    else:
        output.write("no parts are needed for what is planned or due")
    return output.FINE


COMMANDS = (
    Command(
        "apart",
        group=EVERY_DAY,
        words="what else is worth doing while something is off, and what is behind it",
        example='castlenut apart millrace --open "wheel LF" --open "wheel RF"',
        add_arguments=_apart_arguments,
        run=_apart,
    ),
    Command(
        "parts",
        group=EVERY_DAY,
        words="which parts to have on hand for what is planned or due",
        example="castlenut parts --week 2026-12-02",
        add_arguments=_parts_arguments,
        run=_parts,
    ),
)
