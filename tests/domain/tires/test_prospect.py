"""A set before it is worn out: the worked case, its comparisons, and what is refused."""

from math import sqrt
from random import Random

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import replace
from castlenut.domain.place import CORNERS, Spot
from castlenut.domain.tires.advice import (
    AxleUneven,
    NotAsStated,
    OffItsRims,
    RoadTireOld,
    TreadsApart,
    advice,
)
from castlenut.domain.tires.assembly import AxleNeeds, CarWheels
from castlenut.domain.tires.axle import Axle
from castlenut.domain.tires.legality import pattern_verdicts
from castlenut.domain.tires.prospect import MoveSet, Prospect, life_band, prospect
from castlenut.domain.tires.reasons import Code
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.domain.tires.rotation.tread import Look, learned, pairs, rate_at, usual_rates
from castlenut.domain.tires.rotation.wearing import Task, held_life
from castlenut.domain.tires.size import read_size
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive
from tests.domain.tires.wheels import ROAD, SIZE, car, changed, directional, dual_car

RATES = {Spot.LF: 0.2, Spot.RF: 0.2, Spot.LR: 0.3, Spot.RR: 0.3}


def worked_car() -> CarWheels:
    wheels = changed(car(), "A", depths_mm=(7.0, 6.6, 6.8))
    wheels = changed(wheels, "B", depths_mm=(6.6,))
    return changed(wheels, ("C", "D"), depths_mm=(5.6,))


def test_worked_case() -> None:
    """A by its thinnest: 5 5 4 4 mm; life 17,500 of 18,000, spread 0.25, 4 wheels moved."""
    found = prospect(worked_car(), RATES, interval=5000)

    assert found.life_none == pytest.approx(13_333.3, abs=0.1)
    assert found.life_usual == pytest.approx(16_666.7, abs=0.1)
    assert found.plan.bound == pytest.approx(18_000)
    assert found.plan.course.life == pytest.approx(17_500)
    assert found.plan.gap == pytest.approx(0.0278, abs=0.0001)
    assert found.plan.course.spread_mm == pytest.approx(0.25)
    assert found.plan.moves == 4
    assert found.ends_with == ("C", "D")
    assert [(stint.since, stint.moves, stint.pattern) for stint in found.stints] == [
        (0, 0, None),
        (5000, 4, Pattern.FRONT_TO_REAR),
        (10_000, 0, None),
        (15_000, 0, None),
    ]
    assert found.plan.is_proved
    assert found.plan.is_moves_proved


def test_spare_joins_where_it_may_and_is_asked_for() -> None:
    wheels = car(spare=True)

    with_spare = prospect(wheels, RATES, interval=5000)
    without = prospect(wheels, RATES, interval=5000, use_spare=False)

    assert (with_spare.joins, without.joins) == (True, False)
    assert with_spare.plan.bound == pytest.approx(22_000)  # 5 x 4.4 mm at 1 mm in 1,000
    assert without.plan.bound == pytest.approx(17_600)
    assert set(with_spare.stints[0].places) == {*CORNERS, Spot.SP}


def test_patterns_with_the_spare_are_the_five_tire_pattern_of_the_drive() -> None:
    found = prospect(car(spare=True), RATES, interval=4000, moves=MoveSet.PATTERNS)

    assert {stint.pattern for stint in found.stints} <= {Pattern.FIVE_REARWARD_CROSS, None}
    assert found.plan.course.life > found.life_none


def test_usual_pattern_that_may_not_be_done_has_no_life() -> None:
    found = prospect(directional(car()), RATES, interval=5000, moves=MoveSet.PATTERNS)

    assert found.life_usual is None
    assert {stint.pattern for stint in found.stints} <= {Pattern.FRONT_TO_REAR, None}


def test_usual_pattern_that_is_blocked_the_second_time_has_no_life() -> None:
    """RR turns right: the first rearward cross takes it to RF, the next one would cross it."""
    wheels = directional(car(), ("D",))

    assert prospect(wheels, RATES, interval=4000).life_usual is None
    assert prospect(wheels, RATES, interval=30_000).life_usual is not None


def test_duals_wear_and_move_as_six() -> None:
    rates = {
        each.at: 0.3 if each.at.value.startswith(("LR", "RR")) else 0.2 for each in dual_car().road
    }

    found = prospect(dual_car(), rates, interval=5000)

    assert len(found.stints[0].places) == 6
    assert found.plan.bound == pytest.approx(16_500)  # 6 x 4.4 mm at 1.6 mm in 1,000
    assert found.plan.course.life <= found.plan.bound


def test_long_horizon_says_what_is_not_proved() -> None:
    uneven = {Spot.LF: 0.21, Spot.RF: 0.2, Spot.LR: 0.31, Spot.RR: 0.29}

    found = prospect(car(spare=True), uneven, interval=250)

    assert found.plan.gap < 0.01
    assert not found.plan.is_moves_proved
    assert sum(stint.moves for stint in found.stints) == found.plan.moves


