"""What to have on hand, for one car or for a week of all."""

from collections.abc import Mapping
from datetime import date, timedelta

from castlenut.domain.ids import ItemId, item_id
from castlenut.domain.on_hand import Needed, needed
from castlenut.garage.garage import Garage
from castlenut.store.record_file import RecordFile

_WEEK = timedelta(days=7)


def parts_of_car(garage: Garage, slug: str) -> tuple[Needed, ...]:
    """Give the parts for every visit booked for a car, and for what is due on it.

    Raises:
        CannotRead: its file cannot be read.
    """
    planned = planned_items(garage.file(slug), first=garage.today_date, last=date.max)
    return needed(garage.today(slug), garage.book.kinds, planned=planned)


def parts_of_week(garage: Garage, slug: str, monday: date) -> tuple[Needed, ...]:
    """Give the parts for a car's visits in a week, and for what is due on it by its end.

    Raises:
        CannotRead: its file cannot be read.
    """
    sunday = monday + _WEEK - timedelta(days=1)
    planned = planned_items(garage.file(slug), first=monday, last=sunday)
    return needed(garage.today(slug), garage.book.kinds, planned=planned, until=sunday)


def monday_of(day: date) -> date:
    """Give the Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def planned_items(file: RecordFile, *, first: date, last: date) -> Mapping[ItemId, date]:
    """Give the items of booked visits from a first to a last day, each with its earliest visit."""
    found: dict[ItemId, date] = {}
    for record in file.table("visit"):
        on, items = record.values.get("on"), record.values.get("items")
        if record.values.get("state") != "booked" or not isinstance(on, str):
            continue
        day = date.fromisoformat(on)
        if not first <= day <= last or not isinstance(items, list):
            continue
        for each in items:
            item = item_id(each) if isinstance(each, str) else None
            if item is not None and day < found.get(item, date.max):
                found[item] = day
    return found
