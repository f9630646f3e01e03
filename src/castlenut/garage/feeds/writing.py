"""Writing a feed of the garage, of a car or of an owner into a file."""

import hashlib
import os
from datetime import date
from pathlib import Path

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.feed.feeds import Feed
from castlenut.garage.feeds.addresses import file_name
from castlenut.garage.feeds.making import cars_of, feed_meant, published
from castlenut.garage.garage import Garage
from castlenut.store.files import Unread, read_plain
from castlenut.store.folder import GARAGE, LEDGER, ROOM, RULES, VEHICLES
from castlenut.store.outside import write_outside

_RECORD = frozenset((name,) for name in (GARAGE, LEDGER, ROOM, RULES, VEHICLES))


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedWritten:
    """A feed as it now lies in its file.

    `bytes` is its size, `until` the last day it looks ahead to. `changed`: False where the file was
    the same to the byte and was not touched. `told`: sentences to be told beside it.
    """

    path: Path
    bytes: int
    events: int
    until: date
    changed: bool
    told: tuple[str, ...]


def write_feed(
    garage: Garage, path: Path, *, vehicle: str | None = None, owner: str | None = None
) -> FeedWritten:
    """Write the feed of a vehicle, of an owner, or with neither of the whole garage.

    In a folder the file takes the feed's secret name.

    Raises:
        BadInput: there is no such vehicle or owner, or a file that is needed cannot be read.
        NotSaved: the disk or the lock did not allow it; the old file stands whole.
    """
    return write(garage, path, feed_meant(garage, vehicle=vehicle, owner=owner))


def write(garage: Garage, path: Path, feed: Feed) -> FeedWritten:
    """Write a feed, as `write_feed` does."""
    refuse_record(garage, path)
    asked = cars_of(garage, feed)
    if path.is_dir():
        path = path / file_name(garage, feed)
    there = _there(path)
    on_disk = hashlib.sha256(there).hexdigest() if isinstance(there, bytes) else None
    made, told = published(garage, asked, on_disk=on_disk)
    data = there if made.data is None and isinstance(there, bytes) else made.data
    if made.data is not None:
        write_outside(path, made.data)
    return FeedWritten(
        path=path,
        bytes=len(data or b""),
        events=made.events,
        until=made.until,
        changed=made.data is not None,
        told=(*asked.told, *told),
    )


def refuse_record(garage: Garage, path: Path) -> None:
    """Refuse to write among the files of the garage's record, before anything is made.

    Raises:
        BadInput: the path leads there.
    """
    target = Path(os.path.realpath(path))
    home = Path(os.path.realpath(garage.path))
    if target.is_relative_to(home) and target.relative_to(home).parts[:1] in _RECORD:
        raise BadInput(Fault("belongs to the garage's record", str(path), "choose another file"))


def _there(path: Path) -> bytes | Unread | None:
    """Give what lies where the feed is to be written.

    Raises:
        BadInput: it is a pipe or a device.
    """
    there = read_plain(Path(os.path.realpath(path)))
    if there is Unread.OTHER:
        raise BadInput(Fault("is a pipe or a device", str(path), "name a file or a folder"))
    return there
