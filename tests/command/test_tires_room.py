"""Room measured round a wheel: recorded for the set now on, refused where it tells nothing."""

import json

import pytest

from tests.command.conftest import Kept, Shop


@pytest.fixture
def shod(yard: Shop, kept: Kept) -> Shop:
    """Give an invented car on 205/60R15 all round, 6 x 15 wheels with an offset of 10 mm."""
    return kept.give(yard, _shoe)


def _shoe(yard: Shop) -> None:
    wheel = ("rim_width=6", "rim_diameter=15", "offset=10")
    yard.must("fit", "fallow", "wheel", "all", *wheel, "--at", "61610")
    yard.must("fit", "fallow", "tire", "all", "size=205/60R15", "new_depth=8mm", "--at", "61610")


def rooms(shop: Shop) -> list[dict[str, object]]:
    lines = shop.must("records", "fallow", "--table", "room").lines
    return [json.loads(line)["values"] for line in lines]


def test_the_gaps_of_a_place_are_kept_with_how_the_wheel_stood(shod: Shop) -> None:
    told = shod(
        *("room", "fallow", "LF", "--inner", "14", "--outer", "8.5mm", "--caliper", "4"),
        *("--when", "full lock", "--aligned", "yes"),
    )

    assert told.code == 0
    assert told.lines[0].startswith(
        "saved: room at LF, full lock: inner 14 mm, outer 8.5 mm, caliper 4 mm ("
    )
    assert rooms(shod) == [
        {
            "place": "LF",
            "inner": 14,
            "outer": 8.5,
            "caliper": 4,
            "when": "full lock",
            "aligned": True,
            "on": "2026-11-25",
        }
    ]


def test_json_answers_what_every_writing_command_answers(shod: Shop) -> None:
    answer = shod.must("room", "fallow", "rear", "--inner", "20", "--outer", "15", "--json").json

    assert [each["table"] for each in answer["records"]] == ["room", "room"]
    assert answer["vehicle"] == "fallowmere"
    assert [each["place"] for each in rooms(shod)] == ["LR", "RR"]


def test_what_to_mind_is_told_beside_it(shod: Shop) -> None:
    told = shod("room", "fallow", "LF", "--inner", "2.5", "--outer", "9", "--aligned", "no")

    assert told.code == 0
    assert told.faults == [
        "castlenut: inner: less than 3 mm: does it touch anywhere?",
        "castlenut: measured before the alignment: measure again after it",
        'castlenut: in front the gap at full lock counts too: --when "full lock"',
    ]


@pytest.mark.parametrize(
    ("words", "faults"),
    [
        (
            ("LF", "--inner", "wide", "--outer", "-3"),
            [
                "--inner: 'wide' is no gap; give millimeters, as 12 or 8.5",
                "--outer: '-3' is no gap; give millimeters, as 12 or 8.5",
            ],
        ),
        (("LF",), ["--inner: is missing; measure the gap, in mm"]),
        (
            ("LF", "--inner", "5", "--outer", "5", "--when", "airborne"),
            ["--when: 'airborne' is no stance of a wheel; give straight, full lock, bump, droop"],
        ),
        (
            ("LF", "--inner", "5", "--outer", "5", "--aligned", "maybe"),
            ["--aligned: 'maybe' is neither yes nor no; give yes or no"],
        ),
        (
            ("LRI", "--inner", "5", "--outer", "5"),
            [
                (
                    "place: the car has no LRI: its rear wheels are single;"
                    " give LR or RR, or correct the vehicle: dual=yes"
                )
            ],
        ),
        (
            ("SP", "--inner", "5", "--outer", "5"),
            ["place: no tire stands at SP; room is measured for the tire now on: fit it first"],
        ),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_kept(
    shod: Shop, words: tuple[str, ...], faults: list[str]
) -> None:
    told = shod("room", "fallow", *words)

    assert told.code == 2
    for fault in faults:
        assert f"castlenut: {fault}" in told.faults
    assert rooms(shod) == []


def test_room_of_a_set_that_is_no_longer_on_is_refused(yard: Shop) -> None:
    yard.must("fit", "fallow", "tire", "LF", "size=195/65R15", "--on", "2026-10-20")
    yard.must("fit", "fallow", "tire", "LF", "size=205/60R15", "--on", "2026-11-10")

    told = yard("room", "fallow", "LF", "--inner", "9", "--outer", "9", "--on", "2026-11-01")

    assert told.code == 2
    assert told.faults == [
        (
            "castlenut: place: another set stood at LF on 2026-11-01 than is on now;"
            " measure the set that is on now"
        )
    ]
    assert rooms(yard) == []


def test_a_spacer_asks_for_the_studs_and_makes_the_lug_nuts_due_after_50(shod: Shop) -> None:
    """Wheel nuts at 61,610 + 50, on both rear wheels."""
    told = shod("fit", "fallow", "spacer", "rear", "thickness=8", "--at", "61610")

    assert told.code == 0
    assert any("check that the nuts still engage as far as" in line for line in told.faults)
    due = {
        item["position"]: item["due_at"]
        for item in shod.must("due", "fallow", "--json").json
        if item["rule"] == "wheel-nuts"
    }
    assert due["LR"] == due["RR"] == 61660
