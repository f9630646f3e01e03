"""Wear between measurements."""

from collections.abc import Sequence

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.wear import Wear, wear

NO_RATE = Wear(rate_per_1000=None, left=None, left_low=None, left_high=None, reached=False)


def test_two_measurements_give_the_rate_exactly() -> None:
    """10 to 8 mm in 20,000: 0.1 mm in 1,000, and 6 mm left last 60,000."""
    result = wear([(0.0, 10.0), (20000.0, 8.0)], 2.0)

    assert result.rate_per_1000 == pytest.approx(0.1)
    assert result.left == pytest.approx(60000.0)
    assert not result.reached


def test_two_measurements_without_a_resolution_have_no_band() -> None:
    result = wear([(0.0, 10.0), (20000.0, 8.0)], 2.0)

    assert result.left_low is None
    assert result.left_high is None


def test_gauge_makes_a_band_about_the_distance_left() -> None:
    """By hand: 1.2816 x 0.5 / root 12 = 0.18498 a reading, 7 mm over the limit at 10,000.

    Lower end: the line falls 0.0001 a unit, error of its height 0.18498 / root 2 = 0.13080, of
    its slope 0.18498 / 14142.1 = 0.000013080. Solving 7 - 0.0001 u = root(0.13080^2 +
    (0.000013080 u)^2) gives u = 61,810, from the last point 51,810; the upper end likewise.
    """
    result = wear([(0.0, 10.0), (20000.0, 8.0)], 2.0, resolution=0.5)

    assert result.left_low == pytest.approx(51810, abs=5)
    assert result.left_high == pytest.approx(70627, abs=5)


def test_finer_gauge_makes_a_narrower_band() -> None:
    coarse = wear([(0.0, 10.0), (20000.0, 8.0)], 2.0, resolution=0.5)
    fine = wear([(0.0, 10.0), (20000.0, 8.0)], 2.0, resolution=0.1)

    assert coarse.left_low is not None
    assert fine.left_low is not None
    assert coarse.left_high is not None
    assert fine.left_high is not None
    assert coarse.left_low < fine.left_low < fine.left_high < coarse.left_high


def test_measurements_on_a_line_without_resolution_have_a_band_of_no_width() -> None:
    result = wear([(0.0, 10.0), (10000.0, 9.0), (20000.0, 8.0)], 2.0)

    assert result.left_low == pytest.approx(60000.0)
    assert result.left_high == pytest.approx(60000.0)


def test_least_squares_line_runs_through_scatter() -> None:
    """Slope by hand: -1.5 x 10,000 / 2 x 10,000^2; mean 9.0667 at 10,000."""
    result = wear([(0.0, 10.0), (10000.0, 8.7), (20000.0, 8.5)], 2.0)

    assert result.rate_per_1000 == pytest.approx(0.075)
    assert result.left == pytest.approx(84222.2, abs=1)


def test_scatter_of_three_is_widened_by_students_t() -> None:
    """By hand: scatter 0.00667 over one reading left, so 0.0816 x 3.078 = 0.2513 a reading.

    6.9667 - 0.0001 u = root(0.2513^2 / 3 + (0.000017770 u)^2) gives u = 59,070, less 10,000.
    """
    points = [(0.0, 10.0), (10000.0, 8.9), (20000.0, 8.0)]

    result = wear(points, 2.0)

    assert result.left_low is not None
    assert result.left_high is not None
    assert result.left_low == pytest.approx(49070, abs=20)
    assert result.left_high == pytest.approx(74805, abs=50)


@pytest.mark.parametrize("count", [3, 4, 5, 12])
def test_more_measurements_narrow_the_band(count: int) -> None:
    few = [(step * 1000.0, 10 - step * 0.1 + 0.05 * (-1) ** step) for step in range(count)]
    many = [(step * 1000.0, 10 - step * 0.1 + 0.05 * (-1) ** step) for step in range(count * 2)]

    def width(points: Sequence[tuple[float, float]]) -> float:
        result = wear(points, 2.0)
        return (result.left_high or 1e9) - (result.left_low or 0.0)

    assert width(many) < width(few)


