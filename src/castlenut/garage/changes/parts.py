"""Parts fitted, taken off, and put on the shelf."""

from collections.abc import Mapping, Sequence
from functools import partial

from castlenut.domain.car import Car
from castlenut.domain.component import Component, Origin
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId, short
from castlenut.domain.place import Place, place
from castlenut.domain.rules.rule import KindOfPart
from castlenut.domain.tires.rooms import SPACER
from castlenut.garage.changes.fitting import (
    Fitting,
    add_job,
    fit_parts,
    named,
    raised_by_fitting,
    read_at,
    take_off,
)
from castlenut.garage.changes.loose import (
    WHEEL,
    came_off_with,
    check_mounting,
    is_loose,
    take_off_loose,
)
from castlenut.garage.changes.placing import find_kind, read_places
from castlenut.garage.changes.tires import TireFields
from castlenut.garage.drafting import NOT_KNOWN, DialThen, Drafting
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.words.rooms import SPACER_ON_STUDS

_SHORT = 8


def draft_fit(
    garage: Garage,
    slug: str,
    kind: str,
    places: str | None = None,
    fields: Mapping[str, str] | None = None,
    *,
    on: str | None = None,
    at: str | None = None,
    by: str | None = None,
    note: str | None = None,
    shelf: bool = False,
    as_place: str | None = None,
    as_on: str | None = None,
) -> Draft:
    """Fit a part at one or more places, or put it on the shelf.

    `kind` may be the id of a part from the shelf. What stands there of the same kind, or of one it
    excludes, is taken off by the same change. `on` "-": nobody knows when; no job is recorded then.

    Raises:
        BadInput: with every fault of kind, places, fields and dates.
    """
    new = Drafting(garage, slug)
    stored = _on_shelf(new.car, kind)
    name = stored.kind if stored else new.read(lambda: find_kind(kind, garage.book))
    of = garage.book.kinds.get(name or "")
    if of is None:
        return new.draft(kind)
    standing = _standing(new, of, _places_text(places, stored), needs_place=not shelf)
    if stored is not None and standing:
        new.read(lambda: _check_stored(new, of, stored, standing, fields or {}))
    fitting = _fitting(new, on, at, shelf=shelf)
    model = _model(new, of, standing, as_place=as_place, as_on=as_on)
    if new.faults:
        return new.draft(kind)
    if shelf:
        _shelve(new, of, standing, fields or {}, model=model, note=note)
        return new.draft(f"{of.name} on the shelf")
    if fitting.on is not None:
        brought = _brought(new, of, stored)
        fitting = replace(fitting, job=_job(new, fitting, brought, standing, by=by, note=note))
    fit_parts(new, of, standing, fields or {}, fitting, model=model, stored=stored)
    if of.name == SPACER:
        new.told.append(SPACER_ON_STUDS)
    at_places = ", ".join(str(each) for each in standing if each is not None)
    when = f" on {fitting.on.isoformat()}" if fitting.on else ""
    return new.draft(f"{of.name}{f' at {at_places}' if at_places else ''} fitted{when}")


def draft_remove(
    garage: Garage,
    slug: str,
    *records: str,
    on: str | None = None,
    at: str | None = None,
    why: str | None = None,
) -> Draft:
    """Take parts off the car; their records stay. A part on the shelf is taken from there.

    A tire and a wheel of one place go off together, the tire on its wheel.

    Raises:
        BadInput: no such part, or it is off already; with every fault.
    """
    new = Drafting(garage, slug)
    found = [part for text in records if (part := new.read(partial(_on_car, new, text)))]
    parts = list({part.record: part for part in found}.values())
    day = new.past_day(on)
    for part in parts:
        if part.on is not None and day < part.on:
            new.fault(
                f"{day.isoformat()} is before it was fitted, {part.on.isoformat()}",
                where="on",
                remedy="give a later day",
            )
    then = new.dial_then(at, day)
    for part in parts:
        if not is_loose(part):
            take_off(new, part, day, then, why=why or None)
    loose = [part for part in parts if is_loose(part)]
    take_off_loose(new, loose, day, then, why=why or None)
    return new.draft(f"{', '.join(map(named, parts))} removed on {day.isoformat()}")


def _on_car(new: Drafting, text: str) -> Component:
    """Give the part that is meant, which is not off the car yet."""
    stored = new.record.file.named(text)
    part = next((each for each in new.car.components if each.record == stored.id), None)
    if part is None or part.origin is Origin.VEHICLE:
        raise BadInput(
            Fault(
                f"{short(RecordId(stored.id))} is a {stored.table}, not a part",
                "record",
                "strike takes back what was entered by mistake",
            )
        )
    if part.removed_on is not None or (part.place is None and part.origin is not Origin.COMPONENT):
        raise BadInput(
            Fault(f"the {part.kind} is off the car already", "record", "name another part")
        )
    return part


