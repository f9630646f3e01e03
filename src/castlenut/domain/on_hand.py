"""What to have on hand: the parts of what is planned or due, with their numbers and the shelf."""

from collections.abc import Collection, Iterator, Mapping
from datetime import date

from castlenut.domain.component import Component
from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.place import Place, touches
from castlenut.domain.rules.rule import KindOfPart
from castlenut.domain.working import State

_NOW = frozenset({State.DUE, State.OVERDUE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """One sort of part that work needs.

    `kind` None: it is no kind that is recorded (a washer, a clip). `last` is the part with a number
    that was fitted last on that car. `shelf` lies there for the car. `planned_on`: the day of the
    visit it is needed for; None: it is due.
    """

    part: str
    kind: str | None
    items: tuple[Item, ...]
    places: tuple[Place, ...]
    last: Component | None
    shelf: tuple[Component, ...]
    planned_on: date | None

    @property
    def number(self) -> str | None:
        """Give the part number last fitted."""
        return None if self.last is None else self.last.part


def needed(
    today: CarToday,
    kinds: Mapping[str, KindOfPart],
    *,
    planned: Mapping[ItemId, date],
    until: date | None = None,
) -> tuple[Needed, ...]:
    """Give the parts for what is planned, and for what is due now or by a day; visits first.

    What has no record is looked at before anything is ordered, unless it is planned.
    """
    by_word = {
        word.casefold(): kind.name
        for kind in kinds.values()
        for word in (*kind.also_called, kind.name)
    }
    wanted: dict[tuple[date | None, str], list[Item]] = {}
    for item in today.items:
        day = planned.get(item.id)
        if item.rule.is_own_check or not item.rule.parts:
            continue
        if day is None and not _is_due(item, until):
            continue
        for part in item.rule.parts:
            wanted.setdefault((day, part), []).append(item)
    found = [
        _needed(part, by_word.get(part.casefold()), items, day, today)
        for (day, part), items in wanted.items()
    ]
    return tuple(sorted(found, key=lambda each: (each.planned_on or date.max, each.part)))


def _is_due(item: Item, until: date | None) -> bool:
    if item.state in _NOW or item.may_be is not None:
        return True
    days = (item.due_on, item.expected.p50)
    return (
        until is not None
        and item.state is State.AHEAD
        and any(day is not None and day <= until for day in days)
    )


def _needed(
    part: str, kind: str | None, items: list[Item], day: date | None, today: CarToday
) -> Needed:
    places = dict.fromkeys(item.place for item in items if item.place is not None)
    own = [each for each in today.car.components if kind is not None and each.kind == kind]
    return Needed(
        part=part,
        kind=kind,
        items=tuple(items),
        places=tuple(sorted(places, key=lambda each: each.order)),
        last=_last(own, items),
        shelf=tuple(_on_shelf(own, items)),
        planned_on=day,
    )


def _last(own: Collection[Component], items: Collection[Item]) -> Component | None:
    """Give the part of this kind with a number that was fitted last, at these places if there."""
    numbered = [each for each in own if each.part and not each.is_on_shelf]
    here = [each for each in numbered if any(touches(each.place, item.place) for item in items)]
    return max(here or numbered, key=lambda each: (each.on or date.min, each.record), default=None)


def _on_shelf(own: Collection[Component], items: Collection[Item]) -> Iterator[Component]:
    for each in own:
        if each.is_on_shelf and any(touches(each.place, item.place) for item in items):
            yield each
