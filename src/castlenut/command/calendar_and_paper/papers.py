"""What is printed: the due sheet, the handover book, the job card."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import CALENDAR_AND_PAPER, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call
    from castlenut.garage.garage import Garage
    from castlenut.paper.paper import Paper


def _goes_out(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--out", metavar="FILE", help="into a file: .html to be printed, .txt as plain text"
    )
    gives_json(parser)


def _sheet_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("--short", action="store_true", help="five plain lines for a message")
    _goes_out(parser)


def _sheet(call: Call) -> int:
    garage, slug = call.garage_and_car()
    if call.flag("short"):
        return _short(call, garage, slug)
    from castlenut.garage.papers import due_sheet

    return _give(call, garage, due_sheet(garage, slug))


def _short(call: Call, garage: Garage, slug: str) -> int:
    from pathlib import Path

    from castlenut.garage.message import message
    from castlenut.store.outside import write_outside

    lines = message(garage, slug)
    target = call.maybe("out")
    if target is not None:
        write_outside(Path(target), "".join(f"{line}\n" for line in lines).encode())
        output.write(f"written: {target}")
    elif call.as_json:
        output.write_json(list(lines))
    else:
        output.write(*lines)
    return output.FINE


def _handover_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    _goes_out(parser)


def _handover(call: Call) -> int:
    from castlenut.garage.papers import handover_book

    garage, slug = call.garage_and_car()
    return _give(call, garage, handover_book(garage, slug))


def _card_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "items",
        metavar="ITEM",
        nargs="*",
        help="as due names it; without one the next visit, else what is due",
    )
    _goes_out(parser)


def _card(call: Call) -> int:
    from castlenut.garage.papers import job_card

    garage, slug = call.garage_and_car()
    return _give(call, garage, job_card(garage, slug, call.texts("items")))


def _give(call: Call, garage: Garage, paper: Paper) -> int:
    """Write a paper into its file, or print it."""
    target = call.maybe("out")
    if target is not None:
        from pathlib import Path

        from castlenut.garage.papers import write

        write(garage, paper, Path(target))
    if call.as_json:
        from castlenut.paper.answer import answer

        output.write_json(answer(paper))
    elif target is not None:
        output.write(f"written: {target}")
    else:
        from castlenut.paper.text import lines

        output.write(*lines(paper))
    return output.FINE


COMMANDS = (
    Command(
        "sheet",
        group=CALENDAR_AND_PAPER,
        words="the due sheet of a car, or how it stands in five lines",
        example="castlenut sheet millrace --out millrace.html",
        add_arguments=_sheet_arguments,
        run=_sheet,
    ),
    Command(
        "handover",
        group=CALENDAR_AND_PAPER,
        words="the handover book that goes with the keys",
        example="castlenut handover millrace --out millrace.html",
        add_arguments=_handover_arguments,
        run=_handover,
    ),
    Command(
        "card",
        group=CALENDAR_AND_PAPER,
        words="the job card: points with limits and blank boxes",
        example="castlenut card millrace u-bolts wheel-bearing",
        add_arguments=_card_arguments,
        run=_card,
    ),
)
