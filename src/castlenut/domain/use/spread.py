"""How far a car may have gone: outings at random, each of some length (compound Poisson-gamma).

A stretch of time may hold no outing at all. If it holds one, the distance is taken for a gamma with
the mean and variance that it has then. Distances are in miles here, times in years of driving.
"""

from collections.abc import Sequence
from math import cbrt, exp, expm1, lgamma, log, sqrt
from typing import NamedTuple

from castlenut.domain.use.ways import TOURED, Way

STILL_MI = 1.0  # less than a dial shows is taken for standing still
_TOURS_UNEQUAL = 0.5  # squared coefficient of variation of a tour


class Spread(NamedTuple):
    """The distance of a stretch: more than nothing with the chance `driven`, and then a gamma."""

    driven: float
    shape: float
    scale: float

    def tail(self, chance: float) -> tuple[float, float, float]:
        """Give weight, slope and offset of the chance of going beyond x, if it is this spread.

        That is `weight * erfc(slope * x ** (1 / 3) - offset)`, by the cube root of a gamma being
        nearly normal (Wilson and Hilferty, Proc. Nat. Acad. Sci. 17 (1931) 684-688). A shape under
        1 would come of a rate that is hardly known, which is no reason to stand still: it is
        taken for 1, the mean kept.
        """
        shape = max(self.shape, 1.0)
        root = 3 * sqrt(shape / 2)
        slope = root / cbrt(self.shape * self.scale)
        return chance * self.driven / 2, slope, root - root / (9 * shape)


def spread(mean: float, outing: float, unequal: float, wander: float) -> Spread:
    """Give the spread about a mean distance above 0, of outings of a mean length.

    `unequal` is the squared coefficient of variation of an outing, `wander` that of the pace.
    """
    driven = -expm1(-mean / outing)
    # the mean given that there was an outing, and the square over that mean
    conditional = mean / driven
    scale = outing * (1 + unequal) + mean * (1 + wander) - conditional
    return Spread(driven, conditional / scale, scale)


def spreads(way: Way, rate: float, years: float, wander: float) -> Sequence[tuple[float, Spread]]:
    """Give what a way of use makes of so many years of driving at a rate: each with its chance.

    A tourer has two: local driving alone, or with tours.
    """
    outing = way.outing_at(rate)
    mean = rate * years
    if not way.tours:
        return ((1.0, spread(mean, outing, way.unequal, wander)),)
    local = (1 - TOURED) * mean
    expected = way.tours * years
    toured = -expm1(-expected)
    tour = TOURED * rate / way.tours
    away = expected * tour / toured
    variance = (
        away * (tour * (1 + _TOURS_UNEQUAL) + expected * tour * (1 + wander) - away)
        + local * outing * (1 + way.unequal)
        + local * local * wander
    )
    both = local + away
    return (
        (1 - toured, spread(local, outing, way.unequal, wander)),
        (toured, Spread(1.0, both * both / variance, variance / both)),
    )


def likelihoods(
    way: Way,
    rates: Sequence[float],
    miles: float,
    *,
    years: float,
    wander: float,
    weights: Sequence[float],
    least: float,
    odd: float,
) -> list[float]:
    """Give how likely a run of so many miles in so many years of driving is at each rate.

    Of a run that stood still it is the chance of that, else a density, and `odd` on top; `odd`
    alone at a rate whose weight is less than `least`.
    """
    if miles < STILL_MI:
        return [exp(-_outings(way, rate, years)) + odd for rate in rates]
    logarithm = log(miles)
    found = []
    if way.tours:
        for rate, weight in zip(rates, weights, strict=True):
            likely = 0.0
            for chance, (driven, shape, scale) in (
                spreads(way, rate, years, wander) if weight >= least else ()
            ):
                exponent = (shape - 1) * logarithm - miles / scale - shape * log(scale)
                likely += chance * driven * exp(exponent - lgamma(shape))
            found.append(likely + odd)
        return found
    # `spread`, written out: it is reckoned for every rate at every run
    of_outing, of_mean = 1 + way.unequal, 1 + wander
    outing, is_regular, median = way.outing, way.is_regular, way.median
    of_way = outing
    for rate, weight in zip(rates, weights, strict=True):
        if weight < least:
            found.append(odd)
            continue
        mean = rate * years
        if is_regular:
            outing = of_way * rate / median
        driven = -expm1(-mean / outing)
        conditional = mean / driven
        scale = outing * of_outing + mean * of_mean - conditional
        shape = conditional / scale
        exponent = (shape - 1) * logarithm - miles / scale - shape * log(scale)
        found.append(driven * exp(exponent - lgamma(shape)) + odd)
    return found


def _outings(way: Way, rate: float, years: float) -> float:
    """Give how many outings are expected, tours among them."""
    if not way.tours:
        return rate * years / way.outing_at(rate)
    return (1 - TOURED) * rate * years / way.outing_at(rate) + way.tours * years
