"""A small run of the calibration, on some of the seeds the forecast was fitted on, and a smaller.

The reporting seeds are opened by the script alone.
"""

import pytest

from tests.bench.forecast_calibration import groups, results
from tests.bench.reading_faults import kinds
from tests.bench.use_simulator import cases

UNSEEN = {"sound", "factor", "replaced, told"}  # nothing is wrong with these


@pytest.mark.parametrize(
    ("seeds", "each", "count"), [(3, 20, 60), pytest.param(10, 20, 200, marks=pytest.mark.long)]
)
def test_the_band_holds_the_truth_about_eight_times_in_ten(
    seeds: int, each: int, count: int
) -> None:
    found = groups(results(cases(range(seeds), each)))

    assert found["all"].n == count
    assert 0.70 <= found["all"].coverage <= 0.90


@pytest.mark.parametrize("seeds", [2, pytest.param(8, marks=pytest.mark.long)])
def test_faults_that_show_are_found_and_sound_readings_left_alone(seeds: int) -> None:
    scores = dict(kinds(range(seeds), 2))

    faults = [each for kind, each in scores.items() if kind not in UNSEEN]
    assert sum(each.found for each in faults) >= 0.93 * sum(each.series for each in faults)
    assert scores["sound"].flagged == scores["sound"].held == 0
