"""Parts fitted, taken off, and put on the shelf."""

from collections.abc import Mapping, Sequence
from functools import partial

from castlenut.domain.component import Component, Origin
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Raised
from castlenut.domain.ids import RecordId, short
from castlenut.domain.place import Place, place
from castlenut.domain.rules.rule import KindOfPart
from castlenut.domain.tires.rooms import SPACER
from castlenut.garage.changes.conflicting import with_conflicts
from castlenut.garage.changes.fitting import (
    REPLACED,
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
from castlenut.garage.changes.pieces import Piece, Pieces, find_pieces
from castlenut.garage.changes.tires import TireFields
from castlenut.garage.drafting import NOT_KNOWN, DialThen, Drafting
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.words.rooms import SPACER_ON_STUDS


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
    without: Sequence[str] = (),
) -> Draft:
    """Fit a part at one or more places, or put it on the shelf.

    `kind` may be an assembly, which brings its parts `without` those named, or the ids of parts
    from the shelf. What stands there of the same kind, or of one it excludes, is taken off by the
    same change. `on` "-": nobody knows when; no job is recorded then.

    Raises:
        BadInput: with every fault of kind, places, fields and dates; or parts that exclude each
            other are fitted at one place.
    """
    new = Drafting(garage, slug)
    found = find_pieces(new, kind, places, fields or {}, without=without, needs_place=not shelf)
    fitting = _fitting(new, on, at, shelf=shelf)
    for piece in found.pieces if found else ():
        new.read(partial(_check_stored, new, piece))
    if found is None or new.faults:
        return new.draft(kind)
    models = [
        _model(new, each.kind, each.standing, as_place=as_place, as_on=as_on)
        for each in found.pieces
    ]
    if new.faults:
        return new.draft(kind)
    if shelf:
        for piece, model in zip(found.pieces, models, strict=True):
            _shelve(new, piece.kind, piece.standing, piece.fields, model=model, note=note)
        return new.draft(f"{found.name} on the shelf")
    if fitting.on is not None:
        fitting = replace(fitting, job=_job(new, fitting, found, by=by, note=note))
    for piece, model in zip(found.pieces, models, strict=True):
        _fit(new, piece, fitting, model)
    if any(piece.kind.name == SPACER for piece in found.pieces):
        new.told.append(SPACER_ON_STUDS)
    new.told = list(dict.fromkeys(new.told))
    standing = dict.fromkeys(at for each in found.pieces for at in each.standing if at is not None)
    at_places = ", ".join(str(each) for each in standing)
    when = f" on {fitting.on.isoformat()}" if fitting.on else ""
    draft = new.draft(f"{found.name}{f' at {at_places}' if at_places else ''} fitted{when}")
    return with_conflicts(garage, draft)


def _check_stored(new: Drafting, piece: Piece) -> None:
    """Refuse to fit a tire or wheel that stands where it is to go already."""
    if piece.stored is None:
        return
    read = read_at(new, piece.kind, piece.fields, piece.standing[0])
    if isinstance(read, TireFields):
        check_mounting(piece.stored, piece.standing[0], read)


def _brought(new: Drafting, piece: Piece) -> KindOfPart:
    """Give the kind whose events a fitting raises: a tire on its wheel comes as a wheel."""
    if piece.stored is None or came_off_with(new.car, piece.stored) is None:
        return piece.kind
    return new.garage.book.kinds[WHEEL]


def _fit(
    new: Drafting, piece: Piece, fitting: Fitting, model: Mapping[Place | None, Component]
) -> None:
    for part in piece.leaving:
        take_off(new, part, fitting.on or new.today, fitting.then, why=REPLACED)
        new.told.append(f"{named(part)} taken off: {REPLACED}")
    fit_parts(
        new,
        piece.kind,
        piece.standing,
        piece.fields,
        fitting,
        model=model,
        stored=piece.stored,
        leaving=frozenset(part.record for part in piece.leaving),
    )


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


def _fitting(new: Drafting, on: str | None, at: str | None, *, shelf: bool) -> Fitting:
    if shelf or (on is not None and on.strip().lower() in NOT_KNOWN):
        known = None if at is None else new.figure(at, field="at")
        return Fitting(on=None, then=DialThen(at=known, is_estimated=False), job=None)
    day = new.past_day(on)
    return Fitting(on=day, then=new.dial_then(at, day), job=None)


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
    new: Drafting, fitting: Fitting, found: Pieces, *, by: str | None, note: str | None
) -> str:
    day = fitting.on or new.today
    parts = [(_brought(new, each), at) for each in found.pieces for at in each.standing]
    own = [Raised(event=event) for event in found.raises]
    events = (*own, *raised_by_fitting(new, parts, day))
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
