"""One save, call by call: in which order it reaches the disk, and what stands when a call fails."""

import errno
import os
import signal
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tinydb import where
from tinydb.table import Document

from castlenut.store.encoding import encoded
from castlenut.store.faults import NotSaved
from castlenut.store.files import finished_before_stopping
from castlenut.store.folder import Folder
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change
from castlenut.store.storage import CrashSafeStorage, record_table

READING = "01a20000-0000-7000-8000-0000000000b1"
Changes = Callable[..., Change]


def reading(figure: int = 41200, record: str = READING) -> Added:
    return Added(
        table="reading", id=record, values={"figure": figure, "on": "2026-11-25", "unit": "mi"}
    )


class Calls:
    """Writes down the calls that reach the disk, with the name of what they act on."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.seen: list[tuple[str, str]] = []
        self._open: dict[object, str] = {}
        for name in ("open", "write", "fsync", "link", "replace"):
            monkeypatch.setattr(os, name, self._noting(name, getattr(os, name)))

    def _noting(self, name: str, call: Callable[..., object]) -> Callable[..., object]:
        def noted(first: object, *rest: object, **named: object) -> object:
            if name == "open":
                handle = call(first, *rest, **named)
                self._open[handle] = Path(str(first)).name
                return handle
            if name in {"write", "fsync"}:
                self.seen.append((name, self._open.get(first, "?")))
            else:
                self.seen.append((name, Path(str(rest[0])).name))
            return call(first, *rest, **named)

        return noted


def test_a_save_writes_syncs_replaces_and_syncs_the_folder_in_this_order(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    change = changes()
    calls = Calls(monkeypatch)

    folder.save(car, [reading()], change)

    temporary = f"tollgate-wagon-{change.id}"
    steps = [call for call in calls.seen if call[1] not in {"holder", "lock"}]
    assert steps == [
        ("write", temporary),
        ("fsync", temporary),
        ("link", f"{temporary}.previous"),
        ("replace", "tollgate-wagon.json"),
        ("replace", "tollgate-wagon.json"),
        ("fsync", "vehicles"),
    ]


FAILURES = [
    pytest.param(call, error, told, id=f"{call}-{errno.errorcode[error]}")
    for call in ("open", "write", "fsync", "link", "replace")
    for error, told in (
        (errno.ENOSPC, "not saved: the disk is full; the record is as it was"),
        (errno.EIO, "not saved: the disk reports an error; the record is as it was"),
        (errno.EACCES, "cannot be written here (read-only): nothing was saved"),
    )
]


def failing(
    monkeypatch: pytest.MonkeyPatch, call: str, error: BaseException, *, acts_on: str
) -> None:
    """Make a call fail where it acts on a path, or on a handle of a path, that holds a text."""
    opened: dict[object, str] = {}
    real_open: Callable[..., object] = os.open

    def noting_open(path: object, *rest: object, **named: object) -> object:
        name = str(path)
        if call == "open" and acts_on in name:
            raise error
        handle = real_open(path, *rest, **named)
        opened[handle] = name
        return handle

    real = getattr(os, call)

    def failing_call(first: object, *rest: object, **named: object) -> object:
        name = opened.get(first, "") if isinstance(first, int) else str(first)
        if acts_on in name:
            raise error
        return real(first, *rest, **named)

    monkeypatch.setattr(os, "open", noting_open)
    if call != "open":
        monkeypatch.setattr(os, call, failing_call)


@pytest.mark.parametrize(("call", "error", "told"), FAILURES)
def test_a_failing_call_leaves_the_old_file_whole_and_no_temporary_one(
    folder: Folder,
    car: RecordFile,
    changes: Changes,
    monkeypatch: pytest.MonkeyPatch,
    call: str,
    error: int,
    told: str,
) -> None:
    before = car.place.path.read_bytes()
    place = "vehicles" if call == "link" else "/tmp/tollgate-wagon"

    with monkeypatch.context() as broken:
        failing(broken, call, OSError(error, os.strerror(error)), acts_on=place)
        with pytest.raises(NotSaved) as failed:
            folder.save(car, [reading()], changes())

    assert str(failed.value) == f"vehicles/tollgate-wagon.json: {told}"
    assert car.place.path.read_bytes() == before
    assert list((folder.room / "tmp").iterdir()) == []
    assert folder.save(car, [reading()], changes()).change is not None


@pytest.mark.parametrize("call", ["write", "fsync", "link", "replace"])
def test_an_interrupt_out_of_a_call_leaves_the_old_file_whole(
    folder: Folder,
    car: RecordFile,
    changes: Changes,
    monkeypatch: pytest.MonkeyPatch,
    call: str,
) -> None:
    before = car.place.path.read_bytes()
    place = "vehicles" if call == "link" else "/tmp/tollgate-wagon"

    with monkeypatch.context() as broken:
        failing(broken, call, KeyboardInterrupt(), acts_on=place)
        with pytest.raises(KeyboardInterrupt):
            folder.save(car, [reading()], changes())

    assert car.place.path.read_bytes() == before
    assert list((folder.room / "tmp").iterdir()) == []


def test_a_folder_that_cannot_be_synced_is_told_and_the_new_file_stands_whole(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as broken:
        failing(broken, "fsync", OSError(errno.EIO, "x"), acts_on="garage/vehicles")
        with pytest.raises(NotSaved, match="the disk reports an error"):
            folder.save(car, [reading()], changes())

    found = folder.load("tollgate-wagon")
    assert isinstance(found, RecordFile)
    assert [each.id for each in found.table("reading")] == [READING]


def test_a_folder_that_knows_no_sync_is_no_failure(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    failing(monkeypatch, "fsync", OSError(errno.EINVAL, "x"), acts_on="garage/vehicles")

    assert folder.save(car, [reading()], changes()).change is not None


def test_a_short_write_goes_on_where_it_stopped(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, bytes(data)[:7]))

    saved = folder.save(car, [reading()], changes())

    whole, _ = encoded(saved.file.state.content, {})
    assert car.place.path.read_bytes() == whole


def test_a_short_write_and_then_a_full_disk_leave_the_old_file_whole(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = car.place.path.read_bytes()
    real = os.write
    count = 0

    def filling(handle: int, data: bytes) -> int:
        nonlocal count
        count += 1
        if count > 3:
            raise OSError(errno.ENOSPC, "x")
        return real(handle, bytes(data)[:7])

    with monkeypatch.context() as broken:
        broken.setattr(os, "write", filling)
        with pytest.raises(NotSaved, match="the disk is full"):
            folder.save(car, [reading()], changes())

    assert car.place.path.read_bytes() == before


@pytest.mark.parametrize("error", [errno.EPERM, errno.EXDEV, errno.EOPNOTSUPP])
def test_where_links_are_refused_the_former_file_is_copied(
    folder: Folder,
    car: RecordFile,
    changes: Changes,
    monkeypatch: pytest.MonkeyPatch,
    error: int,
) -> None:
    before = car.place.path.read_bytes()
    failing(monkeypatch, "link", OSError(error, "x"), acts_on="vehicles")

    folder.save(car, [reading()], changes())

    assert car.place.previous.read_bytes() == before


def test_the_former_file_is_kept_and_both_are_for_the_owner_alone(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    before = car.place.path.read_bytes()
    mask = os.umask(0)
    try:
        folder.save(car, [reading()], changes())
    finally:
        os.umask(mask)

    assert car.place.previous.read_bytes() == before
    modes = {path.stat().st_mode & 0o777 for path in (car.place.path, car.place.previous)}
    assert modes == {0o600}
    assert folder.room.stat().st_mode & 0o777 == 0o700


def test_a_former_file_of_the_same_bytes_on_disk_leaves_no_second_name(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    """A stop between the link and the replace: the former file is the present one already."""
    saved = folder.save(car, [reading()], changes())
    car.place.previous.unlink()
    os.link(car.place.path, car.place.previous)

    folder.save(saved.file, [reading(41300, VEHICLE_LATER)], changes())

    assert list((folder.room / "tmp").iterdir()) == []


VEHICLE_LATER = "01a20000-0000-7000-8000-0000000000b2"


@pytest.fixture
def _as_from_a_terminal() -> Iterator[None]:
    """Give SIGINT its usual meaning, which the background job of a shell lacks."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("_as_from_a_terminal")
