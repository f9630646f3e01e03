"""What stands where on a car, measured and turned about through the command line."""

import json

import pytest

from castlenut.words.cautions import DEFERRING_LINE
from tests.command.conftest import Kept, Shop


@pytest.fixture
def shod(shop: Shop, kept: Kept) -> Shop:
    """Give an invented rear-drive car, 11,000 mi on one set, measured and not yet rotated.

    New 11/32 in at 50,000; at 61,000 the fronts have 9/32, LR 8/32, RR 7.5/32.
    """
    return kept.give(shop, _shoe)


def _shoe(shop: Shop) -> None:
    shop.must("add", "millrace", "--description", "Wendlecot Millrace", "--year", "1986")
    shop.must("correct", "millrace", "vehicle", "drive=rear")
    shop.must("reading", "millrace", "50000", "--on", "2025-11-25")
    shop.must("reading", "millrace", "61000", "--on", "2026-11-25")
    then = ("--on", "2025-11-25", "--at", "50000")
    shop.must(
        "fit", "millrace", "wheel", "all", "rim_width=6", "rim_diameter=15", "offset=10", *then
    )
    shop.must(
        *("fit", "millrace", "tire", "all", "size=205/60R15", "service=91H", "tread=symmetric"),
        *("new_depth=11/32", "tin=2123", *then),
    )
    shop.must("tread", "millrace", "LF", "9", "RF", "9", "LR", "8", "8", "8", "RR", "7.5")


def standing(shop: Shop) -> dict[str, dict[str, object]]:
    return {
        each["at"]: each for each in shop.must("tires", "millrace", "--json").json["assemblies"]
    }


def test_tires_are_told_in_walking_order(shod: Shop) -> None:
    """Of 11/32 down to 1.6 mm 7.13 mm are to wear; RR at 7.5/32 has 4.35 of them, 61 %."""
    lines = shod("tires", "millrace").lines

    assert lines[:6] == [
        "Wendlecot Millrace  tires on 2026-11-25, depths in 32nds, distances in mi",
        "    size       depth  left  age    here since            run",
        "LF  205/60R15  9      78 %  3.5 y  2025-11-25 at 50,000  11,000",
        "RF  205/60R15  9      78 %  3.5 y  2025-11-25 at 50,000  11,000",
        "LR  205/60R15  8 8 8  67 %  3.5 y  2025-11-25 at 50,000  11,000",
        "RR  205/60R15  7.5    61 %  3.5 y  2025-11-25 at 50,000  11,000",
    ]
    assert lines[-1] == DEFERRING_LINE


def test_json_of_tires_names_places_records_and_what_was_measured(shod: Shop) -> None:
    """7.5/32 in is 5.95 mm."""
    here = standing(shod)["RR"]

    assert (here["id"], here["size"], here["load_index"]) == ("RR", "205/60R15", 91)
    assert (here["rim_width_in"], here["offset_mm"], here["tread"]) == (6, 10, "symmetric")
    assert here["depth_mm"] == [5.95]
    assert here["measured"]["values"] == [7.5]  # type: ignore[index]
    assert here["made"] == [{"first": "2023-05-21", "last": "2023-05-27"}]
    assert here["run"] == {"by_place": {"RR": 11000.0}, "whole": True}


def test_a_number_that_leaves_the_decade_open_gives_each_age(shod: Shop) -> None:
    """Week 43 of a year that ends in 9: from 1979-10-28 or 1989-10-22 to 2026-11-25."""
    tire = standing(shod)["LF"]["tire_id"]
    shod.must("correct", "millrace", str(tire), "tin=439")
    shod.must("correct", "millrace", "vehicle", "year=1979")

    here = standing(shod)["LF"]

    assert here["age_years"] is None
    assert len(here["ages_years"]) > 1  # type: ignore[arg-type]
    assert any(
        " or " in line and line.startswith("LF ") for line in shod("tires", "millrace").lines
    )


def test_history_has_every_place_and_every_measurement_of_a_tire(shod: Shop) -> None:
    shod.must("rotate", "millrace", "rearward", "cross", "--at", "61000")

    lines = shod("tires", "millrace", "--history").lines
    history = shod.must("tires", "millrace", "--history", "--json").json["history"]

    assert "    2025-11-25 at 50,000  LF, 11,000 mi" in lines
    assert "    2026-11-25 at 61,000  RR" in lines
    (first, *_) = history
    assert [stop["at"] for stop in first["places"]] == ["LF", "RR"]
    assert [stop["shown"] for stop in first["places"]] == [50000, 61000]


