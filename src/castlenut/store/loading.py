"""A file of the garage from the disk to its content, or to the sentence that says what is wrong."""

import time
from pathlib import Path

from castlenut.domain.frozen import dataclass, field
from castlenut.store.content import Content, FileKind
from castlenut.store.decoding import Damaged, Newer, decode, salvage
from castlenut.store.encoding import Lines
from castlenut.store.faults import FaultWord, FileFault
from castlenut.store.files import Unread, read_plain
from castlenut.store.revisions import short_of
from castlenut.store.schema import SCHEMA
from castlenut.words.month_names import SHORT_MONTHS

_WORDS = {
    Unread.LINK: FaultWord.NOT_A_FILE,
    Unread.FOLDER: FaultWord.NOT_A_FILE,
    Unread.OTHER: FaultWord.NOT_A_FILE,
    Unread.PERMISSION: FaultWord.PERMISSION,
    Unread.TOO_LARGE: FaultWord.TOO_LARGE,
    Unread.DISK: FaultWord.DAMAGED,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FilePlace:
    """Where a file of records lies.

    `name` is what messages call it; `stem` its name without the ending: a slug, or `garage`.
    `room` is the garage's own folder `.castlenut`.
    """

    path: Path
    kind: FileKind
    name: str
    stem: str
    room: Path

    @property
    def previous(self) -> Path:
        """Give where the file before the last save is kept."""
        return self.room / "previous" / self.path.name


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """A file of records as last read or written.

    `data` is its bytes on the disk, None for a file that is not there yet.
    `lines` are its encoded lines, as far as they were made.
    """

    content: Content
    data: bytes | None
    lines: Lines = field(default_factory=dict)


def load(place: FilePlace, known: State | None = None) -> State | FileFault | None:
    """Read a file of records; None if there is none. The bytes of `known` give `known` itself."""
    data = read_plain(place.path)
    if data is None:
        return None
    if isinstance(data, Unread):
        return unread_fault(place.name, data)
    if known is not None and known.data == data:
        return known
    found = decode(data, place.kind)
    if isinstance(found, Content):
        return State(content=found, data=data)
    if isinstance(found, Newer):
        return FileFault(
            file=place.name,
            word=FaultWord.NEWER,
            message=f"was written by a newer Castlenut (format {found.schema}, this one knows"
            f" {SCHEMA}): update this one",
        )
    return _damage(place, data, found)


def unread_fault(name: str, why: Unread) -> FileFault:
    """Say why a file was not read."""
    return FileFault(file=name, word=_WORDS[why], message=why.value)


def record_faults(place: FilePlace, content: Content) -> tuple[FileFault, ...]:
    """Say which records of a file are set aside, and which stood twice."""
    aside = [
        FileFault(
            file=place.name,
            word=FaultWord.RECORD,
            message=f"record {short_of(record)} ({table}) is set aside: {why}",
        )
        for (table, record), why in sorted(content.set_aside.items())
    ]
    twice = [
        FileFault(
            file=place.name,
            word=FaultWord.DUPLICATE,
            message=f"record {short_of(record)} stood twice: united",
        )
        for _, record in sorted(content.stood_twice)
    ]
    return *aside, *twice


def _damage(place: FilePlace, data: bytes, found: Damaged) -> FileFault:
    if place.kind is FileKind.GARAGE:
        message = 'damaged: default settings are used until "castlenut check --repair garage"'
    else:
        here = _counted(salvage(data, place.kind).records)
        copy = _copy(place)
        message = (
            f"damaged at line {found.line}: {here} can be read here{copy}:"
            f' run "castlenut check --repair {place.stem}"'
        )
    return FileFault(file=place.name, word=FaultWord.DAMAGED, message=message, line=found.line)


def _copy(place: FilePlace) -> str:
    """Say how many records the copy of the file before holds, and of which day it is."""
    data = read_plain(place.previous)
    if not isinstance(data, bytes):
        return ""
    found = decode(data, place.kind)
    if isinstance(found, Content):
        count = sum(len(records) for records in found.tables.values())
    else:
        count = salvage(data, place.kind).records
    written = time.localtime(place.previous.stat().st_mtime)
    return f", {count:,} in the copy of {written.tm_mday} {SHORT_MONTHS[written.tm_mon - 1]}"


def _counted(records: int) -> str:
    return "1 record" if records == 1 else f"{records:,} records"
