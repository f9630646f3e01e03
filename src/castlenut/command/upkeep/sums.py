"""The computation, open to any program: a line of JSON in, a line of JSON out."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _arguments(parser: ArgumentParser) -> None:
    # Its --help lists the kinds and their fields, which only the kinds know.
    parser.add_argument("kind", metavar="KIND", nargs="?")
    parser.add_argument("-h", "--help", action="store_true")


def _reckon(call: Call) -> int:
    from castlenut.command.reckon.kinds import KINDS, fields_help, run

    kind = call.maybe("kind")
    if kind is not None and call.flag("help"):
        output.write(*fields_help(kind).splitlines())
        return output.FINE
    if kind is not None:
        return run(kind, call.world.stdin.buffer, sys.stdout)
    output.write(
        "castlenut reckon KIND   one JSON object a line in, one a line out",
        "castlenut reckon KIND --help   its fields",
        "",
        "kinds:",
        *(f"  {name}  {words}" for name, words in KINDS.items()),
    )
    return output.FINE if call.flag("help") else output.BAD_INPUT


COMMANDS = (
    Command(
        "reckon",
        group=UPKEEP,
        words="a due date, window, limit or number by itself, from JSON lines",
        example="""echo '{"id":1,"from":"2026-01-31","months":1}' | castlenut reckon months""",
        add_arguments=_arguments,
        run=_reckon,
        has_own_help=True,
    ),
)
