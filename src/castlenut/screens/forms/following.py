"""What follows from a change, told before saving: what falls due next, what leaves and joins."""

from collections.abc import Sequence

from castlenut.domain.due import CarToday
from castlenut.domain.ids import RuleId
from castlenut.domain.item import Item
from castlenut.domain.order import rows
from castlenut.garage.drafts import Draft, difference, preview
from castlenut.garage.garage import Garage
from castlenut.garage.tires import change_of_tires
from castlenut.screens.item_rows import places_of, titles
from castlenut.words import tire_change
from castlenut.words.listing import due_point, how_it_stands, titled

_MOST = 3


def next_lines(garage: Garage, draft: Draft) -> tuple[str, ...]:
    """Give when the items of a change fall due next, a line for those that stand alike."""
    after = preview(garage, draft)
    return _next(
        after,
        sorted(
            (item for item in after.items if item.id in draft.items),
            key=lambda item: draft.items.index(item.id),
        ),
    )


def next_of_rules(garage: Garage, draft: Draft, wanted: Sequence[RuleId]) -> tuple[str, ...]:
    """Give when the items of some rules fall due next, after a change that counts for them."""
    after = preview(garage, draft)
    return _next(
        after,
        sorted(
            (item for item in after.items if item.id.rule in wanted),
            key=lambda item: wanted.index(item.id.rule),
        ),
    )


def _next(after: CarToday, items: Sequence[Item]) -> tuple[str, ...]:
    found = rows(items)
    dial = after.odometer.dial
    lines = []
    for row in found[:_MOST]:
        places = places_of(row).removeprefix("-")
        point = due_point(row.first, dial) or how_it_stands(row.first, dial, today=after.today)
        lines.append(f"next: {titled(row.first.rule.title, places)}  {point}")
    if len(found) > _MOST:
        lines.append(f"and {len(found) - _MOST} more")
    return tuple(lines)


def due_lines(garage: Garage, draft: Draft) -> tuple[str, ...]:
    """Give what becomes due by a change."""
    return _listed("becomes due:", difference(garage, draft).due_now)


def schedule_lines(garage: Garage, draft: Draft) -> tuple[str, ...]:
    """Give what a change does to the schedule: what leaves, what joins, what becomes due."""
    change = difference(garage, draft)
    return (
        *(_listed("leaves the schedule:", change.leaves) or ("leaves the schedule: nothing",)),
        *(_listed("joins the schedule:", change.joins) or ("joins the schedule: nothing",)),
        *(_listed("due by this job:", change.due_now) or ("due by this job: nothing",)),
    )


def change_lines(garage: Garage, draft: Draft) -> tuple[str, ...]:
    """Give what a change does to a car's items, those it moves among them; nothing is no line."""
    before = {item.id: item for item in garage.today(draft.slug).items}
    moved = [
        item
        for item in preview(garage, draft).items
        if item.id in before
        and (item.due_on, item.due_at) != (before[item.id].due_on, before[item.id].due_at)
    ]
    change = difference(garage, draft)
    return (
        *_listed("moves:", moved),
        *_listed("leaves the schedule:", change.leaves),
        *_listed("joins the schedule:", change.joins),
        *_listed("becomes due:", change.due_now),
    )


def tire_lines(garage: Garage, draft: Draft) -> tuple[str, ...]:
    """Give what a change of tires or wheels does: patterns left and why, life, tires bought."""
    change = change_of_tires(garage, draft)
    if change is None:
        return ()
    return tuple(tire_change.lines(change, garage.car(draft.slug).car.vehicle.dial.unit))


def _listed(what: str, items: Sequence[Item]) -> tuple[str, ...]:
    return (f"{what} {titles(items)}",) if items else ()
