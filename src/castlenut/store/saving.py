"""One change saved: what is on the disk is met, edits become revisions, the file is replaced."""

from collections.abc import Mapping, Sequence

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.store.content import FileKind, examined, revisions_of
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

    @property
    def records(self) -> tuple[tuple[str, str], ...]:
        """Give table and id of each record the change touches."""
        return tuple((table, record) for table in self.tables for record in self.tables[table])


def prepare(held: RecordFile, edits: Sequence[Edit], change: Change, *, first: int = 0) -> Prepared:
    """Turn the edits of one file into revisions, beside what is on the disk by now. Writes nothing.

    The edits begin from `held`: a change made by another since then is kept, and where both set a
    field differently it becomes a difference. `first` counts the records of the change in files
    before this one. The caller holds the lock.

    Raises:
        BadInput: the edits cannot be.
        FileRefused: the file on the disk cannot be used, so it is not written over.
    """
    _check_edits(held, edits)
    state, notices = _met(held)
    n = state.content.highest_n + 1
    tables: dict[str, dict[str, Object]] = {}
    place = first
    for edit in edits:
        revision = revision_for(edit, held.record(edit.table, edit.id), change, place=place, n=n)
        if revision is not None:
            there = state.content.tables.get(edit.table, {}).get(edit.id)
            tables.setdefault(edit.table, {})[edit.id] = _with(there, revision)
            place += 1
    _check_whole(tables)
    return Prepared(held=held, state=state, change=change.id, tables=tables, notices=notices)


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
    return Saved(
        file=_file(held, storage.state or state),
        change=prepared.change,
        records=prepared.records,
        notices=prepared.notices,
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
        state = State(content=held.state.content, data=None, lines=held.state.lines)
        told = f"{held.place.name}: {VANISHED}"
        return state, (told,) if held.is_saved else ()
    if there is held.state:
        return there, ()
    ours, theirs = held.state.content, there.content
    if ours.identity != theirs.identity and ours.kind is FileKind.VEHICLE:
        raise BadInput(
            Fault(
                f"{held.slug} is another car in this garage", held.place.name, "choose another name"
            )
        )
    tables = merge(ours.tables, theirs.tables)
    content = examined(
        ours.kind,
        merged_header(ours.header, theirs.header),
        tables,
        known=ours,
        stood_twice=theirs.stood_twice,
    )
    return State(content=content, data=there.data, lines=held.state.lines), ()


def _with(there: Value, revision: Object) -> Object:
    """Give a record with one more revision."""
    whole: Object = dict(there) if isinstance(there, dict) else {}
    whole[REVISIONS] = in_order([*revisions_of(there), revision])
    return whole
