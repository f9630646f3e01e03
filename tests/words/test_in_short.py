"""Whether a car may rotate, in few words."""

from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import CarWheels
from castlenut.domain.tires.legality import PatternVerdict, pattern_verdicts
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.words.in_short import may_it_go
from tests.domain.tires.wheels import (
    REAR,
    WIDER,
    car,
    changed,
    sized,
    tire,
)


def judged(wheels: CarWheels, pattern: Pattern) -> PatternVerdict:
    return next(each for each in pattern_verdicts(wheels) if each.pattern is pattern)


def told(wheels: CarWheels, pattern: Pattern, *, is_warned: bool = False) -> str:
    verdict = judged(wheels, pattern)
    return may_it_go(verdict.answer, verdict.reasons, is_warned=is_warned)


def test_a_pattern_that_may_be_done_is_yes() -> None:
    assert told(car(), Pattern.X) == "yes"


def test_a_pattern_that_may_be_done_under_a_warning_says_so() -> None:
    assert told(car(), Pattern.X, is_warned=True) == "yes, with a warning"


def test_each_thing_against_is_named_once() -> None:
    staggered = changed(sized(car(), REAR, WIDER), REAR, rim_width_in=7.0)

    found = told(staggered, Pattern.REARWARD_CROSS)

    assert found == "no: sizes differ, rim widths differ"


def test_no_spare_is_named() -> None:
    assert told(car(), Pattern.FIVE_REARWARD_CROSS) == "no: there is no spare"


def test_a_temporary_spare_is_named_and_what_follows_from_it_is_not() -> None:
    spare = car(spare=True)
    temporary = changed(spare, "S", is_marked_temporary=True)

    found = told(temporary, Pattern.FIVE_REARWARD_CROSS)

    assert found == "no: temporary spare"


def test_what_is_not_known_is_named_with_its_place() -> None:
    unknown = changed(car(), "C", offset_mm=None)

    found = told(unknown, Pattern.FRONT_TO_REAR)

    assert found == "not known: offset of C"


def test_where_something_is_a_no_what_is_not_known_stands_back() -> None:
    unknown = changed(sized(car(), REAR, WIDER), "C", offset_mm=None)

    found = told(unknown, Pattern.REARWARD_CROSS)

    assert found == "no: sizes differ"


def test_a_wheel_that_is_missing_is_named() -> None:
    three = CarWheels(assemblies=tuple(tire(name) for name in ("A", "B", "C")), drive=car().drive)

    assert told(three, Pattern.X) == f"no: there is no wheel at {Spot.RR.value}"
