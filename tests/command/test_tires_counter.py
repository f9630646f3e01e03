"""At the tire counter with no car: sizes, fitments side by side, patterns left."""

import pytest

from castlenut.words.cautions import DEFERRING_LINE
from tests.command.conftest import Shop, Told


def asked(shop: Shop, *words: str) -> Told:
    """Ask without any garage, as somebody does who stands at the counter."""
    return shop(*words, has_garage=False)


STAGGERED = (
    *("fitment", "205/60R15", "205/60R15/225/60R15", "--drive", "rear", "--new-depth", "8mm"),
    *("--rim", "6", "--rim", "6/7", "--offset", "10", "--offset", "10/0"),
    *("--price", "80", "--price", "80/95"),
)


def test_a_size_is_told_in_lines(shop: Shop) -> None:
    """25.4 x 15 + 2 x 123 = 627 mm; 88 carries 560 kg, H is 210 km/h."""
    told = asked(shop, "size", "205/60R15 88H", "--rim", "6")

    assert told.code == 0
    assert told.lines == [
        "205/60R15  metric, radial",
        "  diameter    627 mm (24.7 in), 817 turns a mile; rolling about 3 % more",
        "  width       209 mm (8.2 in) on the 6 in rim",
        "  rims        5.5 to 7.5 in (published)",
        "  carries     560 kg, 1,235 lb (88), to 210 km/h, 130 mph (H)",
    ]


def test_a_second_size_is_held_against_the_first(shop: Shop) -> None:
    """185/70R14 is 614.6 mm, 195/50R15 is 576.0 mm."""
    told = asked(shop, "size", "185/70R14", "195/50R15")

    assert told.lines[-1] == (
        "  against     185/70R14: 6.3 % smaller: at 60 shown you do 56.2,"
        " the odometer counts too much"
    )


def test_a_letter_size_says_why_it_has_no_diameter(shop: Shop) -> None:
    told = asked(shop, "size", "FR70-14")

    assert "  diameter    not known" in told.lines
    assert told.lines[-1] == (
        "  note        The letter is a load class and holds no width: without a published table"
        " there is no diameter."
    )
    (answer,) = asked(shop, "size", "FR70-14", "--json").json
    assert (answer["diameter_mm"], answer["load_class"]) == (None, "F")


def test_size_answers_what_reckon_size_answers(shop: Shop) -> None:
    (answer,) = asked(shop, "size", "205/60R15 91H", "--rim", "7", "--json").json
    reckoned = shop(
        "reckon",
        "size",
        stdin='{"id": 1, "size": "205/60R15 91H", "rim_width_in": 7}\n',
        has_garage=False,
    ).json

    assert {name: answer[name] for name in reckoned if name != "id"} == {
        name: value for name, value in reckoned.items() if name != "id"
    }
    assert (answer["load_kg"], answer["speed_kmh"]) == (615, 210)
    assert answer["rims"] == {"least_in": 5.5, "most_in": 7.5, "trust": "published"}


def test_every_size_that_cannot_be_read_is_told(shop: Shop) -> None:
    told = asked(shop, "size", "205/6R15", "205/60R15", "abc", "--rim", "wide")

    assert (told.code, told.out) == (2, "")
    assert told.faults == [
        (
            "castlenut: size: '205/6R15' cannot be read at character 6, 'R'; expected there: an"
            " aspect ratio, 20 to 100"
        ),
        (
            "castlenut: size: 'abc' cannot be read at character 1, 'a'; expected there: P, LT or T,"
            " a width in mm or in inches, or a letter from A to N as in G78-15"
        ),
        "castlenut: --rim: 'wide' is no figure here; give 2 to 30 in",
    ]


def test_a_staggered_set_is_held_against_one_size_all_round(shop: Shop) -> None:
    """Usual wear with rear drive 0.152 and 0.168 mm in 1,000 mi, 6.4 mm to wear.

    One size: 4 x 6.4 / 0.64 = 40,000. Staggered: front 6.4 / 0.152 = 42,105, rear 38,095; tires
    200,000 / 42,105 + 200,000 / 38,095 = 4.75 + 5.25. Widths on the rims 208.56 and 233.12 mm.
    """
    answer = asked(shop, *STAGGERED, "--json").json
    one, other = answer["ways"]

    assert (answer["vehicle"], answer["unit"], answer["against"]) == (None, "mi", "A")
    assert (one["patterns_left"], other["patterns_left"]) == (5, 1)
    assert (one["factor"], other["factor"]) == (1.0, 1.038278)
    assert (other["shown_speed"], other["true_speed"], other["speed_unit"]) == (60, 62.3, "mph")
    assert other["rear"]["section_width_mm"] == 233.12
    assert other["rear"]["change"] == {"inner_mm": 2.28, "outer_mm": 22.28}
    assert other["front"]["change"] == {"inner_mm": 0.0, "outer_mm": 0.0}
    assert (one["life"], other["life"]) == (40000.0, 38095.2)
    assert (one["tires_per_100000"], other["tires_per_100000"]) == (10.0, 10.0)
    assert (one["money_per_100000"], other["money_per_100000"]) == ("800.00", "878.75")
    assert {reason["code"] for each in other["patterns"] for reason in each["reasons"]} == {
        "size",
        "rim width",
        "offset",
        "place",
    }


