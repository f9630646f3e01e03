"""Patterns in lines: each reason once, what lifts it, and in few words what a change leaves."""

from castlenut.domain.tires.assembly import CarWheels
from castlenut.domain.tires.legality import pattern_verdicts
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.domain.tires.size import read_size
from castlenut.words.patterns import fewer_left, one_a_code, pattern_lines, reason_lines
from tests.domain.tires.wheels import REAR, WIDER, car, changed, directional, sized

BASE = car()
STAGGERED = sized(BASE, REAR, WIDER)
TEMPORARY = changed(car(spare=True), "S", size=read_size("T125/80D15"), tread=None, depths_mm=())


def lines_of(pattern: Pattern, *, of: CarWheels = STAGGERED) -> list[str]:
    (verdict,) = (each for each in pattern_verdicts(of) if each.pattern is pattern)
    return list(reason_lines(verdict.reasons, verdict.off_rim))


def test_what_lifts_several_reasons_stands_once_after_them() -> None:
    assert lines_of(Pattern.FRONT_TO_REAR) == [
        "LF carries 205/60R15; the rear axle takes 225/60R15.",
        "RF carries 205/60R15; the rear axle takes 225/60R15.",
        "LR carries 225/60R15; the front axle takes 205/60R15.",
        "RR carries 225/60R15; the front axle takes 205/60R15.",
        "lifted by: one size all round",
    ]


def test_tires_off_their_rims_alone_are_told_where_they_lift_all() -> None:
    lines = lines_of(Pattern.REARWARD_CROSS, of=directional(BASE))

    assert lines[-1] == (
        "lifted by: A and B turned round or mounted on the other wheels (2 tires off the rim)"
    )
    assert [line for line in lines if line.startswith("lifted by")] == lines[-1:]


def test_what_is_not_known_beside_a_plain_no_stands_in_one_line() -> None:
    lines = lines_of(Pattern.FIVE_REARWARD_CROSS, of=TEMPORARY)

    assert "The spare at SP is a temporary one and may not join the rotation." in lines
    assert lines[-1].startswith("not known either: the tread or direction of S at SP")


def test_what_is_not_known_of_a_place_keeps_its_capitals() -> None:
    """Load index 82 is 475 kg, 91 is 615 kg (ISO 4000-1); what the rear axle weighs nobody said."""
    lines = lines_of(Pattern.FRONT_TO_REAR, of=changed(STAGGERED, "A", load_index=82))

    assert lines[-1] == (
        "not known either: A carries 475 kg (82), less than the 615 kg now on the rear axle;"
        " what a rear tire needs"
    )


def test_an_axle_that_misses_a_figure_says_so_for_its_own_wheels_too() -> None:
    """Offset of C, at LR, is not known: its own and the axle's reason say the same."""
    verdicts = pattern_verdicts(changed(BASE, "C", offset_mm=None))

    assert one_a_code(reason for each in verdicts for reason in each.reasons) == (
        "What offset the rear axle takes is not known: that of C is missing.",
    )


def test_the_same_reasons_are_not_said_again() -> None:
    lines = list(pattern_lines(pattern_verdicts(STAGGERED)))

    assert "  rearward cross           no: as forward cross" in lines
    assert "  side to side             yes" in lines


def test_a_warning_stands_beside_what_may_be_done() -> None:
    lines = list(pattern_lines(pattern_verdicts(BASE), warned="yes, with a warning"))

    assert lines[0] == "  forward cross            yes, with a warning"


def test_a_change_tells_how_many_are_left_and_why() -> None:
    before, after = pattern_verdicts(BASE), pattern_verdicts(STAGGERED)

    assert fewer_left(before, after) == (
        "patterns left 5 -> 1, because LF carries 205/60R15; the rear axle takes 225/60R15"
    )
    assert fewer_left(after, before) == "patterns left 1 -> 5"
