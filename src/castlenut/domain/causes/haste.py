"""How well a distance in a time fits a car: as the cost of believing it.

A cost is minus the logarithm of a density, per mile. Standing still is ordinary, haste is not.
"""

from collections.abc import Sequence
from math import log, sqrt

from castlenut.domain.units import KM_PER_MI, Unit

MI_A_DAY = 900.0  # more in one day is nearly impossible
MI_A_YEAR = 45_000.0  # more over any longer stretch is nearly impossible
MI_A_TOUR = 6_000.0  # a hurried week or two, between the one and the other

_OLDER_CAR_MI_A_YEAR = 3_000.0
_USUAL_STEPS = 3.0  # of a possible distance no more is made than so many, squared and halved
_IMPOSSIBLE = 25.0


def is_possible(miles: float, *, days: int) -> bool:
    """Tell whether a car can be driven so far in so many days; within one day counts as one."""
    return miles <= _limit(days)


def _limit(days: int) -> float:
    days = max(days, 1)
    return min(MI_A_DAY * days, max(MI_A_TOUR, MI_A_YEAR / 365 * days))


def in_miles(distance: float, unit: Unit) -> float:
    """Give a distance in miles."""
    return distance / KM_PER_MI if unit is Unit.KM else distance


def habit(runs: Sequence[tuple[float, int]]) -> tuple[float, float]:
    """Give miles a year from (miles, days) believed, and how far they may be off, as a logarithm.

    An older car's average counts like half a year of its own.
    """
    days = sum(days for _, days in runs)
    miles = sum(miles for miles, _ in runs)
    a_year = (miles + 0.5 * _OLDER_CAR_MI_A_YEAR) / (days / 365 + 0.5)
    return a_year, 0.5 + 0.8 / (1 + days / 180)


def cost(miles: float, *, days: int, usual: tuple[float, float], is_bounded: bool) -> float:
    """Give the cost of a distance in a time under a habit.

    Bounded: what is possible costs little more than what is usual, so that no tour is a mistake.
    """
    miles = max(miles, 0.0)
    days = max(days, 1)
    a_year, unsure = usual
    expected = a_year * days / 365
    usual_least = 0.15 * expected + 4
    spread = sqrt(unsure * unsure + 40 / (days + 10))
    steps = log((miles + usual_least) / (expected + usual_least)) / spread
    if is_bounded:
        steps = min(steps / 2 if steps < 0 else steps, _USUAL_STEPS)
    found = log(miles + usual_least) + log(spread) + 0.92 + steps * steps / 2
    limit = _limit(days)
    return found if miles <= limit else found + _IMPOSSIBLE + 10 * log(miles / limit)
