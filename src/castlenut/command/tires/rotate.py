"""rotate: wheels that changed places, put on the record, and what falls due by it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.every_day.conversions import save_and_tell_difference
from castlenut.domain.errors import BadInput, Fault
from castlenut.garage.changes.rotating import draft_rotation
from castlenut.garage.tires import tires_of
from castlenut.words import patterns
from castlenut.words.cautions import DEFERRING_LINE, sentences

if TYPE_CHECKING:
    from collections.abc import Sequence

    from castlenut.command.call import Call


def rotate(call: Call) -> int:
    """Record a rotation as one change.

    Raises:
        BadInput: with every reason against every move, and every fault of what was typed.
    """
    garage, slug = call.garage_and_car()
    draft = draft_rotation(
        garage,
        slug,
        " ".join(call.texts("what")),
        **call.given("on", "at", "by", "hours", "cost", "note"),
        depths=_depths(call.texts("depth")),
        done_anyway=call.flag("done_anyway"),
    )
    save_and_tell_difference(call, garage, draft)
    if not call.as_json:
        tires = tires_of(garage, slug)
        if not tires.exchanges:
            output.write(f"patterns left {patterns.count_left(tires.patterns)}")
        output.write(*(f"caution: {each}" for each in sentences(draft.cautions)), DEFERRING_LINE)
    return output.FINE


def _depths(texts: Sequence[str]) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    faults: list[Fault] = []
    for text in texts:
        place, mark, depths = text.partition("=")
        if mark and place.strip() and depths.strip():
            found.append((place.strip(), depths.strip()))
        else:
            faults.append(Fault(f"{text!r} is no PLACE=DEPTHS", "--depth", "write LF=7"))
    if faults:
        raise BadInput(*faults)
    return found
