"""Patterns of rotation and what keeps tires from them: makers, manuals and the trade."""

from math import pi

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import CarWheels, Tread
from castlenut.domain.tires.legality import pattern_verdicts, verdicts
from castlenut.domain.tires.reasons import Answer, Code
from castlenut.domain.tires.rotation.moves import MOVES, Pattern, rotated, usual
from castlenut.domain.tires.rotation.plan import plan
from castlenut.domain.tires.rotation.wearing import Task
from castlenut.domain.tires.size import Construction, read_size
from castlenut.domain.vehicle import Drive
from tests.domain.tires.wheels import REAR, ROAD, car, changed, directional, dual_car, sized

TRADE = "trade pages restating the Tire and Rim Association patterns"


def moves(pattern: Pattern) -> dict[str, str]:
    return {start.value: to.value for start, to in MOVES[pattern].items()}


def left(wheels: CarWheels) -> set[Pattern]:
    return {each.pattern for each in pattern_verdicts(wheels) if each.answer is Answer.YES}


@pytest.mark.published("4.01", basis="R2", source=TRADE)
def test_forward_cross() -> None:
    expected = {"LF": "LR", "RF": "RR", "LR": "RF", "RR": "LF"}

    assert moves(Pattern.FORWARD_CROSS) == expected
    assert usual(Drive.FRONT, with_spare=False) is Pattern.FORWARD_CROSS


@pytest.mark.published("4.02", basis="R2", source=TRADE)
def test_rearward_cross() -> None:
    expected = {"LR": "LF", "RR": "RF", "LF": "RR", "RF": "LR"}

    assert moves(Pattern.REARWARD_CROSS) == expected
    assert usual(Drive.REAR, with_spare=False) is Pattern.REARWARD_CROSS
    assert usual(Drive.ALL, with_spare=False) is Pattern.REARWARD_CROSS


@pytest.mark.published("4.03", basis="R", source="a tire maker's page; trade pages")
@pytest.mark.published("4.51", basis="R", source="Pontiac 1957 owner's manual, p.24")
def test_x() -> None:
    assert moves(Pattern.X) == {"LF": "RR", "RF": "LR", "LR": "RF", "RR": "LF"}


@pytest.mark.published("4.04", basis="R", source="a tire maker's safety page")
@pytest.mark.parametrize(
    ("drive", "crossing"), [(Drive.FRONT, {"LR", "RR"}), (Drive.REAR, {"LF", "RF"})]
)
def test_wheels_that_roll_freely_cross_to_the_driven_axle(drive: Drive, crossing: set[str]) -> None:
    made = moves(usual(drive, with_spare=False))

    assert {start for start, to in made.items() if start[0] != to[0]} == crossing


@pytest.mark.published("4.05", basis="R2", source=TRADE)
@pytest.mark.published("4.13", basis="R", source="Dodge Intrepid 1998 service text; a tire maker")
def test_directional_tires_go_front_to_rear_only() -> None:
    assert moves(Pattern.FRONT_TO_REAR) == {"LF": "LR", "RF": "RR", "LR": "LF", "RR": "RF"}
    assert left(directional(car())) == {Pattern.FRONT_TO_REAR}


@pytest.mark.published("4.06", basis="R2", source=TRADE)
def test_staggered_sizes_go_side_to_side_only() -> None:
    assert moves(Pattern.SIDE_TO_SIDE) == {"LF": "RF", "RF": "LF", "LR": "RR", "RR": "LR"}
    assert left(sized(car(), REAR, read_size("225/60R15"))) == {Pattern.SIDE_TO_SIDE}


@pytest.mark.published("4.07", basis="R2", source=TRADE)
def test_staggered_and_directional_leave_none() -> None:
    assert left(directional(sized(car(), REAR, read_size("225/60R15")))) == set()
    assert left(directional(changed(car(), REAR, offset_mm=-6.0))) == set()


@pytest.mark.published("4.08", basis="R2", source="dealer and trade pages")
def test_five_tires_rear_drive() -> None:
    expected = {"RR": "RF", "LR": "LF", "RF": "LR", "LF": "SP", "SP": "RR"}

    assert moves(Pattern.FIVE_REARWARD_CROSS) == expected
    assert usual(Drive.REAR, with_spare=True) is Pattern.FIVE_REARWARD_CROSS


@pytest.mark.published("4.09", basis="C", source="derived from the rule of 4.08")
def test_five_tires_front_drive() -> None:
    expected = {"LF": "LR", "LR": "RF", "RR": "LF", "RF": "SP", "SP": "RR"}

    assert moves(Pattern.FIVE_FORWARD_CROSS) == expected
    assert usual(Drive.FRONT, with_spare=True) is Pattern.FIVE_FORWARD_CROSS


