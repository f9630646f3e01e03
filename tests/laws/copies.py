"""Copies of one car's file held in memory, each written to by a device of its own."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from castlenut.store.content import Content, FileKind, examined, new_content, revisions_of
from castlenut.store.decoding import decode
from castlenut.store.encoding import encoded
from castlenut.store.history import changes_of, latest, latest_undo, taking_back
from castlenut.store.loading import FilePlace, State
from castlenut.store.merge import REVISIONS, in_order, merge
from castlenut.store.putting_back import forgetting_revision, taken_back_revisions
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change, Deed, Forgotten, TakenBack, revision_for
from castlenut.store.values import Value, canonical

VEHICLE_ID = "01a20000-0000-7000-8000-00000000cccc"
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
_PLACE = FilePlace(
    path=Path("vehicles/tollgate.json"),
    kind=FileKind.VEHICLE,
    name="vehicles/tollgate.json",
    stem="tollgate",
    room=Path(".castlenut"),
)

Seen = Mapping[tuple[str, str], tuple[bool, str]]
"""By table and id: whether a record is struck, and its values with the differences among them."""


class Clock:
    """Ids and instants for the changes of all copies, each later than the one before."""

    def __init__(self) -> None:
        self._count = count(1)

    def change(self, by: str, *, undoes: str | None = None) -> Change:
        number = next(self._count)
        return Change(
            id=f"01a20000-0000-7000-8000-{number:012x}",
            at=NOON + timedelta(seconds=number),
            by=by,
            undoes=undoes,
        )


class Copy:
    """One copy of the file on one machine."""

    def __init__(self, device: str, clock: Clock, content: Content | None = None) -> None:
        self.device = device
        self.clock = clock
        self._hold(content or new_content(FileKind.VEHICLE, VEHICLE_ID))

    def _hold(self, content: Content) -> None:
        data, _ = encoded(content, {})
        found = decode(data, FileKind.VEHICLE)
        assert isinstance(found, Content)
        self.data = data
        self.file = RecordFile(place=_PLACE, state=State(content=found, data=data))

    def save(self, edits: Sequence[Deed], *, undoes: str | None = None) -> str:
        """Save one change, as the program does."""
        content = self.file.state.content
        change = self.clock.change(self.device, undoes=undoes)
        tables: dict[str, dict[str, Value]] = {
            name: dict(records) for name, records in content.tables.items()
        }
        n, place = content.highest_n + 1, 0
        for edit in edits:
            held = self.file.record(edit.table, edit.id)
            if isinstance(edit, TakenBack):
                assert held is not None
                made = taken_back_revisions(edit, held, change, place=place, n=n)
            else:
                if isinstance(edit, Forgotten):
                    assert held is not None
                    one = forgetting_revision(edit, held, change, place=place, n=n)
                else:
                    one = revision_for(edit, held, change, place=place, n=n)
                made = () if one is None else (one,)
            records = tables.setdefault(edit.table, {})
            before = revisions_of(records.get(edit.id))
            if made:
                records[edit.id] = {REVISIONS: in_order([*before, *made])}
            place += len(made)
        self._hold(examined(FileKind.VEHICLE, content.header, tables))
        return change.id

    def merge(self, other: "Copy") -> None:
        """Take in what another copy holds."""
        content = self.file.state.content
        tables = merge(content.tables, other.file.state.content.tables)
        self._hold(examined(FileKind.VEHICLE, content.header, tables))

    def undo(self) -> bool:
        """Take back this device's latest change; tell whether there was one."""
        changes = changes_of(self.file)
        found = latest(changes, by=self.device)
        if found is None:
            return False
        self.save(taking_back(self.file, found, changes).edits, undoes=found.id)
        return True

    def redo(self) -> bool:
        """Bring back what the latest undo took; tell whether there was one."""
        changes = changes_of(self.file)
        found = latest_undo(changes, by=self.device)
        if found is None:
            return False
        self.save(taking_back(self.file, found, changes).edits, undoes=found.id)
        return True

    def seen(self) -> Seen:
        """Give what anybody sees of the live records."""
        return {
            (each.table, each.id): (each.gone, canonical(dict(each.values)) + _differing(each))
            for each in self.file.records()
        }

    def revisions(self) -> frozenset[str]:
        """Give every revision as text."""
        return frozenset(
            f"{record.table} {record.id} {canonical(each)}"
            for record in self.file.records(history=True)
            for each in record.revisions
        )


def _differing(record: object) -> str:
    differences = getattr(record, "differences", {})
    return "".join(
        f" {name}: {[canonical(each.value) for each in ranked]}"
        for name, ranked in sorted(differences.items())
    )


def all_merged(copies: Iterable[Copy]) -> bytes:
    """Give the bytes of all copies merged in the order given."""
    first, *rest = copies
    whole = Copy("dev-all", first.clock, first.file.state.content)
    for each in rest:
        whole.merge(each)
    return whole.data
