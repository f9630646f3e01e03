"""A damaged file mended: what can be read of it, the copy before it, and copies beside it.

Nothing is lost by it: the damaged bytes are kept first, under a name that is never written over.
"""

import re
from collections.abc import Callable
from pathlib import Path

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.store.beside import keep_damaged
from castlenut.store.content import Content, FileKind, examined, new_content
from castlenut.store.copies import assembled, put_away, united
from castlenut.store.decoding import Salvage, decode, salvage
from castlenut.store.encoding import encoded
from castlenut.store.faults import FaultWord, FileFault, FileRefused
from castlenut.store.files import read_plain
from castlenut.store.folder import Folder
from castlenut.store.loading import FilePlace, State, load
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change
from castlenut.store.storage import save_bytes
from castlenut.store.values import Value

_ID_ON_LINE = re.compile(rb'^\s*,?\s*"([^"\\]{1,100})"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Repaired:
    """What a repair came to.

    `saved` are the records now in the file, `lost` those that stood on lines nobody could read and
    are in no copy, `unread` how many such lines there were. `kept` is where the damaged bytes lie.
    `is_named_anew`: its id could be read nowhere, so it has a new one.
    """

    file: RecordFile
    saved: int
    lost: int
    unread: int
    kept: Path
    is_named_anew: bool
    notices: tuple[str, ...]


def repair(
    folder: Folder, slug: str | None, change: Change, *, new_id: Callable[[], str]
) -> Repaired:
    """Mend a car's file, or with no slug the garage's own.

    Raises:
        BadInput: it is not damaged, or not there.
        FileRefused: it cannot be read at all: no repair would help.
        NotSaved: the disk or the lock did not allow it; the damaged file stands as it was.
    """
    place = folder.garage_place if slug is None else folder.place(slug)
    with folder.writing(change) as notices:
        found = load(place)
        data = read_plain(place.path)
        if isinstance(found, FileFault) and found.word is not FaultWord.DAMAGED:
            raise FileRefused(found)
        if not isinstance(found, FileFault) or not isinstance(data, bytes):
            what = "is not damaged" if found is not None else "is not there"
            raise BadInput(Fault(what, place.name, "leave it as it is: check says what is wrong"))
        kept = keep_damaged(folder, place.path.name, data)
        others = _others(folder, place)
        taken = salvage(data, place.kind)
        copies = assembled(place, _state(_previous(place)), others)
        known = copies.state.content if copies.state is not None else None
        identity = _identity(data, place.kind) or (known.identity if known else None)
        mended = _mended(taken, known, new_content(place.kind, identity or new_id()))
        text, lines = encoded(mended, {})
        save_bytes(place.path, text, room=place.room, name=place.name, change=change.id, keep=False)
        put_away(copies.copies, place.room, whole=mended)
    return Repaired(
        file=RecordFile(place=place, state=State(content=mended, data=text, lines=lines)),
        saved=sum(len(records) for records in mended.tables.values()),
        lost=_lost(taken, mended),
        unread=len(taken.unread),
        kept=kept,
        is_named_anew=identity is None,
        notices=notices,
    )


def _mended(taken: Salvage, known: Content | None, empty: Content) -> Content:
    """Unite what was read of the damaged file with what copies hold."""
    whole = examined(empty.kind, empty.header, taken.tables)
    if known is not None:
        whole = united(whole, known)
    tables: dict[str, dict[str, Value]] = {
        name: dict(records) for name, records in whole.tables.items()
    }
    for table, records in taken.doubtful.items():
        for record, value in records.items():
            # A line that does not check is kept only where no copy has the record.
            tables.setdefault(table, {}).setdefault(record, value)
    return examined(whole.kind, whole.header, tables, stood_twice=whole.stood_twice)


def _lost(taken: Salvage, mended: Content) -> int:
    known = {record for records in mended.tables.values() for record in records}
    lost = 0
    for line in taken.unread.values():
        begins = _ID_ON_LINE.match(line)
        lost += begins is None or begins[1].decode("utf-8", "replace") not in known
    return lost


def _previous(place: FilePlace) -> Content | None:
    data = read_plain(place.previous)
    found = decode(data, place.kind) if isinstance(data, bytes) else None
    return found if isinstance(found, Content) else None


def _state(content: Content | None) -> State | None:
    return None if content is None else State(content=content, data=None)


def _others(folder: Folder, place: FilePlace) -> list[Path]:
    if place.kind is FileKind.GARAGE:
        return list(folder.garage_copies())
    known = folder.cars(thorough=True).by_slug.get(place.stem)
    return [folder.vehicles / name for name in (known.others if known else ())]


def _identity(data: bytes, kind: FileKind) -> str | None:
    """Give the id as the header tells it, even where the rest cannot be read."""
    named = re.search(rb'"%b"\s*:\s*"([0-9A-Za-z-]{8,64})"' % kind.value.encode(), data[:4096])
    return named[1].decode() if named else None
