"""A visit agreed, moved, called off or done, and a day on which the owner will not come."""

from collections.abc import Container, Sequence
from datetime import date, timedelta

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import ItemId, RecordId
from castlenut.domain.item import Item
from castlenut.domain.naming import item_name, unique_name
from castlenut.domain.vehicle import VisitRecord, VisitState
from castlenut.domain.window_days import window_days
from castlenut.garage import entry
from castlenut.garage.changes.jobs import draft_job
from castlenut.garage.drafting import Drafting, iso, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.revisions import Added, Changed
from castlenut.store.values import Value

_AGREED = (VisitState.BOOKED,)
_COMING = (VisitState.BOOKED, VisitState.REFUSED)
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True, kw_only=True)
class PastIts:
    """An item that goes past its window if it is left until a day."""

    item: Item
    closes_on: date


def past_their_windows(today: CarToday, items: Sequence[ItemId], day: date) -> tuple[PastIts, ...]:
    """Give which of some items close before a day, and have not closed already."""
    found: list[PastIts] = []
    for item in today.items:
        closes = window_days(item, today).closes
        if item.id in items and closes is not None and today.today <= closes < day:
            found.append(PastIts(item=item, closes_on=closes))
    return tuple(found)


def day_to_book(garage: Garage, today: CarToday, items: Sequence[Item]) -> date:
    """Give the day to offer for items: the next visit agreed, if none of them closes before it.

    Else the last day the garage is open by the first of them to close; today where that is past.
    """
    closes = [day for item in items if (day := window_days(item, today).closes) is not None]
    last = max(min(closes, default=today.today), today.today)
    agreed = next((each.on for each in today.car.booked_from(today.today)), None)
    if agreed is not None and (agreed <= last or not closes):
        return agreed
    day = last
    while day > today.today and _is_closed(garage, day):
        day -= timedelta(days=1)
    return day


def draft_visit(
    garage: Garage,
    slug: str,
    on: str,
    items: Sequence[str] = (),
    *,
    hours: str | None = None,
    note: str | None = None,
    leaving: date | None = None,
) -> Draft:
    """Book a car in for a day. Without items it is for whatever may be done then.

    A second booking for the day adds its items to the first. `leaving`: the day of a visit that
    the items are moved out of.

    Raises:
        BadInput: a day that is none or past, one that the owner refused, or an item not there.
    """
    new = Drafting(garage, slug)
    day = _coming_day(new, on, field="DATE")
    done = tuple({item.id: item for text in items for item in new.named(text)}.values())
    told_hours = new.read(lambda: entry.hours(hours)) if hours is not None else None
    if day is None:
        raise BadInput(*new.faults)
    on_day = [each for each in new.car.visits if each.on == day]
    if any(each.state is VisitState.REFUSED for each in on_day):
        new.fault(
            f"{day.isoformat()} was refused", where="DATE", remedy="take another, or --cancel that"
        )
    _tell_closed(new, day)
    _tell_past(new, [item.id for item in done], day)
    _tell_booked(new, done, {day, leaving})
    booked = next((each for each in on_day if each.is_booked), None)
    names = ", ".join(item_name(item, new.items.items) for item in done)
    listed: list[Value] = [str(item.id) for item in done]
    if booked is None:
        new.add(
            "visit",
            {
                "on": day.isoformat(),
                "state": VisitState.BOOKED.value,
                "items": listed or None,
                "hours": number(told_hours),
                "note": note or None,
            },
        )
    else:
        values: dict[str, Value] = {}
        before: list[Value] = [str(each) for each in booked.items]
        if listed:
            values["items"] = [*before, *(each for each in listed if each not in before)]
        if told_hours is not None:
            values["hours"] = number(told_hours)
        if note:
            values["note"] = note
        new.amend("visit", booked.record, values)
    return new.draft(
        f"booked in on {day.isoformat()}{f': {names}' if names else ''}",
        items=[item.id for item in done],
        cautions=list(dict.fromkeys(key for item in done for key in item.rule.cautions)),
    )


def draft_moved(garage: Garage, slug: str, on: str, to: str) -> Draft:
    """Move a booked visit to another day, and tell what goes past its window by it.

    Raises:
        BadInput: none is booked on the day, or the other is none, past, refused or taken.
    """
    new = Drafting(garage, slug)
    visit = _visit_on(new, on, states=_AGREED)
    day = _coming_day(new, to, field="--move")
    if day is None:
        raise BadInput(*new.faults)
    for each in new.car.visits:
        if each.on == day and each.record != visit.record and each.state in _COMING:
            new.fault(
                f"{day.isoformat()} is {each.state.value} already",
                where="--move",
                remedy="take another",
            )
    _tell_closed(new, day)
    _tell_past(new, visit.items, day)
    new.amend("visit", visit.record, {"on": iso(day)})
    return new.draft(
        f"visit of {visit.on.isoformat()} moved to {day.isoformat()}", items=visit.items
    )


