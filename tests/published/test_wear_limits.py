"""Compression and battery: makers' service texts and tables."""

import pytest

from castlenut.domain import limits
from castlenut.domain.limits import holds


@pytest.mark.published("13.01", basis="R", source="Ford Probe 1992, 1997 service texts")
def test_lowest_cylinder_keeps_75_percent_of_the_highest() -> None:
    limit = limits.compression([150.0, 140.0, 145.0, 113.0])

    assert limit.allowed == 112.5
    assert holds(limit, 112.5)
    assert not holds(limit, 112.0)


@pytest.mark.published("13.06", basis="R2", source="travel-vehicle magazine")
def test_three_quarters_charged_is_1_230() -> None:
    assert limits.battery_gravity().allowed == 1.230


@pytest.mark.published("13.07", basis="R2", source="energy page with table")
def test_1_230_at_50_f_is_1_218() -> None:
    corrected = limits.gravity_at_80(1.230, 50.0)

    assert corrected == 1.218
    assert not holds(limits.battery_gravity(), corrected)
