"""Every reason against a move as a sentence, with what would lift it."""

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.measures import THIRTY_SECOND
from castlenut.domain.place import Spot
from castlenut.domain.tires.advice import TreadsApart, advice
from castlenut.domain.tires.assembly import AxleNeeds, CarWheels, Tread
from castlenut.domain.tires.axle import Side
from castlenut.domain.tires.legality import pattern_verdicts, verdicts
from castlenut.domain.tires.reasons import Code
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.domain.tires.rotation.tread import Odd, Pair, SetAside
from castlenut.domain.tires.size import Construction, read_size
from castlenut.domain.vehicle import Drive
from castlenut.words.reasons import advised, lift, none_possible, off_rim, sentence, set_aside
from tests.domain.tires.wheels import (
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
)

BASE, SPARE = car(), car(spare=True)
TEMPORARY = changed(SPARE, "S", size=read_size("T125/80D15"))
NEEDS = AxleNeeds(need_kg=600, need_kmh=210)
NOW, UNKNOWN = "now on the front axle", "is not known."
ALL = replace(SPARE, drive=Drive.ALL)


def said(wheels: CarWheels, tire: str, to: Spot, code: Code) -> tuple[str, str]:
    """Give sentence and lift of the only reason of a code against a move."""
    (reason,) = (
        reason
        for each in verdicts(wheels)
        if each.tire == tire and each.to is to
        for reason in each.reasons
        if reason.code is code
    )
    return sentence(reason), lift(reason)


