"""The canonical text of a file of records: one record a line, the same records the same bytes."""

from collections.abc import Mapping

from castlenut.store.content import HEADER, Content
from castlenut.store.merge import ASIDE, REVISIONS, in_order
from castlenut.store.values import Value, canonical

Lines = Mapping[tuple[str, str], tuple[Value, str]]
"""Encoded lines by table and id, each with the record it was made from."""


def encoded(content: Content, made: Lines) -> tuple[bytes, Lines]:
    """Give the bytes of a file, and its lines for the next time.

    A line in `made` is taken again where the record is the same object as then: records on disk
    are never changed in place.
    """
    lines: dict[tuple[str, str], tuple[Value, str]] = {}
    parts = [f'"{HEADER}": {canonical(content.header)}']
    for table in sorted(content.tables):
        records = content.tables[table]
        if not records:
            continue
        rows = []
        for record in sorted(records):
            value = records[record]
            before = made.get((table, record))
            if before is None or before[0] is not value:
                before = (value, f"{canonical(record)}: {canonical(value)}")
            lines[table, record] = before
            rows.append(before[1])
        parts.append(f"{canonical(table)}: {{\n" + ",\n".join(rows) + "\n}")
    text = "{\n" + ",\n".join(parts) + "\n}\n"
    return text.encode(), lines


def ordered(record: Value) -> Value:
    """Give a record with its revisions in the order in which they are written, each once."""
    if not isinstance(record, dict):
        return record
    revisions = record.get(REVISIONS)
    if len(record) == 1 and isinstance(revisions, list) and len(revisions) == 1:
        return record
    lists = {
        name: value
        for name in (REVISIONS, ASIDE)
        if isinstance(value := record.get(name), list) and len(value) > 1
    }
    if not lists:
        return record
    return {**record, **{name: in_order(value) for name, value in lists.items()}}
