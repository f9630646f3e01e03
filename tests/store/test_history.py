"""Changes found in the revisions of a file, and what taking one back does to it."""

from collections.abc import Callable

import pytest

from castlenut.store.folder import Folder
from castlenut.store.history import PastChange, TakingBack, changes_of, latest, latest_undo
from castlenut.store.history import taking_back as taken
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change, Changed, Edit, Gone

Changes = Callable[..., Change]
HERE, THERE = "dev-1a2b3c", "dev-9f00"
READING = "01a20000-0000-7000-8000-0000000000b1"
VEHICLE_RECORD = "01a20000-0000-7000-8000-0000000000f1"


def reading(figure: int = 41200) -> Added:
    return Added(
        table="reading", id=READING, values={"figure": figure, "on": "2026-11-25", "unit": "mi"}
    )


def figure(value: int) -> Changed:
    return Changed(table="reading", id=READING, values={"figure": value})


class Shop:
    """One car's file, written to by two devices, one of which takes back what it wrote."""

    def __init__(self, folder: Folder, car: RecordFile, changes: Changes) -> None:
        self.folder = folder
        self.file = car
        self._changes = changes

    def save(self, *edits: Edit, by: str = HERE) -> str:
        change = self._changes(by=by)
        self.file = self.folder.save(self.file, edits, change).file
        return change.id

    def latest(self, by: str = HERE) -> PastChange | None:
        return latest(changes_of(self.file), by=by)

    def latest_undo(self, by: str = HERE) -> PastChange | None:
        return latest_undo(changes_of(self.file), by=by)

    def take_back(self, change: PastChange | None, by: str = HERE) -> TakingBack:
        assert change is not None
        taking = taken(self.file, change, changes_of(self.file))
        begun = self._changes(by=by)
        undo = Change(id=begun.id, at=begun.at, by=by, undoes=change.id)
        self.file = self.folder.save(self.file, taking.edits, undo).file
        return taking

    @property
    def differing(self) -> list[object]:
        record = self.file.record("reading", READING)
        assert record is not None
        return [each.value for each in record.differences.get("gone", ())]

    @property
    def figure(self) -> object:
        record = self.file.record("reading", READING)
        return None if record is None or record.gone else record.values["figure"]


def shop(folder: Folder, car: RecordFile, changes: Changes) -> Shop:
    return Shop(folder, car, changes)


