"""The table of patterns by case: what is left of the seven, and which reasons stand against it.

The cases were worked by hand. Letters: y yes, n no, ? not known, in the order forward cross,
rearward cross, X, front to rear, side to side, five-tire rearward cross, five-tire forward cross.
"""

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import AxleNeeds, CarWheels, Tread
from castlenut.domain.tires.axle import Side
from castlenut.domain.tires.legality import pattern_verdicts, spare_joins, verdict, verdicts
from castlenut.domain.tires.reasons import Answer, Code
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.domain.tires.size import Construction, read_size
from castlenut.domain.vehicle import Drive
from tests.domain.tires.wheels import (
    FRONT,
    REAR,
    ROAD,
    SIZE,
    WIDER,
    car,
    changed,
    directional,
    dual_car,
    sized,
    stated,
    tire,
)

LETTERS = {Answer.YES: "y", Answer.NO: "n", Answer.NOT_KNOWN: "?"}
BASE = car()
SPARE = car(spare=True)
STAGGERED = sized(BASE, REAR, WIDER)
NEED = AxleNeeds
AGED = changed(replace(SPARE, max_age_years=7.0), "S", age_years=9.5)
AGE_NOT_KNOWN = changed(SPARE, "S", age_years=None)
ALL = replace(SPARE, drive=Drive.ALL)
LOW_LOAD = changed(BASE, "D", load_index=86)
NARROW = changed(BASE, "D", rim_width_in=5.5)
TEMPORARY = changed(
    SPARE,
    "S",
    size=read_size("T125/80D15"),
    construction=Construction.BIAS,
    rim_width_in=4.0,
    is_marked_temporary=True,
)
STUDDED = changed(BASE, ROAD, is_studded=True)


def both(
    wheels: CarWheels, *, need_kg: float | None = None, need_kmh: float | None = None
) -> CarWheels:
    needs = AxleNeeds(need_kg=need_kg, need_kmh=need_kmh)
    return stated(wheels, front=needs, rear=needs)


def letters(wheels: CarWheels) -> str:
    return "".join(LETTERS[each.answer] for each in pattern_verdicts(wheels))


def codes(wheels: CarWheels) -> set[Code]:
    return {reason.code for each in pattern_verdicts(wheels) for reason in each.reasons} - {
        Code.PLACE
    }


