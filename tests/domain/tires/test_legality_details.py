"""What each reason against a move tells: the axle, the figures, the tires it is about."""

from dataclasses import replace

import pytest

from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import CarWheels, Tread
from castlenut.domain.tires.axle import Axle, Side
from castlenut.domain.tires.legality import may_stand, pattern_verdict, verdict
from castlenut.domain.tires.reasons import (
    Answer,
    AxleNotKnown,
    Code,
    DepthNotKnown,
    Detail,
    Differs,
    IsTemporary,
    LessThanNow,
    NothingThere,
    OwnNotKnown,
    RanOtherSide,
    Reason,
    SpareStays,
    TooDeepOrThin,
    TooLittle,
    TooOld,
    TurnsOtherWay,
    WornOut,
)
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.domain.vehicle import Drive
from tests.domain.tires.test_legality import both
from tests.domain.tires.wheels import ROAD, car, changed, directional

BASE, SPARE = car(), car(spare=True)
DRIVEN = replace(SPARE, drive=Drive.ALL)
NO, UNKNOWN = Answer.NO, Answer.NOT_KNOWN
LOW = changed(BASE, "D", load_index=86, speed_symbol="S")
LOW_IN_FRONT = changed(BASE, "A", load_index=86)
CASES: list[tuple[CarWheels, str, Spot, Code, Answer, Detail]] = [
    (
        *(both(LOW, need_kg=540.0), "D", Spot.LF, Code.LOAD, NO),
        TooLittle(axle=Axle.FRONT, has=530.0, mark="86", need=540.0),
    ),
    (
        *(both(LOW, need_kmh=185.0), "D", Spot.LR, Code.SPEED, NO),
        TooLittle(axle=Axle.REAR, has=180.0, mark="S", need=185.0),
    ),
    (
        *(LOW, "D", Spot.LF, Code.LOAD, UNKNOWN),
        LessThanNow(axle=Axle.FRONT, has=530.0, mark="86", least=615.0),
    ),
    (
        *(changed(LOW_IN_FRONT, "D", load_index=None), "A", Spot.LR, Code.LOAD, UNKNOWN),
        AxleNotKnown(axle=Axle.REAR, missing=("D",), differing=()),
    ),
    (
        *(changed(BASE, "D", offset_mm=-6.0), "D", Spot.LF, Code.OFFSET, NO),
        Differs(axle=Axle.FRONT, has=-6.0, takes=10.0),
    ),
    (
        *(changed(BASE, "A", offset_mm=None), "C", Spot.LF, Code.OFFSET, UNKNOWN),
        AxleNotKnown(axle=Axle.FRONT, missing=("A",), differing=("B",)),
    ),
    (
        *(directional(BASE), "A", Spot.RF, Code.DIRECTION, NO),
        TurnsOtherWay(turns=Side.LEFT),
    ),
    (
        *(changed(BASE, ROAD, is_studded=True), "D", Spot.LF, Code.WORN_IN, NO),
        RanOtherSide(ran=Side.RIGHT),
    ),
    (
        *(changed(SPARE, "S", is_studded=True, turns=Side.RIGHT), "S", Spot.LF, Code.WORN_IN, NO),
        RanOtherSide(ran=Side.RIGHT),
    ),
    (
        *(changed(BASE, "A", depths_mm=(1.5,)), "A", Spot.LR, Code.WORN, NO),
        WornOut(depth_mm=1.5, limit_mm=1.6),
    ),
    (
        *(replace(changed(BASE, "C", depths_mm=(3.0,)), front_limit_mm=3.2), "C", Spot.LF),
        *(Code.WORN, NO, WornOut(depth_mm=3.0, limit_mm=3.2)),
    ),
    (
        *(changed(BASE, "A", depths_mm=()), "A", Spot.LR, Code.WORN, UNKNOWN),
        DepthNotKnown(tires=("A",)),
    ),
    (
        *(changed(replace(SPARE, max_age_years=7.0), "S", age_years=9.5), "S", Spot.LF),
        *(Code.AGE, NO, TooOld(years=9.5, limit_years=7.0)),
    ),
    (
        *(changed(SPARE, "S", is_marked_temporary=True), "S", Spot.LF, Code.TEMPORARY, NO),
        IsTemporary(at=Spot.SP),
    ),
    (
        *(changed(DRIVEN, "D", depths_mm=()), "S", Spot.LF, Code.TREAD_DIFFERENCE, UNKNOWN),
        DepthNotKnown(tires=("D",)),
    ),
    (
        *(changed(changed(DRIVEN, "C", depths_mm=(9.0,)), "D", depths_mm=(5.0,)), "S", Spot.LF),
        *(Code.TREAD_DIFFERENCE, NO),
        TooDeepOrThin(other="C", deeper_by_mm=-3.0, limit_mm=2.4),
    ),
]


