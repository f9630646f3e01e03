"""Looking the record over: its records as they stand, and what is wrong with them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _records_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument("--table", metavar="TABLE", help="only this table: reading, job, ...")
    parser.add_argument(
        "--history", action="store_true", help="struck records too, and every revision"
    )
    parser.add_argument("--ids", action="store_true", help="ids only, struck ones too")
    gives_json(parser)


def _records(call: Call) -> int:
    from castlenut.command.upkeep.records import write_records

    return write_records(call)


def _check_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument("--check", action="store_true", help="exit 1 when anything is told")
    parser.add_argument(
        "--repair", metavar="NAME", help="mend a damaged file: a car by its slug, or garage"
    )
    gives_json(parser)


def _repair(call: Call, name: str) -> int:
    from castlenut.garage.repairing import mend

    mended = mend(call.quiet_garage(), name)
    for told in mended.told:
        output.tell(told)
    if call.as_json:
        output.write_json({"change": mended.change, "records": [], "vehicle": mended.slug})
    else:
        output.write(mended.sentence)
    return output.FINE


def _check(call: Call) -> int:
    if (name := call.maybe("repair")) is not None:
        return _repair(call, name)
    from castlenut.command.upkeep.looking_over import found_wrong

    found = list(found_wrong(call))
    if call.as_json:
        output.write_json([each.answer() for each in found])
    elif found:
        output.write(*(f"{each.file}: {each.message}" for each in found))
    else:
        output.write("nothing is wrong")
    return output.WARNING if found and call.flag("check") else output.FINE


COMMANDS = (
    Command(
        "records",
        group=UPKEEP,
        words="every record, one line of JSON each",
        example="castlenut records millrace --table reading",
        add_arguments=_records_arguments,
        run=_records,
    ),
    Command(
        "check",
        group=UPKEEP,
        words="what is wrong with the files, odd readings, what needs a look",
        example="castlenut check",
        add_arguments=_check_arguments,
        run=_check,
    ),
)
