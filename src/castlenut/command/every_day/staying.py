"""In work, over again, and what stands against handing a car over."""

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
    from castlenut.garage.garage import Garage


def _stay_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("--from", dest="since", metavar="DATE", help="first day; without it today")
    parser.add_argument("--over", action="store_true", help="end it: the car may roll")
    takes_when(parser)
    parser.add_argument(
        "--yes", action="store_true", help="with --over: although something stands against it"
    )
    takes_note(parser)
    gives_json(parser)


def _stay(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.changes.stays import draft_stay

    garage, slug = call.garage_and_car()
    if call.flag("over"):
        return _end_stay(call, garage, slug)
    misplaced = [name for name in ("on", "at") if call.maybe(name) is not None]
    if call.flag("yes"):
        misplaced.append("yes")
    if misplaced:
        raise BadInput(
            *(
                Fault("belongs to the end of a stay", f"--{name}", "add --over, or use --from DATE")
                for name in misplaced
            )
        )
    draft = draft_stay(garage, slug, since=call.maybe("since"), note=call.maybe("note"))
    save_and_tell(call, garage, draft)
    if not call.as_json:
        _tell_ready(garage, slug)
    return output.FINE


def _end_stay(call: Call, garage: Garage, slug: str) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.changes.stays import draft_stay_over
    from castlenut.words import ready
    from castlenut.words.cautions import DEFERRING_LINE

    if call.maybe("since") is not None:
        raise BadInput(Fault("stands beside --over", "--from", "correct the record to change it"))
    over = draft_stay_over(
        garage, slug, on=call.maybe("on"), at=call.maybe("at"), note=call.maybe("note")
    )
    if over.has_to_ask and not call.flag("yes"):
        today = garage.today(slug)
        output.tell(f"stay: {ready.head_line(over.standing)}; add --yes to end it all the same")
        for each in over.standing:
            output.tell(ready.line(each, today))
        output.tell(DEFERRING_LINE)
        return output.BAD_INPUT
    save_and_tell(call, garage, over.draft)
    if not call.as_json and over.has_to_ask:
        output.write(ready.head_line(over.standing))
    return output.FINE


def _tell_ready(garage: Garage, slug: str) -> None:
    from castlenut.domain.stay import against_rolling
    from castlenut.words import ready

    standing = against_rolling(garage.today(slug), garage.book)
    output.write(ready.head_line(standing))
    if standing:
        output.write(f"castlenut ready {slug} lists them")


def _ready_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "--check", action="store_true", help="exit 1 while anything blocks the handover"
    )
    gives_json(parser)


def _ready(call: Call) -> int:
    from castlenut.domain.stay import against_rolling, is_ready
    from castlenut.words import ready
    from castlenut.words.cautions import DEFERRING_LINE

    garage = call.garage()
    today = garage.today(garage.find(call.text("vehicle")))
    standing = against_rolling(today, garage.book)
    if call.as_json:
        output.write_json(ready.answer(standing, today))
    else:
        output.write(ready.head_line(standing))
        output.write(*(ready.line(each, today) for each in standing))
        output.write(DEFERRING_LINE)
    if call.flag("check") and not is_ready(standing):
        return output.WARNING
    return output.FINE


COMMANDS = (
    Command(
        "stay",
        group=EVERY_DAY,
        words="take a car in work, or with --over end that",
        example="castlenut stay millrace --over --at 47325",
        add_arguments=_stay_arguments,
        run=_stay,
    ),
    Command(
        "ready",
        group=EVERY_DAY,
        words="what stands against handing a car over, worst first",
        example="castlenut ready millrace --check",
        add_arguments=_ready_arguments,
        run=_ready,
    ),
)
