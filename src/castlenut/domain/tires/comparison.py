"""Ways to shoe a car side by side, with the life of each and how uncertain it is."""

from collections.abc import Sequence
from random import Random
from statistics import quantiles

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.assembly import LEAST_TREAD_MM
from castlenut.domain.tires.cost import AxleRates
from castlenut.domain.tires.fitment import Compared, Fitment, bought_of, compared
from castlenut.domain.tires.rooms import LeftHere
from castlenut.domain.tires.rotation.tread import WearRates
from castlenut.domain.tires.size import Size
from castlenut.domain.vehicle import Drive

USUAL_NEW_MM = 8.0
"""New depth where none is given: the usual wear is 6.4 mm of it (from memory)."""

_DRAWS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to shoe a car, by its name. `life_band` is P10 and P90 of its life.

    What is left of measured room stands by axle, empty where none was measured.
    """

    name: str
    compared: Compared
    life_band: tuple[float, float] | None
    front_left: tuple[LeftHere, ...] = ()
    rear_left: tuple[LeftHere, ...] = ()


def side_by_side(
    ways: Sequence[tuple[str, Fitment]],
    *,
    now: Fitment,
    drive: Drive,
    wear: WearRates,
    chance: Random,
    limit_mm: float = LEAST_TREAD_MM,
    calibrated: Size | None = None,
) -> tuple[Way, ...]:
    """Hold ways to shoe a car against the one it has, or against the first where there is no car.

    The same draws of the wear serve all of them, so that bands can be compared.
    """
    draws = [_by_axle(wear.draw(chance)) for _ in range(_DRAWS)]
    front, rear = _by_axle(wear.rates)
    found = []
    for name, fitment in ways:
        each = compared(
            now,
            fitment,
            drive=drive,
            front_rates=front,
            rear_rates=rear,
            limit_mm=limit_mm,
            calibrated=calibrated,
        )
        lives = [
            bought.life
            for at_front, at_rear in draws
            if (
                bought := bought_of(
                    fitment,
                    each.patterns,
                    front_rates=at_front,
                    rear_rates=at_rear,
                    limit_mm=limit_mm,
                )
            )
            is not None
        ]
        band = None
        if lives:
            tenths = quantiles(lives, n=10)
            band = (tenths[0], tenths[-1])
        found.append(Way(name=name, compared=each, life_band=band))
    return tuple(found)


def _by_axle(rates: Sequence[float]) -> tuple[AxleRates, AxleRates]:
    return AxleRates(left=rates[0], right=rates[1]), AxleRates(left=rates[2], right=rates[3])
