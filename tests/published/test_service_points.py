"""First points and repeats of published service charts, and the dial they are read on."""

from fractions import Fraction

import pytest

from castlenut.domain.interval import Interval, points_after, scaled


@pytest.mark.published(
    "4.24", basis="R", source="Chevrolet 10-60 series 1970 service manual p.0-19"
)
def test_wheel_nuts_at_100_500_1000_then_every_1000() -> None:
    points = points_after(41250.0, (100.0, 500.0, 1000.0), every=1000.0, count=5)

    assert points == (41350.0, 41750.0, 42250.0, 43250.0, 44250.0)


@pytest.mark.published("9.17", basis="R", source="LO 9-2320-363-12, Army axle oil M915A2")
def test_axle_oil_first_at_5000_then_every_75000() -> None:
    """Started at 0; the year on its time side is no point."""
    assert points_after(0.0, (5000.0,), every=75000.0, count=3) == (5000.0, 80000.0, 155000.0)


@pytest.mark.published("9.20", basis="R", source="Pontiac 1957 owner's manual p.30")
def test_chassis_lubrication_first_at_1000_then_every_2000() -> None:
    assert points_after(0.0, (1000.0,), every=2000.0, count=3) == (1000.0, 3000.0, 5000.0)


@pytest.mark.published("9.21", basis="R", source="Studebaker President Eight owner's manual p.19")
def test_oil_at_500_at_1000_then_every_2500() -> None:
    points = points_after(0.0, (500.0, 1000.0), every=2500.0, count=4)

    assert points == (500.0, 1000.0, 3500.0, 6000.0)


@pytest.mark.published("9.01", basis="R", source="Chevrolet light truck 1973 service manual p.0-16")
def test_severe_use_halves_chassis_lubrication() -> None:
    shortened = scaled(Interval(months=4, distance=6000.0), Fraction(1, 2))

    assert shortened == Interval(months=2, distance=3000.0)


@pytest.mark.published("7.35", basis="R", source="Mercedes-Benz 300 TD 1983 owner's manual p.63")
@pytest.mark.parametrize(("usual", "severe"), [(5000.0, 2500.0), (30000.0, 15000.0)])
def test_severe_use_halves_oil_and_automatic_fluid(usual: float, severe: float) -> None:
    assert scaled(Interval(distance=usual), Fraction(1, 2)).distance == severe
