"""Work done on items, measurements, and what the owner refused."""

from collections.abc import Sequence
from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import Raised
from castlenut.domain.ids import ItemId, short
from castlenut.domain.item import Item
from castlenut.domain.naming import item_name, unique_name
from castlenut.domain.opened import Opened, events_of, opened
from castlenut.domain.own import is_to_be_mended
from castlenut.domain.place import touches
from castlenut.domain.rules.included import included_rules
from castlenut.garage import entry
from castlenut.garage.changes.measured import add_measurement, measured_on_item
from castlenut.garage.drafting import Drafting, iso, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Items the owner said no to, in the entry of a job: as typed."""

    items: Sequence[str]
    who: str | None = None
    why: str | None = None
    until: str | None = None


def draft_job(
    garage: Garage,
    slug: str,
    items: Sequence[str],
    *,
    on: str | None = None,
    at: str | None = None,
    by: str | None = None,
    measured: Sequence[str] = (),
    hours: str | None = None,
    cost: str | None = None,
    note: str | None = None,
    left_out: Sequence[str] = (),
    declined: Sequence[Refusal] = (),
) -> Draft:
    """Record items as done, with what their rules include unless it is `left_out`.

    `measured` has a value for each of `items`, in their order. The job raises the events of what
    was opened for it.

    Raises:
        BadInput: with every fault of every argument.
    """
    new = Drafting(garage, slug)
    found = [new.named(text) for text in items]
    done = tuple({item.id: item for each in found for item in each}.values())
    _refuse_repairs(new, done)
    day = new.past_day(on)
    then = new.dial_then(at, day)
    included = _included(new, done, left_out)
    told_hours = new.read(lambda: entry.hours(hours)) if hours is not None else None
    told_cost = new.read(lambda: entry.money(cost, field="cost")) if cost is not None else None
    values: dict[str, Value] = {
        "on": day.isoformat(),
        "at": number(then.at),
        "estimated": True if then.is_estimated else None,
        "by": new.who(by),
        "items": [str(item.id) for item in done],
        "includes": [str(item.id) for item in included],
        "events": [str(event) for event in _raised(new, done)],
        "hours": number(told_hours),
        "cost": told_cost,
        "note": note or None,
    }
    job = new.add("job", {name: value for name, value in values.items() if value != []})
    for item, text in _values_by_item(new, found, measured):
        measured_item = measured_on_item(item, included)
        add_measurement(new, measured_item, text, day=day, then=then, job=job, note=None)
    for refusal in declined:
        _add_declines(new, refusal, day)
    names = ", ".join(item_name(item, new.items.items) for item in done)
    return new.draft(
        f"done {names} on {day.isoformat()}",
        items=[item.id for item in (*done, *included)],
        cautions=list(dict.fromkeys(key for item in done for key in item.rule.cautions)),
    )


def _refuse_repairs(new: Drafting, done: Sequence[Item]) -> None:
    """Keep a fault for each finding to be mended: how it was, decides what falls due by it."""
    for item in done:
        if is_to_be_mended(item):
            new.fault(
                f"{unique_name(item)} is to be mended: {item.rule.title.removeprefix('mend ')}",
                where="item",
                remedy=f"mended {new.slug} {short(item.id.component)} --how weld, patch, braze"
                " or part",
            )


def draft_measurement(
    garage: Garage,
    slug: str,
    item: str,
    value: str,
    *,
    on: str | None = None,
    at: str | None = None,
    by: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record what was measured on an item, or how a check was found.

    Raises:
        BadInput: no such item, a value that its rule does not ask for, or a day that cannot be.
    """
    new = Drafting(garage, slug)
    found = new.named(item)
    day = new.past_day(on)
    then = new.dial_then(at, day)
    remark = "; ".join(each for each in (note, f"by {by.strip()}" if by else None) if each)
    for each in found:
        add_measurement(new, each, value, day=day, then=then, job=None, note=remark or None)
    names = ", ".join(item_name(each, new.items.items) for each in found)
    return new.draft(f"measured {names}: {value} on {day.isoformat()}", items=[i.id for i in found])


def draft_decline(
    garage: Garage,
    slug: str,
    items: Sequence[str],
    *,
    who: str | None = None,
    why: str | None = None,
    until: str | None = None,
    on: str | None = None,
) -> Draft:
    """Record that the owner said no. The items stay counted.

    Raises:
        BadInput: no such item, or a day that cannot be.
    """
    new = Drafting(garage, slug)
    refused = _add_declines(
        new, Refusal(items=items, who=who, why=why, until=until), new.past_day(on)
    )
    names = ", ".join(item_name(item, new.items.items) for item in refused)
    return new.draft(f"declined {names}", items=[item.id for item in refused])


def _add_declines(new: Drafting, refusal: Refusal, day: date) -> Sequence[Item]:
    text = refusal.until
    until = (
        None
        if text is None
        else new.read(lambda: entry.day(text, today=new.today, past=False, field="until"))
    )
    if until is not None and until < day:
        new.fault(
            f"{until.isoformat()} is before the day of the refusal, {day.isoformat()}",
            where="until",
            remedy="give the day to ask again",
        )
    refused: dict[ItemId, Item] = {}
    for typed in refusal.items:
        for item in new.named(typed):
            refused[item.id] = item
    for item in refused.values():
        new.add(
            "decline",
            {
                "item": str(item.id),
                "on": day.isoformat(),
                "who": refusal.who or None,
                "why": refusal.why or None,
                "until": iso(until),
            },
        )
    return tuple(refused.values())


def _included(new: Drafting, done: Sequence[Item], left_out: Sequence[str]) -> tuple[Item, ...]:
    """Give the items that those done satisfy: by their rules, all the way, at their places."""
    among = new.items.items
    found: dict[ItemId, Item] = {}
    for item in done:
        rules = included_rules(item.rule, new.garage.book.rules)
        for other in among:
            if other.id.rule in rules and touches(item.place, other.place):
                found[other.id] = other
    for item in done:
        found.pop(item.id, None)
    for text in left_out:
        named = new.named(text)
        if named and not any(item.id in found for item in named):
            new.fault(
                f"{text!r} is not included in what was done", where="--not", remedy="leave it away"
            )
        for item in named:
            found.pop(item.id, None)
    return tuple(found.values())


def _raised(new: Drafting, done: Sequence[Item]) -> tuple[Raised, ...]:
    accesses = new.garage.book.accesses
    fitted = new.car.fitted(new.today)
    openings: dict[Opened, None] = {}
    for item in done:
        openings.update(
            dict.fromkeys(
                opened(
                    item.rule.access,
                    item.place,
                    accesses,
                    fitted=fitted,
                    dual=new.car.vehicle.dual,
                )
            )
        )
    return events_of(openings, accesses)


def _values_by_item(
    new: Drafting, found: Sequence[Sequence[Item]], measured: Sequence[str]
) -> Sequence[tuple[Item, str]]:
    """Give each item its value: one for each argument, or one for each item they stand for.

    One item alone may have several, each naming its measure.
    """
    each = [item for items in found for item in items]
    if len(measured) <= len(found):
        return [
            (item, text) for items, text in zip(found, measured, strict=False) for item in items
        ]
    if len(measured) == len(each):
        return list(zip(each, measured, strict=True))
    if len(each) == 1 and all("=" in text for text in measured):
        # the sheet of an alignment: toe, camber and caster of one item
        return [(each[0], text) for text in measured]
    new.fault(
        f"{len(measured)} values are given for {len(each)} items",
        where="--measured",
        remedy="give one for each item, in their order",
    )
    return []
