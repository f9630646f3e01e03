"""The distance of a stretch against draws of what it stands for."""

from bisect import bisect_right
from math import erfc, exp
from random import Random

import pytest

from castlenut.domain.use.spread import spread
from castlenut.domain.use.ways import PASSED, WAYS, Season, grid, laid_now, shares
from castlenut.domain.vehicle import Use

DRAWS = 20_000
OUTING = 40.0


def poisson(chance: Random, mean: float) -> int:
    """Count events until their waiting times add up to the mean."""
    count, left = 0, mean - chance.expovariate(1.0)
    while left > 0:
        count += 1
        left -= chance.expovariate(1.0)
    return count


@pytest.mark.parametrize("outings", [0.2, 1.0, 3.0, 10.0, 100.0])
def test_the_distance_is_spread_as_outings_at_random_are(outings: float) -> None:
    """The largest gap between the distribution functions is at most 0.03."""
    chance = Random(f"outings {outings}")
    shape = 1 / 0.64
    draws = sorted(
        chance.gammavariate(shape * count, OUTING / shape) if count else 0.0
        for count in (poisson(chance, outings) for _ in range(DRAWS))
    )

    found = spread(OUTING * outings, OUTING, 0.64, 0.0)

    weight, slope, offset = found.tail(1.0)
    assert 1 - found.driven == pytest.approx(exp(-outings))
    for step in range(1, 200):
        distance = OUTING * (outings + 6) * step / 60
        beyond = weight * erfc(slope * distance ** (1 / 3) - offset)
        assert abs((1 - beyond) - bisect_right(draws, distance) / DRAWS) <= 0.03


def test_every_way_keeps_some_weight_whatever_is_declared() -> None:
    """A wrong word must be undone by two readings."""
    for declared in (None, *Use):
        for age in (None, 3, 50):
            found = shares(declared, age)

            assert sum(found) == pytest.approx(1.0)
            assert all(share > 0.0005 for share in found)


def test_the_rates_of_a_way_have_its_median_in_the_middle() -> None:
    for way in WAYS:
        points = grid(way, 30)
        below = sum(weight for rate, weight in points if rate < way.median * 0.999)

        assert sum(weight for _, weight in points) == pytest.approx(1.0)
        assert below < 0.5 < below + points[len(points) // 2][1]


def test_a_car_said_to_be_stored_is_more_likely_laid_up() -> None:
    for way in WAYS:
        assert laid_now(way, Use.DAILY) < laid_now(way, None) < laid_now(way, Use.STORED) < 1


def test_the_good_months_hold_nearly_all_of_a_seasonal_year() -> None:
    """From 1 April to 31 October, by the parts of the year passed on those mornings."""
    passed = PASSED[Season.GOOD_MONTHS]

    assert passed[305] - passed[91] > 0.9


def test_a_young_car_in_everyday_use_is_driven_more() -> None:
    """NHTS 2017: over 12,000 miles a year up to five years old, 7,800 over nine."""
    for way in WAYS:
        young, old = grid(way, 3), grid(way, None)

        assert (young[0][0] > old[0][0]) == way.is_everyday
