"""Which file holds which car, and what becomes of copies a sync program left beside it."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from castlenut.store.cars import proper_slugs
from castlenut.store.content import Content
from castlenut.store.copies import Copy, put_away
from castlenut.store.faults import FileFault
from castlenut.store.folder import Folder
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change

Changes = Callable[..., Change]
HABITS = (
    "tollgate-wagon (conflicted copy 2026-11-25).json",
    "tollgate-wagon.sync-conflict-20261125-131713-ABCDEF.json",
    "tollgate-wagon (2).json",
    "tollgate-wagon-BENCHTOP.json",
    "tollgate-wagon-laptop.json",
)
SMALL, GREAT = "01a20000-0000-7000-8000-00000000aaaa", "01a20000-0000-7000-8000-00000000dddd"


def reading(number: int, figure: int = 41200) -> Added:
    return Added(
        table="reading",
        id=f"01a20000-0000-7000-8000-0000000000b{number}",
        values={"figure": figure, "on": "2026-11-25", "unit": "mi"},
    )


def vehicle(slug: str, number: int) -> Added:
    return Added(
        table="vehicle",
        id=f"01a20000-0000-7000-8000-0000000000e{number}",
        values={"slug": slug, "description": slug, "unit": "mi", "digits": 5},
    )


def loaded(folder: Folder, slug: str = "tollgate-wagon") -> RecordFile:
    found = folder.load(slug)
    assert isinstance(found, RecordFile), found
    return found


def names(folder: Folder) -> list[str]:
    return sorted(each.name for each in folder.vehicles.iterdir())


def diverged(folder: Folder, car: RecordFile, changes: Changes, name: str) -> Path:
    """Save a reading on each of two machines, and lay the other's file beside ours."""
    before = car.place.path.read_bytes()
    folder.save(car, [reading(1), reading(2)], changes(by="dev-other"))
    theirs = car.place.path.read_bytes()
    car.place.path.write_bytes(before)
    folder.save(car, [reading(3)], changes())
    copy = folder.vehicles / name
    copy.write_bytes(theirs)
    return copy


@pytest.mark.parametrize("name", HABITS)
def test_a_copy_is_counted_in_told_and_united_by_the_next_save(
    folder: Folder, car: RecordFile, changes: Changes, name: str
) -> None:
    copy = diverged(folder, car, changes, name)
    theirs = copy.read_bytes()

    both = loaded(folder)
    assert folder.slugs() == ("tollgate-wagon",)
    assert len(both.table("reading")) == 3
    (told,) = both.faults
    assert str(told) == (
        "vehicles/tollgate-wagon.json:"
        f" {name} is a second copy of tollgate-wagon: 2 records from it are counted in;"
        " the next save unites them"
    )
    assert copy.read_bytes() == theirs

    saved = folder.save(both, [reading(4)], changes())

    assert len(saved.file.table("reading")) == 4
    assert names(folder) == ["tollgate-wagon.json"]
    (kept,) = (folder.room / "merged").iterdir()
    assert re.fullmatch(re.escape(name) + r"\.[0-9a-f]{8}", kept.name)
    assert kept.read_bytes() == theirs
    assert loaded(folder).faults == ()