def test_an_empty_car_says_so(yard: Shop) -> None:
    told = yard("tires", "fallow")

    assert told.code == 0
    assert "no tire is recorded: castlenut fit puts one on" in told.lines


def test_depths_are_read_from_lines_in_walking_order(shod: Shop) -> None:
    """LF, RF, then LR passed by, and RR by its name."""
    told = shod(
        *("tread", "millrace", "--from", "-", "--json"),
        stdin="# front\n8.5\n8 8 8.5\n-\nRR 7 7 6.5\n",
        today="2026-11-25",
    )

    assert told.code == 0
    assert [each["table"] for each in told.json["records"]] == ["measurement"] * 3
    here = standing(shod)
    assert here["LF"]["measured"]["values"] == [8.5]  # type: ignore[index]
    assert here["LR"]["measured"]["values"] == [8, 8, 8]  # type: ignore[index]
    assert here["RR"]["measured"]["values"] == [7, 7, 6.5]  # type: ignore[index]


@pytest.mark.parametrize(
    ("words", "stdin", "fault"),
    [
        (("LF",), "", "LF: has no depth; write it behind the place, as LF 7"),
        (
            ("LF", "abc"),
            "",
            "LF: 'abc' is no tread depth; write 5/32, 4.5 mm, 0.125 in or 1/8 in",
        ),
        (("7", "8"), "", "PLACE DEPTHS: '7' is no place; write LF 7 RF 7"),
        ((), "", "PLACE DEPTHS: no depth is given; give pairs as LF 7, or --from -"),
        (
            ("LF", "7", "--from", "-"),
            "",
            "PLACE DEPTHS: depths and --from are both given; give pairs as LF 7, or --from -",
        ),
        (
            ("--from", "-"),
            "7\n7\n7\n7\n7\n7\n",
            "line 6: there is no place left on the walk; name its place",
        ),
        (
            ("LRI", "7"),
            "",
            "place: 'LRI' is no place of a wheel on this car; use LF, RF, LR, RR, SP",
        ),
        (("SP", "7"), "", "SP: no tire stands there; fit one first"),
    ],
)
def test_what_cannot_be_measured_is_one_sentence_and_nothing_is_kept(
    shod: Shop, words: tuple[str, ...], stdin: str, fault: str
) -> None:
    before = shod.must("records", "millrace", "--table", "measurement").out

    told = shod("tread", "millrace", *words, stdin=stdin)

    assert (told.code, told.out) == (2, "")
    assert told.faults == [f"castlenut: {fault}"]
    assert shod.must("records", "millrace", "--table", "measurement").out == before


def test_deeper_than_new_and_deeper_than_last_time_are_kept_and_told(shod: Shop) -> None:
    told = shod("tread", "millrace", "LF", "12", "RR", "8.5")

    assert told.code == 0
    assert "castlenut: LF: deeper than new (11/32): tire changed? Kept as typed" in told.faults
    assert (
        "castlenut: RR: deeper than last time (7.5/32): tire changed? Kept as typed" in told.faults
    )
    assert "look at:" in shod("tires", "millrace").lines


def test_the_next_move_comes_first_with_its_reason(shod: Shop) -> None:
    """Wear by place is read off: 2/32 in front, 3 and 3.5/32 at the rear in 11,000 mi."""
    lines = shod("rotation", "millrace").lines

    assert lines[0].startswith("next, now: ")
    assert lines[1].startswith("why: tread goes 0.1")
    assert lines[2].startswith("so the set lasts about ")
    assert lines[3] == (
        "patterns left 5 of 7: forward cross, rearward cross, X, front to rear, side to side"
    )
    assert not any("bound" in line or "spread" in line for line in lines)


def test_bound_and_gap_stand_under_plan(shod: Shop) -> None:
    lines = shod("rotation", "millrace", "--plan").lines

    assert any(line.startswith("plan, rotations every 5,000 mi:") for line in lines)
    assert any(line.startswith("bound ") and "gap " in line for line in lines)


