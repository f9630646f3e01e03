"""What a car is exposed to, and its lay-ups."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import EVERY_DAY, Command, gives_json, takes_note, takes_vehicle

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _takes_span(parser: ArgumentParser) -> None:
    parser.add_argument("--from", dest="since", metavar="DATE", help="first day")
    parser.add_argument("--to", dest="until", metavar="DATE", help="last day; may be planned")
    takes_note(parser)
    gives_json(parser)


def _layup_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    _takes_span(parser)


def _layup(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.garage.changes.exposures import draft_layup

    garage, slug = call.garage_and_car()
    draft = draft_layup(
        garage, slug, since=call.maybe("since"), until=call.maybe("until"), note=call.maybe("note")
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


def _exposure_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "names",
        metavar="NAMES",
        help='with commas between: wet, salt, dust, towing, stop-start, "stored outdoors"',
    )
    _takes_span(parser)


def _exposure(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.garage.changes.exposures import draft_exposure

    garage, slug = call.garage_and_car()
    draft = draft_exposure(
        garage,
        slug,
        call.text("names"),
        **call.given("since", "until", "note"),
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


COMMANDS = (
    Command(
        "layup",
        group=EVERY_DAY,
        words="lay a car up from a day, perhaps to a planned one",
        example="castlenut layup millrace --from 2026-11-01 --to 2027-04-15",
        add_arguments=_layup_arguments,
        run=_layup,
    ),
    Command(
        "exposure",
        group=EVERY_DAY,
        words="say what a car is exposed to, from a day: wet, salt, dust, towing, ...",
        example="castlenut exposure millrace wet,salt --from 2026-11-01",
        add_arguments=_exposure_arguments,
        run=_exposure,
    ),
)
