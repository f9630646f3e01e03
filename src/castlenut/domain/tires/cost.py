"""What staggered sizes cost: tires bought over 100,000 of distance, against one size all round."""

from castlenut.domain.frozen import dataclass

_THOUSAND = 1000.0
OVER = 100_000.0
"""The distance over which tires bought are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleRates:
    """Wear of the two tires of an axle, mm per 1,000 of distance."""

    left: float
    right: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StaggeredCost:
    """Lives of new tires, in the unit of the rates, and tires bought over 100,000 of it."""

    life_one_size: float
    tires_one_size: float
    life_front: float
    life_rear: float
    tires_staggered: float


def axle_life(rates: AxleRates, usable_mm: float, *, is_directional: bool = False) -> float:
    """Give how far a pair lasts on its axle, changed from side to side so that both wear out.

    Directional tires cannot be: there the greater of the two rates decides.
    """
    if is_directional:
        return _THOUSAND * usable_mm / max(rates.left, rates.right)
    return _THOUSAND * 2 * usable_mm / (rates.left + rates.right)


def set_life(front: AxleRates, rear: AxleRates, usable_mm: float) -> float:
    """Give how far four tires last that each run everywhere alike."""
    total = front.left + front.right + rear.left + rear.right
    return _THOUSAND * 4 * usable_mm / total


def tires_bought(life_front: float, life_rear: float) -> float:
    """Give the tires bought over 100,000, each axle by the pair when it is worn."""
    return 2 * OVER / life_front + 2 * OVER / life_rear


def staggered_cost(
    front: AxleRates,
    rear: AxleRates,
    *,
    usable_front_mm: float,
    usable_rear_mm: float,
    usable_one_size_mm: float,
    is_directional: bool = False,
) -> StaggeredCost:
    """Compare staggered sizes with one size, same wear by place, from new to the limit."""
    life = set_life(front, rear, usable_one_size_mm)
    life_front = axle_life(front, usable_front_mm, is_directional=is_directional)
    life_rear = axle_life(rear, usable_rear_mm, is_directional=is_directional)
    return StaggeredCost(
        life_one_size=life,
        tires_one_size=4 * OVER / life,
        life_front=life_front,
        life_rear=life_rear,
        tires_staggered=tires_bought(life_front, life_rear),
    )
