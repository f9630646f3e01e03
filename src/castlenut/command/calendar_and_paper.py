"""Calendar and paper: the feed as a file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import CALENDAR_AND_PAPER, Command, gives_json

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call


def _feed_arguments(parser: ArgumentParser) -> None:
    actions = parser.add_subparsers(dest="action", metavar="write", required=True)
    write = actions.add_parser("write", help="write a feed as a file", allow_abbrev=False)
    write.add_argument("path", metavar="PATH", help="a file; in a folder it gets a secret name")
    whose = write.add_mutually_exclusive_group()
    whose.add_argument("--vehicle", metavar="VEHICLE", help="the feed of one car")
    whose.add_argument("--owner", metavar="OWNER", help="the feed of one owner's cars")
    gives_json(write)


def _feed(call: Call) -> int:
    from pathlib import Path

    from castlenut.garage.feed import write_feed

    garage = call.garage()
    written = write_feed(
        garage, Path(call.text("path")), vehicle=call.maybe("vehicle"), owner=call.maybe("owner")
    )
    for sentence in written.told:
        output.tell(sentence)
    if call.as_json:
        output.write_json(
            {
                "path": str(written.path),
                "bytes": written.bytes,
                "events": written.events,
                "until": written.until.isoformat(),
                "changed": written.changed,
            }
        )
        return output.FINE
    told = "written" if written.changed else "unchanged"
    output.write(f"{told}: {written.path}  {written.events} events, {written.bytes} bytes")
    return output.FINE


COMMANDS = (
    Command(
        "feed",
        group=CALENDAR_AND_PAPER,
        words="the calendar of what falls due: feed write PATH",
        example="castlenut feed write ~/calendar/garage.ics",
        add_arguments=_feed_arguments,
        run=_feed,
        is_nested=True,
    ),
)
