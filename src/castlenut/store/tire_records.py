"""Tires and wheels with the places they took: as they are recorded, and as components."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import TypeVar

from castlenut.domain.component import Component, Origin, Stood
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.measures import MM, THIRTY_SECOND
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Place, Spot
from castlenut.domain.tires.tin import Week, first_day, made
from castlenut.domain.wheels import Placement, Room, Tire, Wheel, turned
from castlenut.store.typed_fields import CannotBe, Fields

_TIRE_FIELDS = ("size", "construction", "service", "tread", "make")
_WHEEL_FIELDS = ("rim_width", "rim_diameter", "offset", "type")


_STANDS = frozenset({*CORNERS, *DUAL_CORNERS, Spot.SP})

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class OnRecord:
    """The tires and wheels of a car, their placements in order, and each of them as a component."""

    tires: tuple[Tire, ...]
    wheels: tuple[Wheel, ...]
    placements: tuple[Placement, ...]
    components: tuple[Component, ...]


def assemblies(
    *,
    tires: Iterable[Fields],
    wheels: Iterable[Fields],
    placements: Iterable[Fields],
    wrong: Callable[[Fields, str], None],
) -> OnRecord:
    """Give each tire and each wheel, and as a component, its place as its placements tell.

    It has been fitted since it last came onto the car; a move from place to place does not count as
    fitting. `wrong` is told of a record that cannot be used.
    """

    def read(records: Iterable[Fields], become: Callable[[Fields], T]) -> list[T]:
        found: list[T] = []
        for fields in records:
            try:
                found.append(become(fields))
            except CannotBe as cannot:
                wrong(fields, str(cannot))
        return found

    # those of one day stay in the order they were entered; one of unknown day comes first
    placed = sorted(read(placements, _placement), key=lambda each: each.on or date.min)
    read_tires = read(tires, lambda fields: _read_tire(fields, placed))
    read_wheels = read(wheels, lambda fields: _read_wheel(fields, placed))
    return OnRecord(
        tires=tuple(tire for tire, _ in read_tires),
        wheels=tuple(wheel for wheel, _ in read_wheels),
        placements=tuple(placed),
        components=tuple(part for _, part in (*read_tires, *read_wheels)),
    )


def room_of(fields: Fields) -> Room:
    """Give the room measured at a place."""
    aligned = fields.record.values.get("aligned")
    return Room(
        record=fields.id,
        spot=_spot_needed(fields),
        inner_mm=fields.figure_needed("inner"),
        outer_mm=fields.figure("outer"),
        caliper_mm=fields.figure("caliper"),
        when=fields.text("when") or "straight",
        is_aligned=aligned if isinstance(aligned, bool) else None,
        on=fields.day_needed("on"),
    )


def _placement(fields: Fields) -> Placement:
    return Placement(
        record=fields.id,
        tire=fields.named("tire"),
        wheel=fields.named("wheel"),
        spot=None if fields.place() is None else _spot_needed(fields),
        turns=fields.text("turns"),
        on=fields.day("on"),
        at=fields.figure("at"),
        job=fields.named("job"),
    )


def _spot_needed(fields: Fields) -> Spot:
    at = fields.place()
    if at is None or at.spot not in _STANDS or at.which is not None:
        raise fields.wrong("place", "a corner or SP is needed")
    return at.spot


def _read_tire(fields: Fields, placements: Sequence[Placement]) -> tuple[Tire, Component]:
    placed = [each for each in placements if each.tire == fields.id]
    return _tire_alone(fields), _tire(fields, placed)


def _read_wheel(fields: Fields, placements: Sequence[Placement]) -> tuple[Wheel, Component]:
    placed = [each for each in placements if each.wheel == fields.id]
    return _wheel_alone(fields), _wheel(fields, placed)


def _tire_alone(fields: Fields) -> Tire:
    new = fields.figure("new_depth")
    unit = MM if fields.text("depth_unit") == "mm" else THIRTY_SECOND
    return Tire(
        record=fields.id,
        size=fields.needed("size"),
        construction=fields.text("construction"),
        service=fields.text("service"),
        tin=fields.text("tin"),
        tread=fields.text("tread"),
        new_depth=None if new is None else (new, unit),
        is_temporary=fields.yes("temporary"),
        is_studded=fields.yes("studded"),
        make=fields.text("make"),
        part=fields.text("part"),
    )


def _wheel_alone(fields: Fields) -> Wheel:
    return Wheel(
        record=fields.id,
        rim_width_in=fields.figure("rim_width"),
        rim_diameter_in=fields.figure("rim_diameter"),
        offset_mm=fields.figure("offset"),
        type=fields.text("type"),
        part=fields.text("part"),
    )


def _tire(fields: Fields, placed: Sequence[Placement]) -> Component:
    attributes = {name: value for name in _TIRE_FIELDS if (value := fields.text(name)) is not None}
    if "tread" in attributes:
        attributes["directional"] = "yes" if attributes["tread"] == "directional" else "no"
    for name in ("temporary", "studded"):
        if fields.record.values.get(name) is not None:
            attributes[name] = "yes" if fields.yes(name) else "no"
    tin = fields.text("tin")
    if tin is not None:
        attributes["tin"] = tin
    if (turns := turned(tuple(placed), fields.id)) is not None:
        attributes["turns"] = turns
    return _component(
        fields,
        placed,
        kind="tire",
        origin=Origin.TIRE,
        attributes=attributes,
        weeks=_weeks(tin, placed),
    )


def _wheel(fields: Fields, placed: Sequence[Placement]) -> Component:
    attributes: dict[str, str] = {}
    for name in _WHEEL_FIELDS:
        value = fields.record.values.get(name)
        if value is not None:
            attributes[name] = str(value)
    return _component(
        fields, placed, kind="wheel", origin=Origin.WHEEL, attributes=attributes, weeks=()
    )


def _weeks(tin: str | None, placed: Sequence[Placement]) -> tuple[Week, ...]:
    """Give the weeks that a tire's number may mean; none where it cannot be read."""
    if tin is None:
        return ()
    try:
        return made(tin, looked_at=placed[0].on if placed else None).weeks
    except BadInput:
        # what is wrong with it is told where it is entered and where it stands
        return ()


