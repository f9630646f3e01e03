"""One change saved: what is on the disk is met, the edits become revisions, the file is put in place."""

from collections.abc import Sequence
from dataclasses import dataclass

from castlenut.domain.errors import BadInput, Fault
from castlenut.store.content import examined, revisions_of
from castlenut.store.faults import FileFault, FileRefused
from castlenut.store.loading import State, load
from castlenut.store.merge import REVISIONS, in_order, merge, merged_header
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change, Edit, as_record, revision_for, short_of
from castlenut.store.schema import check_values, missing
from castlenut.store.storage import CrashSafeStorage, record_table
from castlenut.store.values import Object, Value

VANISHED = "is gone from the folder; still shown from memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """A save that came to its end. The record survives a power cut, as far as the disk keeps its word.

    `file` is the file as it is now. `change` is None, and `records` empty, where nothing changed.
    `notices` are sentences to be told beside it.
    """

    file: RecordFile
    change: str | None
    records: tuple[tuple[str, str], ...]
    notices: tuple[str, ...] = ()


def save(held: RecordFile, edits: Sequence[Edit], change: Change, *, first: int = 0) -> Saved:
    """Save one change of one file. The caller holds the lock.

    The edits begin from `held`: a change made by another since then is kept, and where both set a
    field differently it becomes a difference. `first` counts the records of the change that were
    saved in other files.

    Raises:
        BadInput: the edits cannot be; nothing was written.
        FileRefused: the file on the disk cannot be used, so it is not written over.
        NotSaved: the disk did not take it.
    """
    _check_edits(held, edits)
    state, notices = _met(held)
    n = state.content.highest_n + 1
    revisions: dict[tuple[str, str], Object] = {}
    for edit in edits:
        revision = revision_for(
            edit, held.record(edit.table, edit.id), change, place=first + len(revisions), n=n
        )
        if revision is not None:
            revisions[edit.table, edit.id] = revision
    if not revisions:
        return Saved(file=_file(held, state), change=None, records=(), notices=notices)
    tables: dict[str, dict[str, Object]] = {}
    for (table, record), revision in revisions.items():
        there = state.content.tables.get(table, {}).get(record)
        tables.setdefault(table, {})[record] = _with(there, revision)
    _check_whole(tables)
    storage = CrashSafeStorage(held.place, state, token=change.id)
    with storage.one_change():
        for table, records in tables.items():
            record_table(storage, table).put(records)
    return Saved(
        file=_file(held, storage.state or state),
        change=change.id,
        records=tuple(revisions),
        notices=notices,
    )


def _file(held: RecordFile, state: State) -> RecordFile:
    return RecordFile(place=held.place, state=state)


def _check_edits(held: RecordFile, edits: Sequence[Edit]) -> None:
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
        else:
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


def _met(held: RecordFile) -> tuple[State, tuple[str, ...]]:
    """Give what is on the disk together with what is held: nobody's write is written over."""
    there = load(held.place, held.state)
    if isinstance(there, FileFault):
        raise FileRefused(there)
    if there is None:
        # Made anew from memory; its bytes are on no disk, so there is nothing to keep.
        state = State(content=held.state.content, digest=None, lines=held.state.lines)
        told = f"{held.place.name}: {VANISHED}"
        return state, (told,) if held.is_saved else ()
    if there is held.state:
        return there, ()
    ours, theirs = held.state.content, there.content
    if ours.identity != theirs.identity and not held.is_saved:
        raise BadInput(
            Fault(f"{held.slug} is another car in this garage", held.place.name, "choose another name")
        )
    tables = merge(ours.tables, theirs.tables)
    content = examined(
        ours.kind,
        merged_header(ours.header, theirs.header),
        tables,
        known=ours,
        stood_twice=theirs.stood_twice,
    )
    return State(content=content, digest=there.digest, lines=held.state.lines), ()


def _with(there: Value, revision: Object) -> Object:
    """Give a record with one more revision."""
    whole: Object = dict(there) if isinstance(there, dict) else {}
    whole[REVISIONS] = in_order([*revisions_of(there), revision])
    return whole
