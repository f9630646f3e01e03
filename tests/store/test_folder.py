"""The garage's folder: what makes one, which cars it has, what a save does with others' work."""

import os
import re
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from castlenut.domain.errors import BadInput
from castlenut.store.beside import keep_damaged, rules_text
from castlenut.store.content import Content
from castlenut.store.encoding import encoded
from castlenut.store.faults import (
    FaultWord,
    FileFault,
    FileRefused,
    FolderRefused,
    NotSaved,
)
from castlenut.store.files import MOST_BYTES
from castlenut.store.folder import Folder, open_folder
from castlenut.store.founding import make_garage
from castlenut.store.lock import held_lock
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change, Changed, Gone

Changes = Callable[..., Change]
VEHICLE_RECORD = "01a20000-0000-7000-8000-0000000000f1"
READING = "01a20000-0000-7000-8000-0000000000b1"
OTHER = "01a20000-0000-7000-8000-0000000000b2"
CAR = "vehicles/tollgate-wagon.json"


def reading(figure: int = 41200, record: str = READING) -> Added:
    return Added(
        table="reading", id=record, values={"figure": figure, "on": "2026-11-25", "unit": "mi"}
    )


def loaded(folder: Folder, slug: str = "tollgate-wagon") -> RecordFile:
    found = folder.load(slug)
    assert isinstance(found, RecordFile)
    return found


def fault(folder: Folder, slug: str = "tollgate-wagon") -> FileFault:
    found = folder.load(slug)
    assert isinstance(found, FileFault)
    return found


def test_a_new_garage_is_for_its_owner_alone_and_canonical(folder: Folder) -> None:
    text = (folder.path / "garage.json").read_text()

    assert text == (
        '{\n"castlenut": {"file":"garage","garage":"01a20000-0000-7000-8000-00000000aaaa",'
        '"schema":1}\n}\n'
    )
    assert stat.S_IMODE(folder.path.stat().st_mode) == 0o700
    assert stat.S_IMODE(folder.vehicles.stat().st_mode) == 0o700
    assert not folder.is_open_to_others()


def test_a_cars_file_has_one_record_a_line(car: RecordFile) -> None:
    assert car.place.path.read_text() == (
        "{\n"
        '"castlenut": {"file":"vehicle","schema":1,'
        '"vehicle":"01a20000-0000-7000-8000-00000000cccc"},\n'
        '"vehicle": {\n'
        '"01a20000-0000-7000-8000-0000000000f1": {"revs":[{"after":[],'
        '"at":"2026-11-25T12:00:02.000Z","by":"dev-1a2b3c","n":1,'
        '"rev":"01a20000-0000-7000-8000-000000000002.0","set":{"description":"Tollgate wagon",'
        '"digits":5,"slug":"tollgate-wagon","tenths":false,"unit":"mi"}}]}\n'
        "}\n"
        "}\n"
    )


def test_where_there_is_no_garage_it_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(FolderRefused) as refused:
        open_folder(tmp_path)

    assert str(refused.value) == (
        f'no garage at {tmp_path}: make one with "castlenut --garage {tmp_path} add SLUG"'
    )


def test_a_folder_with_other_things_is_made_no_garage(tmp_path: Path, changes: Changes) -> None:
    (tmp_path / "letters.txt").write_text("x")

    with pytest.raises(FolderRefused) as refused:
        make_garage(tmp_path, identity="01a20000-0000", change=changes())

    assert str(refused.value) == (
        f"{tmp_path} is not a garage and not empty: choose an empty folder"
    )
    assert [each.name for each in tmp_path.iterdir()] == ["letters.txt"]


def test_a_garage_of_which_the_making_was_broken_off_is_made_whole(
    tmp_path: Path, changes: Changes
) -> None:
    (tmp_path / ".castlenut").mkdir()
    (tmp_path / "vehicles").mkdir()

    folder = make_garage(tmp_path, identity="01a20000-0000", change=changes())

    assert folder.slugs() == ()


