"""Tires and wheels with the places they took, as components."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal

from castlenut.domain.component import Component, Origin, Stood
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Place
from castlenut.domain.tires.tin import first_day, made
from castlenut.store.typed_fields import CannotBe, Fields

_TIRE_FIELDS = ("size", "construction", "service", "tread", "make")
_WHEEL_FIELDS = ("rim_width", "rim_diameter", "offset", "type")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placement:
    """Where a tire, a wheel or both stood from a day."""

    tire: str | None
    wheel: str | None
    place: Place | None
    on: date | None
    at: Decimal | None
    turns: str | None
    job: str | None


def assemblies(
    *,
    tires: Iterable[Fields],
    wheels: Iterable[Fields],
    placements: Iterable[Fields],
    wrong: Callable[[Fields, str], None],
) -> tuple[Component, ...]:
    """Give each tire and each wheel as a component, its place as its placements tell.

    It has been fitted since it last came onto the car; a move from place to place does not count as
    fitting. `wrong` is told of a record that cannot be used.
    """
    placed: list[_Placement] = []
    for fields in placements:
        try:
            placed.append(_placement(fields))
        except CannotBe as cannot:
            wrong(fields, str(cannot))
    # those of one day stay in the order they were entered; one of unknown day comes first
    placed.sort(key=lambda each: each.on or date.min)
    found: list[Component] = []
    for each, become in (*((t, _tire) for t in tires), *((w, _wheel) for w in wheels)):
        id_ = each.id
        own = [one for one in placed if id_ in {one.tire, one.wheel}]
        try:
            found.append(become(each, own))
        except CannotBe as cannot:
            wrong(each, str(cannot))
    return tuple(found)


def _placement(fields: Fields) -> _Placement:
    return _Placement(
        tire=fields.text("tire"),
        wheel=fields.text("wheel"),
        place=fields.place(),
        on=fields.day("on"),
        at=fields.figure("at"),
        turns=fields.text("turns"),
        job=fields.text("job"),
    )


def _tire(fields: Fields, placed: Sequence[_Placement]) -> Component:
    attributes = {name: value for name in _TIRE_FIELDS if (value := fields.text(name)) is not None}
    if "tread" in attributes:
        attributes["directional"] = "yes" if attributes["tread"] == "directional" else "no"
    for name in ("temporary", "studded"):
        if fields.record.values.get(name) is not None:
            attributes[name] = "yes" if fields.yes(name) else "no"
    tin = fields.text("tin")
    if tin is not None:
        attributes["tin"] = tin
    if placed and (turns := placed[-1].turns) is not None:
        attributes["turns"] = turns
    return _component(
        fields,
        placed,
        kind="tire",
        origin=Origin.TIRE,
        attributes=attributes,
        made_on=_made(tin, placed),
    )


def _wheel(fields: Fields, placed: Sequence[_Placement]) -> Component:
    attributes: dict[str, str] = {}
    for name in _WHEEL_FIELDS:
        value = fields.record.values.get(name)
        if value is not None:
            attributes[name] = str(value)
    return _component(
        fields, placed, kind="wheel", origin=Origin.WHEEL, attributes=attributes, made_on=None
    )


def _made(tin: str | None, placed: Sequence[_Placement]) -> date | None:
    """Give the first day of the week of make where the number leaves only one week open."""
    if tin is None:
        return None
    try:
        weeks = made(tin, looked_at=placed[0].on if placed else None).weeks
    except BadInput:
        return None
    return first_day(weeks[0]) if len(weeks) == 1 else None


def _component(
    fields: Fields,
    placed: Sequence[_Placement],
    *,
    kind: str,
    origin: Origin,
    attributes: dict[str, str],
    made_on: date | None,
) -> Component:
    came_on = _came_on(placed)
    since = None if came_on is None or _was_found(came_on, placed) else came_on
    latest = placed[-1] if placed else None
    return Component(
        record=fields.id,
        kind=kind,
        place=latest.place if latest else None,
        origin=origin,
        attributes=attributes,
        part=fields.text("part"),
        made=made_on,
        on=since.on if since else None,
        at=since.at if since else None,
        is_on_shelf=came_on is None,
        stamped=_stamped(fields),
        job=RecordId(since.job) if since and since.job else None,
        stood=tuple(Stood(place=each.place, since=each.on or date.min) for each in placed),
    )


def _came_on(placed: Sequence[_Placement]) -> _Placement | None:
    """Give the placement by which it came onto the car for its present time; None: it is off."""
    since: _Placement | None = None
    for each in reversed(placed):
        if each.place is None:
            break
        since = each
    return since


def _was_found(placement: _Placement, placed: Sequence[_Placement]) -> bool:
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
