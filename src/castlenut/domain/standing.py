"""Where on a car a kind of part can stand, and which places a typed one stands for."""

from collections.abc import Mapping

from castlenut.domain.place import CORNERS, DUAL_CORNERS, Place, Spot, spots
from castlenut.domain.rules.rule import KindOfPart

_SPOTS: Mapping[str, frozenset[Spot | None]] = {
    "corners": frozenset(CORNERS) | frozenset(DUAL_CORNERS),
    "corners and spare": frozenset(CORNERS) | frozenset(DUAL_CORNERS) | {Spot.SP},
    "sides": frozenset({Spot.L, Spot.R}),
    "ends": frozenset({Spot.FRONT, Spot.REAR}),
    "one": frozenset({None}),
    "numbered": frozenset({None, Spot.L, Spot.R, Spot.FRONT, Spot.REAR}),
}


def stands_at(kind: KindOfPart, at: Place | None) -> bool:
    """Tell whether a kind of part can stand at a place.

    What stands at corners, sides or ends has a spot; which of two parts there it is may be added. A
    kind that stands anywhere takes any place or none.
    """
    if "free" in kind.positions:
        return True
    spot = at.spot if at else None
    if at is not None and spot is None:
        return "numbered" in kind.positions
    if at is not None and at.which is not None and kind.positions == ("one",):
        return False
    return any(spot in _SPOTS[each] for each in kind.positions)


def standing_places(
    kind: KindOfPart, at: Place | None, *, dual: bool = False
) -> tuple[Place | None, ...]:
    """Give the places of a kind that a place typed stands for: `front` is both front corners.

    A place where the kind itself stands is that one alone.
    """
    if at is None or stands_at(kind, at):
        return (at,)
    if at.spot is None:
        return ()
    corners = DUAL_CORNERS if dual else CORNERS
    allowed = [
        spot
        for spot in (*corners, Spot.L, Spot.R, Spot.FRONT, Spot.REAR)
        if spot in spots(at.spot) and any(spot in _SPOTS[each] for each in kind.positions)
    ]
    return tuple(Place(spot, at.which) for spot in allowed)


def allowed_places(kind: KindOfPart) -> str:
    """Say where a kind of part can stand."""
    words = {
        "corners": "a corner (LF, RF, LR, RR; LRO, LRI, RRI, RRO with duals)",
        "corners and spare": "a corner (LF, RF, LR, RR; LRO, LRI, RRI, RRO with duals) or SP",
        "sides": "a side (L or R)",
        "ends": "an end (front or rear)",
        "one": "no place: the car has one",
        "numbered": "a number, with a side or an end if need be (L 2)",
        "free": "any place",
    }
    return " or ".join(words[each] for each in kind.positions)
