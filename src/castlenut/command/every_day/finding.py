"""What was found, mended and is watched on one car."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    EVERY_DAY,
    Command,
    gives_json,
    takes_by,
    takes_hours_and_cost,
    takes_note,
    takes_vehicle,
    takes_when,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Sequence

    from castlenut.command.call import Call
    from castlenut.domain.findings import Decided
    from castlenut.garage.drafts import Saved
    from castlenut.garage.garage import Garage


def _found_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("what", metavar="WHAT", help="in your words: sill seam rusted through")
    parser.add_argument("--where", metavar="PLACE", help="L, LF, rear, ...; LF,RF is two findings")
    parser.add_argument(
        "--kind", metavar="KIND", help="crack, rust, leak, wear, play, damage or other"
    )
    parser.add_argument("--photo", metavar="FILE", help="copied into the garage's photos")
    decided = parser.add_mutually_exclusive_group(required=True)
    decided.add_argument("--mend", action="store_true", help="it is to be mended before it rolls")
    decided.add_argument(
        "--watch", metavar="WHEN", help='look again after "500 mi", 3m or on a day'
    )
    decided.add_argument("--declined", action="store_true", help="the owner said no")
    parser.add_argument("--every", metavar="TIME", help="with --watch: again and again, 500mi, 3m")
    parser.add_argument("--who", metavar="NAME", help="with --declined: who said no")
    parser.add_argument("--why", metavar="WORDS", help="with --declined: what was said")
    parser.add_argument("--until", metavar="DATE", help="with --declined: when to ask again")
    takes_when(parser)
    takes_note(parser)
    gives_json(parser)


def _found(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.findings import Found, draft_found

    garage, slug = call.garage_and_car()
    decided = _decided(call)
    draft = draft_found(
        garage,
        slug,
        Found(
            what=call.text("what"),
            where=call.maybe("where"),
            nature=call.maybe("kind"),
            photo=call.maybe("photo"),
            decided=decided,
            has_other_side=True,
            **call.given("watch", "every", "who", "why", "until", "note"),
        ),
        **call.given("on", "at"),
    )
    saved = save_and_tell(call, garage, draft)
    if not call.as_json:
        _tell_items(garage, slug, saved)
        _tell_cautions(draft.cautions)
    return output.FINE


def _decided(call: Call) -> Decided:
    """Give what was decided; an option that belongs to another decision is refused.

    Raises:
        BadInput: it is.
    """
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.domain.findings import Decided

    if call.flag("mend"):
        decided = Decided.MEND
    else:
        decided = Decided.DECLINED if call.flag("declined") else Decided.WATCH
    belongs = {
        "every": Decided.WATCH,
        "who": Decided.DECLINED,
        "why": Decided.DECLINED,
        "until": Decided.DECLINED,
    }
    faults = [
        Fault(f"belongs to --{of.value}", f"--{name}", "leave it away")
        for name, of in belongs.items()
        if call.maybe(name) is not None and of is not decided
    ]
    if faults:
        raise BadInput(*faults)
    return decided


def _mended_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("finding", metavar="FINDING", help="its 8 digits, or words of it")
    parser.add_argument("--how", metavar="HOW", required=True, help="weld, patch, braze or part")
    parser.add_argument(
        "--near", metavar="WHAT", help="suspension mount, belt anchor: looked at more often"
    )
    takes_when(parser)
    takes_by(parser)
    takes_hours_and_cost(parser)
    takes_note(parser)
    gives_json(parser)


def _mended(call: Call) -> int:
    from castlenut.command.every_day.conversions import write_difference
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.domain.conversion import difference
    from castlenut.garage.changes.mending import draft_mended

    garage, slug = call.garage_and_car()
    draft = draft_mended(
        garage,
        slug,
        call.text("finding"),
        call.text("how"),
        **call.given("on", "at", "by", "near", "hours", "cost", "note"),
    )
    before = garage.today(slug)
    save_and_tell(call, garage, draft)
    if not call.as_json:
        after = garage.today(slug)
        write_difference(before, after)
        due = difference(before, after).due_now
        _tell_cautions(tuple(dict.fromkeys(key for item in due for key in item.rule.cautions)))
    return output.FINE


def _watch_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("title", metavar="TEXT", help="look at rear main seal")
    parser.add_argument("--in", dest="within", metavar="TIME", help="after 500mi, 3m or 500mi/3m")
    parser.add_argument("--due", metavar="DATE", help="on a day")
    parser.add_argument("--every", metavar="TIME", help="again and again from then on: 500mi, 3m")
    parser.add_argument("--where", metavar="PLACE", help="LF, rear, ...")
    takes_when(parser)
    takes_note(parser)
    gives_json(parser)


def _watch(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.watching import draft_watch

    garage, slug = call.garage_and_car()
    draft = draft_watch(
        garage,
        slug,
        call.text("title"),
        **call.given("within", "due", "every", "where", "on", "at", "note"),
    )
    saved = save_and_tell(call, garage, draft)
    if not call.as_json:
        _tell_items(garage, slug, saved)
    return output.FINE


def _tell_items(garage: Garage, slug: str, saved: Saved) -> None:
    """Tell when the items that came of a change fall due."""
    from castlenut.words.listing import next_line

    records = {each.id for each in saved.records}
    after = garage.today(slug)
    output.write(
        *(next_line(item, after) for item in after.items if item.component.record in records)
    )


def _tell_cautions(keys: Sequence[str]) -> None:
    from castlenut.words.cautions import DEFERRING_LINE, sentences

    if keys:
        output.write(*(f"caution: {each}" for each in sentences(tuple(keys))), DEFERRING_LINE)


COMMANDS = (
    Command(
        "found",
        group=EVERY_DAY,
        words="record something found: to be mended, watched, or the owner said no",
        example='castlenut found millrace "sill seam rusted through" --where L --kind rust --mend',
        add_arguments=_found_arguments,
        run=_found,
    ),
    Command(
        "mended",
        group=EVERY_DAY,
        words="record the repair of a finding, with what falls due by it",
        example='castlenut mended millrace "sill seam" --how weld',
        add_arguments=_mended_arguments,
        run=_mended,
    ),
    Command(
        "watch",
        group=EVERY_DAY,
        words="note something of this car alone that falls due",
        example='castlenut watch millrace "look at rear main seal" --in 500mi --every 3m',
        add_arguments=_watch_arguments,
        run=_watch,
    ),
)
