"""The trip: which items fall due by a day, if so far is driven until then."""

from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.working import State


def on_trip(today: CarToday, *, by: date, far: float | None) -> tuple[Item, ...]:
    """Give what is due on a car, or falls due on a trip, in the order of the car's items.

    `far` is what is driven until `by`, in the unit of the dial; None: driven as usual.
    """
    at = None if far is None else distance_after(today, far)
    return tuple(item for item in today.items if falls_due(item, by=by, at=at))


def distance_after(today: CarToday, far: float) -> float | None:
    """Give the true distance once so far is driven; None where that of today is not known."""
    band = today.use.distance_on(today.today)
    return None if band is None else band.p50 + far


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
