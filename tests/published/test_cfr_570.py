"""49 CFR part 570, vehicles in use, and the state texts worded after it."""

import pytest

from castlenut.domain import limits
from castlenut.domain.limits import holds


@pytest.mark.published("1.01", basis="R", source="49 CFR 570.7(a) Table 1; 570.60 Table 2")
@pytest.mark.parametrize(
    ("diameter", "allowed"), [(16.0, 2.0), (18.0, 2.25), (20.0, 2.5), (22.0, 2.75)]
)
def test_steering_lash_goes_by_the_wheel(diameter: float, allowed: float) -> None:
    assert limits.steering_lash(diameter).allowed == allowed


@pytest.mark.published("1.01", basis="R", source="49 CFR 570.7(a) Table 1; 570.60 Table 2")
def test_lash_of_2_3_in_fails_on_an_18_in_wheel() -> None:
    assert not holds(limits.steering_lash(18.0), 2.3)


@pytest.mark.published("1.01", basis="R", source="49 CFR 570.7(a) Table 1; 570.60 Table 2")
def test_lash_of_2_5_in_passes_on_a_20_in_wheel() -> None:
    """The limit is not to be exceeded; at it, it holds."""
    assert holds(limits.steering_lash(20.0), 2.5)


@pytest.mark.published("1.03", basis="R", source="49 CFR 570.7(b), (b)(1)")
def test_linkage_play_of_5_16_in_fails() -> None:
    limit = limits.steering_linkage(gvwr_lb=4000.0)

    assert limit.allowed == 0.25
    assert not holds(limit, 5 / 16)


@pytest.mark.published("1.04", basis="R", source="49 CFR 570.60(b) Table 3")
@pytest.mark.parametrize(
    ("rim", "allowed"), [(16.0, 0.25), (16.01, 0.375), (18.0, 0.375), (18.01, 0.5)]
)
def test_heavy_linkage_play_goes_by_the_rim(rim: float, allowed: float) -> None:
    assert limits.steering_linkage(gvwr_lb=14000.0, rim_in=rim).allowed == allowed


@pytest.mark.published("1.04", basis="R", source="49 CFR 570.60(b) Table 3")
def test_linkage_play_of_3_8_in_passes_on_a_17_5_in_rim() -> None:
    assert holds(limits.steering_linkage(gvwr_lb=14000.0, rim_in=17.5), 0.375)


@pytest.mark.published("1.05", basis="R", source="49 CFR 570.7(d); RCW 46.37.375(7)")
def test_toe_is_allowed_one_and_a_half_times_the_makers_figure() -> None:
    assert limits.toe(0.125).allowed == 0.1875


@pytest.mark.published(
    "1.07", basis="R", source="RCW 46.37.360(5), after 49 CFR 570.5 (from memory)"
)
@pytest.mark.parametrize(("thickness", "passes"), [(1 / 16, True), (1 / 32, True), (1 / 64, False)])
def test_light_lining_keeps_1_32_in(thickness: float, *, passes: bool) -> None:
    assert holds(limits.lining(gvwr_lb=4000.0, is_bonded=True), thickness) is passes


@pytest.mark.published("1.08", basis="R", source="49 CFR 570.59(c)")
def test_bonded_lining_of_1_32_in_fails_over_10000_lb() -> None:
    assert not holds(limits.lining(gvwr_lb=14000.0, is_bonded=True), 1 / 32)
    assert holds(limits.lining(gvwr_lb=14000.0, is_bonded=True), 1 / 16)
    assert holds(limits.lining(gvwr_lb=14000.0, is_bonded=False), 1 / 32)


@pytest.mark.published("1.09", basis="R", source="RCW 46.37.360(4); 49 CFR 570.59(b)")
def test_drum_and_rotor_keep_their_embossed_figures() -> None:
    """Figures invented; the rule is the published part."""
    assert not holds(limits.drum(9.09), 9.10)
    assert not holds(limits.rotor_thickness(0.43), 0.42)


@pytest.mark.published("1.11", basis="M", source="49 CFR 570.9, from memory")
def test_light_tread_keeps_2_32_in() -> None:
    assert limits.tread(gvwr_lb=4000.0, is_front=True).allowed == 2 / 32


@pytest.mark.published("1.12", basis="R", source="49 CFR 570.62(a)")
def test_heavy_front_tread_keeps_4_32_in_and_the_others_2_32() -> None:
    assert limits.tread(gvwr_lb=14000.0, is_front=True).allowed == 4 / 32
    assert limits.tread(gvwr_lb=14000.0, is_front=False).allowed == 2 / 32


@pytest.mark.published("1.13", basis="R", source="Maryland COMAR 11.14.05.05 A(1)(g)")
def test_duals_of_28_0_and_27_4_in_do_not_match() -> None:
    assert not holds(limits.duals(), 28.0 - 27.4)
    assert holds(limits.duals(), 28.0 - 27.5)


@pytest.mark.published("1.15", basis="R", source="49 CFR 570.10(b), 39 FR 12868")
def test_rim_may_run_out_1_8_in() -> None:
    assert holds(limits.rim_runout(), 0.125)
    assert not holds(limits.rim_runout(), 0.13)