@pytest.mark.parametrize(
    ("wheels", "tire", "to", "code", "expected"),
    [
        (
            TEMPORARY,
            "S",
            Spot.LF,
            Code.TEMPORARY,
            "The spare at SP is a temporary one and may not join the rotation.",
        ),
        (
            changed(BASE, "A", is_marked_temporary=True),
            "A",
            Spot.RR,
            Code.TEMPORARY,
            "A at LF is a temporary spare and may not join the rotation.",
        ),
        (
            sized(BASE, REAR, WIDER),
            "D",
            Spot.LF,
            Code.SIZE,
            "RR carries 225/60R15; the front axle takes 205/60R15.",
        ),
        (
            changed(BASE, REAR, construction=Construction.BIAS),
            "C",
            Spot.LF,
            Code.CONSTRUCTION,
            "C is bias; the front axle carries radials.",
        ),
        (
            changed(BASE, REAR, offset_mm=-6.0),
            "D",
            Spot.LF,
            Code.OFFSET,
            "Wheel D has offset -6 mm; the front takes 10 mm.",
        ),
        (
            changed(BASE, REAR, rim_width_in=7.0),
            "A",
            Spot.LR,
            Code.RIM_WIDTH,
            "Wheel A has rim width 6 in; the rear takes 7 in.",
        ),
        (
            directional(BASE),
            "B",
            Spot.LF,
            Code.DIRECTION,
            "B turns for the right side; LF is on the left.",
        ),
        (
            changed(BASE, "C", is_studded=True),
            "C",
            Spot.RF,
            Code.WORN_IN,
            "C is studded and has run on the left; crossing would loosen the studs.",
        ),
        (
            stated(changed(BASE, "D", load_index=86), rear=NEEDS),
            "D",
            Spot.LR,
            Code.LOAD,
            "D carries 530 kg (86); a rear tire needs 600 kg.",
        ),
        (
            stated(changed(BASE, "D", speed_symbol="S"), rear=NEEDS),
            "D",
            Spot.LR,
            Code.SPEED,
            "D is good to 180 km/h (S); the car needs 210.",
        ),
        (
            changed(BASE, "D", load_index=86),
            "D",
            Spot.LF,
            Code.LOAD,
            f"D carries 530 kg (86), less than the 615 kg {NOW}; what a front tire needs {UNKNOWN}",
        ),
        (
            changed(BASE, "D", speed_symbol="U"),
            "D",
            Spot.LF,
            Code.SPEED,
            f"D is good to 200 km/h (U), less than the 210 {NOW}; what the car needs {UNKNOWN}",
        ),
        (
            changed(SPARE, "S", depths_mm=(1.5,)),
            "S",
            Spot.LF,
            Code.WORN,
            "The spare has 1.5 mm, limit 1.6.",
        ),
        (
            changed(replace(SPARE, max_age_years=7), "S", age_years=9.5),
            "S",
            Spot.LF,
            Code.AGE,
            "The spare is 9.5 years old, limit 7.",
        ),
        (
            changed(changed(ALL, "S", depths_mm=(8.1,)), "C", depths_mm=(5.0,)),
            "S",
            Spot.LF,
            Code.TREAD_DIFFERENCE,
            "The spare is 3.1 mm deeper than C; all-wheel drive allows 2.4.",
        ),
        (
            changed(ALL, "S", depths_mm=(3.0,)),
            "S",
            Spot.LF,
            Code.TREAD_DIFFERENCE,
            "The spare is 3 mm thinner than A; all-wheel drive allows 2.4.",
        ),
        (
            TEMPORARY,
            "A",
            Spot.SP,
            Code.SPARE,
            "SP holds a spare that may not go on the road.",
        ),
        (
            changed(SPARE, "S", depths_mm=()),
            "A",
            Spot.SP,
            Code.SPARE,
            "Whether the spare at SP may go on the road is not known.",
        ),
        (
            sized(BASE, "A", None),
            "A",
            Spot.LR,
            Code.SIZE,
            "The size of A at LF is not known.",
        ),
        (
            changed(BASE, "C", offset_mm=None),
            "D",
            Spot.LR,
            Code.OFFSET,
            "What offset the rear axle takes is not known: that of C is missing.",
        ),
        (
            changed(BASE, "D", rim_width_in=5.5),
            "A",
            Spot.LR,
            Code.RIM_WIDTH,
            "What rim width the rear axle takes is not known: C and D differ.",
        ),
        (
            changed(BASE, "A", tread=None),
            "A",
            Spot.LR,
            Code.DIRECTION,
            "The tread or direction of A at LF is not known.",
        ),
        (
            changed(SPARE, "S", depths_mm=()),
            "S",
            Spot.LF,
            Code.WORN,
            "The depth of S is not known.",
        ),
        (
            sized(dual_car(), "LRI", WIDER),
            "RRO",
            Spot.LRO,
            Code.PAIR,
            "RRO beside LRI at LRO: size 205/60R15 and 225/60R15 do not pair.",
        ),
        (
            changed(changed(dual_car(), "RRO", depths_mm=(10.0,)), "LRI", depths_mm=(3.0,)),
            "RRO",
            Spot.LRO,
            Code.PAIR,
            "RRO beside LRI would differ by 14 mm of diameter; a pair may by 12.7.",
        ),
        (
            changed(dual_car(), ("LF", "RF"), tread=Tread.ASYMMETRIC),
            "LF",
            Spot.LRO,
            Code.FRONT_TREAD,
            "LF is asymmetric 91H; the rear axle has symmetric 91H, and they do not mix.",
        ),
    ],
)
def test_reason_is_a_sentence(
    wheels: CarWheels, tire: str, to: Spot, code: Code, expected: str
) -> None:
    told, lifted_by = said(wheels, tire, to, code)

    assert told == expected
    assert lifted_by


def test_missing_figure_is_asked_for_by_name() -> None:
    assert said(sized(BASE, "A", None), "A", Spot.LR, Code.SIZE)[1] == (
        "the missing figure: the size on the sidewall"
    )


def test_need_that_is_not_known_is_to_be_looked_up() -> None:
    low = changed(BASE, "D", load_index=86)

    assert said(low, "D", Spot.LF, Code.LOAD)[1] == "the need looked up"


