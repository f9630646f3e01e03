"""Tires and wheels have records of their own: put on, brought back, mounted anew, taken off."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from castlenut.domain.car import Car
from castlenut.domain.component import Component, Origin
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Place
from castlenut.domain.rules.rule import KindOfPart
from castlenut.garage.changes.tires import TireFields, read_tire_fields
from castlenut.garage.drafting import DialThen, Drafting, iso, number
from castlenut.store.values import Value

TIRE, WHEEL = "tire", "wheel"
LOOSE = frozenset({TIRE, WHEEL})
"""Kinds that move from place to place."""


def check_mounting(part: Component, at: Place | None, read: TireFields) -> None:
    """Refuse to fit a tire or wheel that is on the car, but to mount a tire anew.

    It may be turned on its rim where it stands (`turns`), or go onto the wheel of another place.

    Raises:
        BadInput: it stands there already, or it is a wheel.
    """
    here = part.place
    if part.is_on_shelf or here is None:
        return
    if part.kind == WHEEL:
        raise BadInput(
            Fault(
                f"the wheel {here} is on the car",
                "record",
                "rotate moves a wheel with its tire; remove takes it off",
            )
        )
    if at == here and read.turns is None:
        raise BadInput(
            Fault(
                f"the tire stands at {here} already",
                "record",
                "give turns=left or turns=right where it was turned on its rim",
            )
        )


def came_off_with(car: Car, part: Component) -> RecordId | None:
    """Give the wheel that a tire off the car still is on, or the tire on such a wheel.

    They are off by one placement, and neither was placed since.
    """
    own = [each for each in car.placements if part.record in {each.tire, each.wheel}]
    last = own[-1] if own else None
    if last is None or last.spot is not None or last.tire is None or last.wheel is None:
        return None
    other = last.wheel if last.tire == part.record else last.tire
    others = [each for each in car.placements if other in {each.tire, each.wheel}]
    return other if others[-1].record == last.record else None


def place_loose(
    new: Drafting,
    kind: KindOfPart,
    at: Place | None,
    read: TireFields,
    *,
    on: date | None,
    then: DialThen,
    job: str | None,
    stored: Component | None,
    model: Component | None,
) -> None:
    """Make a tire or wheel, or take one that is there, and give it its place.

    A tire that came off on its wheel comes back on it.
    """
    fellow = None
    if stored is not None:
        record: str = stored.record
        if read.values:
            new.amend(kind.name, record, read.values)
        fellow = came_off_with(new.car, stored)
    else:
        values = {**_like(model, kind), **read.values}
        if kind.name == TIRE and not values.get("size"):
            new.fault(
                "size is missing", where="size", remedy='give what is marked: size="185/70R14"'
            )
            return
        record = new.add(kind.name, {**values, "job": job})
        new.told.extend(each for each in read.told if each not in new.told)
    _tell_turning(new, kind, read, stored=stored, is_on_wheel=fellow is not None)
    place: dict[str, Value] = {kind.name: record}
    if fellow is not None:
        place[WHEEL if kind.name == TIRE else TIRE] = fellow
        new.told.append("the tire comes on the wheel that it went off with")
    new.add(
        "placement",
        {
            **place,
            "place": str(at) if at is not None else None,
            "turns": read.turns,
            "on": iso(on),
            "at": number(then.at),
            "job": job,
        },
    )


def _tell_turning(
    new: Drafting,
    kind: KindOfPart,
    read: TireFields,
    *,
    stored: Component | None,
    is_on_wheel: bool,
) -> None:
    """Say where a tire that turns one way only is mounted and nobody says which way."""
    known = read.values.get("tread") or (stored.attributes.get("tread") if stored else None)
    if kind.name == TIRE and known == "directional" and read.turns is None and not is_on_wheel:
        new.told.append("which side its arrow turns for is not given: turns=left or turns=right")


def take_off_loose(
    new: Drafting, parts: Iterable[Component], day: date, then: DialThen, *, why: str | None
) -> None:
    """Take tires and wheels off the car; those of one place go off as they are, on each other."""
    by_place: dict[Place | None, dict[str, str]] = {}
    for part in parts:
        by_place.setdefault(part.place_on(day), {})[part.origin.value] = part.record
    for there in by_place.values():
        new.add(
            "placement",
            {**there, "on": day.isoformat(), "at": number(then.at), "note": why},
        )


def is_loose(part: Component) -> bool:
    """Tell whether a part is a tire or a wheel."""
    return part.origin in {Origin.TIRE, Origin.WHEEL}


def standing_at(car: Car, at: Place | None, day: date) -> Sequence[Component]:
    """Give the tire and the wheel that stand at a place on a day."""
    return [part for part in car.fitted(day) if is_loose(part) and part.place_on(day) == at]


def _like(model: Component | None, kind: KindOfPart) -> Mapping[str, Value]:
    """Give the fields a new tire or wheel takes over from the one it is like."""
    if model is None:
        return {}
    typed = {
        name: value for name, value in model.attributes.items() if name not in {"tin", "turns"}
    }
    return read_tire_fields(kind, typed, today=date.max).values