def test_walk_of_very_many_stints_ends_at_the_limit() -> None:
    uneven = {Spot.LF: 0.21, Spot.RF: 0.2, Spot.LR: 0.31, Spot.RR: 0.29}

    found = prospect(car(), uneven, interval=100, moves=MoveSet.PATTERNS)

    assert found.plan.gap < 0.02
    assert found.ends_with


def test_too_many_rotations_are_refused() -> None:
    with pytest.raises(BadInput, match="rotations in the life of the set"):
        prospect(car(), RATES, interval=1)


def test_every_tire_that_is_worn_or_not_measured_is_told() -> None:
    wheels = changed(changed(car(), "C", depths_mm=(1.6,)), "A", depths_mm=())

    with pytest.raises(BadInput) as raised:
        prospect(wheels, RATES, interval=5000)

    assert [str(fault) for fault in raised.value.faults] == [
        "A at LF: is not measured; measure it first",
        "C at LR: has 1.6 mm: at the limit; renew it first",
    ]


def test_advice_blocks_nothing() -> None:
    wheels = replace(car(), drive=Drive.ALL, max_age_years=7.0, rear=AxleNeeds(size=SIZE))
    wheels = changed(wheels, "A", age_years=9.0, depths_mm=(9.0,), offset_mm=0.0)
    wheels = changed(wheels, "D", size=read_size("215/60R15"))

    found = advice(wheels, pattern_verdicts(wheels))

    assert found == (
        AxleUneven(axle=Axle.FRONT, code=Code.OFFSET),
        AxleUneven(axle=Axle.REAR, code=Code.SIZE),
        NotAsStated(axle=Axle.REAR, carries=("215/60R15",), stated="205/60R15"),
        RoadTireOld(tire="A", years=9.0, limit_years=7.0),
        TreadsApart(difference_mm=3.0, limit_mm=2.4),
    )


def test_rim_outside_the_range_of_a_tire_off_its_rim_is_advised() -> None:
    wheels = changed(car(), ("C", "D"), rim_width_in=8.0)

    found = advice(wheels, pattern_verdicts(wheels))

    assert [each.tire for each in found if isinstance(each, OffItsRims)] == ["A", "B"]


def test_band_of_life_is_the_same_for_the_same_seed_and_holds_the_plan() -> None:
    wear = learned(usual_rates(Drive.REAR, Unit.MI), [])
    rates = {each.at: rate_at(wear.rates, each.at) for each in car().road}
    found = prospect(car(), rates, interval=5000)

    first = life_band(car(), found, wear, interval=5000, chance=Random(3))
    again = life_band(car(), found, wear, interval=5000, chance=Random(3))

    assert first == again
    assert first[0] < found.plan.course.life < first[1]


@pytest.mark.long
def test_band_of_life_holds_the_truth_four_times_in_five() -> None:
    """400 sets, measured three times without rotation, then driven on by the plan."""
    chance = Random(11)
    usual = learned(usual_rates(Drive.REAR, Unit.MI), [])
    inside = 0
    for _ in range(400):
        truth = usual.draw(chance)
        depth = dict.fromkeys(ROAD, 12.0)
        looks = []
        for number in range(3):
            measured = {
                tire: (round(mm + chance.gauss(0, 0.15 + 0.1 / sqrt(12)), 1),)
                for tire, mm in depth.items()
            }
            places = dict(zip(ROAD, CORNERS, strict=True))
            looks.append(Look(at=4000.0 * number, places=places, depths_mm=measured))
            if number < 2:
                for tire, rate in zip(ROAD, truth, strict=True):
                    depth[tire] = max(3.0, depth[tire] - 4 * rate)
        wear = learned(usual_rates(Drive.REAR, Unit.MI), pairs(looks))
        wheels = car()
        for tire in ROAD:
            wheels = changed(wheels, tire, depths_mm=(depth[tire],))
        rates = {each.at: rate_at(wear.rates, each.at) for each in wheels.road}
        found = prospect(wheels, rates, interval=6000)
        low, high = life_band(wheels, found, wear, interval=6000, chance=Random(chance.random()))
        inside += low <= _true_life(wheels, found, truth) <= high

    assert 0.75 <= inside / 400 <= 0.85


def _true_life(wheels: CarWheels, found: Prospect, truth: tuple[float, ...]) -> float:
    stints = []
    for stint in found.stints:
        stands = {tire: spot for spot, tire in stint.places.items()}
        stints.append(tuple(CORNERS.index(stands[tire]) for tire in ROAD))
    task = Task(
        rests_mm=tuple((each.thinnest_mm or 0.0) - 1.6 for each in wheels.road),
        rates=tuple(rate / 1000 for rate in truth),
        allowed=(),
        interval=6000,
        start=(),
    )
    return held_life(task, stints)
