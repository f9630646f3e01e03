"""A past change in one sentence."""

import pytest

from castlenut.words.changes import Did, Touched, sentence


def made(table: str, **values: object) -> Touched:
    return Touched(table=table, short="5f2c61d0", did=Did.MADE, values=values)


@pytest.mark.parametrize(
    ("touched", "expected"),
    [
        (
            [made("reading", figure=61600, unit="mi", on="2026-11-24")],
            "reading 61,600 mi on 2026-11-24",
        ),
        ([made("vehicle", slug="pim")], "pim added"),
        (
            [made("job", items=["hub-play~01a2", "u-bolts~01a3"], on="2026-11-20")],
            "done hub-play, u-bolts on 2026-11-20",
        ),
        (
            [
                made("component", kind="spring", place="LR"),
                made("job", items=["u-bolts~01a3"], on="2026-11-20"),
            ],
            "done u-bolts on 2026-11-20, with fitted spring LR",
        ),
        (
            [made("job", on="2026-11-20"), made("component", kind="spring", place="LR")],
            "fitted spring LR",
        ),
        ([made("stay", **{"from": "2026-11-19"})], "in work 2026-11-19"),
        ([made("zeppelin", lift=3)], "zeppelin"),
        ([made("finding", what="\x1b[31mrust")], "found \\x1b[31mrust"),
        ([], "nothing"),
    ],
)
def test_what_was_entered_is_told_by_what_it_is_about(
    touched: list[Touched], expected: str
) -> None:
    assert sentence(touched) == expected


def test_of_a_correction_the_fields_are_named_and_no_value() -> None:
    touched = Touched(
        table="vehicle",
        short="5f2c61d0",
        did=Did.CORRECTED,
        values={"phone": "555-0117", "owner": None},
    )

    assert sentence([touched]) == "vehicle 5f2c61d0 corrected: owner, phone"


def test_a_part_taken_off_is_told_as_that() -> None:
    touched = Touched(
        table="component",
        short="5f2c61d0",
        did=Did.CORRECTED,
        values={"removed_on": "2026-11-25", "removed_at": 41320},
    )

    assert sentence([touched]) == "component 5f2c61d0 taken off on 2026-11-25"


def test_many_records_are_counted_after_the_first_three() -> None:
    touched = [
        Touched(table="reading", short=f"0000000{number}", did=Did.STRUCK, values={})
        for number in range(5)
    ]

    assert sentence(touched) == (
        "reading 00000000 struck, reading 00000001 struck, reading 00000002 struck and 2 more"
    )
