"""The garage's lock: one program writes at a time, and another is told who does."""

import contextlib
import errno
import json
import os
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from castlenut.store.faults import NotSaved, not_saved
from castlenut.store.files import FILE_MODE, read_plain
from castlenut.store.revisions import Change

PATIENCE_S = 10.0
NO_LOCK = (
    "this file system offers no lock: two programs saving at once are held apart by merging alone"
)
_NOT_OFFERED = frozenset({errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOTSUP, errno.ENOLCK})


@contextlib.contextmanager
def held_lock(room: Path, change: Change, *, patience_s: float = PATIENCE_S) -> Iterator[bool]:
    """Hold the lock in `room` (the garage's own folder, which exists) while the body runs.

    Gives False where the file system offers no lock; the body runs all the same. The lock is the
    operating system's: it ends with the process, and none is ever broken.

    Raises:
        NotSaved: another program held it for all of `patience_s`, or the folder cannot be written.
    """
    # Imported here: reading commands must not pay for it.
    from filelock import FileLock, Timeout

    lock = FileLock(
        room / "lock",
        timeout=patience_s,
        mode=FILE_MODE,
        fallback_to_soft=False,
    )
    is_offered = True
    try:
        lock.acquire(poll_interval=0.01)
    except Timeout:
        raise NotSaved("garage", _who_writes(room)) from None
    except NotImplementedError:
        is_offered = False
    except OSError as error:
        if error.errno not in _NOT_OFFERED:
            raise not_saved("garage", error) from error
        is_offered = False
    try:
        if is_offered:
            _sign(room, change)
        yield is_offered
    finally:
        if is_offered:
            lock.release()


def _sign(room: Path, change: Change) -> None:
    """Leave word of who writes. A hint for a message and nothing more, so it may fail."""
    signed = json.dumps(
        {"command": change.doing, "device": change.by, "pid": os.getpid(), "since": change.instant}
    )
    with contextlib.suppress(OSError):
        handle = os.open(
            room / "holder",
            os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_NOFOLLOW", 0),
            FILE_MODE,
        )
        try:
            os.write(handle, f"{signed}\n".encode())
        finally:
            os.close(handle)


def _who_writes(room: Path) -> str:
    """Say who holds the lock, as far as the hint tells; times are of this machine's day."""
    signed = read_plain(room / "holder")
    known = ""
    if isinstance(signed, bytes):
        with contextlib.suppress(ValueError, KeyError, TypeError, OverflowError, OSError):
            found = json.loads(signed)
            since = datetime.fromisoformat(found["since"]).timestamp()
            at = time.strftime("%H:%M", time.localtime(since))
            known = f" (pid {int(found['pid'])}, {str(found['command'])[:40]}, since {at})"
            known = known if known.isprintable() else ""
    return f"another Castlenut{known} is writing: try again"
