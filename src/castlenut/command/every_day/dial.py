"""The odometer: what it showed and what it means, and what odd readings are settled to be."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    EVERY_DAY,
    Command,
    gives_json,
    takes_note,
    takes_vehicle,
    takes_when,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call

_ANSWERS = "right, rolled-over, strike, correct FIGURE, unit mi|km, replaced START"


def _odometer_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    new = parser.add_mutually_exclusive_group()
    new.add_argument(
        "--replaced", metavar="START", help="record another dial, and what it showed at first"
    )
    new.add_argument(
        "--factor", metavar="F", help="record the true distance for one shown, from a day on"
    )
    parser.add_argument(
        "--last", metavar="N", help="with --replaced: what the old dial showed at its end"
    )
    takes_when(parser, at=False)
    parser.add_argument(
        "--at", metavar="FIGURE", help="with --factor: what the dial showed that day"
    )
    takes_note(parser)
    gives_json(parser)


def _odometer(call: Call) -> int:
    replaced, factor = call.maybe("replaced"), call.maybe("factor")
    if replaced is None and factor is None:
        return _show(call)
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.dial import draft_factor, draft_replaced

    _refuse(call, *(("last",) if factor is not None else ("at",)))
    garage = call.garage(by_rules=False)
    slug = garage.find(call.text("vehicle"))
    on, note = call.maybe("on"), call.maybe("note")
    if replaced is not None:
        draft = draft_replaced(garage, slug, replaced, last=call.maybe("last"), on=on, note=note)
    else:
        draft = draft_factor(garage, slug, str(factor), on=on, at=call.maybe("at"), note=note)
    save_and_tell(call, garage, draft)
    return output.FINE


def _show(call: Call) -> int:
    _refuse(call, "last", "on", "at", "note")
    from castlenut.domain.dial_history import dial_today
    from castlenut.garage.dial_questions import questions
    from castlenut.words.odometer import page_lines
    from castlenut.words.odometer_answer import odometer_answer

    garage = call.garage(by_rules=False)
    slug = garage.find(call.text("vehicle"))
    today = call.today()
    found = dial_today(garage.car(slug).car, today=today, south=garage.settings.south)
    asked = questions(garage, slug, found.odometer)
    if call.as_json:
        output.write_json(odometer_answer(slug, found, asked))
    else:
        output.write(*page_lines(slug, found, asked))
    return output.FINE


def _refuse(call: Call, *names: str) -> None:
    """Refuse options that have no meaning in this form of the command."""
    from castlenut.domain.errors import BadInput, Fault

    faults = [
        Fault("has no meaning here", f"--{name}", 'see "castlenut odometer --help"')
        for name in names
        if call.maybe(name) is not None
    ]
    if faults:
        raise BadInput(*faults)


def _settle_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("record", metavar="RECORD", help="id of the reading, its last 8 digits")
    parser.add_argument("answer", metavar="ANSWER", help=_ANSWERS)
    parser.add_argument(
        "value", metavar="VALUE", nargs="?", help="the figure, the unit, or the new dial's first"
    )
    parser.add_argument(
        "--last", metavar="N", help="with replaced: what the old dial showed at its end"
    )
    parser.add_argument(
        "--on",
        metavar="DATE",
        help="with replaced: the day of it; with correct: the day it was read",
    )
    takes_note(parser)
    gives_json(parser)


def _settle(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.domain.naming import choose
    from castlenut.domain.settling import How
    from castlenut.garage.changes.settling import Answer, draft_settlement

    how = How(choose(call.text("answer"), [each.value for each in How], what="answer"))
    garage, slug = call.garage_and_car()
    draft = draft_settlement(
        garage,
        slug,
        call.text("record"),
        Answer(
            how=how,
            **call.given("value", "last", "on", "note"),
        ),
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


COMMANDS = (
    Command(
        "odometer",
        group=EVERY_DAY,
        words="readings, questions, true distance and forecast; or a new dial, a factor",
        example="castlenut odometer millrace --replaced 0 --last 45300 --on 2026-10-02",
        add_arguments=_odometer_arguments,
        run=_odometer,
    ),
    Command(
        "settle",
        group=EVERY_DAY,
        words="say what an odd reading was; it is not asked again",
        example="castlenut settle millrace 5f2c61d0 correct 58723",
        add_arguments=_settle_arguments,
        run=_settle,
    ),
)
