"""What is asked at the tire counter, with a car or without: sizes and fitments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command.command import TIRES, Command, gives_json

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _size_arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "sizes", metavar="SIZE", nargs="+", help='as marked: 205/60R15, "185/70R14 88H", G78-15'
    )
    parser.add_argument("--rim", metavar="IN", help="the width of the rim it is to stand on")
    gives_json(parser)


def _size(call: Call) -> int:
    from castlenut.command.tires.size import answer_size

    return answer_size(call)


def _fitment_arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "words",
        metavar="[VEHICLE] SIZE[/SIZE]",
        nargs="+",
        help="a car, or none; then each way to shoe it, FRONT/REAR where they differ",
    )
    once = "once for all ways, or once for each in their order; F/R where the axles differ"
    parser.add_argument("--rim", metavar="IN[/IN]", action="append", help=f"rim width: {once}")
    parser.add_argument(
        "--offset", metavar="MM[/MM]", action="append", help="offset of the wheels, likewise"
    )
    parser.add_argument(
        "--new-depth",
        dest="new_depth",
        metavar="DEPTH[/DEPTH]",
        action="append",
        help="tread when new, as 8mm or 11/32, likewise",
    )
    parser.add_argument(
        "--price", metavar="EACH[/EACH]", action="append", help="price of one tire, likewise"
    )
    parser.add_argument(
        "--spacer", metavar="MM[/MM]", action="append", help="spacers to come under, likewise"
    )
    parser.add_argument("--drive", metavar="front|rear|all", help="of a car that is not recorded")
    parser.add_argument("--directional", action="store_true", help="tires that turn one way only")
    gives_json(parser)


def _fitment(call: Call) -> int:
    from castlenut.command.tires.fitment import answer_fitment

    return answer_fitment(call)


COMMANDS = (
    Command(
        "size",
        group=TIRES,
        words="what a tire's size says: diameter, width, rims, load and speed",
        example="castlenut size 205/60R15 185/70R14 --rim 6",
        add_arguments=_size_arguments,
        run=_size,
    ),
    Command(
        "fitment",
        group=TIRES,
        words="ways to shoe a car side by side: what each gives, loses and costs",
        example="castlenut fitment 205/60R15 205/60R15/225/60R15 --rim 6 --rim 6/7 --drive rear",
        add_arguments=_fitment_arguments,
        run=_fitment,
    ),
)
