"""Taking a car on: adding it, and what is known of it at intake."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    EVERY_DAY,
    Command,
    gives_json,
    takes_fields,
    takes_vehicle,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call

_NAMED = ("description", "year", "owner", "unit", "digits", "use")


def _add_arguments(parser: ArgumentParser) -> None:
    parser.add_argument("slug", metavar="SLUG", help="short name: small letters, digits, hyphens")
    parser.add_argument("--description", metavar="TEXT", help="without it the short name")
    parser.add_argument("--year", metavar="N", help="year of make")
    parser.add_argument("--owner", metavar="NAME", help="whose car it is")
    parser.add_argument("--unit", metavar="mi|km", help="what the dial counts")
    parser.add_argument("--digits", metavar="4..7", help="whole digits of the dial")
    parser.add_argument("--use", metavar="WORD", help="daily, seasonal, occasional or stored")
    parser.add_argument("--tenths", action="store_true", help="the dial has tenths")
    takes_fields(parser)
    gives_json(parser)


def _add(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.changes.vehicles import draft_vehicle
    from castlenut.garage.entry import pairs
    from castlenut.garage.garage import Garage, make_garage
    from castlenut.store.folder import Folder

    fields = dict(pairs(call.texts("fields")))
    options = {name: value for name in _NAMED if (value := call.maybe(name)) is not None}
    if call.flag("tenths"):
        options["tenths"] = "yes"
    twice = [name for name in options if name in fields]
    if twice:
        raise BadInput(*(Fault("given twice", name, "give it once") for name in twice))
    path, surroundings = call.garage_path(), call.surroundings()
    # The garage is made only once the car is known to be sound: bad input leaves nothing behind.
    unsaved = Garage(Folder(path=path), surroundings)
    draft = draft_vehicle(unsaved, call.text("slug"), {**options, **fields})
    garage = make_garage(path, surroundings)
    save_and_tell(call, garage, draft, first=f"{draft.slug} added")
    return output.FINE


def _intake_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "--from",
        dest="source",
        metavar="-",
        help="read from standard input: KIND PLACE stated ON AT | inspected UNTIL | unknown"
        " | n/a WHY; tick NAME WORD, how it is built; rest [PAGE] unknown | stated ON AT, all that"
        " is left; use daily|seasonal|occasional|stored. Without it: what is left to answer",
    )
    gives_json(parser)


def _intake(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.changes.intake import draft_intake

    source = call.maybe("source")
    if source is None:
        return _tell_intake(call)
    if source != "-":
        raise BadInput(
            Fault(f'"{source}" cannot be read from', "--from", "write --from - for standard input")
        )
    garage, slug = call.garage_and_car()
    draft = draft_intake(garage, slug, list(call.world.stdin))
    save_and_tell(call, garage, draft)
    return output.BAD_INPUT if draft.faults else output.FINE


def _tell_intake(call: Call) -> int:
    from castlenut.garage.changes.intake import intake_of
    from castlenut.words.intake import progress_answer, progress_lines

    garage, slug = call.garage_and_car()
    progress, vehicle = intake_of(garage, slug), garage.car(slug).car.vehicle
    if call.as_json:
        output.write_json(progress_answer(progress, vehicle))
    else:
        output.write(*progress_lines(progress, vehicle))
    return output.FINE


COMMANDS = (
    Command(
        "add",
        group=EVERY_DAY,
        words="take a car on; makes the garage if there is none",
        example='castlenut add millrace --description "Wendlecot Millrace 1956" --year 1956',
        add_arguments=_add_arguments,
        run=_add,
    ),
    Command(
        "intake",
        group=EVERY_DAY,
        words="say what is known of a car taken on: stated, inspected, unknown, does not apply",
        example='echo "brake fluid - stated 2025-03-01 41000" | castlenut intake millrace --from -',
        add_arguments=_intake_arguments,
        run=_intake,
    ),
)
