"""What a record is after its revisions, and which revisions an edit makes. Records are invented."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from castlenut.domain.errors import BadInput
from castlenut.store.merge import in_order
from castlenut.store.revisions import (
    Added,
    Change,
    Changed,
    Gone,
    StoredRecord,
    as_record,
    revision_for,
)
from castlenut.store.values import Object, Value

RECORD = "01a20000-0000-7000-8000-000000000001"
CHANGE = Change(id="c9", at=datetime(2026, 11, 25, 13, 17, 13, 123456, tzinfo=UTC), by="dev-b")


def rev(
    name: str,
    after: tuple[str, ...] = (),
    *,
    at: int = 0,
    by: str = "dev-a",
    gone: bool | None = None,
    **values: Value,
) -> Object:
    found: Object = {
        "rev": f"{name}.0",
        "after": [f"{each}.0" for each in after],
        "at": f"2026-11-25T13:17:{at:02}.000Z",
        "by": by,
        "n": 1,
        "set": dict(values),
    }
    return found if gone is None else {**found, "gone": gone}


def stands(*revisions: Object) -> StoredRecord:
    ordered = [each for each in in_order(revisions) if isinstance(each, dict)]
    return as_record("reading", RECORD, ordered)


def test_the_latest_of_a_line_of_revisions_counts() -> None:
    found = stands(rev("a", figure=1, unit="mi"), rev("b", ("a",), figure=2))

    assert found.values == {"figure": 2, "unit": "mi"}
    assert found.differences == {}
    assert found.heads == ("b.0",)


def test_a_later_revision_wins_by_its_ancestors_and_not_by_its_clock() -> None:
    found = stands(rev("a", at=50, figure=1), rev("b", ("a",), at=10, figure=2))

    assert found.values == {"figure": 2}


def test_two_values_set_apart_are_a_difference_and_the_later_is_used() -> None:
    found = stands(
        rev("a", figure=1),
        rev("b", ("a",), at=10, by="dev-a", figure=2),
        rev("c", ("a",), at=11, by="dev-b", figure=3),
    )

    assert found.values == {"figure": 3}
    assert [(each.value, each.by) for each in found.differences["figure"]] == [
        (3, "dev-b"),
        (2, "dev-a"),
    ]
    assert found.heads == ("b.0", "c.0")


def test_equal_values_set_apart_are_no_difference() -> None:
    found = stands(rev("a", figure=1), rev("b", ("a",), figure=2), rev("c", ("a",), figure=2))

    assert found.values == {"figure": 2}
    assert found.differences == {}


def test_a_revision_that_knows_both_but_sets_another_field_settles_nothing() -> None:
    found = stands(
        rev("a", figure=1),
        rev("b", ("a",), at=1, figure=2),
        rev("c", ("a",), at=2, figure=3),
        rev("d", ("b", "c"), at=3, note="x"),
    )

    assert [each.value for each in found.differences["figure"]] == [3, 2]


def test_a_revision_after_both_settles_a_difference() -> None:
    found = stands(
        rev("a", figure=1),
        rev("b", ("a",), figure=2),
        rev("c", ("a",), figure=3),
        rev("d", ("b", "c"), figure=2),
    )

    assert found.values == {"figure": 2}
    assert found.differences == {}


def test_a_field_cleared_is_missing() -> None:
    found = stands(rev("a", figure=1, note="x"), rev("b", ("a",), note=None))

    assert found.values == {"figure": 1}


def test_a_record_struck_here_and_changed_there_stays_and_is_shown() -> None:
    found = stands(
        rev("a", figure=1), rev("b", ("a",), at=9, gone=True), rev("c", ("a",), at=2, figure=2)
    )

    assert not found.gone
    assert [each.value for each in found.differences["gone"]] == [False, True]


def test_a_record_struck_on_both_sides_is_gone_without_a_difference() -> None:
    found = stands(rev("a", figure=1), rev("b", ("a",), gone=True), rev("c", ("a",), gone=True))

    assert found.gone
    assert found.differences == {}


def test_a_change_after_a_strike_brings_the_record_back() -> None:
    found = stands(rev("a", figure=1), rev("b", ("a",), gone=True), rev("c", ("b",), figure=2))

    assert not found.gone


def test_two_revisions_of_one_name_are_a_difference() -> None:
    found = stands(rev("a", figure=1), rev("a", figure=2))

    assert len(found.differences["figure"]) == 2


def test_an_ancestor_that_is_missing_is_no_fault() -> None:
    found = stands(rev("b", ("a",), figure=1), rev("c", ("b", "x"), figure=2))

    assert found.values == {"figure": 2}


def test_made_and_changed_are_the_first_and_the_last_writing() -> None:
    found = stands(rev("a", at=1, figure=1), rev("b", ("a",), at=5, by="dev-b", figure=2))

    assert found.made == ("2026-11-25T13:17:01.000Z", "dev-a")
    assert found.changed == ("2026-11-25T13:17:05.000Z", "dev-b")


def test_a_new_record_begins_without_ancestors() -> None:
    added = Added(table="reading", id=RECORD, values={"figure": 1, "note": None})

    revision = revision_for(added, None, CHANGE, place=3, n=7)

    assert revision == {
        "after": [],
        "at": "2026-11-25T13:17:13.123Z",
        "by": "dev-b",
        "n": 7,
        "rev": "c9.3",
        "set": {"figure": 1},
    }


def test_only_changed_fields_are_set() -> None:
    held = stands(rev("a", figure=1, unit="mi", note="x"))
    edit = Changed(table="reading", id=RECORD, values={"figure": 2, "unit": "mi", "note": None})

    revision = revision_for(edit, held, CHANGE, place=0, n=2)

    assert revision is not None
    assert revision["set"] == {"figure": 2, "note": None}
    assert revision["after"] == ["a.0"]


def test_nothing_changed_makes_no_revision() -> None:
    held = stands(rev("a", figure=1))

    same = Changed(table="reading", id=RECORD, values={"figure": 1, "note": None})
    restored = Gone(table="reading", id=RECORD, gone=False)

    assert revision_for(same, held, CHANGE, place=0, n=2) is None
    assert revision_for(restored, held, CHANGE, place=0, n=2) is None


def test_setting_the_value_used_settles_its_difference() -> None:
    held = stands(rev("a", at=1, figure=1), rev("b", at=2, figure=2))
    edit = Changed(table="reading", id=RECORD, values={"figure": 2})

    revision = revision_for(edit, held, CHANGE, place=0, n=2)

    assert revision is not None
    assert revision["after"] == ["a.0", "b.0"]
    assert revision["set"] == {"figure": 2}


def test_striking_keeps_why_in_the_note() -> None:
    held = stands(rev("a", figure=1))
    edit = Gone(table="reading", id=RECORD, gone=True, values={"note": "typed twice"})

    revision = revision_for(edit, held, CHANGE, place=0, n=2)

    assert revision is not None
    assert revision["gone"] is True
    assert revision["set"] == {"note": "typed twice"}


def test_the_time_is_written_in_utc_with_milliseconds() -> None:
    east = timezone(timedelta(hours=9))

    change = Change(id="c", at=datetime(2026, 11, 25, 9, 0, tzinfo=east), by="dev-a")

    assert change.instant == "2026-11-25T00:00:00.000Z"


def test_an_unknown_record_cannot_be_changed_nor_a_known_one_added() -> None:
    with pytest.raises(BadInput, match="is not in the record"):
        revision_for(Changed(table="reading", id=RECORD, values={}), None, CHANGE, place=0, n=1)
    with pytest.raises(BadInput, match="is in the record already"):
        revision_for(
            Added(table="reading", id=RECORD, values={}), stands(rev("a")), CHANGE, place=0, n=1
        )
