"""`stay` and `ready`: exit codes, what is told, what is stored."""

import pytest

from tests.command.conftest import Kept, Shop

MANUAL = "The vehicle's own service manual, local codes"


@pytest.fixture
def yard(yard: Shop, kept: Kept) -> Shop:
    """Give the car, in work since five days: brake fluid nobody knows of, U-bolts 80 mi over.

    The springs were fitted at 61,230, so the point at 300 mi was 61,530. Fitting them was a visit,
    so the owner's own look at the level is done.
    """
    return kept.give(yard, _take_in_work)


def _take_in_work(yard: Shop) -> None:
    yard.must("fit", "fallowmere", "brake fluid", "fluid=DOT 4", "--on", "-")
    yard.must("stay", "fallowmere", "--from", "2026-11-20")


def test_ready_lists_what_stands_against_it_and_the_deferring_line_last(yard: Shop) -> None:
    told = yard("ready", "fallowmere")

    assert told.code == 0
    assert told.lines[0] == "not ready: 2 things stand against handing it over"
    assert [line.split("  ")[:2] for line in told.lines[1:-1]] == [
        ["? no record", "brake fluid, renew"],
        ["!! overdue", "spring U-bolts, torque, LR"],
    ]
    assert told.lines[-1].startswith(MANUAL)


def test_check_ends_with_1_while_anything_blocks(yard: Shop) -> None:
    assert yard("ready", "fallowmere", "--check").code == 1
    yard.must("done", "fallowmere", "brake-fluid", "u-bolts")
    assert yard("ready", "fallowmere", "--check").code == 0


def test_ready_as_json_has_every_thing_with_its_items(yard: Shop) -> None:
    told = yard("ready", "fallowmere", "--json").json

    assert (told["vehicle"], told["ready"], told["in_work_since"]) == (
        "fallowmere",
        False,
        "2026-11-20",
    )
    fluid, bolts = told["against"]
    assert fluid["cause"] == "no record"
    assert fluid["blocks"] is True
    assert (fluid["rule"], fluid["rank"], fluid["danger"]) == ("brake-fluid", 1, 1)
    assert fluid["cautions"] == ["bfluid"]
    assert bolts["items"][0].startswith("u-bolts@LR~")


def test_a_stay_that_is_not_ready_is_not_ended_without_yes(yard: Shop) -> None:
    told = yard("stay", "fallowmere", "--over")

    assert told.code == 2
    assert told.faults[0] == (
        "castlenut: stay: not ready: 2 things stand against handing it over; add --yes to end it"
        " all the same"
    )
    assert MANUAL in told.err
    assert '"over"' not in yard("records", "fallowmere", "--table", "stay").out


def test_with_yes_it_ends_and_what_was_open_is_kept(yard: Shop) -> None:
    told = yard("stay", "fallowmere", "--over", "--yes", "--at", "61610", "--json")

    assert told.code == 0
    assert [each["table"] for each in told.json["records"]] == ["stay", "reading"]
    kept = yard("records", "fallowmere", "--table", "stay").json["values"]
    assert (kept["over"], kept["at"]) == ("2026-11-25", 61610)
    assert kept["open"] == [
        "no record: brake fluid, renew",
        "overdue: spring U-bolts, torque, LR",
    ]


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        (
            ("--over", "--on", "2026-11-19"),
            (
                "castlenut: on: 2026-11-19 is before it began, 2026-11-20; give a day from"
                " 2026-11-20 on"
            ),
        ),
        (
            (),
            "castlenut: from: fallowmere is in work since 2026-11-20; stay --over ends that",
        ),
        (
            ("--over", "--from", "2026-11-20"),
            "castlenut: --from: stands beside --over; correct the record to change it",
        ),
        (
            ("--at", "61600"),
            "castlenut: --at: belongs to the end of a stay; add --over, or use --from DATE",
        ),
    ],
)
def test_a_stay_that_cannot_be_is_one_sentence_and_nothing_is_stored(
    yard: Shop, words: tuple[str, ...], fault: str
) -> None:
    before = yard("records", "fallowmere", "--history").out

    told = yard("stay", "fallowmere", *words)

    assert (told.code, told.faults) == (2, [fault])
    assert yard("records", "fallowmere", "--history").out == before


def test_the_board_counts_as_many_things_as_ready_lists(yard: Shop) -> None:
    (car,) = yard("vehicles", "--json").json

    assert car["first"] == "2 before it rolls"
