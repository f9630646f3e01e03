"""Writing a file outside the garage, as a feed or a sheet is: whole or not at all."""

import contextlib
import os
import stat
import tempfile
from enum import Enum
from pathlib import Path

from castlenut.store.faults import not_saved
from castlenut.store.files import Unread, read_plain, remove, replace, sync_folder, write_all

PUBLIC_MODE = 0o644
PRIVATE_MODE = 0o600


class Outside(Enum):
    """What became of a file written outside."""

    WRITTEN = "written"
    UNCHANGED = "unchanged"


def write_outside(path: Path, data: bytes, *, mode: int = PUBLIC_MODE) -> Outside:
    """Put bytes into a file for others to read. Equal bytes on the disk: nothing is touched.

    A link is followed and its target replaced; an old file keeps its mode, a new one has `mode`.
    The caller has made a file's path of a folder's.

    Raises:
        NotSaved: it could not be written; an old file stands whole, and nothing else is left.
    """
    target = Path(os.path.realpath(path))
    there = read_plain(target)
    if there == data:
        return Outside.UNCHANGED
    try:
        if isinstance(there, bytes | Unread):
            mode = stat.S_IMODE(target.stat().st_mode)
        _write_beside(target, data, mode)
    except OSError as error:
        raise not_saved(os.fspath(path), error) from error
    return Outside.WRITTEN


def made_folder(path: Path) -> Path:
    """Give a folder for such files, made where it is not there yet.

    Raises:
        NotSaved: it could not be made.
    """
    try:
        path.mkdir(exist_ok=True)
    except OSError as error:
        raise not_saved(os.fspath(path), error) from error
    return path


def _write_beside(target: Path, data: bytes, mode: int) -> None:
    handle, name = tempfile.mkstemp(prefix=".castlenut-", suffix=".tmp", dir=target.parent)
    temporary = Path(name)
    try:
        try:
            write_all(handle, data, mode)
        finally:
            os.close(handle)
        replace(temporary, target)
    finally:
        remove(temporary)
    # The file is whole and in place; a folder that cannot be synced (a share) is no failure.
    with contextlib.suppress(OSError):
        sync_folder(target.parent)