@pytest.mark.parametrize(
    ("wheels", "pattern", "expected"),
    [
        (BASE, Pattern.FIVE_FORWARD_CROSS, "There is no spare."),
        (
            replace(BASE, assemblies=BASE.assemblies[:3]),
            Pattern.X,
            "There is no wheel at RR.",
        ),
    ],
)
def test_place_without_a_wheel(wheels: CarWheels, pattern: Pattern, expected: str) -> None:
    reasons = next(each.reasons for each in pattern_verdicts(wheels) if each.pattern is pattern)

    assert expected in [sentence(reason) for reason in reasons]


def test_no_pattern_left_says_each_reason_once() -> None:
    reasons = next(
        each.reasons
        for each in pattern_verdicts(directional(BASE))
        if each.pattern is Pattern.REARWARD_CROSS
    )

    assert none_possible(reasons) == (
        "rotation: none possible, because A turns for the left side; RR is on the right; B turns"
        " for the right side; LR is on the left."
    )


def test_tires_off_the_rim_are_counted() -> None:
    assert off_rim(("B",)) == (
        "lifted by: B turned round or mounted on the other wheels (1 tire off the rim)"
    )
    assert off_rim(ROAD).endswith("(4 tires off the rim)")


def test_advice_in_sentences() -> None:
    wheels = replace(BASE, drive=Drive.ALL, max_age_years=7.0, rear=AxleNeeds(size=SIZE))
    wheels = changed(wheels, "A", age_years=9.0, depths_mm=(9.0,), turns=Side.LEFT)
    wheels = sized(wheels, "D", WIDER)

    assert [advised(each) for each in advice(wheels, pattern_verdicts(wheels))] == [
        "The two tires of the rear axle differ in size.",
        "The car carries another size than stated: 225/60R15 on the rear axle, stated 205/60R15.",
        "A is 9 years old; 7 was asked for (advice only).",
        "The road tires differ by 3 mm of tread; all-wheel drive allows 2.4.",
    ]


def test_treads_apart_are_said_in_the_unit_of_the_garage() -> None:
    """3 mm are 3.78/32 in, 2.4 mm are 3.02/32; limit and difference are told to the hundredth."""
    apart = TreadsApart(difference_mm=3.0, limit_mm=2.4)

    assert advised(apart, depth_unit=THIRTY_SECOND) == (
        "The road tires differ by 3.78/32 of tread; all-wheel drive allows 3.02/32."
    )


def test_rim_outside_the_range_in_a_sentence() -> None:
    wheels = changed(BASE, REAR, rim_width_in=8.0)

    told = [advised(each) for each in advice(wheels, pattern_verdicts(wheels))]

    assert told[0] == (
        "Off its rim A would stand on a rim of 8 in; its size goes on 5.5 to 7.5 in (published)."
    )


@pytest.mark.parametrize(
    ("why", "drop", "expected"),
    [
        (Odd.GREW, -0.5, "The tread grew by 0.5 mm"),
        (Odd.WORE_STANDING, 1.0, "The tread changed by 1 mm without running"),
        (Odd.OFF, 6.0, "A wear of 6 mm does not fit the other measurements"),
    ],
)
def test_measurement_set_aside_says_what_it_is_likely_to_be(
    why: Odd, drop: float, expected: str
) -> None:
    pair = Pair(
        tire="A", since=0, until=5000, drop_mm=drop, run=(5.0, 0.0, 0.0, 0.0), error_mm=0.25
    )

    told = set_aside(SetAside(pair=pair, why=why))

    assert told.startswith(expected)
    assert "the wrong place" in told


def test_where_nothing_is_a_plain_no_each_missing_figure_is_named_once() -> None:
    wheels = changed(BASE, ("A", "B"), offset_mm=None, depths_mm=())
    against = pattern_verdicts(wheels)[0].reasons

    assert none_possible(against) == (
        "rotation: none possible, because the offset of A and B is not known; the depth of A and B"
        " is not known."
    )
