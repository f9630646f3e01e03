"""The ledger as plain values and back."""

from datetime import UTC, date, datetime
from typing import cast

import pytest

from castlenut.domain.errors import BadInput
from castlenut.feed.candidate import WEEK_BEFORE, Kind, Scope
from castlenut.feed.ledger import Entry, FeedState, Ledger
from castlenut.feed.ledger_values import ledger_of, values_of

LEDGER = Ledger(
    events={
        "u-1": Entry(
            scope=Scope(kind=Kind.ITEM, audience="garage", subject="v-1"),
            start=date(2027, 6, 12),
            days=1,
            summary="Blue wagon: wheel bearings, repack",
            description="Due 12 Jun 2027.",
            category="Wheel bearings",
            location="",
            alarms=(WEEK_BEFORE,),
            expected="",
            stamp=datetime(2026, 11, 25, 13, 17, 5, tzinfo=UTC),
            sequence=3629597,
        )
    },
    feeds={
        "garage": FeedState(
            digest="d1",
            source="d2",
            changed=datetime(2026, 11, 25, 13, 17, 5, tzinfo=UTC),
            until=date(2027, 11, 30),
            events=1,
            vehicles={"v-1": "Blue wagon"},
        )
    },
    targets={"/srv/feed.ics": {"written": "2026-11-25T13:17:05Z", "fault": None}},
)


def test_an_entry_is_kept_in_plain_words() -> None:
    values = values_of(LEDGER)

    assert values["events"]["u-1"] == {
        "kind": "item",
        "audience": "garage",
        "subject": "v-1",
        "start": "2027-06-12",
        "days": 1,
        "summary": "Blue wagon: wheel bearings, repack",
        "description": "Due 12 Jun 2027.",
        "category": "Wheel bearings",
        "location": "",
        "alarms": ["-P6DT15H"],
        "expected": "",
        "stamp": "2026-11-25T13:17:05Z",
        "sequence": 3629597,
        "gone_on": None,
    }


def test_values_read_back_give_the_ledger() -> None:
    assert ledger_of(values_of(LEDGER)) == LEDGER


def test_no_tables_are_an_empty_ledger() -> None:
    assert ledger_of({}) == Ledger()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("start", "2027-02-30"),
        ("stamp", "2026-11-25T13:17:05"),
        ("days", True),
        ("days", 10**9),
        ("sequence", -1),
        ("summary", None),
        ("kind", "visit to the moon"),
        ("alarms", ["-P1W"]),
        ("alarms", [["-P6DT15H"]]),
    ],
)
def test_a_value_that_does_not_belong_there_is_a_damaged_ledger(field: str, value: object) -> None:
    values = values_of(LEDGER)
    entry = cast("dict[str, object]", values["events"]["u-1"])
    entry[field] = value

    with pytest.raises(BadInput) as bad:
        ledger_of(values)

    assert str(bad.value.faults[0]).startswith(f"feed.json, event u-1: {field} ")


def test_a_table_that_is_none_is_a_damaged_ledger() -> None:
    with pytest.raises(BadInput):
        ledger_of({"events": ["u-1"]})
