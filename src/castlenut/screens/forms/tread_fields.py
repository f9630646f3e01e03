"""Fields for tread depths in the order in which one walks round the car."""

from collections.abc import Iterator, Sequence

from castlenut.domain.errors import Fault
from castlenut.domain.measures import THIRTY_SECOND
from castlenut.domain.tires.standing import Standing
from castlenut.domain.tires.today import TiresToday
from castlenut.screens.widgets.distance_field import ESTIMATE
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.grooves_field import GroovesField
from castlenut.words import depth

HEAD = "outer middle inner; one figure is the thinnest"


def tread_fields(tires: TiresToday, *, depth_unit: str) -> Iterator[GroovesField]:
    """Give a field for each tire on the car, with what it measured last beside it."""
    for each in tires.standing:
        if each.tire is not None:
            yield GroovesField(
                each.spot.value, each.spot.value, remark=_last(each, depth_unit=depth_unit)
            )


def typed_depths(fields: Sequence[Field]) -> list[tuple[str, str]]:
    """Give the places whose depths are typed, with what is typed."""
    return [
        (str(each.name), each.text)
        for each in fields
        if isinstance(each, GroovesField) and each.text
    ]


def apart(told: Sequence[str], fields: Sequence[Field]) -> list[str]:
    """Say what was told of one tire under its field, and give what is told of all."""
    left = list(told)
    for field in fields:
        if isinstance(field, GroovesField):
            own = [each for each in left if each.startswith(f"{field.name}: ")]
            field.note("; ".join(each.removeprefix(f"{field.name}: ") for each in own))
            left = [each for each in left if each not in own]
    return left


def no_dial_figure(typed: str) -> tuple[Fault, ...]:
    """Give the fault of an empty dial figure: the estimate is taken where it is asked for."""
    if typed:
        return ()
    return (Fault("what did the dial show?", "at", f"{ESTIMATE} takes the estimate"),)


def _last(standing: Standing, *, depth_unit: str) -> str:
    sign = "/32" if depth_unit == THIRTY_SECOND else "mm"
    if standing.depths is not None:
        told = " ".join(depth.grooves(standing.depths.mm, depth_unit))
        return f"last {told} {sign} on {standing.depths.on}"
    if standing.new_depth_mm is not None:
        return f"new {depth.with_unit(standing.new_depth_mm, depth_unit)}, not measured yet"
    return f"in {depth.unit_words(depth_unit)}, not measured yet"
