"""Limits: ties, what they need, and units. The published figures are in tests/published/."""

import pytest

from castlenut.domain import limits
from castlenut.domain.errors import BadInput
from castlenut.domain.limits import Limit, Sense, holds, in_mm


def test_measure_at_its_limit_holds_on_both_sides() -> None:
    assert holds(limits.rim_runout(), 0.125)
    assert holds(limits.tread(), 0.0625)


def test_sums_of_decimals_at_the_limit_hold() -> None:
    """9.56 - 0.03 is a hair off 9.53 in binary."""
    assert holds(limits.drum_machining(9.56), 9.53)
    assert holds(Limit(allowed=0.3, sense=Sense.AT_MOST, source="-"), 0.1 + 0.2)


@pytest.mark.parametrize(
    ("diameter", "allowed"),
    [(14.0, 2.0), (16.0, 2.0), (17.0, 2.0), (17.99, 2.0), (18.0, 2.25), (21.5, 2.5), (24.0, 2.75)],
)
def test_wheel_between_two_rows_takes_the_smaller_ones_lash(
    diameter: float, allowed: float
) -> None:
    assert limits.steering_lash(diameter).allowed == allowed


def test_rating_of_10000_lb_is_light() -> None:
    assert limits.steering_linkage(gvwr_lb=10000.0).allowed == 0.25
    assert limits.steering_linkage(gvwr_lb=10001.0, rim_in=20.0).allowed == 0.5


def test_unknown_rating_is_taken_as_light_and_said_so() -> None:
    limit = limits.lining()

    assert limit.allowed == 0.03125
    assert "10,000 lb or less taken" in limit.source


def test_heavy_linkage_needs_the_rim() -> None:
    with pytest.raises(BadInput, match="rim_in: is missing"):
        limits.steering_linkage(gvwr_lb=12000.0)


def test_heavy_lining_needs_its_fixing() -> None:
    with pytest.raises(BadInput, match="lining: is missing"):
        limits.lining(gvwr_lb=12000.0)


def test_heavy_riveted_lining_keeps_the_lighter_figure() -> None:
    assert limits.lining(gvwr_lb=12000.0, is_bonded=False).allowed == 0.03125


def test_toe_out_has_the_same_limit_as_toe_in() -> None:
    assert limits.toe(-0.125).allowed == 0.1875


def test_limit_of_length_is_given_in_mm() -> None:
    assert in_mm(limits.tread()).allowed == 1.5875


@pytest.mark.parametrize("name", ["DOT 4", "dot4", " Dot  4 ", "DOT4"])
def test_fluid_is_known_by_any_spelling_of_its_class(name: str) -> None:
    assert limits.wet_boiling_point(name).allowed == 155.0


def test_fluid_of_no_class_is_refused() -> None:
    with pytest.raises(BadInput, match=r"DOT 5\.1"):
        limits.wet_boiling_point("mineral oil")


def test_own_figure_beats_the_published_one() -> None:
    assert limits.rotor_runout(0.002).allowed == 0.002
    assert limits.rotor_variation(0.0004).allowed == 0.0004
    assert "own figure" in limits.rotor_runout(0.002).source


def test_stamped_figures_are_the_limits_of_rotor_and_drum() -> None:
    assert holds(limits.rotor_thickness(0.965), 0.965)
    assert not holds(limits.rotor_thickness(0.965), 0.964)
    assert holds(limits.drum(9.56), 9.56)
    assert not holds(limits.drum(9.56), 9.561)


def test_compression_needs_two_cylinders_and_some_pressure() -> None:
    with pytest.raises(BadInput, match="measured"):
        limits.compression([150.0])
    with pytest.raises(BadInput, match="measured"):
        limits.compression([0.0, 0.0])


def test_warm_battery_reads_low() -> None:
    assert limits.gravity_at_80(1.226, 90.0) == 1.230
