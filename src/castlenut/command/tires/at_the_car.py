"""What stands where on a car and how deep it is, what room it has; measured and recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    TIRES,
    Command,
    gives_json,
    takes_by,
    takes_note,
    takes_vehicle,
    takes_when,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _room_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("place", metavar="PLACE", help="LF, or several: LF,RF, front")
    parser.add_argument("--inner", metavar="MM", help="from the tire to what is inward of it")
    parser.add_argument("--outer", metavar="MM", help="from the tire to the fender")
    parser.add_argument("--caliper", metavar="MM", help="from the wheel to the caliper")
    parser.add_argument(
        "--when", metavar="STANCE", help="straight, as without it; full lock, bump, droop"
    )
    parser.add_argument("--aligned", metavar="yes|no", help="whether the car was aligned then")
    parser.add_argument("--on", metavar="DATE", help="the day: 2026-11-25, yesterday, 3d ago")
    takes_note(parser)
    gives_json(parser)


def _room(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.rooms import draft_room

    garage, slug = call.garage_and_car()
    draft = draft_room(
        garage,
        slug,
        call.text("place"),
        **call.given("inner", "outer", "caliper", "when", "aligned", "on", "note"),
    )
    save_and_tell(call, garage, draft)
    return output.FINE


def _tires_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "--history", action="store_true", help="every tire's places and measurements too"
    )
    gives_json(parser)


def _tires(call: Call) -> int:
    from castlenut.command.tires.standing import answer_tires

    return answer_tires(call)


def _tread_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "words",
        metavar="PLACE DEPTHS",
        nargs="*",
        help='as LF 7, RR 7/32, LR 5.6mm, RF "7 7 6" (outer middle inner); several pairs',
    )
    parser.add_argument(
        "--from",
        dest="source",
        metavar="-",
        help="read lines from standard input: PLACE DEPTHS, or DEPTHS alone in the order in which"
        " one walks round the car: LF RF LR RR SP",
    )
    takes_when(parser)
    takes_by(parser)
    takes_note(parser)
    gives_json(parser)


def _tread(call: Call) -> int:
    from castlenut.command.tires.tread import record_tread

    return record_tread(call)


COMMANDS = (
    Command(
        "tires",
        group=TIRES,
        words="what stands where: size, depth, age, distance run; sets off the car",
        example="castlenut tires millrace",
        add_arguments=_tires_arguments,
        run=_tires,
    ),
    Command(
        "tread",
        group=TIRES,
        words="record tread depths, as one walks round the car",
        example='castlenut tread millrace LF 7 RF 7 LR "6 6 5" RR 6',
        add_arguments=_tread_arguments,
        run=_tread,
    ),
    Command(
        "room",
        group=TIRES,
        words="record the gaps measured round a wheel, for what may be fitted there",
        example='castlenut room millrace LF --inner 14 --outer 9 --when "full lock"',
        add_arguments=_room_arguments,
        run=_room,
    ),
)
