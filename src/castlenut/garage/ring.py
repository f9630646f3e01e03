"""The list of owners to call, over all cars."""

from collections.abc import Iterator
from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId, item_id
from castlenut.domain.ring import Reason, reasons
from castlenut.garage.garage import Garage
from castlenut.store.record_file import RecordFile


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """One car whose owner is to be called, and why."""

    today: CarToday
    reasons: tuple[Reason, ...]


def ring_of(garage: Garage, slug: str) -> Ring | None:
    """Give why the owner of a car is to be called; None: there is no reason.

    Raises:
        CannotRead: its file cannot be read.
    """
    today = garage.today(slug)
    found = reasons(today, agreed=agreed_items(garage.file(slug), today))
    return Ring(today=today, reasons=found) if found else None


def in_order(found: Iterator[Ring]) -> tuple[Ring, ...]:
    """Give the calls with the most pressing first: by the day a window closes."""
    return tuple(sorted(found, key=_pressing))


def _pressing(ring: Ring) -> tuple[date, str]:
    days = [day for each in ring.reasons if (day := each.closes_on or each.opens_on) is not None]
    return min(days, default=date.max), ring.today.car.vehicle.slug


def agreed_items(file: RecordFile, today: CarToday) -> frozenset[ItemId]:
    """Give the items of which a visit from today on is booked; a visit for nothing is for all."""
    found: set[ItemId] = set()
    for record in file.table("visit"):
        on, items = record.values.get("on"), record.values.get("items")
        is_booked = record.values.get("state") == "booked"
        if not is_booked or not isinstance(on, str) or date.fromisoformat(on) < today.today:
            continue
        if not isinstance(items, list) or not items:
            return frozenset(item.id for item in today.items)
        found.update(
            item for each in items if isinstance(each, str) and (item := item_id(each)) is not None
        )
    return frozenset(found)