@pytest.mark.parametrize(
    ("wheels", "name", "to", "code", "answer", "detail"),
    CASES,
    ids=[f"{each[3].value} {type(each[5]).__name__}" for each in CASES],
)
def test_a_reason_tells_what_it_is_about(
    wheels: CarWheels, name: str, to: Spot, code: Code, answer: Answer, detail: Detail
) -> None:
    moved = next(each for each in wheels.assemblies if each.id == name)

    found = verdict(wheels, moved, to)

    assert (found.start, found.to) == (moved.at, to)
    assert Reason(
        code=code, answer=answer, tire=name, start=moved.at, to=to, detail=detail
    ) in tuple(each for each in found.reasons if each.code is code)


def test_a_tire_worn_exactly_to_the_limit_is_worn_out() -> None:
    wheels = changed(BASE, "A", depths_mm=(1.6,))

    assert verdict(wheels, wheels.assemblies[0], Spot.LR).answer is NO


def test_a_spare_deeper_by_exactly_the_limit_may_join() -> None:
    wheels = changed(DRIVEN, "S", depths_mm=(8.4,))

    assert verdict(wheels, wheels.assemblies[-1], Spot.LF).answer is Answer.YES


def test_a_pattern_without_a_spare_says_that_nothing_is_there() -> None:
    found = pattern_verdict(BASE, Pattern.FIVE_REARWARD_CROSS)

    assert [each for each in found.reasons if each.tire is None] == [
        Reason(
            code=Code.PLACE,
            answer=NO,
            tire=None,
            start=Spot.SP,
            to=Spot.RR,
            detail=NothingThere(at=Spot.SP),
        )
    ]


@pytest.mark.parametrize(
    ("spare", "answer"),
    [({"is_marked_temporary": True}, NO), ({"depths_mm": ()}, UNKNOWN)],
)
def test_no_wheel_takes_the_place_of_a_spare_that_stays(
    spare: dict[str, object], answer: Answer
) -> None:
    wheels = changed(SPARE, "S", **spare)

    found = verdict(wheels, wheels.assemblies[0], Spot.SP)

    assert [(each.code, each.answer, each.detail) for each in found.reasons] == [
        (Code.SPARE, answer, SpareStays())
    ]


def test_what_is_not_known_of_a_tire_is_told_once() -> None:
    wheels = changed(BASE, "A", speed_symbol=None)

    found = verdict(wheels, wheels.assemblies[0], Spot.LR)

    assert [(each.code, each.detail) for each in found.reasons] == [(Code.SPEED, OwnNotKnown())]


def test_a_tire_without_its_tread_known_may_turn_either_way() -> None:
    wheels = changed(BASE, "A", tread=Tread.DIRECTIONAL, turns=None)

    found = verdict(wheels, wheels.assemblies[0], Spot.LR)

    assert [(each.code, each.answer) for each in found.reasons] == [(Code.DIRECTION, UNKNOWN)]


@pytest.mark.parametrize(
    ("field", "code"),
    [({"load_index": 300}, Code.LOAD), ({"speed_symbol": "Z9"}, Code.SPEED)],
)
def test_a_figure_no_table_has_is_not_known(field: dict[str, object], code: Code) -> None:
    wheels = changed(BASE, "A", **field)

    found = verdict(wheels, wheels.assemblies[0], Spot.LR)

    assert [(each.code, each.detail) for each in found.reasons] == [(code, OwnNotKnown())]


def test_a_wheel_may_stand_where_it_stands_and_where_it_may_go() -> None:
    wheels = changed(BASE, "A", offset_mm=-6.0)
    moved, other = wheels.assemblies[0], wheels.assemblies[1]

    assert may_stand(wheels, moved, Spot.LF)
    assert not may_stand(wheels, moved, Spot.LR)
    assert may_stand(wheels, other, Spot.LR)