CASES = [
    (1, BASE, "yyyyynn", set()),
    (2, SPARE, "yyyyyyy", set()),
    (3, STAGGERED, "nnnnynn", {Code.SIZE}),
    (4, directional(STAGGERED), "nnnnnnn", {Code.SIZE, Code.DIRECTION}),
    (5, directional(BASE), "nnnynnn", {Code.DIRECTION}),
    (6, directional(SPARE, (*ROAD, "S")), "nnnynnn", {Code.DIRECTION}),
    (7, changed(BASE, ROAD, tread=Tread.ASYMMETRIC), "yyyyynn", set()),
    (8, changed(BASE, REAR, offset_mm=-6.0), "nnnnynn", {Code.OFFSET}),
    (
        9,
        directional(changed(BASE, REAR, offset_mm=-6.0)),
        "nnnnnnn",
        {Code.OFFSET, Code.DIRECTION},
    ),
    (10, changed(BASE, REAR, rim_width_in=7.0), "nnnnynn", {Code.RIM_WIDTH}),
    (
        11,
        changed(STAGGERED, REAR, rim_width_in=7.0, offset_mm=-6.0),
        "nnnnynn",
        {Code.SIZE, Code.RIM_WIDTH, Code.OFFSET},
    ),
    (
        12,
        changed(BASE, FRONT, rim_diameter_in=14.0, size=read_size("205/60R14")),
        "nnnnynn",
        {Code.SIZE, Code.RIM_DIAMETER},
    ),
    (13, changed(BASE, REAR, construction=Construction.BIAS), "nnnnynn", {Code.CONSTRUCTION}),
    (14, changed(BASE, ROAD, construction=Construction.BIAS), "yyyyynn", set()),
    (
        15,
        changed(BASE, REAR, construction=Construction.BIAS_BELTED),
        "nnnnynn",
        {Code.CONSTRUCTION},
    ),
    (
        16,
        changed(BASE, "D", tread=Tread.DIRECTIONAL, turns=Side.RIGHT),
        "nynynnn",
        {Code.DIRECTION},
    ),
    (17, changed(BASE, "D", tread=Tread.DIRECTIONAL), "?????nn", {Code.DIRECTION}),
    (18, changed(BASE, "A", tread=None), "?????nn", {Code.DIRECTION}),
    (19, sized(BASE, "A", None), "?????nn", {Code.SIZE}),
    (
        20,
        stated(sized(BASE, "A", None), front=NEED(size=SIZE), rear=NEED(size=SIZE)),
        "?????nn",
        {Code.SIZE},
    ),
    (21, changed(BASE, "C", offset_mm=None), "?????nn", {Code.OFFSET}),
    (22, changed(STAGGERED, "C", offset_mm=None), "nnnn?nn", {Code.OFFSET, Code.SIZE}),
    (23, LOW_LOAD, "????ynn", {Code.LOAD}),
    (
        24,
        stated(LOW_LOAD, front=NEED(need_kg=540), rear=NEED(need_kg=480)),
        "nnnnynn",
        {Code.LOAD},
    ),
    (25, both(LOW_LOAD, need_kg=500), "yyyyynn", set()),
    (26, both(changed(BASE, "D", speed_symbol="S"), need_kmh=180), "yyyyynn", set()),
    (27, both(changed(BASE, "D", speed_symbol="S"), need_kmh=190), "nnnnnnn", {Code.SPEED}),
    (28, changed(BASE, "D", speed_symbol="U"), "????ynn", {Code.SPEED}),
    (29, both(changed(BASE, "D", load_index=None), need_kg=500), "?????nn", {Code.LOAD}),
    (
        30,
        TEMPORARY,
        "yyyyynn",
        {Code.TEMPORARY, Code.SIZE, Code.CONSTRUCTION, Code.RIM_WIDTH, Code.SPARE},
    ),
    (31, changed(SPARE, "S", offset_mm=20.0), "yyyyynn", {Code.OFFSET, Code.SPARE}),
    (32, AGED, "yyyyynn", {Code.AGE, Code.SPARE}),
    (33, replace(AGE_NOT_KNOWN, max_age_years=7.0), "yyyyy??", {Code.AGE, Code.SPARE}),
    (34, AGE_NOT_KNOWN, "yyyyyyy", set()),
    (35, changed(SPARE, "S", depths_mm=()), "yyyyy??", {Code.WORN, Code.SPARE}),
    (36, changed(SPARE, "S", depths_mm=(1.5,)), "yyyyynn", {Code.WORN, Code.SPARE}),
    (
        37,
        changed(ALL, "S", depths_mm=(8.5,)),
        "yyyyynn",
        {Code.TREAD_DIFFERENCE, Code.SPARE},
    ),
    (38, changed(ALL, "S", depths_mm=(8.4,)), "yyyyyyy", set()),
    (39, changed(SPARE, "S", depths_mm=(8.5,)), "yyyyyyy", set()),
    (
        40,
        changed(
            changed(replace(BASE, drive=Drive.ALL), ROAD, depths_mm=(8.0,)), "D", depths_mm=(5.0,)
        ),
        "yyyyynn",
        set(),
    ),
    (41, STUDDED, "nnnynnn", {Code.WORN_IN}),
    (42, changed(BASE, "C", is_studded=True), "nynynnn", {Code.WORN_IN}),
    (43, NARROW, "nnnn?nn", {Code.RIM_WIDTH}),
    (44, stated(NARROW, rear=NEED(rim_width_in=6.0)), "nnnnnnn", {Code.RIM_WIDTH}),
    (45, sized(SPARE, ("C", "D", "S"), WIDER), "nnnnynn", {Code.SIZE}),
    (46, sized(SPARE, REAR, WIDER), "nnnnynn", {Code.SIZE}),
    (
        47,
        stated(BASE, front=NEED(size=SIZE), rear=NEED(size=read_size("215/60R15"))),
        "nnnnnnn",
        {Code.SIZE},
    ),
]


@pytest.mark.parametrize(
    ("wheels", "expected", "reasons"),
    [pytest.param(*case[1:], id=f"case {case[0]}") for case in CASES],
)
def test_patterns_left(wheels: CarWheels, expected: str, reasons: set[Code]) -> None:
    assert letters(wheels) == expected
    assert codes(wheels) == reasons


def road_of(wheels: CarWheels, name: str) -> set[str]:
    """Give the road places a wheel may go to."""
    return {
        each.to.value
        for each in verdicts(wheels)
        if each.tire == name and each.answer is Answer.YES and each.to is not Spot.SP
    }


def off_rim(wheels: CarWheels, pattern: Pattern) -> tuple[str, ...]:
    return next(each.off_rim for each in pattern_verdicts(wheels) if each.pattern is pattern)


def test_directional_spare_may_stand_on_its_own_side_only() -> None:
    """Case 6."""
    assert road_of(directional(SPARE, (*ROAD, "S")), "S") == {"LF", "LR"}


def test_spare_of_the_rear_size_may_join_the_rear_only() -> None:
    """Case 45."""
    wheels = sized(SPARE, ("C", "D", "S"), WIDER)

    assert road_of(wheels, "S") == {"LR", "RR"}
    assert spare_joins(wheels)