def test_the_better_of_a_row_is_marked_and_the_lost_patterns_have_their_reasons(
    shop: Shop,
) -> None:
    lines = asked(shop, *STAGGERED).lines

    assert "patterns left           5 of 7 <          1 of 7" in lines
    assert "money per 100,000 mi    800.00 <          878.75" in lines
    assert "room outside, rear      as it is          22.3 mm less" in lines
    assert "B: patterns left 1 of 7: side to side" in lines
    assert "B: LF carries 205/60R15; the rear axle takes 225/60R15." in lines
    assert "B: Wheel LF has offset 10 mm; the rear takes 0 mm." in lines
    assert lines[-1] == DEFERRING_LINE
    assert max(len(line) for line in lines[:20]) <= 80


def test_what_is_not_given_is_taken_and_said(shop: Shop) -> None:
    told = asked(shop, "fitment", "205/60R15", "195/65R15")
    answer = asked(shop, "fitment", "205/60R15", "195/65R15", "--json").json

    assert "The drive is not given: rear drive is taken (--drive front, all)." in told.lines
    assert "New depth is not given: 8 mm is taken (--new-depth)." in told.lines
    assert answer["ways"][0]["assumed"] == ["rim width", "offset", "load index", "speed symbol"]
    assert answer["ways"][1]["front"]["change"] is None


def test_on_the_same_wheel_the_edges_move_by_half_the_width(shop: Shop) -> None:
    """On 6 in: 205 gives 208.56, 195/65 gives 195 + 0.4 x (152.4 - 136.5) = 201.36 mm."""
    answer = asked(shop, "fitment", "205/60R15", "195/65R15", "--rim", "6", "--json").json

    assert answer["ways"][1]["rear"]["change"] == {"inner_mm": -3.6, "outer_mm": -3.6}


def test_a_rim_too_wide_is_warned_of_with_how_far_that_is_known(shop: Shop) -> None:
    told = asked(shop, "fitment", "195/65R15", "205/60R15", "--rim", "8")

    assert "rims it goes on       5.5 to 7 in !" in told.out
    assert (
        "A: 195/65R15: A rim of 8 in is outside the 5.5 to 7 in for this size (published)."
        in told.lines
    )


def test_more_ways_than_fit_go_into_a_second_table_beside_the_first_way(shop: Shop) -> None:
    sizes = ("205/60R15", "195/65R15", "215/60R15", "225/60R15", "185/70R15")
    lines = asked(shop, "fitment", *sizes).lines
    heads = [line.split() for line in lines if line.startswith(" " * 10)]

    assert heads == [["A", "B", "C"], ["A", "D", "E"]]


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (
            ("205/60R15", "--rim", "6", "--rim", "7", "--rim", "8"),
            "--rim: 3 are given for 1 way; give it once for all, or once for each in their order",
        ),
        (("205/60R15", "--rim", "6/99"), "--rim, rear: '99' is no figure here; give 2 to 30 in"),
        (("205/60R15", "--drive", "both"), "--drive: 'both' is no drive; give front, rear or all"),
        (
            ("205/60R15", "--new-depth", "0"),
            "--new-depth: '0' is no depth of a new tire; write 8mm or 11/32",
        ),
        (
            ("205/6R15", "205/60R15"),
            (
                "size: '205/6R15' cannot be read at character 6, 'R'; expected there: an aspect"
                " ratio, 20 to 100"
            ),
        ),
    ],
)
def test_what_cannot_be_read_is_refused_in_one_sentence(
    shop: Shop, words: tuple[str, ...], fault: str
) -> None:
    told = asked(shop, "fitment", *words)

    assert (told.code, told.out) == (2, "")
    assert told.faults == [f"castlenut: {fault}"]


def test_rotation_without_a_car_tells_the_patterns_that_are_left(shop: Shop) -> None:
    told = asked(shop, "rotation", "--front", "205/60R15", "--rear", "225/60R15", "--drive", "rear")

    assert told.lines[0] == (
        "205/60R15 in front, 225/60R15 at the rear: patterns left 1 of 7: side to side"
    )
    assert "    RR carries 225/60R15; the front axle takes 205/60R15." in told.lines
    assert "    lifted by: one size all round" in told.lines
    assert "usual for rear drive: rearward cross" in told.lines


def test_directional_tires_go_front_to_rear_only(shop: Shop) -> None:
    """Case 5 of the legality table: n n n y n n n."""
    answer = asked(shop, "rotation", "--front", "205/60R15", "--directional", "--json").json

    assert [each["answer"] for each in answer["patterns"]] == [
        *("no", "no", "no", "yes", "no", "no", "no")
    ]
    assert answer["patterns_left"] == 1
    assert answer["rear"] == "205/60R15"
    assert (answer["drive"], answer["usual"]) == (None, None)


def test_staggered_and_directional_leaves_nothing(shop: Shop) -> None:
    """Case 4 of the legality table."""
    told = asked(shop, "rotation", "--front", "205/60R15", "--rear", "225/60R15", "--directional")

    assert told.lines[0].endswith(": patterns left 0 of 7")


def test_rotation_of_nothing_is_refused(shop: Shop) -> None:
    told = asked(shop, "rotation")

    assert told.code == 2
    assert told.faults == [
        "castlenut: rotation: neither a car nor a size is given; name a car, or give --front"
    ]
