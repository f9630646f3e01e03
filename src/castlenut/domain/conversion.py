"""What a change of the car does to its schedule, and what a conversion takes off and puts on."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from castlenut.domain.car import Car
from castlenut.domain.component import Component
from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.order import state_rank
from castlenut.domain.place import Place, lies_in
from castlenut.domain.rules.rule import Conversion, KindOfPart, PartChange
from castlenut.domain.standing import standing_places, stands_at
from castlenut.domain.working import State


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What a change does to the schedule: items that end, that begin, and that it makes due.

    `due_now` holds what is due or overdue by the change and was not before, new items among them,
    and what falls due earlier than it did.
    """

    leaves: tuple[Item, ...]
    joins: tuple[Item, ...]
    due_now: tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPart:
    """A part that a conversion puts on: the kind, where, and what is known of it."""

    kind: str
    place: Place | None
    attributes: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """The parts a conversion takes off a car, and those it puts on."""

    ends: tuple[Component, ...]
    begins: tuple[NewPart, ...]


def difference(before: CarToday, after: CarToday) -> Difference:
    """Hold a car's schedule after a change against the one before it; both in their own order."""
    was: Mapping[ItemId, Item] = {item.id: item for item in before.items}
    stays = {item.id for item in after.items}
    return Difference(
        leaves=tuple(item for item in before.items if item.id not in stays),
        joins=tuple(item for item in after.items if item.id not in was),
        due_now=tuple(item for item in after.items if _is_brought_forward(was.get(item.id), item)),
    )


def _is_brought_forward(before: Item | None, after: Item) -> bool:
    if after.state not in {State.DUE, State.OVERDUE, State.AHEAD}:
        return False
    if before is None or before.state in {State.NO_RECORD, State.DECLINED}:
        return after.state is not State.AHEAD
    if after.state is not State.AHEAD and state_rank(after) < state_rank(before):
        return True
    return _is_earlier(before.due_on, after.due_on) or _is_earlier(before.due_at, after.due_at)


def _is_earlier(before: date | float | None, after: date | float | None) -> bool:
    match before, after:
        case date(), date():
            return after < before
        case float() | int(), float() | int():
            return after < before
        case None, date() | float() | int():
            return True
        case _:
            return False


def parts_of(
    conversion: Conversion, car: Car, kinds: Mapping[str, KindOfPart], *, on: date
) -> Parts:
    """Give what a conversion takes off a car as it stands on a day, and what it puts on.

    A part with an attribute other than the one named stays on; one whose attribute nobody recorded
    goes. What is put on without a place of its own comes where parts of its kind, or else any of
    those taken off, stood.
    """
    fitted = car.fitted(on)
    ends: dict[str, Component] = {}
    for change in conversion.ends:
        for component in fitted:
            if component.kind == change.kind and _is_meant(change, component, on):
                ends.setdefault(component.record, component)
    begins = [
        part
        for change in conversion.begins
        for part in _begun(change, tuple(ends.values()), kinds, on=on, dual=car.vehicle.dual)
    ]
    return Parts(ends=tuple(ends.values()), begins=tuple(begins))


def _is_meant(change: PartChange, component: Component, on: date) -> bool:
    at = component.place_on(on)
    if change.places and at is not None and not any(lies_in(at, each) for each in change.places):
        return False
    return all(
        component.attributes.get(name, value) in {value, "unknown"}
        for name, value in change.attributes.items()
    )


def _begun(
    change: PartChange,
    ended: Sequence[Component],
    kinds: Mapping[str, KindOfPart],
    *,
    on: date,
    dual: bool,
) -> Iterator[NewPart]:
    kind = kinds[change.kind]
    if change.places:
        wanted: Iterable[Place | None] = [
            at for each in change.places for at in standing_places(kind, each, dual=dual)
        ]
    else:
        same_kind = [each for each in ended if each.kind == change.kind]
        stood = [each.place_on(on) for each in same_kind]
        wanted = stood or (
            [None] if stands_at(kind, None) else [each.place_on(on) for each in ended]
        )
    for at in dict.fromkeys(wanted):
        if stands_at(kind, at):
            yield NewPart(kind=change.kind, place=at, attributes=change.attributes)
