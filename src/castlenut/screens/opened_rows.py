"""Rows of what can be taken off, and of what lies behind what is off."""

from collections.abc import Sequence

from castlenut.domain.apart import Behind
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Spot
from castlenut.domain.rules.rule import Access, Per
from castlenut.garage.apart import Asked, Judged
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import states
from castlenut.words.apart import twin_words, words
from castlenut.words.judged import place_of

ACCESS_COLUMNS = (
    Column(head="off", width=4),
    Column(head="what", width=18, grow=2),
    Column(head="", width=30, grow=3),
    Column(head="takes", width=7, is_right=True),
)
BEHIND_COLUMNS = (
    Column(head="state", width=13, fits=True),
    Column(head="item", width=18, grow=2),
    Column(head="where", width=6, grow=1, fits=True),
    Column(head="worth", width=9, fits=True, least=70),
    Column(head="done now", width=24, grow=4),
)


def in_order(asked: Asked, found: Judged | None) -> tuple[Behind, ...]:
    """Give what lies behind, then its items with no record, then what is within reach besides.

    Each worth first: over all that follows once that is judged, until then by what today saves.
    """
    items = asked.found.items
    if found is not None:
        items = tuple(sorted(items, key=lambda each: place_of(str(each.item.id), found.found)))
    both = (items, asked.found.no_record)
    return tuple(
        each
        for is_there in (True, False)
        for found in both
        for each in found
        if each.is_there is is_there
    )


def places_off(access: Access, *, dual: bool) -> Sequence[str]:
    """Give the places at which an access is opened, as they are typed: `wheel LF`."""
    spots: Sequence[Spot]
    match access.per:
        case Per.CAR:
            return (access.key,)
        case Per.WHEEL:
            spots = DUAL_CORNERS if dual else CORNERS
        case Per.AXLE:
            spots = (Spot.FRONT, Spot.REAR)
        case Per.SIDE:
            spots = (Spot.L, Spot.R)
    return tuple(f"{access.key} {spot.value}" for spot in spots)


def told_of(behind: Behind) -> str:
    """Say what doing it now means, and who has the same on the other side."""
    return "; ".join(part for part in (words(behind), twin_words(behind)) if part)


def behind_line(behind: Behind, word: str) -> Line:
    """Give the row of an item; `word`: whether it is worth it, empty while that is not known."""
    item = behind.item
    stamp = states.stamp_of(item)
    return Line(
        key=str(item.id),
        cells=(
            str(stamp),
            item.rule.title,
            "-" if item.place is None else str(item.place),
            word or "-",
            told_of(behind),
        ),
        color=stamp.color,
        name=item.rule.title,
        sought=item.component.kind,
    )