def test_a_corrected_field_gets_the_value_it_had(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    here.save(figure(41300))

    here.take_back(here.latest())

    assert here.figure == 41200


def test_a_record_that_was_made_is_gone_and_comes_back_with_the_redo(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())

    here.take_back(here.latest())
    assert here.figure is None
    here.take_back(here.latest_undo())

    assert here.figure == 41200


def test_a_struck_record_is_restored_with_the_note_it_had(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    here.save(Gone(table="reading", id=READING, gone=True, values={"note": "wrong car"}))

    here.take_back(here.latest())

    record = here.file.record("reading", READING)
    assert record is not None
    assert not record.gone
    assert "note" not in record.values


def test_ten_changes_are_taken_back_one_by_one_and_brought_back(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading(41200))
    for more in range(1, 10):
        here.save(figure(41200 + more))

    back = [here.figure]
    for _ in range(9):
        here.take_back(here.latest())
        back.append(here.figure)
    forth = [here.figure]
    for _ in range(9):
        here.take_back(here.latest_undo())
        forth.append(here.figure)

    assert back == [41209 - each for each in range(10)]
    assert forth == [41200 + each for each in range(10)]
    assert here.latest_undo() is None


def test_what_was_brought_back_can_be_taken_back_again(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    here.save(figure(41300))
    here.take_back(here.latest())
    here.take_back(here.latest_undo())

    here.take_back(here.latest())

    assert here.figure == 41200


def test_no_redo_after_a_newer_change(folder: Folder, car: RecordFile, changes: Changes) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    here.save(figure(41300))
    here.take_back(here.latest())

    here.save(Changed(table="vehicle", id=VEHICLE_RECORD, values={"year": 1970}))

    assert here.latest_undo() is None


def test_a_field_another_set_since_is_left_and_named(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    here.save(Changed(table="reading", id=READING, values={"figure": 41300, "note": "mine"}))
    here.save(figure(41400), by=THERE)

    taking = here.take_back(here.latest())

    record = here.file.record("reading", READING)
    assert record is not None
    assert record.values["figure"] == 41400
    assert "note" not in record.values
    assert [(each.field, each.by) for each in taking.left] == [("figure", THERE)]


def test_a_made_record_another_changed_since_is_left_whole(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    """Its day and unit cannot be taken from under the other's figure."""
    here = shop(folder, car, changes)
    here.save(reading())
    here.save(figure(41400), by=THERE)

    taking = here.take_back(here.latest())

    assert here.figure == 41400
    assert taking.does_nothing
    assert [(each.field, each.by) for each in taking.left] == [("figure", THERE)]
    # the change counts as taken back all the same: the next undo takes the one before it
    before = here.latest()
    assert before is not None
    assert before.acts[0].record.table == "vehicle"


def test_what_another_set_and_took_back_itself_does_not_stand_in_the_way(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    here.save(figure(41300))
    here.save(figure(41400), by=THERE)
    here.take_back(here.latest(THERE), by=THERE)

    taking = here.take_back(here.latest())

    assert here.figure == 41200
    assert taking.left == ()


def test_only_the_own_changes_are_found(folder: Folder, car: RecordFile, changes: Changes) -> None:
    here = shop(folder, car, changes)
    own = here.save(reading())
    here.save(figure(41300), by=THERE)

    found = here.latest()

    assert found is not None
    assert found.id == own


def test_a_difference_that_was_settled_stands_again_with_the_same_value_used(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    began = here.file
    here.save(figure(41300))
    one = here.file
    here.file = began
    here.save(figure(41400), by=THERE)
    assert one is not here.file
    differing = here.file.record("reading", READING)
    assert differing is not None
    assert [each.value for each in differing.differences["figure"]] == [41400, 41300]
    here.save(figure(41300))
    assert not (here.file.record("reading", READING) or differing).differences

    here.take_back(here.latest())

    again = here.file.record("reading", READING)
    assert again is not None
    assert [each.value for each in again.differences["figure"]] == [41400, 41300]


@pytest.mark.parametrize("settles", [figure(41300), Gone(table="reading", id=READING, gone=True)])
def test_a_record_struck_here_and_changed_there_stands_so_again(
    folder: Folder, car: RecordFile, changes: Changes, settles: Edit
) -> None:
    here = shop(folder, car, changes)
    here.save(reading())
    began = here.file
    here.save(Gone(table="reading", id=READING, gone=True))
    here.file = began
    here.save(figure(41400), by=THERE)
    assert here.differing == [False, True]
    here.save(settles)
    assert here.differing == []

    here.take_back(here.latest())

    assert here.differing == [False, True]
    assert here.figure == 41400
    here.take_back(here.latest_undo())
    assert here.differing == []


def test_a_car_with_records_of_others_is_not_taken_from_under_them(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    here = shop(folder, car, changes)
    here.save(reading(), by=THERE)

    taking = here.take_back(here.latest())

    assert [(each.field, each.by) for each in taking.left] == [(None, THERE)]
    assert not here.file.is_taken_back
    record = here.file.record("vehicle", VEHICLE_RECORD)
    assert record is not None
    assert not record.gone


def test_the_feed_secret_is_no_change_to_take_back(folder: Folder, changes: Changes) -> None:
    file = folder.load_garage()
    assert isinstance(file, RecordFile)
    named = changes()
    file = folder.save(
        file, [Added(table="garage", id="garage", values={"name": "Quorrick Yard"})], named
    ).file
    secret = Changed(table="garage", id="garage", values={"feed_secret": "00ff"})
    file = folder.save(file, [secret], changes()).file

    found = latest(changes_of(file), by=HERE)
    assert found is not None
    assert found.id == named.id
    taking = taken(file, found, changes_of(file))
    file = folder.save(file, taking.edits, changes()).file

    (record,) = file.table("garage")
    assert record.values == {"feed_secret": "00ff"}


def test_two_changes_that_take_back_each_other_both_stand(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    """A file edited by hand may hold what no program writes; it is read all the same."""
    held = folder.save(car, [reading()], changes()).file
    text = held.place.path.read_text()
    one, two = (each.id for each in changes_of(held))
    text = text.replace(f'"rev":"{one}.0"', f'"rev":"{one}.0","undoes":"{two}"')
    text = text.replace(f'"rev":"{two}.0"', f'"rev":"{two}.0","undoes":"{one}"')
    held.place.path.write_text(text)

    found = folder.load(held.slug)

    assert isinstance(found, RecordFile)
    assert [each.stands for each in changes_of(found)] == [True, True]
