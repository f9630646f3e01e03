"""What leaves the garage and what comes in by a file; what an owner wants forgotten."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call
    from castlenut.garage.importing import Import


def _forget_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "--owner", action="store_true", help="only the owner; VIN and plate stay in the record"
    )
    gives_json(parser)


def _forget(call: Call) -> int:
    from castlenut.command.every_day.saving import saved_answer
    from castlenut.garage.forgetting import forget

    garage = call.garage(by_rules=False)
    done = forget(garage, garage.find(call.text("vehicle")), owner_only=call.flag("owner"))
    for told in done.saved.told:
        output.tell(told)
    if call.as_json:
        output.write_json(saved_answer(done.saved, done.saved.slug))
    elif done.saved.change is None:
        output.write(f"nothing to forget: no {done.saved.title.removesuffix(' forgotten')} stood")
    else:
        output.write(done.saved.title)
    return output.FINE


def _export_arguments(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="ends in .zip, or in .csv for one table")
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument("--table", metavar="TABLE", help="the table of a .csv: reading, job, ...")
    parser.add_argument(
        "--without-owner", action="store_true", help="leave owner, phone, address, email out"
    )
    parser.add_argument("--force", action="store_true", help="replace a file that is there")
    gives_json(parser)


def _export(call: Call) -> int:
    from pathlib import Path

    from castlenut.garage.exporting import export
    from castlenut.words.figures import count

    garage = call.garage(by_rules=False)
    done = export(
        garage,
        Path(call.text("file")),
        vehicle=call.maybe("vehicle"),
        table=call.maybe("table"),
        without_owner=call.flag("without_owner"),
        force=call.flag("force"),
    )
    for fault in done.left_out:
        output.tell(f"{fault}; left out")
    if call.as_json:
        output.write_json(
            {
                "path": str(done.path),
                "bytes": done.bytes,
                "vehicles": done.cars,
                "records": done.records,
                "left_out": [
                    {"file": fault.file, "reason": fault.message} for fault in done.left_out
                ],
            }
        )
    else:
        of = f"{count(done.records, 'record')} of {count(done.cars, 'car')}"
        output.write(f"written: {done.path}, {of}, {done.bytes:,} bytes")
    return output.BAD_INPUT if done.left_out else output.FINE


def _import_arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", help="a CSV file with the names of fields at its head"
    )
    parser.add_argument("--vehicle", metavar="VEHICLE", help="the car; else a column vehicle tells")
    parser.add_argument("--table", metavar="TABLE", help="the table; without it reading")
    parser.add_argument(
        "--map",
        metavar="COLUMN=FIELD",
        action="append",
        help="the field of a column; COLUMN= leaves the column out",
    )
    parser.add_argument("--dry-run", action="store_true", help="only say what would come in")
    gives_json(parser)


def _import(call: Call) -> int:
    from pathlib import Path

    from castlenut.command.every_day.saving import saved_answer
    from castlenut.garage.importing import read_import, save_import
    from castlenut.words.figures import count

    garage = call.garage(by_rules=False)
    found = read_import(
        garage,
        Path(call.text("file")),
        vehicle=call.maybe("vehicle"),
        table=call.maybe("table"),
        mapped=_mapped(call),
    )
    new, here = len(found.new), len(found.lines) - len(found.new)
    records = f"{found.table} record"
    told = f"{here:,} {'is' if here == 1 else 'are'} here already"
    if call.flag("dry_run"):
        _tell_dry_run(call, found, f"would import {count(new, records)}; {told}")
        return output.FINE
    saved = save_import(garage, found)
    for sentence in saved.told:
        output.tell(sentence)
    if call.as_json:
        output.write_json(saved_answer(saved, saved.slug))
    else:
        output.write(f"imported {count(new, records)}; {told}")
    return output.FINE


def _tell_dry_run(call: Call, found: Import, told: str) -> None:
    if call.as_json:
        records = [
            {"id": each.record, "table": found.table, "vehicle": each.slug} for each in found.new
        ]
        output.write_json({"change": None, "records": records, "vehicle": None})
        return
    for each in found.new:
        values = ", ".join(f"{name} {value}" for name, value in each.values.items())
        output.write(f"line {each.number}  {each.slug}  {values}")
    output.write(told)


def _mapped(call: Call) -> dict[str, str]:
    """Read the pairs COLUMN=FIELD.

    Raises:
        BadInput: one has no =.
    """
    from castlenut.domain.errors import BadInput, Fault

    mapped: dict[str, str] = {}
    for pair in call.texts("map"):
        column, mark, field = pair.rpartition("=")
        if not mark:
            raise BadInput(Fault(f"{pair!a} has no =", "--map", "write COLUMN=FIELD"))
        mapped[column] = field.strip()
    return mapped


COMMANDS = (
    Command(
        "export",
        group=UPKEEP,
        words="the garage or a car as a zip, a table as CSV",
        example="castlenut export backup.zip",
        add_arguments=_export_arguments,
        run=_export,
    ),
    Command(
        "import",
        group=UPKEEP,
        words="lines of a CSV file, all or nothing",
        example="castlenut import readings.csv --vehicle millrace --map Miles=figure --dry-run",
        add_arguments=_import_arguments,
        run=_import,
    ),
    Command(
        "forget",
        group=UPKEEP,
        words="take an owner's name, address, VIN and plate out of the record",
        example="castlenut forget millrace --owner",
        add_arguments=_forget_arguments,
        run=_forget,
    ),
)