def test_making_a_garage_where_one_is_opens_it(folder: Folder, changes: Changes) -> None:
    before = (folder.path / "garage.json").read_bytes()

    make_garage(folder.path, identity="01a20000-ffff", change=changes())

    assert (folder.path / "garage.json").read_bytes() == before


def test_missing_folders_above_are_made(tmp_path: Path, changes: Changes) -> None:
    make_garage(tmp_path / "a" / "b", identity="01a20000-0000", change=changes())

    assert (tmp_path / "a" / "b" / "garage.json").exists()


def test_a_newer_garage_is_refused_whole(folder: Folder) -> None:
    _replace_in(folder.path / "garage.json", '"schema":1', '"schema":3')

    with pytest.raises(FileRefused) as refused:
        open_folder(folder.path)

    assert str(refused.value) == (
        "garage.json: was written by a newer Castlenut (format 3, this one knows 1):"
        " update this one"
    )


def test_a_damaged_garage_record_leaves_the_cars_answered(folder: Folder, car: RecordFile) -> None:
    (folder.path / "garage.json").write_text("{")

    opened = open_folder(folder.path)
    garage = opened.load_garage()

    assert isinstance(garage, FileFault)
    assert str(garage) == (
        'garage.json: damaged: default settings are used until "castlenut check --repair garage"'
    )
    assert loaded(opened).vehicle_id == car.vehicle_id


def test_vehicles_that_is_no_folder_is_told(folder: Folder) -> None:
    folder.vehicles.rmdir()
    folder.vehicles.write_text("x")

    with pytest.raises(FileRefused, match="vehicles is not a folder: move it away"):
        open_folder(folder.path)


def test_the_garage_itself_may_be_a_link(folder: Folder, tmp_path: Path, car: RecordFile) -> None:
    link = tmp_path / "link"
    link.symlink_to(folder.path)

    assert open_folder(link).slugs() == (car.slug,)


def test_dot_files_and_other_endings_are_no_cars(folder: Folder, car: RecordFile) -> None:
    for name in (".hidden.json", "notes.txt", "tollgate-wagon (2).json"):
        (folder.vehicles / name).write_text("{")

    assert folder.slugs() == (car.slug,)
    assert folder.file_names() == ("tollgate-wagon (2).json", "tollgate-wagon.json")


