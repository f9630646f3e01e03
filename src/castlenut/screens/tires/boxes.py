"""What the drawing of the car says of each place."""

from collections.abc import Mapping

from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import SLACK_MM
from castlenut.domain.tires.axle import axle_of
from castlenut.domain.tires.standing import Standing
from castlenut.domain.tires.today import TiresToday
from castlenut.screens.widgets.plan_drawing import Box
from castlenut.words.depth import depth, grooves
from castlenut.words.states import OVERDUE

MISSING = "-- none recorded, f fits one"


def boxes_of(tires: TiresToday, moves: Mapping[Spot, Spot], *, depth_unit: str) -> tuple[Box, ...]:
    """Give a box a place, in walking order; `moves` tells where each wheel goes."""
    return tuple(
        _box(each, tires, goes=moves.get(each.spot), depth_unit=depth_unit)
        for each in tires.standing
    )


def _box(standing: Standing, tires: TiresToday, *, goes: Spot | None, depth_unit: str) -> Box:
    if standing.tire is None:
        return Box(spot=standing.spot, missing=MISSING)
    found = standing.depths
    is_worn = found is not None and found.thinnest_mm <= _limit(standing.spot, tires) + SLACK_MM
    return Box(
        spot=standing.spot,
        size=standing.tire.size,
        depths=() if found is None else grooves(found.mm, depth_unit),
        thinnest="" if found is None else depth(found.thinnest_mm, depth_unit),
        share=standing.left,
        mark=OVERDUE.mark if is_worn else "",
        color=OVERDUE.color if is_worn else "text",
        goes=goes,
    )


def _limit(spot: Spot, tires: TiresToday) -> float:
    if spot is Spot.SP or tires.wheels is None:
        return tires.rules.limit_mm
    return tires.wheels.limit_on(axle_of(spot))
