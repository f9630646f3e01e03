"""Ways to shoe a recorded car, against what it carries and the room measured round its wheels."""

import pytest

from tests.command.conftest import Kept, Shop


@pytest.fixture
def shod(yard: Shop, kept: Kept) -> Shop:
    """Give an invented car on 205/60R15 all round, 6 x 15 wheels with an offset of 10 mm."""
    return kept.give(yard, _shoe)


def _shoe(yard: Shop) -> None:
    wheel = ("rim_width=6", "rim_diameter=15", "offset=10")
    yard.must("fit", "fallow", "wheel", "all", *wheel, "--on", "2026-10-01")
    yard.must(
        *("fit", "fallow", "tire", "all", "size=205/60R15", "new_depth=8mm", "tread=symmetric"),
        *("--on", "2026-10-01"),
    )


def room(shop: Shop, place: str, inner: str, outer: str, *more: str) -> None:
    shop.must("room", "fallow", place, "--inner", inner, "--outer", outer, *more)


def test_what_is_left_is_the_gap_less_the_change(shod: Shop) -> None:
    """205 on 6 in is 208.56 mm wide, 225 on 7 in 233.12.

    From offset 10 to 4 the inner edge comes 12.28 - 6 = 6.28 mm nearer, the outer 18.28.
    """
    room(shod, "front", "14", "9", "--when", "full lock")
    room(shod, "rear", "12", "20")

    answer = shod.must(
        "fitment", "fallow", "225/60R15", "--rim", "7", "--offset", "4", "--json"
    ).json
    now, other = answer["ways"]

    assert (answer["vehicle"], answer["against"], now["name"]) == ("fallowmere", "now", "now")
    assert other["front"]["change"] == {"inner_mm": 6.28, "outer_mm": 18.28}
    assert [(each["place"], each["inner_mm"]) for each in other["front"]["left"]] == [
        ("LF", 7.72),
        ("RF", 7.72),
    ]
    assert [(each["place"], each["outer_mm"], each["tight"]) for each in other["rear"]["left"]] == [
        ("LR", 1.72, True),
        ("RR", 1.72, True),
    ]


def test_less_than_3_mm_and_what_does_not_clear_are_said(shod: Shop) -> None:
    room(shod, "front", "14", "9")
    room(shod, "rear", "12", "20")

    told = shod("fitment", "fallow", "225/60R15", "--rim", "7", "--offset", "4")

    assert "A: LF, straight, outside: it does not clear, -9.3 mm left." in told.lines
    assert "A: LR, straight, outside: 1.7 mm left, less than 3 mm." in told.lines
    assert "Room at LF was not measured at full lock." in told.lines
    assert "room inside, front    14.0 mm left      7.7 mm left" in told.lines


def test_the_same_wheels_are_taken_where_none_are_given(shod: Shop) -> None:
    answer = shod.must("fitment", "fallow", "195/65R15", "--json").json

    assert answer["ways"][1]["rear"]["rim_width_in"] == 6.0
    assert answer["ways"][1]["rear"]["change"] == {"inner_mm": -3.6, "outer_mm": -3.6}
    assert answer["ways"][1]["front"]["new_depth_mm"] == 8.0


def test_without_any_room_only_the_change_is_told(shod: Shop) -> None:
    told = shod("fitment", "fallow", "215/60R15")

    assert "room inside           as it is          3.6 mm less" in told.lines
    assert any(
        line.startswith("No room is measured: only the change is told.") for line in told.lines
    )


def test_room_taken_before_an_alignment_is_asked_for_again(shod: Shop) -> None:
    shod.must("fit", "fallow", "alignment", "--on", "2026-10-01")
    room(shod, "front", "14", "9", "--when", "full lock", "--on", "2026-11-10")
    shod.must("done", "fallow", "align", "--on", "2026-11-20", "--by", "Bellhouse Alignment")

    told = shod("fitment", "fallow", "215/60R15")
    answer = shod.must("fitment", "fallow", "215/60R15", "--json").json

    assert (
        "Room at LF, full lock was measured on 2026-11-10, before the alignment of 2026-11-20:"
        " measure again." in told.lines
    )
    assert [each["measure_again"] for each in answer["room"]] == [True, True]


def test_room_measured_on_a_car_not_aligned_is_asked_for_again(shod: Shop) -> None:
    room(shod, "LF", "14", "9", "--when", "full lock", "--aligned", "no")

    assert (
        "Room at LF, full lock was measured on a car not aligned: measure again after it is."
        in shod("fitment", "fallow", "215/60R15").lines
    )


