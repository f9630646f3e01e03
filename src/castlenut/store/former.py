"""Former copies of a car's file that the program keeps for itself: found and deleted."""

from pathlib import Path

from castlenut.store.cars import identity_of
from castlenut.store.faults import not_saved
from castlenut.store.files import sync_folder
from castlenut.store.folder import Folder
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change


def delete_former(folder: Folder, file: RecordFile, change: Change) -> int:
    """Delete the former copies of a car under `previous/` and `merged/`; give how many there were.

    Raises:
        NotSaved: the lock was not to be had, or a copy could not be deleted.
    """
    with folder.writing(change):
        former = [*_kept(folder, "previous", file), *_kept(folder, "merged", file)]
        for path in former:
            try:
                path.unlink(missing_ok=True)
                sync_folder(path.parent)
            except OSError as error:
                raise not_saved(path.relative_to(folder.path).as_posix(), error) from error
    return len(former)


def keeps_damaged(folder: Folder, file: RecordFile) -> bool:
    """Tell whether damaged bytes of a car are kept."""
    return bool(_kept(folder, "damaged", file))


def _kept(folder: Folder, which: str, file: RecordFile) -> list[Path]:
    """Give the files kept under the name or the id of a car."""
    try:
        found = sorted((folder.room / which).iterdir())
    except OSError:
        return []
    return [
        path
        for path in found
        if path.name.startswith(file.place.path.name) or identity_of(path) == file.vehicle_id
    ]