def _places_text(places: str | None, stored: Component | None) -> str | None:
    if places is None and stored is not None and stored.place is not None:
        return str(stored.place)
    return places


def _standing(
    new: Drafting, kind: KindOfPart, text: str | None, *, needs_place: bool
) -> tuple[Place | None, ...]:
    if text is None and not needs_place:
        return (None,)
    dual = new.car.vehicle.dual
    return new.read(lambda: read_places(text, kind, dual=dual)) or ()


def _fitting(new: Drafting, on: str | None, at: str | None, *, shelf: bool) -> Fitting:
    if shelf or (on is not None and on.strip().lower() in NOT_KNOWN):
        known = None if at is None else new.figure(at, field="at")
        return Fitting(on=None, then=DialThen(at=known, is_estimated=False), job=None)
    day = new.past_day(on)
    return Fitting(on=day, then=new.dial_then(at, day), job=None)


def _on_shelf(car: Car, text: str) -> Component | None:
    """Give the part on the shelf that an id, or the end of one, names."""
    wanted = text.strip().lower()
    if len(wanted) < _SHORT:
        return None
    found = [each for each in car.components if each.record.endswith(wanted)]
    if not found:
        return None
    part = found[0]
    if not part.is_on_shelf and not is_loose(part):
        raise BadInput(
            Fault(f"the {named(part)} is not on the shelf", "record", "name a part from the shelf")
        )
    return part


def _check_stored(
    new: Drafting,
    kind: KindOfPart,
    stored: Component,
    standing: Sequence[Place | None],
    fields: Mapping[str, str],
) -> None:
    """Refuse several places for one part, and a tire or wheel that stands there already."""
    if len(standing) > 1:
        raise BadInput(
            Fault(f"one {kind.name} goes to one place", "place", "fit another there as well")
        )
    read = read_at(new, kind, fields, standing[0])
    if isinstance(read, TireFields):
        check_mounting(stored, standing[0], read)


def _brought(new: Drafting, kind: KindOfPart, stored: Component | None) -> KindOfPart:
    """Give the kind whose events a fitting raises: a tire on its wheel comes as a wheel."""
    if stored is None or came_off_with(new.car, stored) is None:
        return kind
    return new.garage.book.kinds[WHEEL]


def _model(
    new: Drafting,
    kind: KindOfPart,
    standing: Sequence[Place | None],
    *,
    as_place: str | None,
    as_on: str | None,
) -> Mapping[Place | None, Component]:
    """Give, for each place, the part that the new one is like, here or on another car."""
    if as_place is None and as_on is None:
        return {}
    found: dict[Place | None, Component] = {}
    car = new.car
    if as_on is not None:
        read = new.read(lambda: new.garage.car(new.garage.find(as_on)).car)
        if read is None:
            return {}
        car = read
    fitted = [each for each in car.fitted(new.today) if each.kind == kind.name]
    like = new.read(lambda: place(as_place)) if as_place is not None else None
    for at in standing:
        wanted = like if as_place is not None else at
        part = next((each for each in fitted if each.place_on(new.today) == wanted), None)
        if part is None and as_on is not None and as_place is None and fitted:
            part = fitted[0]
        if part is None:
            where = as_on or new.slug
            new.fault(
                f"no {kind.name} is fitted at {wanted or 'no place'} on {where}",
                where="--as" if as_place is not None else "--as-on",
                remedy="name a place where one is",
            )
            return {}
        found[at] = part
    return found


def _job(
    new: Drafting,
    fitting: Fitting,
    kind: KindOfPart,
    standing: Sequence[Place | None],
    *,
    by: str | None,
    note: str | None,
) -> str:
    events = raised_by_fitting(new, [(kind, each) for each in standing], fitting.on or new.today)
    return add_job(new, fitting, events, by=by, note=note)


def _shelve(
    new: Drafting,
    kind: KindOfPart,
    standing: Sequence[Place | None],
    fields: Mapping[str, str],
    *,
    model: Mapping[Place | None, Component],
    note: str | None,
) -> None:
    for at in standing:
        read = new.read(partial(read_at, new, kind, fields, at))
        if read is None:
            continue
        if isinstance(read, TireFields):
            new.add(kind.name, {**read.values, "note": note or None})
            continue
        values = read.values(model.get(at))
        new.add(
            "component",
            {
                "kind": kind.name,
                "place": str(at) if at is not None else None,
                "state": "shelf",
                **values,
                "note": note or values.get("note"),
            },
        )