def test_a_damaged_car_costs_that_car_only_and_tells_what_is_left(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    one = folder.save(car, [reading()], changes())
    two = folder.save(one.file, [reading(41300, OTHER)], changes())
    data = two.file.place.path.read_bytes()
    two.file.place.path.write_bytes(data[:-30])
    os.utime(two.file.place.previous, (1_795_521_600, 1_795_521_600))  # 24 Nov 2026, 12:00 UTC

    found = fault(folder)

    assert found.word is FaultWord.DAMAGED
    assert found.line == 8
    assert str(found) == (
        f"{CAR}: damaged at line 8: 2 records can be read here, 2 in the copy of 24 Nov:"
        ' run "castlenut check --repair tollgate-wagon"'
    )


def test_a_damaged_car_is_left_byte_for_byte_and_not_written_over(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    car.place.path.write_text("{")

    with pytest.raises(FileRefused):
        folder.save(car, [reading()], changes())

    assert car.place.path.read_text() == "{"


def test_a_newer_car_is_neither_read_nor_written(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    _replace_in(car.place.path, '"schema":1', '"schema":2')
    before = car.place.path.read_bytes()

    with pytest.raises(FileRefused) as refused:
        folder.save(car, [reading()], changes())

    assert refused.value.fault.word is FaultWord.NEWER
    assert car.place.path.read_bytes() == before


def test_a_link_is_not_read_nor_written_through(
    folder: Folder, car: RecordFile, changes: Changes, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "elsewhere.json"
    car.place.path.rename(elsewhere)
    car.place.path.symlink_to(elsewhere)
    before = elsewhere.read_bytes()

    with pytest.raises(FileRefused):
        folder.save(car, [reading()], changes())

    assert str(fault(folder)) == f"{CAR}: is a link, not a file: put the file itself there"
    assert elsewhere.read_bytes() == before


def test_a_pipe_does_not_hang_and_a_folder_is_no_file(folder: Folder) -> None:
    os.mkfifo(folder.vehicles / "pipe.json")
    (folder.vehicles / "folder.json").mkdir()

    assert fault(folder, "pipe").word is FaultWord.NOT_A_FILE
    assert str(fault(folder, "folder")) == (
        "vehicles/folder.json: is a folder, not a file: put the file itself there"
    )


def test_a_file_over_64_mib_is_not_read(folder: Folder) -> None:
    big = folder.vehicles / "big.json"
    big.touch()
    os.truncate(big, MOST_BYTES + 1)

    assert str(fault(folder, "big")) == "vehicles/big.json: is larger than 64 MiB: not read"


def test_a_file_this_user_may_not_read_is_told(
    folder: Folder, car: RecordFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refusing(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refusing)

    assert str(fault(folder)) == f"{CAR}: may not be read by this user: check its permissions"
    assert car.slug == "tollgate-wagon"


def test_a_car_that_left_the_folder_is_told(folder: Folder, car: RecordFile) -> None:
    car.place.path.unlink()

    assert fault(folder).word is FaultWord.GONE


def test_a_record_set_aside_is_told_and_kept_at_the_next_write(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    folder.save(car, [reading()], changes())
    _replace_in(car.place.path, '"figure":41200', '"figure":"abc"')
    held = loaded(folder)

    folder.save(held, [reading(41300, OTHER)], changes())

    after = loaded(folder)
    assert [str(each) for each in held.faults] == [
        f'{CAR}: record 000000b1 (reading) is set aside: figure is "abc", a number is needed'
    ]
    assert '"figure":"abc"' in after.place.path.read_text()
    assert [each.id for each in after.set_aside] == [READING]
    assert [each.id for each in after.table("reading")] == [OTHER]


def test_a_record_set_aside_is_not_changed(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    folder.save(car, [reading()], changes())
    _replace_in(car.place.path, '"figure":41200', '"figure":"abc"')
    edit = Changed(table="reading", id=READING, values={"figure": 1})

    with pytest.raises(BadInput, match="is set aside"):
        folder.save(loaded(folder), [edit], changes())


def test_a_record_that_stood_twice_is_told(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    folder.save(car, [reading()], changes())
    line = next(row for row in car.place.path.read_text().splitlines() if READING in row)
    _replace_in(car.place.path, line, f"{line},\n{line}")

    assert [str(each) for each in loaded(folder).faults] == [
        f"{CAR}: record 000000b1 stood twice: united"
    ]


def test_control_characters_on_disk_are_kept_and_told(folder: Folder, car: RecordFile) -> None:
    _replace_in(car.place.path, "Tollgate wagon", "Tollgate\\u001b[31m wagon")

    found = loaded(folder)

    assert found.faults == ()
    assert [str(each) for each in found.odd_characters()] == [
        f"{CAR}: record 000000f1: description holds control characters"
    ]


def test_nothing_changed_writes_nothing(folder: Folder, car: RecordFile, changes: Changes) -> None:
    before = car.place.path.stat()
    edit = Changed(table="vehicle", id=VEHICLE_RECORD, values={"digits": 5, "owner": None})

    saved = folder.save(car, [edit], changes())

    after = car.place.path.stat()
    assert saved.change is None
    assert saved.records == ()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_a_change_counts_on_from_the_highest_in_the_file(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    change = changes()

    saved = folder.save(car, [reading(), reading(41300, OTHER)], change)

    written = [each.revisions[0] for each in saved.file.table("reading")]
    assert [(each["n"], each["rev"]) for each in written] == [
        (2, f"{change.id}.0"),
        (2, f"{change.id}.1"),
    ]
    assert saved.records == (("reading", READING), ("reading", OTHER))


def test_what_another_wrote_meanwhile_is_kept(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    folder.save(car, [reading()], changes(by="dev-other"))

    saved = folder.save(car, [reading(41300, OTHER)], changes())

    assert [each.id for each in saved.file.table("reading")] == [READING, OTHER]
    assert [each.id for each in loaded(folder).table("reading")] == [READING, OTHER]


def test_a_field_another_set_meanwhile_becomes_a_difference(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    theirs = Changed(table="vehicle", id=VEHICLE_RECORD, values={"digits": 6})
    ours = Changed(table="vehicle", id=VEHICLE_RECORD, values={"digits": 7, "owner": "Ysolde Tarn"})
    folder.save(car, [theirs], changes(by="dev-other"))

    saved = folder.save(car, [ours], changes())

    vehicle = saved.file.table("vehicle")[0]
    assert vehicle.values["digits"] == 7
    assert [each.value for each in vehicle.differences["digits"]] == [7, 6]
    assert "owner" not in vehicle.differences


def test_a_record_struck_meanwhile_comes_back_with_the_change(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    held = folder.save(car, [reading()], changes()).file
    folder.save(held, [Gone(table="reading", id=READING, gone=True)], changes(by="dev-other"))

    ours = Changed(table="reading", id=READING, values={"figure": 41201})
    saved = folder.save(held, [ours], changes())

    found = saved.file.table("reading")[0]
    assert found.values["figure"] == 41201
    assert list(found.differences) == ["gone"]


def test_a_file_that_vanished_is_made_anew_from_memory(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    car.place.path.unlink()

    saved = folder.save(car, [reading()], changes())

    assert saved.notices == (f"{CAR}: is gone from the folder; still shown from memory",)
    assert len(loaded(folder).records()) == 2


def test_a_second_car_of_one_name_is_refused(folder: Folder, changes: Changes) -> None:
    one = folder.new_vehicle("brindle", "01a20000-0000-7000-8000-0000000000c1")
    two = folder.new_vehicle("brindle", "01a20000-0000-7000-8000-0000000000c2")
    vehicle = Added(
        table="vehicle",
        id=VEHICLE_RECORD,
        values={"slug": "brindle", "description": "x", "unit": "mi", "digits": 5},
    )
    folder.save(one, [vehicle], changes())

    with pytest.raises(BadInput, match="another car"):
        folder.save(two, [vehicle], changes())
    with pytest.raises(BadInput, match="in the garage already"):
        folder.new_vehicle("brindle", "01a20000-0000-7000-8000-0000000000c3")


def test_bad_values_are_told_all_at_once_and_nothing_is_written(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    before = car.place.path.read_bytes()
    bad = Added(table="reading", id=READING, values={"figure": "x", "unit": "mi"})
    cleared = Changed(table="vehicle", id=VEHICLE_RECORD, values={"description": None})

    with pytest.raises(BadInput) as refused:
        folder.save(car, [bad], changes())
    with pytest.raises(BadInput, match="description is missing"):
        folder.save(car, [cleared], changes())

    assert [each.what for each in refused.value.faults] == [
        'figure is "x", a number is needed',
        "on is missing",
    ]
    assert car.place.path.read_bytes() == before


def test_a_change_over_two_files_names_what_was_saved_before_one_failed(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    garage = folder.load_garage()
    assert isinstance(garage, RecordFile)
    name = Added(table="garage", id="garage", values={"name": "Quillet Yard (invented)"})
    real = os.replace

    def failing(source: object, target: object) -> None:
        if str(target).endswith("vehicles/tollgate-wagon.json"):
            raise OSError(28, "No space left on device")
        real(str(source), str(target))

    monkeypatch.setattr(os, "replace", failing)

    with pytest.raises(NotSaved) as failed:
        folder.save_all([(garage, [name]), (car, [reading()])], changes())

    assert failed.value.saved == ("garage.json",)
    assert loaded(folder).table("reading") == ()


def test_the_places_in_a_change_go_on_over_its_files(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    garage = folder.load_garage()
    assert isinstance(garage, RecordFile)
    name = Added(table="garage", id="garage", values={"name": "Quillet Yard (invented)"})
    change = changes()

    one, two = folder.save_all([(garage, [name]), (car, [reading()])], change)

    assert one.file.records()[0].revisions[0]["rev"] == f"{change.id}.0"
    assert two.file.table("reading")[0].revisions[0]["rev"] == f"{change.id}.1"


def test_records_are_named_by_id_by_its_end_or_as_the_vehicle(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    held = folder.save(car, [reading(), reading(41300, OTHER)], changes()).file

    assert held.named(READING).id == READING
    assert held.named("000000B2").id == OTHER
    assert held.named("vehicle").id == VEHICLE_RECORD
    with pytest.raises(BadInput, match="no record of tollgate-wagon"):
        held.named("12345678")


def test_an_end_that_two_records_share_is_refused_with_the_candidates(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    twin = READING.replace("7000", "7001")
    held = folder.save(car, [reading(), reading(41300, twin)], changes()).file

    with pytest.raises(BadInput) as refused:
        held.named("000000b1")

    assert READING in refused.value.faults[0].remedy
    assert twin in refused.value.faults[0].remedy


def test_struck_records_show_in_the_history_alone(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    held = folder.save(car, [reading()], changes()).file

    held = folder.save(held, [Gone(table="reading", id=READING, gone=True)], changes()).file

    assert [each.table for each in held.records()] == ["vehicle"]
    assert [each.id for each in held.records(history=True)] == [READING, VEHICLE_RECORD]


def test_lines_kept_from_the_last_save_are_the_canonical_ones(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    held = car
    for count in range(5):
        held = folder.save(held, [reading(41200 + count, f"{READING[:-1]}{count}")], changes()).file

    again = loaded(folder)

    assert isinstance(again.state.content, Content)
    assert encoded(again.state.content, {})[0] == car.place.path.read_bytes()


def test_a_held_lock_is_waited_for_and_then_told_with_its_holder(
    folder: Folder, changes: Changes
) -> None:
    holder = changes(doing="import")

    with held_lock(folder.room, holder), pytest.raises(NotSaved) as refused:  # noqa: SIM117
        with held_lock(folder.room, changes(), patience_s=0.05):
            raise AssertionError("two at once")

    assert re.fullmatch(
        rf"another Castlenut \(pid {os.getpid()}, import, since \d\d:\d\d\) is writing: try again",
        refused.value.message,
    )


def test_a_lock_no_file_system_offers_is_done_without_and_told(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    import fcntl

    def refusing(*_: object) -> None:
        raise OSError(38, "Function not implemented")

    monkeypatch.setattr(fcntl, "flock", refusing)

    saved = folder.save(car, [reading()], changes())

    assert saved.change is not None
    assert len(saved.notices) == 1
    assert saved.notices[0].startswith("this file system offers no lock")


def test_a_folder_that_cannot_be_written_is_told_as_read_only(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def refusing(path: object, flags: int, mode: int = 0o777, **named: int) -> int:
        if flags & os.O_CREAT:
            raise OSError(30, "Read-only file system")
        return real(str(path), flags, mode, **named)

    monkeypatch.setattr(os, "open", refusing)

    with pytest.raises(NotSaved, match=r"cannot be written here \(read-only\): nothing was saved"):
        folder.save(car, [reading()], changes())


def test_temporary_files_of_a_killed_save_go_after_a_day(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    held = folder.save(car, [reading()], changes()).file
    old, young = folder.room / "tmp" / "old", folder.room / "tmp" / "young"
    noon = changes().at.timestamp()
    for path, hours in ((old, 25), (young, 23)):
        path.write_text("x")
        os.utime(path, (noon - hours * 3600, noon - hours * 3600))

    folder.save(held, [reading(41300, OTHER)], changes())

    assert [each.name for each in (folder.room / "tmp").iterdir()] == ["young"]


def test_the_own_rules_are_given_as_text_and_bad_text_is_told(folder: Folder) -> None:
    rules = folder.path / "rules.toml"
    none = rules_text(folder)
    rules.write_bytes(b"\xef\xbb\xbf# one\n")
    text = rules_text(folder)
    rules.write_bytes(b"# one\n# two\n# \xff\n")
    bad = rules_text(folder)

    assert (none, text) == (None, "# one\n")
    assert str(bad) == (
        "rules.toml: line 3: not UTF-8 text; the shipped rules are used alone until this is mended"
    )


def test_the_ledger_is_remade_under_the_lock_and_equal_bytes_touch_nothing(
    folder: Folder, changes: Changes
) -> None:
    seen: list[bytes | None] = []

    def remade(there: bytes | None) -> bytes:
        seen.append(there)
        return b"{}\n"

    folder.rewrite_ledger(remade, changes())
    first = (folder.path / "feed.json").stat().st_ino
    folder.rewrite_ledger(remade, changes())

    assert seen == [None, b"{}\n"]
    assert (folder.path / "feed.json").stat().st_ino == first
    assert folder.read_ledger() == b"{}\n"


def test_a_damaged_file_is_kept_under_the_first_digits_of_its_digest(folder: Folder) -> None:
    kept = keep_damaged(folder, "feed.json", b"abc")
    again = keep_damaged(folder, "feed.json", b"abc")

    # SHA-256 of "abc" begins ba7816bf (FIPS 180-2, appendix B.1).
    assert kept.name == "feed.json.ba7816bf"
    assert again == kept
    assert kept.read_bytes() == b"abc"


def test_stamps_change_with_the_files(folder: Folder, car: RecordFile, changes: Changes) -> None:
    before = folder.stamps()

    folder.save(car, [reading()], changes())

    after = folder.stamps()
    assert sorted(after) == ["garage.json", CAR]
    assert [name for name in after if after[name] != before[name]] == [CAR]


def test_reading_writes_nothing_in_the_garage(folder: Folder, car: RecordFile) -> None:
    before = sorted((path, path.stat().st_mtime_ns) for path in folder.path.rglob("*"))

    opened = open_folder(folder.path)
    for slug in opened.slugs():
        loaded(opened, slug).records(history=True)
    opened.load_garage()
    opened.stamps()

    assert sorted((path, path.stat().st_mtime_ns) for path in folder.path.rglob("*")) == before
    assert car.is_saved


WRITER = """
import sys
from datetime import datetime, timezone
from pathlib import Path
from castlenut.store.folder import open_folder
from castlenut.store.revisions import Added, Change

who = sys.argv[2]
folder = open_folder(Path(sys.argv[1]))
for count in range(50):
    held = folder.load("tollgate-wagon")
    name = f"01a20000-0000-7000-8000-{who}{count:011x}"
    change = Change(id=name, at=datetime.now(timezone.utc), by=f"dev-{who}", doing="reading")
    values = {"figure": count, "on": "2026-11-25", "unit": "mi"}
    folder.save(held, [Added(table="reading", id=name, values=values)], change)
"""


def test_two_processes_writing_to_one_car_lose_nothing(folder: Folder, car: RecordFile) -> None:
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(folder.path), who]) for who in "ab"
    ]
    faults = 0
    while any(writer.poll() is None for writer in writers):
        faults += isinstance(folder.load(car.slug), FileFault)

    assert [writer.wait() for writer in writers] == [0, 0]
    found = loaded(folder).table("reading")
    assert len(found) == 100
    assert faults == 0
    assert all(not each.differences for each in found)


def test_reading_loads_neither_lock_nor_ids_nor_platform_folders(folder: Folder) -> None:
    code = (
        "import sys; from pathlib import Path; from castlenut.store.folder import open_folder;"
        "folder = open_folder(Path(sys.argv[1])); [folder.load(s) for s in folder.slugs()];"
        "print([m for m in ('filelock', 'uuid6', 'platformdirs', 'tempfile', 'difflib')"
        " if m in sys.modules])"
    )

    done = subprocess.run(
        [sys.executable, "-c", code, str(folder.path)], capture_output=True, text=True, check=True
    )

    assert done.stdout == "[]\n"


def _replace_in(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))