def test_spare_of_the_front_size_may_join_the_front_only() -> None:
    """Case 46."""
    assert road_of(sized(SPARE, REAR, WIDER), "S") == {"LF", "RF"}


def test_spare_that_may_not_go_on_the_road_does_not_join() -> None:
    """Case 30."""
    assert not spare_joins(TEMPORARY)


def test_duals_alike_go_anywhere() -> None:
    """Case 48."""
    found = verdicts(dual_car())

    assert len(found) == 30
    assert {each.answer for each in found} == {Answer.YES}


def test_seven_patterns_need_places_that_duals_do_not_have() -> None:
    assert letters(dual_car()) == "nnnnnnn"


@pytest.mark.parametrize(
    "change",
    [{"tread": Tread.ASYMMETRIC}, {"load_index": 92}, {"speed_symbol": "V"}],
)
def test_fronts_of_other_tread_or_service_stay_on_the_front_axle(change: dict[str, object]) -> None:
    """Case 49; 4.12."""
    wheels = changed(dual_car(), ("LF", "RF"), **change)

    assert road_of(wheels, "LF") == {"RF"}
    assert road_of(wheels, "LRO") == {"LRI", "RRI", "RRO"}


def test_pair_may_not_differ_by_14_mm_of_diameter() -> None:
    """Case 50: 7 mm of tread are 14 mm of diameter, 12.7 are allowed (1.13)."""
    wheels = changed(dual_car(), ("LF", "RF", "LRO", "RRI", "RRO"), depths_mm=(10.0,))
    wheels = changed(wheels, "LRI", depths_mm=(3.0,))

    # It may only go where it stands alone; beside it nothing new may come.
    assert road_of(wheels, "LRI") == {"LF", "RF"}
    assert road_of(wheels, "RRO") == {"LF", "RF", "RRI", "LRI"}
    assert road_of(wheels, "LRO") == {"LF", "RF", "RRI", "RRO"}


def test_pair_of_12_mm_of_difference_passes() -> None:
    wheels = changed(dual_car(), ("LF", "RF", "LRO", "RRI", "RRO"), depths_mm=(9.35,))
    wheels = changed(wheels, "LRI", depths_mm=(3.0,))

    assert road_of(wheels, "LRO") == {"LF", "RF", "LRI", "RRI", "RRO"}


def test_pair_not_measured_is_not_known_where_it_is_paired_anew() -> None:
    """Case 51."""
    wheels = changed(dual_car(), "LRI", depths_mm=())
    right_outer, left_outer = tire("RRO", Spot.RRO), tire("LRO", Spot.LRO)

    anew = verdict(wheels, right_outer, Spot.LRO)
    swapped = verdict(wheels, left_outer, Spot.LRI)

    assert (anew.answer, [each.code for each in anew.reasons]) == (Answer.NOT_KNOWN, [Code.PAIR])
    assert swapped.answer is Answer.YES


def test_directional_tire_turned_round_on_its_rim_blocks_all_until_remounted() -> None:
    """Case 52."""
    wheels = changed(directional(BASE), "B", turns=Side.LEFT)

    assert letters(wheels) == "nnnnnnn"
    assert off_rim(wheels, Pattern.FRONT_TO_REAR) == ("B",)


def test_offset_is_lifted_by_taking_all_four_off_their_rims() -> None:
    wheels = directional(changed(BASE, REAR, offset_mm=-6.0))

    assert off_rim(wheels, Pattern.FRONT_TO_REAR) == ROAD
    assert off_rim(wheels, Pattern.SIDE_TO_SIDE) == ROAD


def test_size_is_not_lifted_by_taking_tires_off_their_rims() -> None:
    wheels = directional(STAGGERED)

    assert off_rim(wheels, Pattern.FORWARD_CROSS) == ()
    assert off_rim(wheels, Pattern.SIDE_TO_SIDE) == ROAD


def test_pattern_that_is_allowed_needs_no_tire_off_its_rim() -> None:
    assert off_rim(BASE, Pattern.X) == ()


def test_missing_wheel_blocks_every_pattern_that_needs_its_place() -> None:
    wheels = replace(BASE, assemblies=BASE.assemblies[:3])

    assert letters(wheels) == "nnnnnnn"
    assert {
        reason.start
        for each in pattern_verdicts(wheels)
        for reason in each.reasons
        if reason.code is Code.PLACE
    } == {Spot.RR, Spot.SP}


def test_speed_letter_inside_an_old_size_makes_no_other_size() -> None:
    wheels = sized(sized(BASE, FRONT, read_size("185/70HR14")), REAR, read_size("185/70R14"))

    assert letters(wheels) == "yyyyynn"


def test_passenger_and_european_marking_are_two_sizes() -> None:
    """3.17: markings are never equated."""
    assert letters(sized(BASE, REAR, read_size("P205/60R15"))) == "nnnnynn"