def test_one_step_of_the_gauge_leaves_a_wide_band() -> None:
    """79,000 left, if the step was a whole one."""
    result = wear([(0.0, 10.0), (1000.0, 9.9)], 2.0, resolution=0.1)

    assert result.left_low is not None
    assert result.left_high is not None
    assert result.left_low < 55000
    assert result.left_high > 160000


def test_scatter_that_hides_the_wear_leaves_no_upper_end() -> None:
    """Three readings whose line may as well be level."""
    result = wear([(0.0, 10.0), (1000.0, 9.0), (2000.0, 9.9)], 2.0)

    assert result.rate_per_1000 == pytest.approx(0.05)
    assert result.left_high is None


def test_change_smaller_than_the_resolution_is_no_rate() -> None:
    assert wear([(0.0, 10.0), (5000.0, 9.9)], 2.0, resolution=0.5) == NO_RATE


def test_change_of_one_step_is_a_rate() -> None:
    """8.0 - 7.9 is a hair below 0.1 in binary; it is one step of the gauge all the same."""
    result = wear([(0.0, 8.0), (5000.0, 7.9)], 2.0, resolution=0.1)

    assert result.rate_per_1000 == pytest.approx(0.02)


@pytest.mark.parametrize(
    "points",
    [
        [(0.0, 10.0)],
        [(0.0, 10.0), (5000.0, 10.0)],
        [(0.0, 10.0), (5000.0, 10.4)],
        [(5000.0, 10.0), (5000.0, 9.0)],
        [(0.0, 9.0), (1000.0, 10.0), (2000.0, 9.0), (3000.0, 12.0), (4000.0, 8.9)],
    ],
)
def test_no_wear_toward_the_limit_is_no_rate(points: list[tuple[float, float]]) -> None:
    assert wear(points, 2.0) == NO_RATE


def test_measure_at_its_limit_has_reached_it() -> None:
    result = wear([(0.0, 10.0), (80000.0, 2.0)], 2.0, resolution=0.1)

    assert result.reached
    assert (result.left, result.left_low, result.left_high) == (0.0, 0.0, 0.0)


def test_single_measurement_tells_whether_the_limit_is_reached() -> None:
    assert wear([(0.0, 1.5)], 2.0) == Wear(
        rate_per_1000=None, left=0.0, left_low=0.0, left_high=0.0, reached=True
    )


def test_drum_rises_to_its_limit() -> None:
    """0.03 in 20,000, 0.03 to go."""
    result = wear([(0.0, 9.50), (20000.0, 9.53)], 9.56, resolution=0.005, at_most=True)

    assert result.rate_per_1000 == pytest.approx(0.0015)
    assert result.left == pytest.approx(20000.0)
    assert not result.reached
    assert result.left_low is not None
    assert result.left_high is not None
    assert result.left_low < 20000 < result.left_high


def test_drum_over_its_limit_has_reached_it() -> None:
    assert wear([(0.0, 9.50), (20000.0, 9.57)], 9.56, at_most=True).reached


def test_line_past_the_limit_leaves_nothing_though_the_last_reading_holds() -> None:
    result = wear([(0.0, 9.0), (1000.0, 1.0), (2000.0, 2.2)], 2.0)

    assert result.left == 0.0
    assert result.left_low == 0.0
    assert not result.reached


@pytest.mark.parametrize(
    ("points", "limit", "resolution", "where"),
    [
        ([], 2.0, None, "points: holds no measurement"),
        ([(0.0, -1.0)], 2.0, None, "points: holds a figure below 0"),
        ([(0.0, float("nan"))], 2.0, None, "points: holds a figure below 0"),
        ([(5.0, 9.0), (4.0, 8.0)], 2.0, None, "points: has distances that fall"),
        ([(0.0, 9.0)], -1.0, None, "limit"),
        ([(0.0, 9.0)], 2.0, 0.0, "resolution"),
    ],
)
def test_measurements_that_cannot_be_are_refused(
    points: list[tuple[float, float]], limit: float, resolution: float | None, where: str
) -> None:
    with pytest.raises(BadInput, match=where):
        wear(points, limit, resolution=resolution)
