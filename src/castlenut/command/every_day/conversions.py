"""What a change of parts does to the schedule: items that leave, that join, that become due."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.domain.conversion import difference
from castlenut.domain.order import rows
from castlenut.words.listing import row_line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from castlenut.command.call import Call
    from castlenut.domain.due import CarToday
    from castlenut.domain.item import Item
    from castlenut.garage.drafts import Draft
    from castlenut.garage.garage import Garage


def write_difference(before: CarToday, after: CarToday) -> None:
    """Write which items leave, join and become due, a line each; what joins due is told once."""
    found = difference(before, after)
    joined = {item.id for item in found.joins}
    output.write(
        *_lines("leaves", found.leaves, before),
        *_lines("joins", found.joins, after),
        *_lines("due by this", [item for item in found.due_now if item.id not in joined], after),
    )


def save_and_tell_difference(call: Call, garage: Garage, draft: Draft) -> None:
    """Save a draft, then tell it and what it does to the schedule.

    Raises:
        NotSaved: it could not be saved; nothing is told.
    """
    from castlenut.command.every_day.saving import save_and_tell

    before = garage.today(draft.slug)
    of_tires = _of_tires(garage, draft)
    save_and_tell(call, garage, draft)
    if not call.as_json:
        output.write(*of_tires)
        write_difference(before, garage.today(draft.slug))


def _of_tires(garage: Garage, draft: Draft) -> Sequence[str]:
    """Say what a draft does to patterns, life of a set and dial, where it changes tires."""
    from castlenut.garage.tires import change_of_tires
    from castlenut.words.tire_change import lines

    change = change_of_tires(garage, draft)
    unit = garage.car(draft.slug).car.vehicle.dial.unit
    return () if change is None else tuple(lines(change, unit))


def _lines(word: str, items: Sequence[Item], today: CarToday) -> list[str]:
    return [f"{word}: {row_line(row, today, has_car=False)}" for row in rows(items)]


def convert(call: Call) -> int:
    """Show what a conversion changes; with --yes also do it."""
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes.conversions import draft_conversion
    from castlenut.garage.drafts import preview
    from castlenut.garage.entry import pairs
    from castlenut.words.answers import item_answer
    from castlenut.words.cautions import sentences

    garage, slug = call.garage_and_car()
    draft = draft_conversion(
        garage,
        slug,
        call.text("name"),
        pairs(call.texts("fields")),
        **call.given("on", "at"),
    )
    before, after = garage.today(slug), preview(garage, draft)
    of_tires = _of_tires(garage, draft)
    if call.flag("yes"):
        save_and_tell(call, garage, draft)
        if not call.as_json:
            output.write(*of_tires)
            write_difference(before, after)
        return output.FINE
    for sentence in draft.told:
        output.tell(sentence)
    if call.as_json:
        found = difference(before, after)
        dial = after.car.vehicle.dial
        output.write_json(
            {
                "change": None,
                "vehicle": slug,
                **{
                    name: [item_answer(item, slug, dial, garage.book) for item in items]
                    for name, items in (
                        ("leaves", found.leaves),
                        ("joins", found.joins),
                        ("due_now", found.due_now),
                    )
                },
            }
        )
        return output.FINE
    output.write(draft.title, *of_tires)
    write_difference(before, after)
    output.write(*(f"caution: {sentence}" for sentence in sentences(draft.cautions)))
    output.write("nothing is saved yet: --yes does it")
    return output.FINE
