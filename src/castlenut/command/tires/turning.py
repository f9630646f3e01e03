"""Which wheels may change places, in which order, and the record of their doing so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command.command import (
    TIRES,
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


def _rotation_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument("--plan", action="store_true", help="the whole sequence, bound and gap")
    parser.add_argument(
        "--moves", metavar="any|patterns", help="what the plan may do; any without it"
    )
    parser.add_argument(
        "--no-spare", dest="no_spare", action="store_true", help="keep the spare out of the plan"
    )
    parser.add_argument(
        "--check",
        action="store_true",
        help="exit 1 when a pattern that could be done is blocked since other tires or wheels"
        " came on",
    )
    parser.add_argument("--front", metavar="SIZE", help="without a car: the size in front")
    parser.add_argument("--rear", metavar="SIZE", help="at the rear; without it the same all round")
    parser.add_argument("--drive", metavar="front|rear|all", help="without a car: what is driven")
    parser.add_argument(
        "--directional", action="store_true", help="without a car: tires that turn one way only"
    )
    gives_json(parser)


def _rotation(call: Call) -> int:
    from castlenut.command.tires.rotation import answer_rotation

    return answer_rotation(call)


def _rotate_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "what",
        metavar="PATTERN | LF=RR,RR=LF",
        nargs="+",
        help="the name of a pattern, or every wheel that moves: from=to",
    )
    takes_when(parser)
    takes_by(parser)
    parser.add_argument(
        "--depth",
        metavar="PLACE=DEPTHS",
        action="append",
        help='measured before, as LF=7 or "RR=7 7 6"; once for each tire',
    )
    takes_hours_and_cost(parser)
    parser.add_argument(
        "--done-anyway",
        dest="done_anyway",
        action="store_true",
        help="record what was really done although it is not allowed",
    )
    takes_note(parser)
    gives_json(parser)


def _rotate(call: Call) -> int:
    from castlenut.command.tires.rotate import rotate

    return rotate(call)


COMMANDS = (
    Command(
        "rotation",
        group=TIRES,
        words="which rotations may be done, why not the others, and which comes next",
        example="castlenut rotation --front 205/60R15 --rear 225/60R15 --drive rear",
        add_arguments=_rotation_arguments,
        run=_rotation,
    ),
    Command(
        "rotate",
        group=TIRES,
        words="record that wheels changed places; refused where they may not",
        example='castlenut rotate millrace "rearward cross" --at 61610 --depth LF=7',
        add_arguments=_rotate_arguments,
        run=_rotate,
    ),
)
