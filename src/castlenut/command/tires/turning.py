"""Which wheels may change places, in which order, and the record of their doing so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command.command import TIRES, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _rotation_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
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


COMMANDS = (
    Command(
        "rotation",
        group=TIRES,
        words="which rotations may be done, why not the others, and which comes next",
        example="castlenut rotation --front 205/60R15 --rear 225/60R15 --drive rear",
        add_arguments=_rotation_arguments,
        run=_rotation,
    ),
)