def _component(
    fields: Fields,
    placed: Sequence[Placement],
    *,
    kind: str,
    origin: Origin,
    attributes: dict[str, str],
    weeks: Sequence[Week],
) -> Component:
    came_on = _came_on(placed)
    since = None if came_on is None or _was_found(came_on, placed) else came_on
    latest = placed[-1] if placed else None
    first = placed[0] if placed and not _was_found(placed[0], placed) else None
    return Component(
        record=fields.id,
        kind=kind,
        place=_place(latest) if latest else None,
        origin=origin,
        attributes=attributes,
        part=fields.text("part"),
        made=first_day(weeks[0]) if len(weeks) == 1 else None,
        on=since.on if since else None,
        at=since.at if since else None,
        is_on_shelf=came_on is None,
        stamped=_stamped(fields),
        job=since.job if since else None,
        stood=tuple(
            Stood(place=_place(each), since=each.on or date.min, at=each.at) for each in placed
        ),
        first_on=first.on if first else None,
        made_may_be=tuple(map(first_day, weeks)) if len(weeks) > 1 else (),
    )


def _place(placement: Placement) -> Place | None:
    return None if placement.spot is None else Place(placement.spot)


def _came_on(placed: Sequence[Placement]) -> Placement | None:
    """Give the placement by which it came onto the car for its present time; None: it is off."""
    since: Placement | None = None
    for each in reversed(placed):
        if each.spot is None:
            break
        since = each
    return since


def _was_found(placement: Placement, placed: Sequence[Placement]) -> bool:
    """Tell whether a placement only says where it was found at intake.

    It is the first one, with neither a job nor a dial figure: nobody knows when it was fitted.
    """
    return placement is placed[0] and placement.job is None and placement.at is None


def _stamped(fields: Fields) -> dict[str, str]:
    new = fields.record.values.get("new_depth")
    if new is None:
        return {}
    unit = "mm" if fields.text("depth_unit") == "mm" else "32nds"
    return {"new": f"{new} {unit}"}
