"""Wear by place from measurements. All figures invented."""

from math import sqrt
from random import Random
from statistics import NormalDist

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.place import CORNERS, Spot
from castlenut.domain.tires.rotation.moves import Pattern, rotated
from castlenut.domain.tires.rotation.tread import (
    Look,
    Odd,
    Pair,
    learned,
    pairs,
    rate_at,
    usual_rates,
)
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive

USUAL = usual_rates(Drive.REAR, Unit.MI)
STANDING = {"A": Spot.LF, "B": Spot.RF, "C": Spot.LR, "D": Spot.RR}
ERROR = sqrt(2) * (0.1 / sqrt(12) + 0.15)


def look(at: float, places: dict[str, Spot] = STANDING, **depths: float) -> Look:
    return Look(at=at, places=places, depths_mm={tire: (mm,) for tire, mm in depths.items()})


def pair(tire: str, drop: float, *, front: float = 0.0, rear: float = 0.0) -> Pair:
    return Pair(
        tire=tire,
        since=0.0,
        until=5000.0,
        drop_mm=drop,
        run=(front, 0.0, rear, 0.0),
        error_mm=ERROR,
    )


@pytest.mark.parametrize(
    ("drive", "unit", "expected"),
    [
        (Drive.REAR, Unit.MI, (0.152, 0.152, 0.168, 0.168)),
        (Drive.FRONT, Unit.MI, (0.216, 0.216, 0.104, 0.104)),
        (Drive.ALL, Unit.KM, (0.105, 0.105, 0.095, 0.095)),
    ],
)
def test_usual_wear_by_drive(drive: Drive, unit: Unit, expected: tuple[float, ...]) -> None:
    assert usual_rates(drive, unit) == pytest.approx(expected)


def test_without_a_pair_wear_is_the_usual_one() -> None:
    """The level is uncertain by half and the split by a quarter: together by 0.56 of the rate."""
    found = learned(USUAL, [])

    assert found.rates == pytest.approx(USUAL)
    assert found.learned_from == 0
    assert found.deviations == pytest.approx([sqrt(0.3125) * rate for rate in USUAL])


def test_one_pair_moves_its_own_place_most_and_the_others_with_it() -> None:
    found = learned(USUAL, [pair("A", 1.5, front=5.0)])

    rises = [rate / usual for rate, usual in zip(found.rates, USUAL, strict=True)]
    assert rises[0] == max(rises)
    assert all(1 < rise < rises[0] for rise in rises[1:])


def test_two_looks_pair_each_tire_by_where_it_ran() -> None:
    moved = {"A": Spot.RR, "B": Spot.LR, "C": Spot.LF, "D": Spot.RF}

    found = pairs([look(0, A=8.0), look(3000, moved), look(5000, moved, A=7.0)])

    (only,) = found
    assert (only.tire, only.since, only.until) == ("A", 0, 5000)
    assert only.drop_mm == pytest.approx(1.0)
    assert only.run == (3.0, 0.0, 0.0, 2.0)
    assert only.error_mm == pytest.approx(ERROR)


def test_only_neighboring_measurements_are_paired() -> None:
    found = pairs([look(0, A=8.0), look(3000, A=7.5), look(5000, A=7.0)])

    assert [(each.since, each.until) for each in found] == [(0, 3000), (3000, 5000)]


def test_thinnest_groove_counts() -> None:
    looks = [
        Look(at=0, places=STANDING, depths_mm={"A": (8.0, 7.8, 8.1)}),
        Look(at=5000, places=STANDING, depths_mm={"A": (7.5, 7.4, 7.0)}),
    ]

    assert pairs(looks)[0].drop_mm == pytest.approx(0.8)


def test_two_resolutions_are_put_together_by_the_root_of_squares() -> None:
    looks = [
        Look(at=0, places=STANDING, depths_mm={"A": (8.0,)}, resolution_mm=0.79),
        Look(at=5000, places=STANDING, depths_mm={"A": (7.0,)}),
    ]

    expected = sqrt((0.79 / sqrt(12) + 0.15) ** 2 + (0.1 / sqrt(12) + 0.15) ** 2)
    assert pairs(looks)[0].error_mm == pytest.approx(expected)


