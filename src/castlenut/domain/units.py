"""Units: what the dial shows, what was really driven, and the factors between them."""

from decimal import Decimal
from enum import Enum
from typing import NewType

Shown = NewType("Shown", Decimal)
"""What the dial shows, in the dial's unit, tenths if it has them."""

Distance = NewType("Distance", float)
"""True cumulative distance in the vehicle's own unit. Never what a dial shows."""


class Unit(Enum):
    """What a dial counts."""

    MI = "mi"
    KM = "km"


KM_PER_MI = 1.609344  # exact, international mile
MM_PER_IN = 25.4  # exact


def convert(distance: float, *, given: Unit, wanted: Unit) -> float:
    """Give the same distance in another unit, unrounded."""
    if given is wanted:
        return distance
    return distance * KM_PER_MI if wanted is Unit.KM else distance / KM_PER_MI
