"""Reading a file whole, and writing one so that it survives a stop at any moment."""

import contextlib
import errno
import os
import stat
import sys
import time
from collections.abc import Iterator
from enum import Enum
from pathlib import Path
from types import FrameType

MOST_BYTES = 64 * 1024 * 1024
FILE_MODE = 0o600
FOLDER_MODE = 0o700
_READ = (
    os.O_RDONLY
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)
_CREATE = (
    os.O_WRONLY
    | os.O_CREAT
    | os.O_EXCL
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)
_NO_LINKS = frozenset(
    {errno.EPERM, errno.EXDEV, errno.EMLINK, errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOTSUP}
)
_REPLACE_TRIES = 20
_REPLACE_PAUSE_S = 0.1


class Unread(Enum):
    """Why a file was not read; the value is what is told after its name."""

    LINK = "is a link, not a file: put the file itself there"
    FOLDER = "is a folder, not a file: put the file itself there"
    OTHER = "is a pipe or a device, not a file: put the file itself there"
    PERMISSION = "may not be read by this user: check its permissions"
    TOO_LARGE = "is larger than 64 MiB: not read"
    DISK = "could not be read from the disk: check the disk"


def read_plain(path: Path) -> bytes | Unread | None:
    """Read a plain file of at most 64 MiB; None if there is none. Never waits, follows no link."""
    try:
        handle = os.open(path, _READ)
    except FileNotFoundError:
        return None
    except OSError as error:
        return _why(path, error)
    try:
        found = os.fstat(handle)
        if stat.S_ISDIR(found.st_mode):
            return Unread.FOLDER
        if not stat.S_ISREG(found.st_mode):
            return Unread.OTHER
        if found.st_size > MOST_BYTES:
            return Unread.TOO_LARGE
        return _all_bytes(handle, found.st_size)
    except OSError:
        return Unread.DISK
    finally:
        os.close(handle)


def _all_bytes(handle: int, size: int) -> bytes | Unread:
    parts: list[bytes] = []
    taken = 0
    while part := os.read(handle, max(size - taken, 0) + 1):
        parts.append(part)
        taken += len(part)
        if taken > MOST_BYTES:
            return Unread.TOO_LARGE
    return b"".join(parts)


def _why(path: Path, error: OSError) -> Unread | None:
    if path.is_symlink():
        return Unread.LINK
    if error.errno in {errno.EACCES, errno.EPERM}:
        # Some systems refuse to open a folder so.
        return Unread.FOLDER if path.is_dir() else Unread.PERMISSION
    if error.errno == errno.ENOTDIR:
        return None
    return Unread.OTHER if error.errno in {errno.ENXIO, errno.ENODEV} else Unread.DISK


def make_folder(path: Path) -> bool:
    """Make a folder only its owner may enter, whatever the umask; tell whether it is new."""
    try:
        path.mkdir(mode=FOLDER_MODE)
    except FileExistsError:
        return False
    path.chmod(FOLDER_MODE)
    return True


def write_new(path: Path, data: bytes, mode: int = FILE_MODE) -> None:
    """Write a file that is not there yet, to the disk itself. On any failure nothing is left."""
    try:
        handle = os.open(path, _CREATE, mode)
    except FileExistsError:
        # Left by a save that was killed; no running one has this name.
        path.unlink()
        handle = os.open(path, _CREATE, mode)
    is_whole = False
    try:
        write_all(handle, data, mode)
        is_whole = True
    finally:
        os.close(handle)
        if not is_whole:
            remove(path)


def write_all(handle: int, data: bytes, mode: int) -> None:
    """Write all bytes through an open handle to the disk itself, with the mode as asked."""
    if sys.platform != "win32":
        os.fchmod(handle, mode)
    left = memoryview(data)
    while left:
        count = os.write(handle, left)
        if count <= 0:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        left = left[count:]
    if sys.platform == "darwin":
        import fcntl

        # fsync alone leaves the bytes in the drive's own memory there.
        fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
    else:
        os.fsync(handle)


def replace(source: Path, target: Path) -> None:
    """Put a file in the place of another, at once. A reader that bars it is waited for, 2 s."""
    for _ in range(_REPLACE_TRIES if sys.platform == "win32" else 0):
        try:
            os.replace(source, target)  # noqa: PTH105 - the bare call is what the tests make fail
        except PermissionError:
            time.sleep(_REPLACE_PAUSE_S)
        else:
            return
    os.replace(source, target)  # noqa: PTH105


def sync_folder(path: Path) -> None:
    """Bring a folder's entries to the disk, where the system can."""
    if sys.platform == "win32":
        return
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_CLOEXEC", 0))
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno != errno.EINVAL:
            raise
    finally:
        os.close(handle)


def keep_copy(path: Path, kept: Path, *, through: Path) -> None:
    """Keep the present file under another name, by a link where the file system has links.

    `through` is a name on the same file system that is free for the moment.
    """
    try:
        os.link(path, through)
    except FileNotFoundError:
        return
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        data = read_plain(path)
        if not isinstance(data, bytes):
            return
        write_new(through, data)
    try:
        replace(through, kept)
    finally:
        # Replacing a name by another of the same file does nothing and leaves both.
        remove(through)


def remove(path: Path) -> None:
    """Remove a file of our own making, if it is still there and can be."""
    with contextlib.suppress(OSError):
        path.unlink(missing_ok=True)


@contextlib.contextmanager
def finished_before_stopping() -> Iterator[None]:
    """Let a save come to its end before SIGINT or SIGTERM act; other threads never get them."""
    # Loaded here: only a save needs them.
    import signal
    import threading

    if threading.current_thread() is not threading.main_thread():
        yield
        return
    arrived: list[int] = []

    def note(number: int, frame: FrameType | None) -> None:  # noqa: ARG001 - the shape of a handler
        arrived.append(number)

    before = {}
    for number in (signal.SIGINT, signal.SIGTERM):
        handler = signal.getsignal(number)
        # A handler of None was not set from Python and could not be put back.
        if handler is not None and handler is not signal.SIG_IGN:
            before[number] = handler
            signal.signal(number, note)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
        for arrival in arrived:
            signal.raise_signal(arrival)
