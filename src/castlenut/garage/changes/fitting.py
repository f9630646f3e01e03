"""Parts put on the car and taken off it, by one change."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import partial

from castlenut.domain.component import Component, Origin
from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import Raised
from castlenut.domain.opened import Opened, access_of, events_of, opened
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Place, Spot, lies_in
from castlenut.domain.rules.rule import KindOfPart
from castlenut.garage.changes.giving_way import (
    gives_way,
    refuse_before_another,
    refuse_made_later,
)
from castlenut.garage.changes.loose import (
    LOOSE,
    came_off_with,
    place_loose,
    standing_at,
    take_off_loose,
)
from castlenut.garage.changes.part_fields import PartFields, fields_at, read_part_fields
from castlenut.garage.changes.tires import TireFields, read_tire_fields
from castlenut.garage.drafting import DialThen, Drafting, number
from castlenut.store.values import Value

REPLACED = "replaced"
_TIRE_SET = "tire set"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """When a part is fitted, and by which job; `on` None: nobody knows."""

    on: date | None
    then: DialThen
    job: str | None


def add_job(
    new: Drafting, fitting: Fitting, events: Iterable[Raised], *, by: str | None, note: str | None
) -> str:
    """Add the job that parts are fitted by, with the events it raises."""
    raised: list[Value] = [str(each) for each in events]
    return new.add(
        "job",
        {
            "on": (fitting.on or new.today).isoformat(),
            "at": number(fitting.then.at),
            "estimated": True if fitting.then.is_estimated else None,
            "by": new.who(by),
            "events": raised or None,
            "note": note or None,
        },
    )


def raised_by_fitting(
    new: Drafting, parts: Iterable[tuple[KindOfPart, Place | None]], day: date
) -> tuple[Raised, ...]:
    """Give the events that fitting parts raises: their own, and those of what is opened for it."""
    accesses = new.garage.book.accesses
    fitted = new.car.fitted(day)
    events: dict[Raised, None] = {}
    openings: dict[Opened, None] = {}
    for kind, at in parts:
        for name in kind.raises:
            events[Raised(event=name, place=at)] = None
            key = access_of(name, accesses)
            if key is not None:
                found = opened([key], at, accesses, fitted=fitted, dual=new.car.vehicle.dual)
                openings.update(dict.fromkeys(found))
    raised = {**events, **dict.fromkeys(events_of(openings, accesses))}
    return tuple(
        each
        for each in raised
        if not any(
            other != each and other.event == each.event and lies_in(each.place, other.place)
            for other in raised
        )
    )


def fit_parts(
    new: Drafting,
    kind: KindOfPart,
    standing: Sequence[Place | None],
    fields: Mapping[str, str],
    fitting: Fitting,
    *,
    model: Mapping[Place | None, Component],
    stored: Component | None = None,
    leaving: frozenset[str] = frozenset(),
    makes_set: bool = True,
) -> None:
    """Put parts of a kind on the car, taking off what stands there.

    `leaving` are parts that the same change takes off already. `makes_set`: tires at every corner
    make a new set of tires.
    """
    fitted: list[Place] = []
    for at in standing:
        read = new.read(partial(read_at, new, kind, fields, at))
        if read is None:
            continue
        day = fitting.on or new.today
        staying = leaving if stored is None else leaving | {stored.record}
        if fitting.on is not None:
            refuse_before_another(new, kind, at, fitting.on, but=staying)
        if isinstance(read, TireFields):
            _make_room(new, kind, at, day, fitting, stored=stored, but=staying)
            place_loose(
                new,
                kind,
                at,
                read,
                on=fitting.on,
                then=fitting.then,
                job=fitting.job,
                stored=stored,
                model=model.get(at),
            )
            if at is not None:
                fitted.append(at)
            continue
        refuse_made_later(new, made=read.made, stored=stored, on=fitting.on)
        _take_off_what_stands(new, kind, at, day, fitting, but=staying)
        if stored is not None:
            _fit_stored(new, stored, at, read, fitting)
        else:
            add_component(new, kind, at, read.values(model.get(at)), fitting)
    if kind.name == "tire" and makes_set:
        _renew_tire_set(new, fitted, fitting)
    _tell_apart(new, kind, standing, fields, fitting.on or new.today)


def read_at(
    new: Drafting, kind: KindOfPart, fields: Mapping[str, str], at: Place | None
) -> PartFields | TireFields:
    """Read the fields of a part at one of several places.

    Raises:
        BadInput: with every fault.
    """
    return read_fields(new, kind, fields_at(fields, at))


def read_fields(
    new: Drafting, kind: KindOfPart, fields: Mapping[str, str]
) -> PartFields | TireFields:
    """Read the fields of a part; tires and wheels have their own.

    Raises:
        BadInput: with every fault.
    """
    if kind.name in LOOSE:
        return read_tire_fields(kind, fields, today=new.today)
    return read_part_fields(
        kind,
        fields,
        today=new.today,
        unit=new.car.vehicle.dial.unit,
        depth_unit=new.garage.settings.depth_unit,
    )


def add_component(
    new: Drafting, kind: KindOfPart, at: Place | None, values: dict[str, Value], fitting: Fitting
) -> str:
    """Add a part as fitted, and give its id."""
    return new.add(
        "component",
        {
            "kind": kind.name,
            "place": str(at) if at is not None else None,
            "state": "fitted",
            "on": fitting.on.isoformat() if fitting.on else None,
            "at": number(fitting.then.at),
            "job": fitting.job,
            **values,
        },
    )


def _fit_stored(
    new: Drafting, stored: Component, at: Place | None, read: PartFields, fitting: Fitting
) -> None:
    typed = {name: value for name, value in read.values(stored).items() if value is not None}
    if read.made is None:
        typed.pop("made", None)
    new.amend(
        "component",
        stored.record,
        {
            **typed,
            "state": "fitted",
            "place": str(at) if at is not None else None,
            "on": fitting.on.isoformat() if fitting.on else None,
            "at": number(fitting.then.at),
            "job": fitting.job,
        },
    )


def _make_room(
    new: Drafting,
    kind: KindOfPart,
    at: Place | None,
    day: date,
    fitting: Fitting,
    *,
    stored: Component | None,
    but: frozenset[str],
) -> None:
    """Take off what stands where a tire or wheel goes; a wheel with its tire takes both places."""
    if stored is None or came_off_with(new.car, stored) is None:
        _take_off_what_stands(new, kind, at, day, fitting, but=but)
        return
    there = [part for part in standing_at(new.car, at, day) if part.record not in but]
    take_off_loose(new, there, day, fitting.then, why=REPLACED)
    new.told.extend(f"{named(part)} taken off: {REPLACED}" for part in there)


def _take_off_what_stands(
    new: Drafting,
    kind: KindOfPart,
    at: Place | None,
    day: date,
    fitting: Fitting,
    *,
    but: frozenset[str],
) -> None:
    for part in new.car.fitted(day):
        if part.record in but:
            continue
        if gives_way(new, part.kind, part.place_on(day), kind, at):
            take_off(new, part, day, fitting.then, why=REPLACED)
            new.told.append(f"{named(part)} taken off: {REPLACED}")


def take_off(new: Drafting, part: Component, day: date, then: DialThen, *, why: str | None) -> None:
    """Take a part off: a component ends, a tire or wheel goes to no place."""
    if part.origin is Origin.COMPONENT:
        new.amend(
            "component",
            part.record,
            {"removed_on": day.isoformat(), "removed_at": number(then.at), "why": why},
        )
        return
    take_off_loose(new, [part], day, then, why=why)


def _renew_tire_set(new: Drafting, fitted: Sequence[Place], fitting: Fitting) -> None:
    """New tires at every road corner are a new set; so is the first time all corners have one."""
    day = fitting.on or new.today
    dual = new.car.vehicle.dual
    corners = {Place(spot) for spot in (DUAL_CORNERS if dual else CORNERS)}
    sets = [part for part in new.car.fitted(day) if part.kind == _TIRE_SET]
    standing = {part.place_on(day) for part in new.car.fitted(day) if part.kind == "tire"}
    if not corners <= ({*fitted} if sets else {*fitted, *standing}):
        return
    for part in sets:
        take_off(new, part, day, fitting.then, why=REPLACED)
    add_component(new, new.garage.book.kinds[_TIRE_SET], None, {}, fitting)


def _tell_apart(
    new: Drafting,
    kind: KindOfPart,
    standing: Sequence[Place | None],
    fields: Mapping[str, str],
    day: date,
) -> None:
    """Say which parts on one axle do not go together, as radial and bias tires."""
    if kind.apart_by != "axle":
        return
    ends = [end for end in (Place(Spot.FRONT), Place(Spot.REAR)) if _any_in(standing, end)]
    staying = [
        part
        for part in new.car.fitted(day)
        if part.kind == kind.name
        and part.place_on(day) not in standing
        and any(lies_in(part.place_on(day), end) for end in ends)
    ]
    for attribute, groups in kind.apart.items():
        value = fields.get(attribute)
        group = next((each for each in groups if value in each), ())
        for part in staying:
            other = part.attributes.get(attribute)
            if value is not None and other is not None and group and other not in group:
                new.told.append(
                    f"{value} and {other} {kind.name}s on one axle: never both ({named(part)})"
                )


def _any_in(standing: Sequence[Place | None], end: Place) -> bool:
    return any(lies_in(each, end) for each in standing if each is not None)


def named(part: Component) -> str:
    """Name a part by its kind and place."""
    return f"{part.kind} {part.place}" if part.place is not None else part.kind
