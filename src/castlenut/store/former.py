"""Former copies of a file that the program keeps for itself: found and deleted."""

from pathlib import Path

from castlenut.store.cars import identity_of
from castlenut.store.content import Content, FileKind
from castlenut.store.decoding import decode
from castlenut.store.faults import not_saved
from castlenut.store.files import read_plain, sync_folder
from castlenut.store.folder import LEDGER, Folder
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change


def delete_former(folder: Folder, file: RecordFile, change: Change) -> int:
    """Delete the former copies of a file under `previous/` and `merged/`; give how many there were.

    Raises:
        NotSaved: the lock was not to be had, or a copy could not be deleted.
    """
    with folder.writing(change):
        former = [*_kept(folder, "previous", file), *_kept(folder, "merged", file)]
        for path in former:
            _delete(folder, path)
    return len(former)


def delete_former_ledger(folder: Folder, change: Change) -> None:
    """Delete the former copy of what the feed has published.

    Raises:
        NotSaved: the lock was not to be had, or it could not be deleted.
    """
    with folder.writing(change):
        former = folder.room / "previous" / LEDGER
        if former.exists():
            _delete(folder, former)


def _delete(folder: Folder, path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
        sync_folder(path.parent)
    except OSError as error:
        raise not_saved(path.relative_to(folder.path).as_posix(), error) from error


def keeps_damaged(folder: Folder, file: RecordFile) -> bool:
    """Tell whether damaged bytes of a file are kept."""
    return bool(_kept(folder, "damaged", file))


def _kept(folder: Folder, which: str, file: RecordFile) -> list[Path]:
    """Give the files kept under the name of a file, or under the id of a car."""
    try:
        found = sorted((folder.room / which).iterdir())
    except OSError:
        return []
    return [
        path
        for path in found
        if path.name.startswith(file.place.path.name)
        or identity_of(path) == file.vehicle_id
        or (file.place.kind is FileKind.GARAGE and _is_garage(path))
    ]


def _is_garage(path: Path) -> bool:
    """Tell whether a file is a copy of the garage's own record, whatever its name."""
    if not path.name.startswith(FileKind.GARAGE.value):
        return False
    data = read_plain(path)
    return isinstance(data, bytes) and isinstance(decode(data, FileKind.GARAGE), Content)
