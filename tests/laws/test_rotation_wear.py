"""Wear by place found again from simulated measurements with the error of gauge and hand."""

from collections.abc import Sequence
from math import sqrt
from random import Random
from statistics import NormalDist, fmean, median

import pytest

from castlenut.domain.place import CORNERS, Spot
from castlenut.domain.tires.rotation.moves import Pattern, rotated
from castlenut.domain.tires.rotation.tread import (
    Look,
    WearRates,
    learned,
    pairs,
    usual_rates,
)
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive

CARS = 400
EVERY = 4000.0
MM, THIRTY_SECOND = 0.1, 0.79
P90 = NormalDist().inv_cdf(0.9)


def measured(
    chance: Random, truth: Sequence[float], *, looks: int, resolution: float
) -> tuple[Look, ...]:
    """Drive four tires of 9 mm, measure them every 4,000 and change them by rearward cross."""
    error = 0.15 + resolution / sqrt(12)
    places = dict(zip("ABCD", CORNERS, strict=True))
    depths = dict.fromkeys(places, 9.0)
    found = []
    for number in range(looks):
        read = {tire: (round(mm + chance.gauss(0, error), 1),) for tire, mm in depths.items()}
        found.append(
            Look(
                at=EVERY * number,
                places=dict(places),
                depths_mm=read,
                resolution_mm=resolution,
            )
        )
        for tire, spot in places.items():
            depths[tire] -= EVERY / 1000 * truth[CORNERS.index(spot)]
        after = rotated({spot: tire for tire, spot in places.items()}, Pattern.REARWARD_CROSS)
        places = {tire: spot for spot, tire in after.items()}
    return tuple(found)


def simulated(
    drive: Drive, unit: Unit, resolution: float
) -> list[tuple[tuple[float, ...], WearRates]]:
    """Give what was true and what was learned of it, of 400 cars as they usually differ."""
    chance = Random(11)
    usual = usual_rates(drive, unit)
    before = learned(usual, [])
    found = []
    for _ in range(CARS):
        truth = before.draw(chance)
        looks = measured(chance, truth, looks=4, resolution=resolution)
        found.append((truth, learned(usual, pairs(looks))))
    return found


@pytest.mark.parametrize("resolution", [MM, THIRTY_SECOND])
@pytest.mark.parametrize("drive", Drive)
def test_band_of_wear_holds_the_truth_four_times_in_five(drive: Drive, resolution: float) -> None:
    """P10 to P90 of 1,600 rates: measured 0.81 to 0.84, whatever the drive and the gauge."""
    inside = [
        abs(rate - true) <= P90 * deviation
        for truth, found in simulated(drive, Unit.MI, resolution)
        for rate, true, deviation in zip(found.rates, truth, found.deviations, strict=True)
    ]

    assert 0.75 <= fmean(inside) <= 0.85


def test_four_looks_leave_a_third_of_what_was_not_known() -> None:
    """The usual figure is off by a third in the middle, the one learned by an eighth."""
    usual = usual_rates(Drive.REAR, Unit.MI)
    off_before, off_after = [], []
    for truth, found in simulated(Drive.REAR, Unit.MI, MM):
        for rate, true, guess in zip(found.rates, truth, usual, strict=True):
            off_before.append(abs(guess - true) / true)
            off_after.append(abs(rate - true) / true)

    assert median(off_before) > 0.3
    assert median(off_after) < 0.15


@pytest.mark.parametrize("truth", [(0.25, 0.22, 0.12, 0.11), (0.10, 0.10, 0.28, 0.31)])
def test_known_wear_is_found_again_the_nearer_the_more_is_measured(
    truth: tuple[float, ...],
) -> None:
    """Far off the usual: the mean of 20 cars is within a quarter at 9 looks, a twentieth at 90."""
    chance = Random(5)
    usual = usual_rates(Drive.REAR, Unit.MI)

    for looks, within in ((9, 0.25), (90, 0.05)):
        found = [
            learned(usual, pairs(measured(chance, truth, looks=looks, resolution=MM))).rates
            for _ in range(20)
        ]
        for number, true in enumerate(truth):
            assert fmean(rates[number] for rates in found) == pytest.approx(true, rel=within)


def test_measurement_in_inches_taken_for_mm_is_set_aside_and_spoils_nothing() -> None:
    """11/32 in are 8.7 mm: read as 11 mm the tread grew, and wore far too much by the next look."""
    chance = Random(3)
    truth = (0.16, 0.16, 0.18, 0.18)
    usual = usual_rates(Drive.REAR, Unit.MI)
    sound = measured(chance, truth, looks=6, resolution=MM)
    wrong = Look(
        at=sound[3].at, places=sound[3].places, depths_mm={**sound[3].depths_mm, "A": (11.0,)}
    )

    found = learned(usual, pairs((*sound[:3], wrong, *sound[4:])))

    assert {odd.pair.tire for odd in found.set_aside} == {"A"}
    assert [odd.pair.until for odd in found.set_aside] == [12_000, 16_000]
    assert found.rates == pytest.approx(learned(usual, pairs(sound)).rates, rel=0.15)


def test_tire_at_the_place_of_a_spare_teaches_nothing_of_wear() -> None:
    usual = usual_rates(Drive.REAR, Unit.MI)
    stands = {"S": Spot.SP}
    looks = [
        Look(at=at, places=stands, depths_mm={"S": (mm,)}) for at, mm in ((0.0, 8.0), (9e3, 7.9))
    ]

    found = learned(usual, pairs(looks))

    assert found.rates == pytest.approx(usual)
    assert found.learned_from == 0