def test_the_plan_as_json_is_that_of_reckon_rotation(shod: Shop) -> None:
    """The same wheels, depths and rates given to reckon give the same plan."""

    answer = shod.must("rotation", "millrace", "--json").json
    line = {
        "id": 1,
        "unit": "mi",
        "drive": "rear",
        "interval": answer["interval"],
        "assemblies": [
            {
                name: each[name]
                for name in (
                    *("id", "at", "size", "construction", "rim_width_in", "rim_diameter_in"),
                    *("offset_mm", "tread", "load_index", "speed_symbol"),
                )
            }
            | {"depth_mm": [{"LF": 9, "RF": 9, "LR": 8, "RR": 7.5}[each["at"]] * 25.4 / 32]}
            for each in shod.must("tires", "millrace", "--json").json["assemblies"]
        ],
        "rates_mm_per_1000": answer["rates_mm_per_1000"],
    }

    reckoned = shod("reckon", "rotation", stdin=json.dumps(line) + "\n", has_garage=False).json

    assert answer["patterns"] == reckoned["patterns"]
    assert answer["verdicts"] == reckoned["verdicts"]
    assert answer["life"] == pytest.approx(reckoned["life"])
    assert answer["plan"]["moves"] == reckoned["plan"]["moves"]
    assert answer["plan"]["proved"] is True
    assert answer["next"]["after"] == 0.0


def test_patterns_only_and_no_spare_are_asked_for(shod: Shop) -> None:
    answer = shod.must("rotation", "millrace", "--moves", "patterns", "--no-spare", "--json").json

    assert all(
        stint["pattern"] is not None for stint in answer["plan"]["schedule"] if stint["moves"]
    )
    told = shod("rotation", "millrace", "--moves", "some")
    assert told.faults == ["castlenut: --moves: 'some' is no set of moves; give any or patterns"]


def test_wider_rears_block_four_patterns_and_check_says_so(shod: Shop) -> None:
    assert shod("rotation", "millrace", "--check").code == 0
    shod.must(
        *("fit", "millrace", "tire", "rear", "size=225/60R15", "service=96H"),
        *("tread=symmetric", "new_depth=8mm"),
    )

    told = shod("rotation", "millrace", "--check")

    assert told.code == 1
    assert (
        "blocked by the latest change of tires or wheels: forward cross, rearward cross, X, front"
        " to rear, because LF carries 205/60R15; the rear axle takes 225/60R15; LF carries 615 kg"
        " (91), less than the 710 kg now on the rear axle; what a rear tire needs is not known"
        in told.lines
    )
    answer = shod("rotation", "millrace", "--check", "--json").json
    assert answer["changed_since"] == [
        *("forward cross", "rearward cross", "X", "front to rear"),
    ]
    assert shod("rotation", "millrace").code == 0


def test_rotate_moves_the_wheels_and_makes_the_nuts_due_again(shod: Shop) -> None:
    """50 mi after 61,000."""
    told = shod(
        *("rotate", "millrace", "LF=RR,RR=LF", "--at", "61000", "--depth", "LF=8.5"),
        *("--by", "Bellhouse Tires"),
    )

    assert told.code == 0
    assert told.lines[0].startswith("saved: rotated LF to RR, RR to LF on 2026-11-25")
    assert any(line.startswith("caution: ") for line in told.lines)
    assert told.lines[-1] == DEFERRING_LINE
    assert standing(shod)["RR"]["measured"]["values"] == [8.5]  # type: ignore[index]
    due = {
        each["position"]: each["due_at"]
        for each in shod.must("due", "millrace", "--json").json
        if each["rule"] == "wheel-nuts"
    }
    assert (due["LF"], due["RR"]) == (61050, 61050)


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (
            ("five-tire rearward cross",),
            "rotate: there is no spare; fit one first, or leave that place out",
        ),
        (("LF=LRI",), "moves: 'LRI' is no place of a wheel on this car; use LF, RF, LR, RR, SP"),
    ],
)
def test_a_rotation_that_cannot_be_is_refused(
    shod: Shop, words: tuple[str, ...], fault: str
) -> None:
    told = shod("rotate", "millrace", *words)

    assert told.code == 2
    assert f"castlenut: {fault}" in told.faults


def test_a_blocked_rotation_is_refused_with_every_reason_and_can_be_recorded_all_the_same(
    shod: Shop,
) -> None:
    shod.must(
        *("fit", "millrace", "tire", "rear", "size=225/60R15", "service=91H"),
        *("tread=symmetric", "new_depth=8mm"),
    )

    refused = shod("rotate", "millrace", "front to rear")
    done = shod("rotate", "millrace", "front to rear", "--done-anyway")

    assert (refused.code, refused.out) == (2, "")
    assert (
        "castlenut: LF to LR: LF carries 205/60R15; the rear axle takes 225/60R15; lifted by one"
        " size all round" in refused.faults
    )
    assert len(refused.faults) == 4
    assert done.code == 0
    assert standing(shod)["LF"]["size"] == "225/60R15"
