"""Merging another garage: what came in, what differs, what had to be left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command, gives_json

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call
    from castlenut.garage.meeting import Merged


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("other", metavar="OTHER", help="another garage's folder, or a zip of one")
    gives_json(parser)


def _merge(call: Call) -> int:
    from pathlib import Path

    from castlenut.garage.meeting import merge_garage

    garage = call.garage(by_rules=False)
    other = call.text("other")
    merged = merge_garage(garage, Path(other))
    for told in merged.told:
        output.tell(told)
    for fault in merged.met.left_out:
        output.tell(f"{fault}; left out")
    if call.as_json:
        output.write_json(_answer(merged))
    else:
        output.write(*_lines(merged, other))
    return output.BAD_INPUT if merged.met.left_out else output.FINE


def _answer(merged: Merged) -> dict[str, object]:
    from castlenut.command.upkeep.records import answer_of

    counts = merged.met.counts
    return {
        "vehicles_new": counts.vehicles_new,
        "records_new": counts.records_new,
        "records_changed": counts.records_changed,
        "revisions_new": counts.revisions_new,
        "differences": [
            answer_of(record, each.file) for each in merged.met.files for record in each.differing
        ],
        "left_out": [
            {"file": fault.file, "reason": fault.message} for fault in merged.met.left_out
        ],
    }


def _lines(merged: Merged, other: str) -> list[str]:
    from castlenut.garage.car_record import differences_of
    from castlenut.words.figures import count

    counts = merged.met.counts
    if not counts.revisions_new:
        return [f"nothing new in {other}"]
    sentences = [
        f"{each.file.place.name}: {sentence}"
        for each in merged.met.files
        for sentence in differences_of(each.differing)
    ]
    told = (
        f"merged {count(counts.records_new, 'new record')}, {counts.records_changed:,} changed,"
        f" from {other}"
    )
    if sentences:
        told += f"; {count(len(sentences), 'difference')} to settle"
    return [told, *sentences]


COMMANDS = (
    Command(
        "merge",
        group=UPKEEP,
        words="take in what another copy of the garage holds",
        example="castlenut merge /media/stick/garage",
        add_arguments=_arguments,
        run=_merge,
    ),
)