def test_room_of_another_set_is_named_and_not_counted(shod: Shop) -> None:
    room(shod, "front", "14", "9", "--on", "2026-11-01")
    room(shod, "rear", "12", "20", "--on", "2026-11-01")
    shod.must("fit", "fallow", "tire", "front", "size=195/65R15", "new_depth=8mm")
    shod.must("fit", "fallow", "tire", "rear", "size=195/65R15", "new_depth=8mm")

    told = shod("fitment", "fallow", "205/60R15")

    assert (
        "Room at LF, straight was measured on 2026-11-01 for a set that is no longer on: measure"
        " again." in told.lines
    )
    assert "No room is measured at LF RF LR RR for the set now on." in told.lines
    assert (
        shod.must("fitment", "fallow", "205/60R15", "--json").json["ways"][1]["front"]["left"] == []
    )


def test_a_spacer_fitted_since_moves_the_room_and_no_pattern(shod: Shop) -> None:
    """12 mm inside and 20 outside, with a spacer of 8: 20 and 12."""
    room(shod, "rear", "12", "20", "--on", "2026-11-10")
    shod.must("fit", "fallow", "spacer", "rear", "thickness=8", "--on", "2026-11-20")

    now = shod.must("fitment", "fallow", "--json").json["ways"][0]

    assert [(each["inner_mm"], each["outer_mm"]) for each in now["rear"]["left"]] == [
        (20.0, 12.0),
        (20.0, 12.0),
    ]
    assert now["patterns_left"] == 5


def test_a_spacer_can_be_asked_for_before_it_is_bought(shod: Shop) -> None:
    room(shod, "rear", "12", "20")

    told = shod("fitment", "fallow", "205/60R15", "--spacer", "0/8")
    answer = shod.must("fitment", "fallow", "205/60R15", "--spacer", "0/8", "--json").json

    assert answer["ways"][1]["rear"]["change"] == {"inner_mm": -8.0, "outer_mm": 8.0}
    assert answer["ways"][1]["patterns_left"] == 5
    assert any("takes its thickness from the studs" in line for line in told.lines)


def test_the_widest_that_fits_keeps_room_rims_and_one_size(shod: Shop) -> None:
    """On 6 in: 215/60R15 goes on 6 to 8 and is 10 mm wider nominally, 7.2 on the rim."""
    room(shod, "all", "20", "20")

    told = shod("fitment", "fallow")

    assert (
        "widest that fits: 215/60R15, 205/60R15, 195/65R15, 195/60R15 (by the room at LF RF LR RR)"
        in told.lines
    )
    assert shod.must("fitment", "fallow", "--json").json["widest"][0] == "215/60R15"


def test_a_dial_made_for_another_size_is_held_against_that(shod: Shop) -> None:
    """185/70R15 is 640 mm, 205/60R15 627: 0.9797."""
    shod.must("correct", "fallow", "vehicle", "calibrated_size=185/70R15")

    now = shod.must("fitment", "fallow", "--json").json["ways"][0]

    assert now["factor"] == 0.979688


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (("falow", "205/60R15"), "vehicle: no vehicle 'falow'; did you mean 'fallowmere'?"),
        (
            ("fallow", "205/6R15"),
            (
                "size: '205/6R15' cannot be read at character 6, 'R'; expected there: an aspect"
                " ratio, 20 to 100"
            ),
        ),
        (
            ("fallow", "205/60R15", "--drive", "rear"),
            "--drive: is for a car that is not recorded; correct the vehicle's drive",
        ),
        (
            ("fallow", "205/60R15", "--spacer", "-3"),
            "--spacer: '-3' is no figure here; give 0 to 100 mm",
        ),
    ],
)
def test_what_cannot_be_compared_is_refused_in_one_sentence(
    shod: Shop, words: tuple[str, ...], fault: str
) -> None:
    told = shod("fitment", *words)

    assert (told.code, told.out) == (2, "")
    assert told.faults == [f"castlenut: {fault}"]


def test_a_car_with_a_tire_missing_says_which(yard: Shop) -> None:
    yard.must("fit", "fallow", "tire", "LF,RF,LR", "size=205/60R15")

    told = yard("fitment", "fallow", "195/65R15")

    assert told.code == 2
    assert told.faults == [
        "castlenut: fitment: no tire is recorded at RR; fit it, or ask without the car"
    ]


def test_another_rim_diameter_takes_other_wheels(shod: Shop) -> None:
    told = shod("fitment", "fallow", "195/65R14")

    assert "A: 195/65R14 takes other wheels than are on now: give --rim and --offset." in told.lines
    assert (
        shod.must("fitment", "fallow", "195/65R14", "--json").json["ways"][1]["rear"][
            "rim_width_in"
        ]
        is None
    )
