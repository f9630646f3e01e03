"""The records as they stand, each in the one text it has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.every_day.cars import CarsAsked
from castlenut.domain.naming import choose
from castlenut.store.schema import TABLES

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from castlenut.command.call import Call
    from castlenut.garage.garage import Garage
    from castlenut.store.record_file import RecordFile
    from castlenut.store.revisions import StoredRecord

_SECRET = "feed_secret"  # noqa: S105 - the name of the field, shown by nothing


def write_records(call: Call) -> int:
    """Write the records asked for, sorted by car, table and id."""
    garage = call.garage(by_rules=False)
    table = call.maybe("table")
    if table is not None:
        table = choose(table, TABLES, what="table")
    files = list(_files(call, garage))
    if call.flag("ids"):
        output.write(*(record for _, file in files for record in _ids(file, table)))
        return output.FINE
    is_history = call.flag("history")
    output.write_canonical(
        [
            _answer(record, slug, is_history=is_history)
            for slug, file in files
            for record in file.records(history=is_history)
            if table is None or record.table == table
        ]
    )
    return output.FINE


def _files(call: Call, garage: Garage) -> Iterator[tuple[str | None, RecordFile]]:
    """Give the files asked for; the garage's own stands first, under no car's name."""
    if call.maybe("vehicle") is None and garage.settings_fault is None:
        yield None, garage.garage_file()
    yield from CarsAsked(call, garage).files()


def _ids(file: RecordFile, table: str | None) -> list[str]:
    every = [(each.table, each.id) for each in file.records(history=True)]
    every.extend((each.table, each.id) for each in file.set_aside)
    return [record for of, record in sorted(every) if table is None or of == table]


def answer_of(record: StoredRecord, file: RecordFile) -> Mapping[str, object]:
    """Give a record of a file as `records` lists it."""
    from castlenut.store.content import FileKind

    slug = None if file.place.kind is FileKind.GARAGE else file.slug
    return _answer(record, slug, is_history=False)


def _answer(record: StoredRecord, slug: str | None, *, is_history: bool) -> Mapping[str, object]:
    answer: dict[str, object] = {
        "gone": record.gone,
        "id": record.id,
        "table": record.table,
        "values": _without_secret(record.values),
        "vehicle": slug,
    }
    if record.differences:
        answer["differences"] = {
            field: [
                {"at": each.at, "by": each.by, "value": "set" if field == _SECRET else each.value}
                for each in alternatives
            ]
            for field, alternatives in record.differences.items()
        }
    if is_history:
        answer["revisions"] = [
            {**each, "set": _without_secret(values)}
            if isinstance(values := each.get("set"), dict)
            else each
            for each in record.revisions
        ]
    return answer


def _without_secret(values: Mapping[str, object]) -> Mapping[str, object]:
    return {**values, _SECRET: "set"} if _SECRET in values else values
