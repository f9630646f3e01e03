"""A garage made where there is none yet."""

import os
from pathlib import Path

from castlenut.store.content import FileKind, new_content
from castlenut.store.encoding import encoded
from castlenut.store.faults import FolderRefused, not_saved
from castlenut.store.files import make_folder, sync_folder
from castlenut.store.folder import GARAGE, ROOM, VEHICLES, Folder, open_folder
from castlenut.store.revisions import Change
from castlenut.store.storage import save_bytes


def make_garage(path: Path, *, identity: str, change: Change) -> Folder:
    """Open the garage at a path, and make it first where there is none.

    Raises:
        FolderRefused: the folder holds other things.
        FileRefused: the garage there cannot be used.
        NotSaved: it could not be made.
    """
    if os.path.lexists(path / GARAGE):
        return open_folder(path)
    if os.path.lexists(path) and (not path.is_dir() or _holds_other_things(path)):
        raise FolderRefused(
            f"{path} is not a garage and not empty: choose an empty folder",
            folder=str(path),
            remedy="choose an empty folder",
        )
    folder = Folder(path=path)
    try:
        _make_folders(path)
    except OSError as error:
        raise not_saved("garage", error) from error
    data, _ = encoded(new_content(FileKind.GARAGE, identity), {})
    with folder.writing(change):
        try:
            make_folder(folder.vehicles)
        except OSError as error:
            raise not_saved(VEHICLES, error) from error
        # Another program may have made it while this one waited for the lock.
        if not os.path.lexists(path / GARAGE):
            save_bytes(
                path / GARAGE,
                data,
                room=folder.room,
                name=GARAGE,
                change=change.id,
                keep=False,
            )
    return open_folder(path)


def _make_folders(path: Path) -> None:
    """Make a folder and those above it that are missing, each on the disk before the next."""
    missing = [each for each in (path, *path.parents) if not each.exists()]
    for each in reversed(missing):
        make_folder(each)
        sync_folder(each.parent)


def _holds_other_things(path: Path) -> bool:
    """Tell whether a folder holds more than a garage of which the making was broken off."""
    for entry in path.iterdir():
        if entry.name == VEHICLES and entry.is_dir() and not any(entry.iterdir()):
            continue
        if entry.name != ROOM:
            return True
    return False