def test_a_signal_in_the_middle_of_a_save_acts_after_it(
    folder: Folder, car: RecordFile, changes: Changes, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.fsync

    def interrupted(handle: int) -> None:
        signal.raise_signal(signal.SIGINT)
        real(handle)

    monkeypatch.setattr(os, "fsync", interrupted)

    with pytest.raises(KeyboardInterrupt):
        folder.save(car, [reading()], changes())

    found = folder.load("tollgate-wagon")
    assert isinstance(found, RecordFile)
    assert [each.id for each in found.table("reading")] == [READING]


@pytest.mark.usefixtures("_as_from_a_terminal")
def test_a_signal_that_was_ignored_stays_ignored_and_other_threads_change_nothing() -> None:
    before = signal.signal(signal.SIGTERM, signal.SIG_IGN)
    seen: list[bool] = []

    def elsewhere() -> None:
        with finished_before_stopping():
            seen.append(signal.getsignal(signal.SIGINT) is signal.default_int_handler)

    try:
        with finished_before_stopping():
            assert signal.getsignal(signal.SIGTERM) is signal.SIG_IGN
        thread = threading.Thread(target=elsewhere)
        thread.start()
        thread.join()
    finally:
        signal.signal(signal.SIGTERM, before)

    assert seen == [True]


def test_tinydb_finds_the_records_by_their_text_ids(car: RecordFile) -> None:
    table = record_table(CrashSafeStorage(car.place), "vehicle")

    found = table.search(where("revs").any(where("by") == "dev-1a2b3c"))

    ids = [str(document.doc_id) for document in found]
    assert ids == ["01a20000-0000-7000-8000-0000000000f1"]


def test_tinydb_may_write_alone_and_the_file_is_canonical(folder: Folder, car: RecordFile) -> None:
    revision = {
        "after": [],
        "at": "2026-11-25T13:17:13.123Z",
        "by": "dev-a",
        "n": 1,
        "rev": "c1.0",
        "set": {"figure": 41200, "on": "2026-11-25", "unit": "mi"},
    }
    table = record_table(CrashSafeStorage(car.place), "reading")

    table.insert(Document({"revs": [revision]}, doc_id=READING))  # type: ignore[arg-type]

    found = folder.load("tollgate-wagon")
    assert isinstance(found, RecordFile)
    assert found.table("reading")[0].values["figure"] == 41200


def test_a_search_repeated_after_an_outside_change_is_not_answered_from_before(
    folder: Folder, car: RecordFile, changes: Changes
) -> None:
    wanted = where("revs").exists()
    first = len(record_table(CrashSafeStorage(car.place), "reading").search(wanted))

    folder.save(car, [reading()], changes())

    second = len(record_table(CrashSafeStorage(car.place), "reading").search(wanted))
    assert (first, second) == (0, 1)
