"""Brake fluids, rotors and drums: makers' service texts and fluid sheets."""

from fractions import Fraction

import pytest

from castlenut.domain import limits
from castlenut.domain.interval import Interval, scaled
from castlenut.domain.limits import holds
from castlenut.domain.units import Unit, convert

FMVSS_116 = "fluid maker's sheet and reference table after FMVSS 116"
DEFENDER = "Land Rover Defender 1993 workshop manual, maintenance page"


@pytest.mark.published("5.01", basis="R2", source=FMVSS_116)
def test_dot_3_boils_wet_at_140_c() -> None:
    assert limits.wet_boiling_point("DOT 3").allowed == 140.0


@pytest.mark.published("5.02", basis="R", source="Shell data sheet citing FMVSS 116 S5.1.1, S5.1.2")
def test_dot_4_boils_wet_at_155_c() -> None:
    assert limits.wet_boiling_point("DOT 4").allowed == 155.0


@pytest.mark.published("5.03", basis="R2", source=FMVSS_116)
@pytest.mark.parametrize("fluid", ["DOT 5", "DOT 5.1"])
def test_dot_5_and_5_1_boil_wet_at_180_c(fluid: str) -> None:
    assert limits.wet_boiling_point(fluid).allowed == 180.0


@pytest.mark.published("5.05", basis="R2", source="reference table, DOT 2 (obsolete)")
def test_dot_2_boils_wet_at_140_c() -> None:
    assert limits.wet_boiling_point("DOT 2").allowed == 140.0


@pytest.mark.published("5.13", basis="R", source=DEFENDER)
def test_15000_mi_are_24140_km() -> None:
    """The manual rounds to 24,000."""
    km = convert(15000.0, given=Unit.MI, wanted=Unit.KM)

    assert km == pytest.approx(24140, abs=0.5)


@pytest.mark.published("5.18", basis="R2", source="a brake-hose maker in a UK trade magazine")
def test_50000_km_are_31069_mi() -> None:
    mi = convert(50000.0, given=Unit.KM, wanted=Unit.MI)

    assert mi == pytest.approx(31069, abs=0.5)


@pytest.mark.published("5.25", basis="R", source="GM Astro 1999")
def test_drum_cast_9_560_may_be_machined_to_9_530() -> None:
    limit = limits.drum_machining(9.560)

    assert limit.allowed == 9.530
    assert holds(limit, 9.530)
    assert not holds(limit, 9.531)


@pytest.mark.published("5.26", basis="R", source="Chrysler Caravan 1997")
def test_cast_figure_leaves_0_060_in_for_refacing() -> None:
    """Nominal 9.84, cast 9.93: 0.060 of refacing, and 0.030 of wear beyond it."""
    assert limits.drum_machining(9.93).allowed == pytest.approx(9.84 + 0.060)


@pytest.mark.published("5.27", basis="R", source="Honda Fit, Nissan Pathfinder 1999 service texts")
def test_rotor_may_run_out_0_10_mm() -> None:
    limit = limits.rotor_runout()

    assert limit.allowed == 0.004
    assert holds(limits.in_mm(limit), 0.10)
    assert not holds(limits.in_mm(limit), 0.11)


@pytest.mark.published("5.28", basis="R", source="Mitsubishi, Honda, Nissan service texts")
def test_rotor_thickness_may_vary_0_0006_in() -> None:
    limit = limits.rotor_variation()

    assert limit.allowed == 0.0006
    assert holds(limits.in_mm(limit), 0.015)


@pytest.mark.published("7.34", basis="R", source=f"{DEFENDER}: arduous use")
def test_arduous_use_halves_the_brake_fluid() -> None:
    """15,000 mi or 18 months (5.13), at least halved."""
    shortened = scaled(Interval(months=18, distance=15000.0), Fraction(1, 2))

    assert shortened == Interval(months=9, distance=7500.0)
