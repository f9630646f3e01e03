"""The TinyDB storage of one file of records: read whole, saved in steps that survive a stop."""

import contextlib
from collections.abc import Iterator, Mapping, MutableMapping
from pathlib import Path
from typing import Any

from tinydb.storages import Storage
from tinydb.table import Table

from castlenut.store.content import examined
from castlenut.store.encoding import encoded
from castlenut.store.faults import FileFault, FileRefused, not_saved
from castlenut.store.files import (
    finished_before_stopping,
    keep_copy,
    make_folder,
    remove,
    replace,
    sync_folder,
    write_new,
)
from castlenut.store.loading import FilePlace, State, load
from castlenut.store.values import Object, Value

Documents = dict[str, dict[str, Object]]
"""Records that check, by table and id, as TinyDB is given them."""


class CrashSafeStorage(Storage):
    """One file of records as TinyDB sees it. Holds no file open; the lock is the caller's to hold.

    TinyDB sees the records that check. Those that do not, and tables this program does not know,
    are kept and written back as they are. A record is never changed in place: a document that is
    the same object as at the last write keeps its encoded line.
    """

    def __init__(
        self, place: FilePlace, state: State | None = None, *, change: str = "save"
    ) -> None:
        """Begin with what is on the disk, or with `state`; `change` names the temporary file."""
        self._place = place
        self._state = state
        self._change = change
        self._is_gathering = False

    @property
    def state(self) -> State | None:
        """Give the file as last read or written; None for one that was not there."""
        if self._state is None:
            found = load(self._place)
            if isinstance(found, FileFault):
                raise FileRefused(found)
            self._state = found
        return self._state

    def read(self) -> Documents | None:
        """Give the records that check.

        Raises:
            FileRefused: the file is there and cannot be used.
        """
        state = self.state
        if state is None:
            return None
        aside, known = state.content.set_aside, state.content.kind.tables
        return {
            table: {
                record: value
                for record, value in records.items()
                if isinstance(value, dict) and (table, record) not in aside
            }
            for table, records in state.content.tables.items()
            if table in known
        }

    def write(self, data: Mapping[str, Mapping[str, Value]]) -> None:
        """Take the records of all tables; save them now, or at the end of `one_change`.

        Raises:
            NotSaved: the file could not be written; what was there stands.
            FileNotFoundError: there is no file yet, and no state to give it a header.
        """
        state = self.state
        if state is None:
            raise FileNotFoundError(self._place.path)
        before = state.content
        aside = {key: before.tables[key[0]][key[1]] for key in before.set_aside}
        tables: dict[str, dict[str, Value]] = {
            **{name: dict(records) for name, records in before.tables.items()},
            **{name: dict(records) for name, records in data.items()},
        }
        for (table, record), value in aside.items():
            tables.setdefault(table, {})[record] = value
        content = examined(before.kind, before.header, tables, known=before)
        self._state = State(content=content, data=state.data, lines=state.lines)
        if not self._is_gathering:
            self._save()

    @contextlib.contextmanager
    def one_change(self) -> Iterator[None]:
        """Gather what is written in the body, and save it once at its end."""
        self._is_gathering = True
        try:
            yield
        finally:
            self._is_gathering = False
        self._save()

    def _save(self) -> None:
        state = self.state
        if state is None:
            raise FileNotFoundError(self._place.path)
        data, lines = encoded(state.content, state.lines)
        save_bytes(
            self._place.path,
            data,
            room=self._place.room,
            name=self._place.name,
            change=self._change,
            keep=state.data is not None,
        )
        self._state = State(content=state.content, data=data, lines=lines)


class RecordTable(Table):
    """A TinyDB table whose documents are known by text ids, never counted."""

    document_id_class = str  # type: ignore[assignment]  # TinyDB's own way to change it; typed int

    def put(self, records: Mapping[str, Object]) -> None:
        """Add or replace whole records by id, in one write."""

        def update(table: MutableMapping[Any, Mapping[str, Value]]) -> None:
            table.update(records)

        self._update_table(update)


def record_table(storage: Storage, name: str) -> RecordTable:
    """Open a table without a query cache: it would answer from before an outside change."""
    return RecordTable(storage, name, cache_size=0)


def save_bytes(path: Path, data: bytes, *, room: Path, name: str, change: str, keep: bool) -> None:
    """Put bytes on the disk in the place of a file, so that old or new stand whole at any moment.

    The caller holds the lock. `keep` puts the file that is there under `previous/` first.

    Raises:
        NotSaved: a step failed. The temporary file is gone.
    """
    temporary = room / "tmp" / f"{path.stem}-{change}"
    kept = room / "previous" / path.name
    try:
        with finished_before_stopping():
            make_folder(temporary.parent)
            write_new(temporary, data)
            try:
                if keep:
                    make_folder(kept.parent)
                    keep_copy(path, kept, through=temporary.with_name(f"{temporary.name}.previous"))
                is_new_folder = make_folder(path.parent)
                replace(temporary, path)
            finally:
                remove(temporary)
            sync_folder(path.parent)
            if is_new_folder:
                sync_folder(path.parent.parent)
    except OSError as error:
        raise not_saved(name, error) from error
