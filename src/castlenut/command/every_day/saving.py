"""A draft saved, and what is told of it: the same for every command that writes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.domain.ids import RecordId, short
from castlenut.garage.drafts import save

if TYPE_CHECKING:
    from castlenut.command.call import Call
    from castlenut.garage.drafts import Draft, Saved
    from castlenut.garage.garage import Garage

_FEW = 3


def save_and_tell(call: Call, garage: Garage, draft: Draft, *, first: str | None = None) -> Saved:
    """Save a draft, then tell it; `first` is the line that plain output begins with.

    Raises:
        NotSaved: it could not be saved; nothing is told.
    """
    saved = save(garage, draft)
    for sentence in saved.told:
        output.tell(sentence)
    if call.as_json:
        output.write_json(saved_answer(saved, draft.slug))
    elif saved.change is None:
        output.write(first or f"nothing changed: {saved.title} stood so already")
    else:
        output.write(first or f"saved: {saved.title}{_ids(saved)}")
    return saved


def saved_answer(saved: Saved, slug: str) -> dict[str, object]:
    """Give what a writing command answers as JSON: change null if nothing was to change."""
    return {
        "change": saved.change,
        "records": [
            {"id": each.id, "table": each.table, "vehicle": each.vehicle or None}
            for each in saved.records
        ],
        "vehicle": slug or None,
    }


def _ids(saved: Saved) -> str:
    if not 0 < len(saved.records) <= _FEW:
        return ""
    return f" ({', '.join(short(RecordId(each.id)) for each in saved.records)})"