def test_distances_must_rise() -> None:
    with pytest.raises(BadInput, match="does not rise"):
        pairs([look(5000, A=8.0), look(5000, A=7.0)])


def test_tread_that_grew_is_set_aside() -> None:
    found = learned(USUAL, [pair("A", -0.4, front=5.0)])

    assert [odd.why for odd in found.set_aside] == [Odd.GREW]
    assert found.rates == pytest.approx(USUAL)


def test_tread_that_grew_by_less_than_the_gauge_errs_is_kept() -> None:
    assert learned(USUAL, [pair("A", -0.3, front=5.0)]).set_aside == ()


def test_tread_that_grew_by_exactly_as_much_as_the_gauge_errs_is_kept() -> None:
    """8.0 less 8.3 is a little under -0.3 in binary."""
    (found,) = pairs([look(0, A=8.0), look(5000, A=8.3)])

    assert learned(USUAL, [found]).set_aside == ()


def test_spare_that_wore_without_running_is_set_aside() -> None:
    found = learned(USUAL, [pair("S", 1.0)])

    assert [odd.why for odd in found.set_aside] == [Odd.WORE_STANDING]


def test_spare_that_did_not_wear_teaches_nothing() -> None:
    found = learned(USUAL, [pair("S", 0.1)])

    assert (found.set_aside, found.learned_from) == ((), 0)


def test_pair_that_the_others_say_is_far_off_is_set_aside() -> None:
    """6 mm in 5,000 where five others say 0.8: inches for mm, or a new tire not entered."""
    sound = [pair("A", 0.8, front=5.0) for _ in range(5)]

    found = learned(USUAL, [*sound, pair("C", 6.0, front=5.0)])

    assert [(odd.pair.tire, odd.why) for odd in found.set_aside] == [("C", Odd.OFF)]
    assert found.rates[0] == pytest.approx(0.16, abs=0.01)


def test_rate_is_never_below_a_hundredth() -> None:
    found = learned(USUAL, [pair("A", -0.2, front=20.0) for _ in range(30)])

    assert found.rates[0] == 0.01


def test_spare_does_not_wear_and_duals_wear_as_their_side() -> None:
    rates = (0.1, 0.2, 0.3, 0.4)

    assert rate_at(rates, Spot.SP) == 0
    assert [rate_at(rates, spot) for spot in (Spot.LRO, Spot.LRI, Spot.RRI, Spot.RRO)] == [
        *(0.3, 0.3, 0.4, 0.4)
    ]


def test_band_holds_the_true_wear_four_times_in_five() -> None:
    """400 cars measured four times with a gauge that reads to 0.1 and a hand that errs by 0.15."""
    chance = Random(7)
    usual = learned(USUAL, [])
    wide = NormalDist().inv_cdf(0.9)
    inside = count = 0

    for _ in range(400):
        truth = usual.draw(chance)
        places, depth = dict(STANDING), dict.fromkeys(STANDING, 9.0)
        looks = []
        for number in range(4):
            measured = {
                tire: round(mm + chance.gauss(0, 0.15 + 0.1 / sqrt(12)), 1)
                for tire, mm in depth.items()
            }
            looks.append(look(4000.0 * number, dict(places), **measured))
            for tire, spot in places.items():
                depth[tire] -= 4 * truth[CORNERS.index(spot)]
            after = rotated({spot: tire for tire, spot in places.items()}, Pattern.REARWARD_CROSS)
            places = {tire: spot for spot, tire in after.items()}
        found = learned(USUAL, pairs(looks))
        for rate, true, deviation in zip(found.rates, truth, found.deviations, strict=True):
            inside += abs(rate - true) <= wide * deviation
            count += 1

    assert 0.75 <= inside / count <= 0.85
