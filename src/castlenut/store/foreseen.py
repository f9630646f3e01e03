"""A file as it would be with edits saved: made in memory by the same revisions, on no disk."""

from collections.abc import Sequence

from castlenut.store.content import examined, revisions_of
from castlenut.store.loading import State
from castlenut.store.merge import REVISIONS, in_order
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change, Edit, revision_for
from castlenut.store.values import Object


def foreseen(held: RecordFile, edits: Sequence[Edit], change: Change) -> RecordFile:
    """Give a file as it would be with edits saved. It knows the bytes on the disk, as before.

    Raises:
        BadInput: an edit cannot be.
    """
    content = held.state.content
    tables: dict[str, Object] = {name: dict(records) for name, records in content.tables.items()}
    n = content.highest_n + 1
    for place, edit in enumerate(edits):
        revision = revision_for(edit, held.record(edit.table, edit.id), change, place=place, n=n)
        if revision is None:
            continue
        records = tables.setdefault(edit.table, {})
        there = records.get(edit.id)
        whole: Object = dict(there) if isinstance(there, dict) else {}
        whole[REVISIONS] = in_order([*revisions_of(there), revision])
        records[edit.id] = whole
    return RecordFile(
        place=held.place,
        state=State(
            content=examined(content.kind, content.header, tables, known=content),
            data=held.state.data,
        ),
    )
