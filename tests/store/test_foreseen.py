"""A file as it would be: the same as if it were saved, and nothing is written."""

from castlenut.store.folder import Folder
from castlenut.store.foreseen import foreseen
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Changed
from castlenut.store.values import Value
from tests.store.conftest import Changes

READING = "01a20000-0000-7000-8000-000000abcdef"
VALUES: dict[str, Value] = {"figure": 100, "on": "2026-11-25", "unit": "mi"}


def test_edits_are_seen_one_after_the_other_and_the_disk_is_not_touched(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    before = folder.place(car.slug).path.read_bytes()

    once = foreseen(car, [Added(table="reading", id=READING, values=VALUES)], changes())
    twice = foreseen(
        once, [Changed(table="reading", id=READING, values={"figure": 120})], changes()
    )

    assert [each.values["figure"] for each in once.table("reading")] == [100]
    assert [each.values["figure"] for each in twice.table("reading")] == [120]
    assert car.table("reading") == ()
    assert folder.place(car.slug).path.read_bytes() == before


def test_what_is_foreseen_is_what_is_saved(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    edits = [Added(table="reading", id=READING, values=VALUES)]
    change = changes()

    expected = foreseen(car, edits, change)
    saved = folder.save(car, edits, change)

    assert saved.file.records(history=True) == expected.records(history=True)
