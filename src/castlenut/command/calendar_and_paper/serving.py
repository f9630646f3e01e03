"""Serving the feeds in the foreground, until ctrl+c or SIGTERM."""

from __future__ import annotations

import signal
import sys
from contextlib import ExitStack
from threading import Lock
from typing import TYPE_CHECKING, NoReturn

from castlenut.command import output
from castlenut.feed.feeds import GARAGE_FEED
from castlenut.garage.feeds.addresses import Subject, feed_address
from castlenut.garage.feeds.keeper import Keeper
from castlenut.garage.feeds.network import own_address
from castlenut.garage.feeds.server import EVERYWHERE, LOOPBACK, NotServed, Place, Server
from castlenut.garage.feeds.shelf import Shelf
from castlenut.words.escape import LONGEST_TEXT, one_line
from castlenut.words.feeds import ONLY_HERE

if TYPE_CHECKING:
    from castlenut.command.call import Call

_ONE_LINE = Lock()


def serve(call: Call, *, port: int) -> int:
    """Serve until interrupted; give the exit code.

    Raises:
        BadInput: there is no garage there, or it cannot be read.
        NotSaved: the garage has no secret yet, and it could not be saved.
    """
    host = EVERYWHERE if call.flag("lan") else call.maybe("host") or LOOPBACK
    place = Place(host=host, port=port)
    world = call.world
    shelf = Shelf(
        call.garage(),
        today=call.today,
        log=_log,
        unforeseen=lambda error: output.saved_report(error, world),
    )
    # The first address makes the secret: what hinders that is told now, and not to a phone.
    garage = call.quiet_garage()
    found = feed_address(
        garage,
        Subject(feed=GARAGE_FEED, name=None),
        host=own_address() if host == EVERYWHERE else host,
        port=port,
    )
    try:
        server = Server(shelf, place, now=world.now, log=_log)
    except NotServed as refused:
        output.tell(str(refused))
        return output.NOT_DONE
    with ExitStack() as ends:
        ends.callback(server.close)
        keeper = Keeper(garage, today=call.today, log=_log)
        keeper.start()
        ends.callback(keeper.close)
        before = signal.signal(signal.SIGTERM, _end)
        ends.callback(signal.signal, signal.SIGTERM, before)
        output.write(f"serving on {place.host}:{place.port}; ctrl+c ends it")
        if found.address is not None:
            output.write(
                f"the garage's feed: {found.address}", "the others: castlenut feed address"
            )
        if place.is_loopback:
            output.write(ONLY_HERE)
        output.flush()
        server.run()
    return output.FINE


def _end(_signal: int, _frame: object) -> NoReturn:
    raise SystemExit(output.FINE)


def _log(line: str) -> None:
    """Write a line for the log to stderr at once, whole, from whichever thread."""
    with _ONE_LINE:
        sys.stderr.write(f"{one_line(line, LONGEST_TEXT)}\n")
        sys.stderr.flush()
