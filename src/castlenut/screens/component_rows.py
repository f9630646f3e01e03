"""What a row of the list of parts says: kind, where, what tells it apart, since when, number."""

from datetime import date

from castlenut.domain.component import Component, Origin
from castlenut.domain.dial import Dial
from castlenut.domain.due import CarToday
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import figures

COLUMNS = (
    Column(head="part", width=16, grow=1),
    Column(head="where", width=8, grow=1),
    Column(head="what", width=12, grow=3),
    Column(head="since", width=10),
    Column(head="at", width=8, is_right=True),
    Column(head="number", width=8, grow=1, least=78),
)
EMPTY = "Nothing recorded as fitted: f records a part"


def fitted(today: CarToday) -> tuple[Component, ...]:
    """Give what is on the car today, the car itself left aside."""
    return tuple(
        part
        for part in sorted(today.car.fitted(today.today), key=_order)
        if part.origin is not Origin.VEHICLE
    )


def apart(today: CarToday, *, on_shelf: bool) -> tuple[Component, ...]:
    """Give what lies on the shelf for the car, or what was taken off it."""
    return tuple(
        part
        for part in sorted(today.car.components, key=_order)
        if part.is_on_shelf is on_shelf and (on_shelf or part.removed_on is not None)
    )


def _order(part: Component) -> tuple[str, tuple[int, str], str]:
    return (part.kind, part.place.order if part.place else (-1, ""), part.record)


def component_row(part: Component, dial: Dial, day: date) -> Line:
    """Give the row of a part."""
    told = [*part.attributes.values(), *(f"{name} {text}" for name, text in part.stamped.items())]
    if part.removed_on is not None:
        told.append(f"off since {part.removed_on}" + (f", {part.why}" if part.why else ""))
    place = part.place_on(day)
    return Line(
        key=part.record,
        cells=(
            part.kind,
            "-" if place is None else str(place),
            ", ".join(told) or "-",
            "not known" if part.on is None else part.on.isoformat(),
            "-" if part.at is None else figures.shown(part.at, dial),
            part.part or "-",
        ),
        color="quiet" if part.removed_on is not None else "text",
        name=part.kind,
        sought=f"{part.why or ''} {part.every or ''}",
    )
