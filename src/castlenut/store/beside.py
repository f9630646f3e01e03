"""What lies in a garage beside its records: his rules, photos, the bytes of damaged files."""

import os
from pathlib import Path

from castlenut.store.faults import FaultWord, FileFault, not_saved
from castlenut.store.files import Unread, make_folder, read_plain, sync_folder, write_new
from castlenut.store.folder import PHOTOS, RULES, Folder
from castlenut.store.loading import unread_fault


def rules_text(folder: Folder) -> str | FileFault | None:
    """Give the garage's own rules as they were written; None if there are none."""
    data = read_plain(folder.path / RULES)
    if isinstance(data, Unread):
        return unread_fault(RULES, data)
    if data is None:
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        line = 1 + data.count(b"\n", 0, bad.start)
        return FileFault(
            file=RULES,
            word=FaultWord.DAMAGED,
            message=f"line {line}: not UTF-8 text;"
            " the shipped rules are used alone until this is mended",
            line=line,
        )


def photos(folder: Folder) -> tuple[Path, ...]:
    """Give the files kept with findings, sorted by name."""
    try:
        names = os.listdir(folder.path / PHOTOS)  # noqa: PTH208 - names only
    except OSError:
        return ()
    return tuple(folder.path / PHOTOS / each for each in sorted(names) if each[0] != ".")


def keep_damaged(folder: Folder, name: str, data: bytes) -> Path:
    """Keep the bytes of a damaged file under `damaged/`; a copy is never written over.

    The caller holds the lock.

    Raises:
        NotSaved: the disk did not allow it.
    """
    # Imported here: hardly any run meets a damaged file.
    import hashlib

    digest = hashlib.sha256(data).hexdigest()
    kept = folder.room / "damaged" / f"{name}.{digest[:8]}"
    if os.path.lexists(kept) and read_plain(kept) != data:
        kept = kept.with_name(f"{name}.{digest}")
    try:
        make_folder(kept.parent)
        if not os.path.lexists(kept):
            write_new(kept, data)
            sync_folder(kept.parent)
    except OSError as error:
        raise not_saved(name, error) from error
    return kept
