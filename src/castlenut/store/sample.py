"""A garage copied with every day in it moved, so that a sample record ends where it is wanted."""

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from castlenut.store.beside import rules_text
from castlenut.store.content import Content, examined, revisions_of
from castlenut.store.encoding import encoded
from castlenut.store.faults import FolderRefused, not_saved
from castlenut.store.fields import DAY, FieldType
from castlenut.store.files import make_folder, write_new
from castlenut.store.folder import GARAGE, RULES, VEHICLES, Folder
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import set_by
from castlenut.store.schema import TABLES
from castlenut.store.values import Object, Value

_DAY_LISTS = frozenset({"closed"})


def last_reading_day(folder: Folder) -> date | None:
    """Give the last day on which a dial of the garage was read."""
    days = [
        date.fromisoformat(on)
        for slug in folder.slugs()
        if isinstance(file := folder.load(slug), RecordFile)
        for record in file.table("reading")
        if isinstance(on := record.values.get("on"), str)
    ]
    return max(days, default=None)


def copy_moved(source: Folder, target: Path, *, days: int, now: datetime | None = None) -> None:
    """Copy a garage into a missing or empty folder, every day in its records moved by `days`.

    The instants at which the records were written move as well, but not past `now`, if given:
    nothing is written in the future. A file that cannot be read is left out.

    Raises:
        FolderRefused: the folder holds something.
        NotSaved: it could not be written.
    """
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise FolderRefused(
            f"{target} is not empty: choose an empty folder",
            folder=str(target),
            remedy="choose an empty folder",
        )
    files = {
        f"{VEHICLES}/{slug}.json": file
        for slug in source.slugs()
        if isinstance(file := source.load(slug), RecordFile)
    }
    garage = source.load_garage()
    if isinstance(garage, RecordFile):
        files[GARAGE] = garage
    rules = rules_text(source)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        make_folder(target)
        make_folder(target / VEHICLES)
        for name, file in files.items():
            data, _ = encoded(_moved(file.state.content, timedelta(days=days), now), {})
            write_new(target / name, data)
        if isinstance(rules, str):
            write_new(target / RULES, rules.encode())
    except OSError as error:
        raise not_saved(str(target), error) from error


def _moved(content: Content, by: timedelta, now: datetime | None) -> Content:
    tables: dict[str, dict[str, Value]] = {
        table: {
            record: {
                **_object(value),
                "revs": [_revision(table, e, by, now) for e in revisions_of(value)],
            }
            for record, value in records.items()
        }
        for table, records in content.tables.items()
    }
    return examined(content.kind, content.header, tables)


def _object(value: Value) -> Object:
    return value if isinstance(value, dict) else {}


def _revision(table: str, revision: Object, by: timedelta, now: datetime | None) -> Value:
    fields: Mapping[str, FieldType] = TABLES[table].fields if table in TABLES else {}
    values: Object = {
        name: _value(name, each, fields, by) for name, each in set_by(revision).items()
    }
    moved: Object = {**revision, "set": values}
    at = revision.get("at")
    if isinstance(at, str):
        instant = datetime.fromisoformat(at) + by
        instant = (instant if now is None else min(instant, now)).astimezone(UTC)
        moved["at"] = instant.isoformat(timespec="milliseconds").replace("+00:00", "Z")
    return moved


def _value(name: str, value: Value, fields: Mapping[str, FieldType], by: timedelta) -> Value:
    if isinstance(value, str) and fields.get(name) is DAY:
        return _day(value, by)
    if isinstance(value, list) and name in _DAY_LISTS:
        return [_day(each, by) if isinstance(each, str) else each for each in value]
    return value


def _day(text: str, by: timedelta) -> str:
    return (date.fromisoformat(text) + by).isoformat()
