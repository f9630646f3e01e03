"""Odometer readings: one as typed, or a line each from standard input."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.every_day.saving import save_and_tell, saved_answer
from castlenut.domain.errors import BadInput, Fault
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.drafts import save

if TYPE_CHECKING:
    from castlenut.command.call import Call
    from castlenut.garage.garage import Garage

_MOST_PARTS = 3  # figure, day, note


def one_reading(call: Call, figure: str) -> int:
    """Record one reading."""
    garage = call.garage(by_rules=False)
    draft = draft_reading(
        garage,
        garage.find(call.text("vehicle")),
        figure,
        **call.given("on", "unit", "note"),
    )
    save_and_tell(call, garage, draft)
    return output.FINE


def readings_from_lines(call: Call) -> int:
    """Record a reading a line, each a change of its own, told once it is saved for good.

    A bad line is told with its number and skipped.
    """
    garage = call.garage(by_rules=False)
    slug = garage.find(call.text("vehicle"))
    code = output.FINE
    for number, line in enumerate(call.world.stdin, start=1):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        try:
            _one_line(call, garage, slug, text)
        except BadInput as bad:
            code = output.BAD_INPUT
            for fault in bad.faults:
                output.tell(f"line {number}, {fault}")
    return code


def _one_line(call: Call, garage: Garage, slug: str, text: str) -> None:
    figure, *rest = text.split(maxsplit=_MOST_PARTS - 1)
    draft = draft_reading(
        garage,
        slug,
        figure,
        on=rest[0] if rest else call.maybe("on"),
        unit=call.maybe("unit"),
        note=rest[1] if len(rest) > 1 else call.maybe("note"),
    )
    saved = save(garage, draft)
    for sentence in saved.told:
        output.tell(sentence)
    if call.as_json:
        output.write_json(saved_answer(saved, slug))
        output.flush()
        return
    made = garage.car(slug).file.record("reading", saved.records[0].id)
    if made is None:
        raise BadInput(Fault("struck by another device meanwhile", "reading", "see records"))
    values = made.values
    output.write(f"{made.id} {values['figure']} {values['unit']} {values['on']}")
    output.flush()
