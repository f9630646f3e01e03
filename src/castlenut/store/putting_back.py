"""The revisions by which a change is taken back, and by which fields are forgotten."""

from castlenut.store.forgetting import FORGET
from castlenut.store.revisions import (
    GONE,
    Change,
    Forgotten,
    StoredRecord,
    TakenBack,
    set_by,
)
from castlenut.store.values import Object


def taken_back_revisions(
    edit: TakenBack, held: StoredRecord, change: Change, *, place: int, n: int
) -> tuple[Object, ...]:
    """Give the revisions by which a record is put back: one, or more where a difference returns.

    Of several the one that was used gets the greatest rev, so that it is used again.
    """
    further = max((len(each) for each in edit.also.values()), default=0)
    count = 1 + max(further, int(edit.gone_differs))
    revs = sorted(f"{change.id}.{place + each}" for each in range(count))
    sets: list[Object] = [dict(edit.values)]
    sets.extend(
        {name: values[each] for name, values in edit.also.items() if each < len(values)}
        for each in range(count - 1)
    )
    gone = held.gone if edit.gone is None else edit.gone
    found: list[Object] = []
    for number, (rev, values) in enumerate(zip(reversed(revs), sets, strict=True)):
        revision: Object = {
            "after": list(held.heads),
            "at": change.instant,
            "by": change.by,
            "n": n,
            "rev": rev,
            "set": values,
        }
        if edit.gone_differs:
            revision[GONE] = number > 0
        elif gone or edit.gone is not None:
            revision[GONE] = gone
        if change.undoes is not None:
            revision["undoes"] = change.undoes
        found.append(revision)
    return tuple(found)


def forgetting_revision(
    edit: Forgotten, held: StoredRecord, change: Change, *, place: int, n: int
) -> Object | None:
    """Give the revision that forgets fields, or None where there is nothing to write."""
    if not edit.then and not any(
        name in set_by(each) for name in edit.fields for each in held.revisions
    ):
        return None
    revision: Object = {
        "after": list(held.heads),
        "at": change.instant,
        "by": change.by,
        FORGET: [*sorted(edit.fields)],
        "n": n,
        "rev": f"{change.id}.{place}",
        "set": {name: value for name, value in edit.then.items() if value is not None},
    }
    if held.gone:
        revision[GONE] = True
    return revision
