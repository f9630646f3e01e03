"""Parts: fitted, removed, and one kind of equipment replaced by another."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    EVERY_DAY,
    Command,
    gives_json,
    takes_by,
    takes_note,
    takes_vehicle,
    takes_when,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser

    from castlenut.command.call import Call

_ID = re.compile(r"(?=.*\d)[0-9a-f,-]{8,}")


def _fit_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "words",
        metavar="KIND PLACES | RECORD",
        nargs="+",
        help='as "wheel bearing" LF,RF service=sealed; an assembly as "loaded caliper" front; or'
        " ids of parts on the shelf, or of a tire to be turned on its rim; then FIELD=VALUE: part,"
        " made, every, stamped.MEASURE, or an attribute of the kind; FIELD@PLACE=VALUE where it"
        " differs",
    )
    takes_when(parser)
    takes_by(parser)
    parser.add_argument("--shelf", action="store_true", help="on the shelf, to be fitted later")
    parser.add_argument(
        "--as", dest="as_place", metavar="PLACE", help="as what stands at another place"
    )
    parser.add_argument(
        "--as-on", dest="as_on", metavar="VEHICLE", help="as what stands there on another car"
    )
    parser.add_argument(
        "--without",
        metavar="KIND",
        action="append",
        help="a part that the assembly came without",
    )
    takes_note(parser)
    gives_json(parser)


def _fit(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.garage.changes.parts import draft_fit
    from castlenut.garage.entry import pairs

    garage, slug = call.garage_and_car()
    words = [word for word in call.texts("words") if "=" not in word]
    fields = pairs([word for word in call.texts("words") if "=" in word])
    book = garage.book
    kinds = {word for each in book.kinds.values() for word in (each.name, *each.also_called)}
    brought = {word for each in book.assemblies.values() for word in (each.name, *each.also_called)}
    known = {word.lower() for word in kinds | brought}
    kind, places = _kind_and_places(words, known)
    draft = draft_fit(
        garage,
        slug,
        kind,
        places,
        fields,
        **call.given("on", "at", "by", "note"),
        shelf=call.flag("shelf"),
        **call.given("as_place", "as_on"),
        without=call.texts("without"),
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


def _kind_and_places(words: list[str], known: set[str]) -> tuple[str, str | None]:
    """Part the words of a kind, which may be several typed without quotes, from the places.

    Ids of parts on the shelf are taken together, as many as there are.
    """
    ids = next((n for n, word in enumerate(words) if not _ID.fullmatch(word.lower())), len(words))
    if ids:
        return ",".join(words[:ids]), " ".join(words[ids:]) or None
    for length in (5, 4, 3, 2):
        if " ".join(words[:length]).lower() in known:
            break
    else:
        length = 1
    places = " ".join(words[length:])
    return " ".join(words[:length]), places or None


def _remove_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument(
        "record",
        metavar="RECORD",
        nargs="+",
        help="the part's id, or its last 8 digits; a tire and its wheel go off together",
    )
    parser.add_argument("--why", metavar="WORDS", help="why it came off")
    takes_when(parser)
    gives_json(parser)


def _remove(call: Call) -> int:
    from castlenut.command.every_day.conversions import save_and_tell_difference
    from castlenut.garage.changes.parts import draft_remove

    garage, slug = call.garage_and_car()
    draft = draft_remove(
        garage,
        slug,
        *call.texts("record"),
        **call.given("on", "at", "why"),
    )
    save_and_tell_difference(call, garage, draft)
    return output.FINE


def _convert_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("name", metavar="NAME", help="front-discs, dual-circuit, alternator, ...")
    parser.add_argument(
        "fields", metavar="FIELD=VALUE", nargs="*", help="what the new parts are stamped with"
    )
    takes_when(parser)
    parser.add_argument("--yes", action="store_true", help="do it; without it only shown")
    gives_json(parser)


def _convert(call: Call) -> int:
    from castlenut.command.every_day.conversions import convert

    return convert(call)


COMMANDS = (
    Command(
        "fit",
        group=EVERY_DAY,
        words="record a part as fitted, or put it on the shelf",
        example='castlenut fit millrace "brake hose" LF,RF part=BH-204 made=2026-03',
        add_arguments=_fit_arguments,
        run=_fit,
    ),
    Command(
        "remove",
        group=EVERY_DAY,
        words="record a part as taken off",
        example='castlenut remove millrace 9f2c61d0 --why "worn"',
        add_arguments=_remove_arguments,
        run=_remove,
    ),
    Command(
        "convert",
        group=EVERY_DAY,
        words="replace one kind of equipment by another; shows what leaves and arrives",
        example="castlenut convert millrace front-discs",
        add_arguments=_convert_arguments,
        run=_convert,
    ),
)
