"""A small run of the calibration, on some of the seeds the forecast was fitted on.

The reporting seeds are opened by the script alone.
"""

from tests.bench.forecast_calibration import groups, results
from tests.bench.reading_faults import kinds
from tests.bench.use_simulator import cases

UNSEEN = {"sound", "factor", "replaced, told"}  # nothing is wrong with these


def test_the_band_holds_the_truth_about_eight_times_in_ten() -> None:
    found = groups(results(cases(range(10), 20)))

    assert found["all"].n == 200
    assert 0.70 <= found["all"].coverage <= 0.90


def test_faults_that_show_are_found_and_sound_readings_left_alone() -> None:
    scores = dict(kinds(range(8), 2))

    faults = [each for kind, each in scores.items() if kind not in UNSEEN]
    assert sum(each.found for each in faults) >= 0.93 * sum(each.series for each in faults)
    assert scores["sound"].flagged == scores["sound"].held == 0
