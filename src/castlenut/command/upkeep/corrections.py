"""Corrections: a record's fields, and records struck or restored."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _takes_record(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("record", metavar="RECORD", help="id, its last 8 digits, or vehicle")


def _correct_arguments(parser: ArgumentParser) -> None:
    _takes_record(parser)
    parser.add_argument(
        "fields", metavar="FIELD=VALUE", nargs="+", help="an empty value clears the field"
    )
    gives_json(parser)


def _correct(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.corrections import draft_correction
    from castlenut.garage.entry import pairs

    garage = call.garage(by_rules=False)
    draft = draft_correction(
        garage,
        garage.find(call.text("vehicle")),
        call.text("record"),
        pairs(call.texts("fields")),
    )
    save_and_tell(call, garage, draft)
    return output.FINE


def _strike_arguments(parser: ArgumentParser) -> None:
    _takes_record(parser)
    parser.add_argument("--why", metavar="TEXT", help="kept as its note")
    gives_json(parser)


def _strike(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.corrections import draft_strike

    garage = call.garage(by_rules=False)
    draft = draft_strike(
        garage,
        garage.find(call.text("vehicle")),
        call.text("record"),
        why=call.maybe("why"),
    )
    save_and_tell(call, garage, draft)
    return output.FINE


def _restore_arguments(parser: ArgumentParser) -> None:
    _takes_record(parser)
    gives_json(parser)


def _restore(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.corrections import draft_restore

    garage = call.garage(by_rules=False)
    draft = draft_restore(garage, garage.find(call.text("vehicle")), call.text("record"))
    save_and_tell(call, garage, draft)
    return output.FINE


COMMANDS = (
    Command(
        "correct",
        group=UPKEEP,
        words="correct fields of a record; the former values are kept",
        example="castlenut correct millrace 5f2c61d0 figure=61610",
        add_arguments=_correct_arguments,
        run=_correct,
    ),
    Command(
        "strike",
        group=UPKEEP,
        words="strike a record out; it can be restored",
        example='castlenut strike millrace 5f2c61d0 --why "read on the wrong car"',
        add_arguments=_strike_arguments,
        run=_strike,
    ),
    Command(
        "restore",
        group=UPKEEP,
        words="restore a record that was struck",
        example="castlenut restore millrace 5f2c61d0",
        add_arguments=_restore_arguments,
        run=_restore,
    ),
)
