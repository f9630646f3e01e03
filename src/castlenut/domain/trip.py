"""The trip: which items fall due by a day, if so far is driven until then."""

from datetime import date

from castlenut.domain.item import Item
from castlenut.domain.working import State


def falls_due(item: Item, *, by: date, at: float | None) -> bool:
    """Tell whether an item is due already, or falls due by the end of a trip, that day included.

    `at` is the true distance at its end; None: driven as usual, by the expected day. A distance
    reached exactly at the end counts.
    """
    if item.reckoned is not State.AHEAD:
        return True
    if item.due_on is not None and item.due_on <= by:
        return True
    if at is None:
        return item.expected.p50 is not None and item.expected.p50 <= by
    return item.due_at is not None and item.due_at <= at
