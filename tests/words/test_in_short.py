"""Whether a car may rotate, in few words."""

from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import CarWheels
from castlenut.domain.tires.legality import PatternVerdict, pattern_verdicts
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.words.in_short import may_it_go, rotation_row
from tests.domain.tires.wheels import (
    REAR,
    WIDER,
    car,
    changed,
    directional,
    sized,
    tire,
)


def judged(wheels: CarWheels, pattern: Pattern) -> PatternVerdict:
    return next(each for each in pattern_verdicts(wheels) if each.pattern is pattern)


def row(wheels: CarWheels) -> str:
    return rotation_row(pattern_verdicts(wheels), usual=Pattern.REARWARD_CROSS)


def test_a_pattern_that_may_be_done_is_yes() -> None:
    assert may_it_go(judged(car(), Pattern.X)) == "yes"


def test_a_pattern_that_may_be_done_under_a_warning_says_so() -> None:
    assert may_it_go(judged(car(), Pattern.X), is_warned=True) == "yes, with a warning"


def test_each_thing_against_is_named_once() -> None:
    staggered = changed(sized(car(), REAR, WIDER), REAR, rim_width_in=7.0)

    told = may_it_go(judged(staggered, Pattern.REARWARD_CROSS))

    assert told == "no: sizes differ, rim widths differ"


def test_no_spare_is_named() -> None:
    assert may_it_go(judged(car(), Pattern.FIVE_REARWARD_CROSS)) == "no: there is no spare"


def test_a_temporary_spare_is_named_and_what_follows_from_it_is_not() -> None:
    spare = car(spare=True)
    temporary = changed(spare, "S", is_marked_temporary=True)

    told = may_it_go(judged(temporary, Pattern.FIVE_REARWARD_CROSS))

    assert told == "no: the spare is temporary"


def test_what_is_not_known_is_named_with_its_place() -> None:
    unknown = changed(car(), "C", offset_mm=None)

    told = may_it_go(judged(unknown, Pattern.FRONT_TO_REAR))

    assert told == "not known: offset, offset of LR"


def test_where_something_is_a_no_what_is_not_known_stands_back() -> None:
    unknown = changed(sized(car(), REAR, WIDER), "C", offset_mm=None)

    told = may_it_go(judged(unknown, Pattern.REARWARD_CROSS))

    assert told == "no: sizes differ"


def test_the_usual_pattern_is_the_row_where_it_may_be_done() -> None:
    assert row(car()) == "rotation: rearward cross"


def test_staggered_sizes_leave_side_to_side() -> None:
    """The row of screens.md section 3."""
    assert row(sized(car(), REAR, WIDER)) == "rotation: side to side (sizes differ)"


def test_where_nothing_is_left_the_row_says_why() -> None:
    staggered = directional(sized(car(), REAR, WIDER))

    assert row(staggered).startswith(
        "rotation: none possible, because LF carries 205/60R15; the rear axle takes 225/60R15; "
    )


def test_a_wheel_that_is_missing_is_named() -> None:
    three = CarWheels(assemblies=tuple(tire(name) for name in ("A", "B", "C")), drive=car().drive)

    assert may_it_go(judged(three, Pattern.X)) == f"no: there is no wheel at {Spot.RR.value}"
