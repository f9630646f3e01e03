"""Files named with a finding: copied into the garage, whole or not at all. Nothing reads them."""

import os
import re
import unicodedata
from pathlib import Path

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.store.faults import not_saved
from castlenut.store.files import Unread, make_folder, read_plain, sync_folder, write_new

PHOTOS = "photos"
_LONGEST_STEM = 40
_ENDING = re.compile(r"\.[a-z0-9]{1,5}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A file to be copied into the garage under a name of its own."""

    source: Path
    name: str


def photo(text: str, *, record: str) -> Photo:
    """Give the file named for a finding, once it is known to be one.

    Its name in the garage begins with the last 8 digits of the finding, so that two never meet.

    Raises:
        BadInput: there is no such file, or it is none.
    """
    source = Path(text).expanduser()
    if not source.is_file():
        what = "is a folder" if source.is_dir() else "is no file that can be found"
        raise BadInput(Fault(f"{text!r} {what}", "photo", "name the file of the photo"))
    plain = unicodedata.normalize("NFKD", source.stem).encode("ascii", "ignore").decode().lower()
    stem = "-".join(re.findall("[a-z0-9]+", plain))[:_LONGEST_STEM].strip("-") or "photo"
    ending = source.suffix.lower()
    return Photo(
        source=source,
        name=f"{record[-8:]}-{stem}{ending if _ENDING.fullmatch(ending) else ''}",
    )


def keep_photo(garage: Path, kept: Photo) -> None:
    """Copy a file into the garage's photos, to the disk itself.

    Raises:
        BadInput: it cannot be read.
        NotSaved: the disk did not take it; nothing is left of it.
    """
    data = read_plain(Path(os.path.realpath(kept.source)))
    if not isinstance(data, bytes):
        why = data.value if isinstance(data, Unread) else "is gone: name it again"
        what, _, remedy = why.partition(": ")
        raise BadInput(Fault(f"{str(kept.source)!r} {what}", "photo", remedy))
    folder = garage / PHOTOS
    try:
        if make_folder(folder):
            sync_folder(garage)
        write_new(folder / kept.name, data)
        sync_folder(folder)
    except OSError as error:
        raise not_saved(f"{PHOTOS}/{kept.name}", error) from error