def test_a_save_that_changes_nothing_leaves_the_copy(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    copy = diverged(folder, car, changes, HABITS[0])

    folder.save(loaded(folder), [], changes())

    assert copy.exists()


def test_a_copy_that_came_after_the_car_was_read_is_united_too(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    folder.save(car, [reading(1)], changes(by="dev-other"))
    theirs = car.place.path.read_bytes()
    held = loaded(folder)
    car.place.path.write_bytes(theirs.replace(b"41200", b"41200"))
    (folder.vehicles / HABITS[1]).write_bytes(theirs)

    saved = folder.save(held, [reading(2)], changes())

    assert len(saved.file.table("reading")) == 2
    assert names(folder) == ["tollgate-wagon.json"]


def test_a_damaged_copy_is_told_and_left(folder: Folder, car: RecordFile, changes: Changes) -> None:
    copy = diverged(folder, car, changes, HABITS[0])
    copy.write_bytes(copy.read_bytes()[:-40])

    both = loaded(folder)
    folder.save(both, [reading(4)], changes())

    assert [each.word.value for each in both.faults] == ["damaged"]
    assert both.faults[0].file == f"vehicles/{HABITS[0]}"
    assert copy.exists()


def test_a_damaged_file_beside_a_sound_copy_is_not_written_over(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    diverged(folder, car, changes, HABITS[0])
    whole = car.place.path.read_bytes()
    car.place.path.write_bytes(b"{}" + whole)

    found = folder.load("tollgate-wagon")

    assert isinstance(found, FileFault)
    assert found.word.value == "damaged"
    assert folder.slugs() == ("tollgate-wagon",)


def test_a_car_renamed_by_hand_is_read_where_it_is_and_written_under_its_name(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    car.place.path.rename(folder.vehicles / "rover.json")

    assert folder.slugs() == ("tollgate-wagon",)
    found = loaded(folder)
    assert [each.message for each in found.faults] == [
        "stands under another name, rover.json: the next save writes it as tollgate-wagon.json"
    ]
    saved = folder.save(found, [reading(1)], changes())

    assert saved.notices == ()
    assert names(folder) == ["tollgate-wagon.json"]


def test_of_two_cars_that_asked_for_one_name_the_smallest_id_has_it() -> None:
    found = proper_slugs({GREAT: "pim", SMALL: "pim", "01a20000-0000-7000-8000-0000000000ff": "x"})

    assert found[SMALL] == "pim"
    assert found[GREAT] == "pim-0000dddd"


def test_another_cars_file_makes_room_before_the_proper_one_is_written(
    folder: Folder, changes: Changes
) -> None:
    """Two machines took in a car of one name; the folders were synced, one file was renamed."""
    great = folder.save(folder.new_vehicle("pim", GREAT), [vehicle("pim", 1)], changes()).file
    aside = folder.vehicles / "x"
    great.place.path.rename(aside)
    small = folder.save(folder.new_vehicle("pim", SMALL), [vehicle("pim", 2)], changes()).file
    small.place.path.rename(folder.vehicles / "pim (conflicted copy).json")
    aside.rename(folder.vehicles / "pim.json")

    assert folder.slugs() == ("pim", "pim-0000dddd")
    found = loaded(folder, "pim")
    assert found.vehicle_id == SMALL
    assert loaded(folder, "pim-0000dddd").vehicle_id == GREAT
    folder.save(found, [reading(1)], changes())

    assert names(folder) == ["pim-0000dddd.json", "pim.json"]
    assert loaded(folder, "pim").table("reading")
    assert loaded(folder, "pim").faults == loaded(folder, "pim-0000dddd").faults == ()


def test_a_copy_of_the_garages_record_is_united_at_the_next_write(
    folder: Folder, changes: Changes
) -> None:
    garage = folder.load_garage()
    assert isinstance(garage, RecordFile)
    before = garage.place.path.read_bytes()
    named = Added(table="garage", id="garage", values={"name": "Quorrick Yard"})
    folder.save(garage, [named], changes(by="dev-other"))
    theirs = garage.place.path.read_bytes()
    garage.place.path.write_bytes(before)
    (folder.path / "garage (2).json").write_bytes(theirs.replace(b"aaaa", b"0001"))

    both = folder.load_garage()
    assert isinstance(both, RecordFile)
    assert both.table("garage")[0].values == {"name": "Quorrick Yard"}
    assert both.vehicle_id == "01a20000-0000-7000-8000-000000000001"
    rate = Added(table="garage", id="other", values={"currency": "EUR"})
    folder.save(both, [rate], changes())

    header = json.loads((folder.path / "garage.json").read_text())["castlenut"]
    assert header["garage"] == "01a20000-0000-7000-8000-000000000001"
    assert not (folder.path / "garage (2).json").exists()


def test_a_copy_that_changed_while_it_was_united_stays(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = diverged(folder, car, changes, HABITS[0])

    def late(copies: tuple[Copy, ...], room: Path, *, whole: Content) -> tuple[str, ...]:
        copy.write_bytes(copy.read_bytes() + b"\n")
        return put_away(copies, room, whole=whole)

    monkeypatch.setattr("castlenut.store.saving.put_away", late)
    folder.save(loaded(folder), [reading(4)], changes())

    assert copy.exists()
