"""Axles and sides of a car, and which place lies on which."""

from enum import Enum

from castlenut.domain.place import Spot


class Side(Enum):
    """A side of the car, seen from the driver's seat."""

    LEFT = "left"
    RIGHT = "right"


class Axle(Enum):
    """An axle."""

    FRONT = "front"
    REAR = "rear"


_LEFT = frozenset({Spot.LF, Spot.LR, Spot.LRO, Spot.LRI})
_FRONT = frozenset({Spot.LF, Spot.RF})
_BESIDE = {Spot.LRO: Spot.LRI, Spot.LRI: Spot.LRO, Spot.RRO: Spot.RRI, Spot.RRI: Spot.RRO}


def side_of(spot: Spot) -> Side:
    """Give the side of a road place."""
    return Side.LEFT if spot in _LEFT else Side.RIGHT


def axle_of(spot: Spot) -> Axle:
    """Give the axle of a road place."""
    return Axle.FRONT if spot in _FRONT else Axle.REAR


def beside(spot: Spot) -> Spot | None:
    """Give the other place of a pair of dual wheels; None where wheels stand alone."""
    return _BESIDE.get(spot)
