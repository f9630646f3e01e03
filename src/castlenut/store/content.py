"""What a file of records holds: its header, its records as they stand, and which of them check."""

from collections.abc import Iterator, Mapping
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.store.fields import DEEPEST, depth
from castlenut.store.merge import REVISIONS, Tables
from castlenut.store.revisions import (
    GONE,
    as_record,
    is_own_ancestor,
    set_by,
    wrong_revision,
)
from castlenut.store.schema import (
    GARAGE_TABLES,
    SCHEMA,
    VEHICLE_TABLES,
    Table,
    missing,
    wrong_on_disk,
)
from castlenut.store.values import Object, Value

HEADER = "castlenut"
_REVISION_KEYS = frozenset({"after", "at", "by", "forget", GONE, "n", "rev", "set", "undoes"})


class FileKind(Enum):
    """What a file of records is about."""

    GARAGE = "garage"
    VEHICLE = "vehicle"

    @property
    def tables(self) -> Mapping[str, Table]:
        """Give the tables such a file may have."""
        return GARAGE_TABLES if self is FileKind.GARAGE else VEHICLE_TABLES


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """A file that could be read.

    `tables` holds every record as it stands on disk, unknown tables and records that do not check
    among them. `set_aside` tells why a record does not check, by table and id. `stood_twice` names
    the records whose id stood twice in a table; they are united.
    """

    kind: FileKind
    header: Object
    tables: Tables
    set_aside: Mapping[tuple[str, str], str]
    stood_twice: tuple[tuple[str, str], ...] = ()

    @property
    def identity(self) -> str:
        """Give the id of the vehicle or garage the file is about."""
        identity = self.header[self.kind.value]
        return identity if isinstance(identity, str) else ""

    @property
    def highest_n(self) -> int:
        """Give the highest n of any revision that checks, 0 for none."""
        highest = 0
        for _, _, revisions in self.usable():
            for each in revisions:
                n = each["n"]
                if isinstance(n, int) and n > highest:
                    highest = n
        return highest

    def usable(self) -> Iterator[tuple[str, str, list[Object]]]:
        """Give table, id and revisions of every record that checks, in no set order."""
        known = self.kind.tables
        for table, records in self.tables.items():
            if table in known:
                for record, value in records.items():
                    if (table, record) not in self.set_aside:
                        yield table, record, revisions_of(value)


def new_content(kind: FileKind, identity: str) -> Content:
    """Give the content of a file that has no record yet."""
    return Content(
        kind=kind,
        header={"file": kind.value, "schema": SCHEMA, kind.value: identity},
        tables={},
        set_aside={},
    )


def examined(
    kind: FileKind,
    header: Object,
    tables: Tables,
    *,
    known: Content | None = None,
    may_hold_half_characters: bool = True,
    stood_twice: tuple[tuple[str, str], ...] = (),
) -> Content:
    """Check every record. One that is the same object as in `known` is not checked again."""
    set_aside: dict[tuple[str, str], str] = {}
    for name, records in tables.items():
        asked = kind.tables.get(name)
        if asked is None:
            continue
        before = known.tables.get(name, {}) if known else {}
        for record, value in records.items():
            if known and before.get(record) is value:
                wrong = known.set_aside.get((name, record))
            else:
                wrong = wrong_record(
                    asked, name, value, may_hold_half_characters=may_hold_half_characters
                )
            if wrong is not None:
                set_aside[name, record] = wrong
    return Content(
        kind=kind, header=header, tables=tables, set_aside=set_aside, stood_twice=stood_twice
    )


def wrong_record(
    asked: Table, table: str, record: Value, *, may_hold_half_characters: bool = True
) -> str | None:
    """Give why a record read from disk does not check, or None."""
    if not isinstance(record, dict):
        return "it is not an object"
    revisions = record.get(REVISIONS)
    if not isinstance(revisions, list) or not revisions:
        return "it has no revisions"
    checked: list[Object] = []
    for revision in revisions:
        if not isinstance(revision, dict):
            return "a revision is not an object"
        wrong = wrong_revision(revision)
        if wrong is None and not revision.keys() <= _REVISION_KEYS:
            wrong = _wrong_unknown(revision)
        if wrong is None:
            wrong = wrong_on_disk(
                asked, set_by(revision), may_hold_half_characters=may_hold_half_characters
            )
        if wrong is not None:
            return wrong
        checked.append(revision)
    if is_own_ancestor(checked):
        return "a revision stands among its own ancestors"
    return _wrong_whole(asked, table, checked)


def _wrong_unknown(revision: Object) -> str | None:
    for name in revision.keys() - _REVISION_KEYS:
        if depth(revision[name]) > DEEPEST:
            return f"{name} is nested deeper than {DEEPEST}"
    return None


def _wrong_whole(asked: Table, table: str, revisions: list[Object]) -> str | None:
    """Give the field that a live record must have and lacks, or None."""
    if len(revisions) == 1 and not asked.one_of:
        # The usual record, told quickly: it was set whole by its only revision.
        values = set_by(revisions[0])
        if asked.required <= values.keys() and all(
            values[name] or values[name] == 0 for name in asked.required
        ):
            return None
    stands = as_record(table, "", revisions)
    if not stands.gone and (faults := missing(table, stands.values)):
        return faults[0].what
    return None


def revisions_of(record: Value) -> list[Object]:
    """Give the revisions of a record that has been checked; none for one that does not check."""
    revisions = record.get(REVISIONS) if isinstance(record, dict) else None
    if not isinstance(revisions, list):
        return []
    return [each for each in revisions if isinstance(each, dict)]