def draft_item_moved(garage: Garage, slug: str, item: str, on: str, to: str) -> Draft:
    """Move one item of a booked visit to another day: into the visit booked then, else a new one.

    A visit left with nothing is called off.

    Raises:
        BadInput: none is booked on the day, it has no such item, or the other day is none, or past.
    """
    new = Drafting(garage, slug)
    visit = _visit_on(new, on, states=_AGREED)
    moved = [each for each in new.named(item) if each.id in visit.items]
    if not moved:
        new.fault(
            f"{item} is not in the visit of {visit.on.isoformat()}",
            where="ITEM",
            remedy=f"visits {slug} lists what is",
        )
        raise BadInput(*new.faults)
    day = entry.day(to, today=new.today, past=False, field="DATE")
    if day == visit.on:
        raise BadInput(Fault(f"{item} is in the visit of that day", "DATE", "take another day"))
    draft = draft_visit(garage, slug, to, [unique_name(each) for each in moved], leaving=visit.on)
    rest: list[Value] = [str(each) for each in visit.items if each not in {one.id for one in moved}]
    if rest:
        new.amend("visit", visit.record, {"items": rest})
    else:
        new.strike("visit", visit.record, gone=True, why=None)
    left = new.draft("", items=())
    names = ", ".join(item_name(each, new.items.items) for each in moved)
    return replace(
        draft,
        edits=(*left.edits, *draft.edits),
        title=f"{names} moved from {visit.on.isoformat()} to {day.isoformat()}",
    )


def draft_canceled(garage: Garage, slug: str, on: str, *, why: str | None = None) -> Draft:
    """Call a booked visit off, or take back that a day was refused.

    Raises:
        BadInput: there is neither on the day.
    """
    new = Drafting(garage, slug)
    visit = _visit_on(new, on, states=_COMING)
    new.strike("visit", visit.record, gone=True, why=why)
    what = "visit called off" if visit.is_booked else "no longer refused"
    return new.draft(f"{what}, {visit.on.isoformat()}", items=visit.items)


def draft_refused(garage: Garage, slug: str, on: str, *, note: str | None = None) -> Draft:
    """Record that the owner will not come on a day: no visit is proposed for it.

    Raises:
        BadInput: a day that is none, past, or booked.
    """
    new = Drafting(garage, slug)
    day = _coming_day(new, on, field="DATE")
    if day is None:
        raise BadInput(*new.faults)
    for each in new.car.visits:
        if each.on == day and each.state in _COMING:
            new.fault(
                f"{day.isoformat()} is {each.state.value} already",
                where="DATE",
                remedy="--move or --cancel it first" if each.is_booked else "leave it so",
            )
    new.add(
        "visit", {"on": day.isoformat(), "state": VisitState.REFUSED.value, "note": note or None}
    )
    return new.draft(f"not on {day.isoformat()}")


def draft_done(
    garage: Garage,
    slug: str,
    on: str,
    items: Sequence[str] = (),
    *,
    at: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record the work of a booked visit as done on its day; items typed are done instead of its.

    Raises:
        BadInput: none is booked on the day, it is for nothing and nothing is typed, or it is ahead.
    """
    new = Drafting(garage, slug)
    visit = _visit_on(new, on, states=_AGREED)
    names = list(items) or [
        item_name(item, new.items.items) for item in new.items.items if item.id in visit.items
    ]
    if not names:
        raise BadInput(Fault("is booked for nothing in particular", "ITEM", "name what was done"))
    draft = draft_job(garage, slug, names, on=visit.on.isoformat(), at=at, note=note)
    return with_visit_done(draft, visit.record)


def with_visit_done(draft: Draft, visit: RecordId) -> Draft:
    """Give a change that records work, with the visit it was agreed for told done by it."""
    job = next(
        (edit.id for edit in draft.edits if isinstance(edit, Added) and edit.table == "job"), None
    )
    values: dict[str, Value] = {"state": VisitState.DONE.value}
    if job is not None:
        values["job"] = job
    return replace(draft, edits=(*draft.edits, Changed(table="visit", id=visit, values=values)))


def _coming_day(new: Drafting, text: str, *, field: str) -> date | None:
    day = new.read(lambda: entry.day(text, today=new.today, past=False, field=field))
    if day is not None and day < new.today:
        new.fault(
            f"{day.isoformat()} is past", where=field, remedy=f"give a day from {new.today} on"
        )
        return None
    return day


def _visit_on(new: Drafting, text: str, *, states: Sequence[VisitState]) -> VisitRecord:
    """Give the visit of a day.

    Raises:
        BadInput: there is none in such a state.
    """
    day = entry.day(text, today=new.today, past=False, field="DATE")
    found = [each for each in new.car.visits if each.on == day and each.state in states]
    if not found:
        others = [each.on.isoformat() for each in new.car.visits if each.state in states]
        raise BadInput(
            Fault(
                f"nothing is {' or '.join(each.value for each in states)} for {new.slug} "
                f"on {day.isoformat()}",
                "DATE",
                f"it may be {', '.join(others)}" if others else f"visit {new.slug} DATE books one",
            )
        )
    return found[0]


def _is_closed(garage: Garage, day: date) -> bool:
    settings = garage.settings
    return day in settings.closed or not settings.hours.get(_WEEKDAYS[day.weekday()])


def _tell_closed(new: Drafting, day: date) -> None:
    if _is_closed(new.garage, day):
        new.told.append(f"the garage is closed on {day.isoformat()}: booked all the same")


def _tell_booked(new: Drafting, items: Sequence[Item], days: Container[date | None]) -> None:
    """Say which items are booked for yet another day: that may be meant, or forgotten."""
    for each in new.car.booked_from(new.today):
        here = [item_name(item, new.items.items) for item in items if item.id in each.items]
        if here and each.on not in days:
            new.told.append(f"{', '.join(here)} is booked for {each.on.isoformat()}, too")


def _tell_past(new: Drafting, items: Sequence[ItemId], day: date) -> None:
    new.told.extend(
        f"{item_name(each.item, new.items.items)} goes past its window on "
        f"{each.closes_on.isoformat()}, before {day.isoformat()}"
        for each in past_their_windows(new.items, items, day)
    )
