"""The calendar of what falls due: as a file, in published folders, over the network."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import CALENDAR_AND_PAPER, Command, gives_json

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Iterator, Mapping

    from castlenut.command.call import Call
    from castlenut.garage.feeds.addresses import FeedAddress, Subject
    from castlenut.garage.feeds.targets import Target
    from castlenut.garage.garage import Garage

_PORT = "8737"


def _arguments(parser: ArgumentParser) -> None:
    actions = parser.add_subparsers(
        dest="action", metavar="write|publish|base|serve|address|revoke", required=True
    )
    write = actions.add_parser("write", help="write a feed as a file", allow_abbrev=False)
    write.add_argument("path", metavar="PATH", help="a file; in a folder it gets a secret name")
    _takes_whose(write)
    gives_json(write)
    publish = actions.add_parser(
        "publish",
        help="write a feed and keep it up to date there; without PATH: where it is published",
        allow_abbrev=False,
    )
    publish.add_argument("path", metavar="PATH", nargs="?", help="a folder, or a file .ics")
    _takes_whose(publish)
    publish.add_argument("--stop", action="store_true", help="forget PATH; its file stays")
    gives_json(publish)
    base = actions.add_parser(
        "base", help="the public address of the published folder", allow_abbrev=False
    )
    of = base.add_mutually_exclusive_group()
    of.add_argument("url", metavar="URL", nargs="?", help="as https://example.org/calendars")
    of.add_argument("--none", action="store_true", help="there is none any more")
    gives_json(base)
    serve = actions.add_parser(
        "serve", help="serve the feeds in this network, until ctrl+c", allow_abbrev=False
    )
    where = serve.add_mutually_exclusive_group()
    where.add_argument("--lan", action="store_true", help="open it to the phones in this network")
    where.add_argument("--host", metavar="ADDRESS", help="listen on this address alone")
    _takes_port(serve)
    address = actions.add_parser(
        "address", help="where a feed is subscribed to: text, link, QR code", allow_abbrev=False
    )
    _takes_whose(address)
    _takes_port(address)
    gives_json(address)
    revoke = actions.add_parser(
        "revoke",
        help="end an address, or alone every address; there are new ones",
        allow_abbrev=False,
    )
    _takes_whose(revoke)
    _takes_port(revoke)
    gives_json(revoke)


def _takes_whose(parser: ArgumentParser) -> None:
    whose = parser.add_mutually_exclusive_group()
    whose.add_argument("--vehicle", metavar="VEHICLE", help="the feed of one car")
    whose.add_argument("--owner", metavar="OWNER", help="the feed of one owner's cars")


def _takes_port(parser: ArgumentParser) -> None:
    parser.add_argument("--port", metavar="PORT", default=_PORT, help=f"{_PORT} without it")


def _feed(call: Call) -> int:
    return _ACTIONS[call.text("action")](call)


def _write(call: Call) -> int:
    from pathlib import Path

    from castlenut.garage.feeds.writing import write_feed
    from castlenut.words import figures

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
    events = figures.count(written.events, "event")
    output.write(f"{told}: {written.path}  {events}, {written.bytes} bytes")
    return output.FINE


def _publish(call: Call) -> int:
    from pathlib import Path

    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.feeds.making import feed_meant
    from castlenut.garage.feeds.targets import publish_to, stop, targets

    garage = call.garage()
    path = call.maybe("path")
    if path is None:
        if call.flag("stop") or call.maybe("vehicle") or call.maybe("owner"):
            raise BadInput(Fault("PATH is missing", "feed publish", "name a folder or a file .ics"))
        return _tell_targets(call, targets(garage))
    if call.flag("stop"):
        stop(garage, Path(path))
        if call.as_json:
            return _tell_targets(call, targets(garage))
        output.write(f"no longer published: {path}; the file stays where it is")
        return output.FINE
    feed = feed_meant(garage, vehicle=call.maybe("vehicle"), owner=call.maybe("owner"))
    target, told = publish_to(garage, Path(path), feed=feed)
    for sentence in told:
        output.tell(sentence)
    return _tell_targets(call, (target,))


def _tell_targets(call: Call, found: tuple[Target, ...]) -> int:
    from castlenut.garage.feeds.targets import ELSEWHERE
    from castlenut.words.feeds import feed_words, target_words

    if call.as_json:
        output.write_json(
            {
                "targets": [
                    {
                        "path": each.path,
                        **_subject(each.subject),
                        "written": each.written,
                        "fault": ELSEWHERE if each.is_elsewhere else each.fault,
                    }
                    for each in found
                ]
            }
        )
        return output.FINE
    for each in found:
        words = feed_words(each.subject.feed.kind.value, each.subject.name)
        stands = target_words(
            written=each.written, fault=each.fault, is_elsewhere=each.is_elsewhere
        )
        output.write(f"{each.path}  {words}  {stands}")
    if not found:
        output.write("nothing is published: castlenut feed publish PATH begins it")
    return output.FINE


def _base(call: Call) -> int:
    from castlenut.garage.feeds.addresses import set_base

    garage = call.garage(by_rules=False)
    url = call.maybe("url")
    base = garage.settings.feed_base
    if url is not None or call.flag("none"):
        base = set_base(garage, url)
    if call.as_json:
        output.write_json({"base": base})
    else:
        output.write(base or "no base: feeds have local addresses only")
    return output.FINE


def _address(call: Call) -> int:
    garage = call.garage()
    return _tell_addresses(call, garage, _asked(call, garage))


def _revoke(call: Call) -> int:
    from castlenut.garage.feeds.revoking import revoke
    from castlenut.words.feeds import COPIES

    garage = call.garage()
    alone = call.maybe("vehicle") is None and call.maybe("owner") is None
    asked = _asked(call, garage)
    for sentence in revoke(garage, None if alone else asked[0].feed):
        output.tell(sentence)
    code = _tell_addresses(call, garage, asked)
    output.tell(COPIES)
    return code


def _asked(call: Call, garage: Garage) -> tuple[Subject, ...]:
    """Give the feed that was named, else all of them."""
    from castlenut.garage.feeds.addresses import subject_of, subjects
    from castlenut.garage.feeds.making import feed_meant

    vehicle, owner = call.maybe("vehicle"), call.maybe("owner")
    if vehicle is None and owner is None:
        return tuple(subjects(garage))
    return (subject_of(garage, feed_meant(garage, vehicle=vehicle, owner=owner)),)


def _tell_addresses(call: Call, garage: Garage, asked: tuple[Subject, ...]) -> int:
    from castlenut.garage.feeds.addresses import feed_address
    from castlenut.garage.feeds.network import own_address
    from castlenut.words.feeds import FIXED, HOSTED, NO_NETWORK, PHONES

    port, host = _port(call), own_address()
    found = [feed_address(garage, each, host=host, port=port) for each in asked]
    if call.as_json:
        output.write_json({"feeds": [_address_values(each) for each in found]})
        return output.FINE
    for number, each in enumerate(found):
        output.write(*([""] if number else []), *_address_lines(each))
        if len(found) == 1 and output.is_on_terminal() and not call.is_plain:
            _draw_code(call, each)
    if garage.settings.feed_base is None:
        output.write("", *((PHONES, FIXED) if host else (NO_NETWORK,)), HOSTED)
    return output.FINE


def _address_lines(address: FeedAddress) -> Iterator[str]:
    from castlenut.words.feeds import feed_words, shows

    subject = address.subject
    words = feed_words(subject.feed.kind.value, subject.name)
    yield f"{words}: {shows(address.events, address.until)}"
    if address.address is not None:
        yield f"  {address.address}"
        yield f"  {address.webcal}"


def _draw_code(call: Call, address: FeedAddress) -> None:
    import shutil

    from castlenut.words.qr import qr_rows

    if address.webcal is None:
        return
    rows = qr_rows(address.webcal)
    needs = (len(rows[0]) + 2, len(rows) + 3)
    room = shutil.get_terminal_size()
    if room.columns < needs[0] or room.lines < needs[1]:
        output.write(f"  the QR code needs {needs[0]}x{needs[1]}")
        return
    output.draw(rows, color=not call.world.environment.get("NO_COLOR"))


def _address_values(address: FeedAddress) -> Mapping[str, object]:
    return {
        **_subject(address.subject),
        "address": address.address,
        "webcal": address.webcal,
        "public": address.is_public,
        "events": address.events,
        "until": address.until.isoformat(),
    }


def _subject(subject: Subject) -> Mapping[str, object]:
    return {"feed": subject.feed.kind.value, "subject": subject.name}


def _port(call: Call) -> int:
    from castlenut.domain.errors import BadInput, Fault

    text = call.text("port")
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= 65_535):
        raise BadInput(Fault(f'"{text}" is no port', "--port", "give a number from 1 to 65535"))
    return int(text)


def _serve(call: Call) -> int:
    from castlenut.command.calendar_and_paper.serving import serve

    return serve(call, port=_port(call))


_ACTIONS = {
    "write": _write,
    "publish": _publish,
    "base": _base,
    "serve": _serve,
    "address": _address,
    "revoke": _revoke,
}

COMMANDS = (
    Command(
        "feed",
        group=CALENDAR_AND_PAPER,
        words="the calendar of what falls due: write, publish, base, serve, address, revoke",
        example="castlenut feed write ~/calendar/garage.ics",
        add_arguments=_arguments,
        run=_feed,
        is_nested=True,
    ),
)
