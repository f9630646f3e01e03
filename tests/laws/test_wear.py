"""Laws of wear, and how often its band holds the truth."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.wear import wear

RESOLUTIONS = st.sampled_from([0.1, 0.25, 0.5, 1.0])
POINTS = st.lists(
    st.tuples(
        st.integers(0, 100_000).map(float), st.integers(0, 200).map(lambda tenth: tenth / 10)
    ),
    min_size=1,
    max_size=8,
).map(sorted)


@given(POINTS, st.integers(0, 100).map(lambda tenth: tenth / 10), st.none() | RESOLUTIONS)
def test_band_holds_the_distance_left(
    points: list[tuple[float, float]], limit: float, resolution: float | None
) -> None:
    """Nothing is left below 0, and the band lies about what is left."""
    result = wear(points, limit, resolution=resolution)

    assert result.rate_per_1000 is None or result.rate_per_1000 > 0
    assert result.left is None or result.left >= 0
    if result.left is not None and result.left_low is not None:
        assert 0 <= result.left_low <= result.left
    if result.left is not None and result.left_high is not None:
        assert result.left <= result.left_high
    assert (result.left is None) == (result.rate_per_1000 is None and not result.reached)


@given(POINTS, st.integers(0, 100).map(lambda tenth: tenth / 10), RESOLUTIONS)
def test_a_drum_is_a_pad_upside_down(
    points: list[tuple[float, float]], limit: float, resolution: float
) -> None:
    """A measure that rises is judged as its mirror image that falls."""
    falling = wear(points, limit, resolution=resolution)
    mirrored = [(at, 40 - measure) for at, measure in points]

    rising = wear(mirrored, 40 - limit, resolution=resolution, at_most=True)

    assert rising.reached is falling.reached
    assert rising.left == pytest.approx(falling.left, abs=0.01, rel=1e-6)


@pytest.mark.parametrize(("count", "scatter"), [(2, 0.0), (3, 0.0), (4, 0.3), (8, 0.3)])
def test_band_holds_the_true_crossing_four_times_in_five(count: int, scatter: float) -> None:
    """Even wear read to half a step, with and without scatter of the hand; seeds fixed.

    Histories in which no wear shows are left out, as the answer then is that none can be told.
    """
    chance = random.Random(7)
    held = told = 0
    for _ in range(2000):
        rate = chance.uniform(0.05, 0.3) / 1000
        new = chance.uniform(10, 14)
        ats = [30_000 * (step + chance.random()) / count for step in range(count)]
        points = [
            (at, round((new - rate * at + chance.gauss(0, scatter)) / 0.5) * 0.5) for at in ats
        ]
        result = wear(points, 2.0, resolution=0.5)
        if result.left_low is None or result.reached:
            continue
        told += 1
        truth = (new - 2.0) / rate - ats[-1]
        held += result.left_low <= truth <= (result.left_high or truth)

    assert 0.74 <= held / told <= 0.88
