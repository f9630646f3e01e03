"""Undo and redo."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import UPKEEP, Command, gives_json, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Callable

    from castlenut.command.call import Call
    from castlenut.garage.drafts import Saved
    from castlenut.garage.garage import Garage


def _arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    gives_json(parser)


def _undo(call: Call) -> int:
    from castlenut.garage.undoing import undo

    return _take_back(call, undo)


def _redo(call: Call) -> int:
    from castlenut.garage.undoing import redo

    return _take_back(call, redo)


def _take_back(call: Call, take: Callable[[Garage, str | None], Saved]) -> int:
    from castlenut.command.every_day.saving import saved_answer

    garage = call.garage(by_rules=False)
    named = call.maybe("vehicle")
    saved = take(garage, None if named is None else garage.find(named))
    for told in saved.told:
        output.tell(told)
    if call.as_json:
        output.write_json(saved_answer(saved, saved.slug))
    else:
        output.write(saved.title)
    return output.FINE


COMMANDS = (
    Command(
        "undo",
        group=UPKEEP,
        words="take back the latest change made on this machine",
        example="castlenut undo millrace",
        add_arguments=_arguments,
        run=_undo,
    ),
    Command(
        "redo",
        group=UPKEEP,
        words="bring back what undo took",
        example="castlenut redo millrace",
        add_arguments=_arguments,
        run=_redo,
    ),
)
