"""One change saved: what is on the disk is met, edits become revisions, the file is replaced."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.store.content import FileKind, revisions_of
from castlenut.store.copies import Copy, assembled, forgets_in, put_away, united
from castlenut.store.faults import FileFault, FileRefused
from castlenut.store.files import remove
from castlenut.store.loading import State, load
from castlenut.store.merge import REVISIONS, in_order
from castlenut.store.putting_back import forgetting_revision, taken_back_revisions
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import (
    Added,
    Change,
    Deed,
    Forgotten,
    StoredRecord,
    TakenBack,
    as_record,
    revision_for,
    short_of,
)
from castlenut.store.schema import check_values, missing
from castlenut.store.storage import CrashSafeStorage, record_table
from castlenut.store.values import Object, Value

NOT_MOVED = "is united and could not be moved to .castlenut/merged/: move it there yourself"
VANISHED = "is gone from the folder; still shown from memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """A save that came to its end: it survives a power cut, as far as the disk keeps its word.

    `file` is the file as it is now. `change` is None, and `records` empty, where nothing changed.
    `notices` are sentences to be told beside it.
    """

    file: RecordFile
    change: str | None
    records: tuple[tuple[str, str], ...]
    notices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """A change of one file, checked, ready to be put on the disk."""

    held: RecordFile
    state: State
    change: str
    tables: Mapping[str, Mapping[str, Object]]
    notices: tuple[str, ...]
    next_place: int
    copies: tuple[Copy, ...] = ()

    @property
    def records(self) -> tuple[tuple[str, str], ...]:
        """Give table and id of each record the change touches."""
        return tuple((table, record) for table in self.tables for record in self.tables[table])


def prepare(
    held: RecordFile,
    edits: Sequence[Deed],
    change: Change,
    *,
    first: int = 0,
    others: Sequence[Path] = (),
) -> Prepared:
    """Turn the edits of one file into revisions, beside what is on the disk by now. Writes nothing.

    The edits begin from `held`: a change made by another since then is kept, and where both set a
    field differently it becomes a difference. `first` counts the revisions of the change in files
    before this one, `others` are copies of the file as they lie there now. The caller holds the
    lock.

    Raises:
        BadInput: the edits cannot be.
        FileRefused: the file on the disk cannot be used, so it is not written over.
    """
    _check_edits(held, edits)
    state, copies, notices = _met(held, others)
    n = state.content.highest_n + 1
    tables: dict[str, dict[str, Object]] = {}
    place = first
    for edit in edits:
        revisions = _revisions(edit, held.record(edit.table, edit.id), change, place=place, n=n)
        if revisions:
            there = state.content.tables.get(edit.table, {}).get(edit.id)
            tables.setdefault(edit.table, {})[edit.id] = _with(there, *revisions)
            place += len(revisions)
    _check_whole(tables)
    return Prepared(
        held=held,
        state=state,
        change=change.id,
        tables=tables,
        notices=notices,
        next_place=place,
        copies=copies,
    )


def _revisions(
    edit: Deed, held: StoredRecord | None, change: Change, *, place: int, n: int
) -> tuple[Object, ...]:
    if isinstance(edit, TakenBack):
        return taken_back_revisions(edit, held, change, place=place, n=n) if held else ()
    if isinstance(edit, Forgotten):
        revision = forgetting_revision(edit, held, change, place=place, n=n) if held else None
    else:
        revision = revision_for(edit, held, change, place=place, n=n)
    return () if revision is None else (revision,)


def commit(prepared: Prepared) -> Saved:
    """Put a prepared change on the disk. The caller holds the lock since before it was prepared.

    Raises:
        NotSaved: the disk did not take it; the old file stands whole.
    """
    held, state = prepared.held, prepared.state
    if not prepared.tables:
        return Saved(file=_file(held, state), change=None, records=(), notices=prepared.notices)
    storage = CrashSafeStorage(held.place, state, change=prepared.change)
    with storage.one_change():
        for table, records in prepared.tables.items():
            record_table(storage, table).put(records)
    stayed: tuple[str, ...] = ()
    if prepared.copies:
        whole = storage.state.content if storage.state else state.content
        stayed = put_away(prepared.copies, held.place.room, whole=whole)
        if forgets_in(whole):
            # What a copy brought may have been forgotten by it: the file before knows it still.
            remove(held.place.previous)
    return Saved(
        file=_file(held, storage.state or state),
        change=prepared.change,
        records=prepared.records,
        notices=(*prepared.notices, *(f"{name}: {NOT_MOVED}" for name in stayed)),
    )


def _file(held: RecordFile, state: State) -> RecordFile:
    return RecordFile(place=held.place, state=state)


def _check_edits(held: RecordFile, edits: Sequence[Deed]) -> None:
    """Refuse edits that cannot be, all faults at once."""
    faults: list[Fault] = []
    seen: set[tuple[str, str]] = set()
    for edit in edits:
        key = (edit.table, edit.id)
        if key in seen:
            raise ValueError(f"two edits of {key} in one change")
        seen.add(key)
        if edit.table not in held.place.kind.tables:
            faults.append(
                Fault(f"{edit.table!a} is no table", held.place.name, "name one of its tables")
            )
        elif (why := held.state.content.set_aside.get(key)) is not None:
            faults.append(
                Fault(
                    f"record {short_of(edit.id)} is set aside: {why}",
                    held.place.name,
                    "mend its line in the file",
                )
            )
        elif not isinstance(edit, TakenBack | Forgotten):
            # What is put back stood in the record before, whatever may be entered by now.
            faults.extend(check_values(edit.table, edit.values))
            if isinstance(edit, Added):
                faults.extend(missing(edit.table, edit.values))
    if faults:
        raise BadInput(*faults)


def _check_whole(tables: dict[str, dict[str, Object]]) -> None:
    """Refuse a record that the edits leave without a field it must have."""
    faults: list[Fault] = []
    for table, records in tables.items():
        for record, value in records.items():
            stands = as_record(table, record, revisions_of(value))
            if not stands.gone:
                faults.extend(missing(table, stands.values))
    if faults:
        raise BadInput(*faults)


def _met(
    held: RecordFile, others: Sequence[Path]
) -> tuple[State, tuple[Copy, ...], tuple[str, ...]]:
    """Give what is on the disk together with what is held: nobody's write is written over."""
    there = load(held.place, held.state)
    if isinstance(there, FileFault):
        raise FileRefused(there)
    if there is not None and not _is_same_car(held, there):
        raise BadInput(
            Fault(
                f"{held.slug} is another car in this garage", held.place.name, "choose another name"
            )
        )
    copies = assembled(held.place, there, others)
    found = copies.state
    if found is None:
        # Made anew from memory; its bytes are on no disk, so there is nothing to keep.
        state = State(content=held.state.content, data=None, lines=held.state.lines)
        told = f"{held.place.name}: {VANISHED}"
        return state, (), (told,) if held.is_saved else ()
    if found is held.state:
        return found, copies.copies, ()
    content = united(held.state.content, found.content)
    return State(content=content, data=found.data, lines=held.state.lines), copies.copies, ()


def _is_same_car(held: RecordFile, there: State) -> bool:
    ours, theirs = held.state.content, there.content
    return ours.identity == theirs.identity or ours.kind is FileKind.GARAGE


def _with(there: Value, *revisions: Object) -> Object:
    """Give a record with more revisions."""
    whole: Object = dict(there) if isinstance(there, dict) else {}
    whole[REVISIONS] = in_order([*revisions_of(there), *revisions])
    return whole