@pytest.mark.published("4.10", basis="C", source="counted over the moves of 4.01 to 4.09")
@pytest.mark.parametrize(
    ("pattern", "length"),
    [
        (Pattern.FORWARD_CROSS, 4),
        (Pattern.REARWARD_CROSS, 4),
        (Pattern.X, 2),
        (Pattern.FRONT_TO_REAR, 2),
        (Pattern.SIDE_TO_SIDE, 2),
        (Pattern.FIVE_REARWARD_CROSS, 5),
        (Pattern.FIVE_FORWARD_CROSS, 5),
    ],
)
def test_every_tire_is_back_after_a_cycle(pattern: Pattern, length: int) -> None:
    positions = {spot: spot.value for spot in MOVES[pattern]}

    back = [
        times
        for times in range(1, length + 1)
        if rotated(positions, pattern, times=times) == positions
    ]

    assert back == [length]


@pytest.mark.published("4.11", basis="R", source="GM Silverado 2005 and 2006 manual text")
def test_duals_with_the_same_front_treads_change_with_the_front() -> None:
    """The manual's two patterns are drawn, and the drawings were not read: any place is open."""
    found = verdicts(dual_car())

    assert {(each.tire, each.to.value) for each in found if each.answer is Answer.YES} == {
        (start, to)
        for start in ("LF", "RF", "LRO", "LRI", "RRI", "RRO")
        for to in ("LF", "RF", "LRO", "LRI", "RRI", "RRO")
        if start != to
    }


@pytest.mark.published("4.12", basis="R", source="GM Silverado 2005 and 2006 manual text")
def test_duals_with_other_front_treads_stay_on_the_rear_axle() -> None:
    wheels = changed(dual_car(), ("LF", "RF"), tread=Tread.ASYMMETRIC)

    to = {
        each.to.value
        for each in verdicts(wheels)
        if each.tire == "LRI" and each.answer is Answer.YES
    }

    assert to == {"LRO", "RRI", "RRO"}


@pytest.mark.published("1.13", basis="R", source="Maryland COMAR 11.14.05.05 A(1)(g)")
def test_duals_of_28_0_and_27_4_in_do_not_pair() -> None:
    """0.6 in of diameter are 7.62 mm of tread."""
    names = ("LF", "RF", "LRO", "RRI", "RRO")
    wheels = changed(dual_car(), names, depths_mm=(10.0,))
    wheels = changed(wheels, "LRI", depths_mm=(10.0 - 0.6 * 25.4 / 2,))

    found = next(each for each in verdicts(wheels) if each.tire == "RRO" and each.to is Spot.LRO)

    assert [reason.code for reason in found.reasons] == [Code.PAIR]


@pytest.mark.published("1.14", basis="R", source="Maryland COMAR 11.22.04.06(6)")
@pytest.mark.published("2.18", basis="R2", source="an Irish tire trade page on regulations 24-27")
def test_bias_and_radial_do_not_come_to_one_axle() -> None:
    wheels = changed(car(), REAR, construction=Construction.BIAS)

    assert left(wheels) == {Pattern.SIDE_TO_SIDE}


@pytest.mark.published("4.30", basis="R2", source="trade pages: 3/32 in on all-wheel drive")
@pytest.mark.published("4.31", basis="C", source="geometry: 2 x pi / 32 in by 1/32 of tread")
def test_a_quarter_inch_of_circumference_is_1_27_thirty_seconds_of_tread() -> None:
    """So a garage's limit of 1 mm of tread is the stricter one."""
    quarter_inch_mm = 0.25 * 25.4 / (2 * pi)
    wheels = replace(car(spare=True), drive=Drive.ALL, max_difference_mm=quarter_inch_mm)

    assert quarter_inch_mm / (25.4 / 32) == pytest.approx(1.27, abs=0.005)
    assert len(left(changed(wheels, "S", depths_mm=(7.0,)))) == 7
    assert len(left(changed(wheels, "S", depths_mm=(7.1,)))) == 5


@pytest.mark.published("4.42", basis="R2", source="a makers' association's practice of June 2001")
def test_spare_over_six_years_stays_out_where_asked_for() -> None:
    wheels = replace(car(spare=True), max_age_years=6.0)

    assert len(left(changed(wheels, "S", age_years=6.0))) == 7
    assert len(left(changed(wheels, "S", age_years=6.1))) == 5


@pytest.mark.published("4.43", basis="R", source="a makers' association's letter of June 2005")
def test_age_of_road_tires_is_advice() -> None:
    wheels = replace(changed(car(), ROAD, age_years=12.0), max_age_years=6.0)

    assert len(left(wheels)) == 5


@pytest.mark.published("4.50", basis="R", source="Pontiac 1957 owner's manual, p.24")
def test_five_tires_changed_every_4000_miles_run_16000_of_20000() -> None:
    """16 mm at 1 mm in 1,000 last for 20,000 at most, and the last 1/100 mm lets a plan get there.

    A tire exactly at the limit after 16,000 would end it: nobody carries a worn-out spare.
    """
    task = Task(
        rests_mm=(16.01,) * 5,
        rates=(0.001, 0.001, 0.001, 0.001, 0.0),
        allowed=((True,) * 5,) * 5,
        interval=4000.0,
        start=(0, 1, 2, 3, 4),
    )

    found = plan(task)

    on_road = [sum(stint[tire] != 4 for stint in found.course.stints[:5]) for tire in range(5)]
    assert [4000 * stints for stints in on_road] == [16_000] * 5
    assert found.bound == pytest.approx(20_000, abs=13)
    assert 20_000 <= found.course.life <= found.bound
