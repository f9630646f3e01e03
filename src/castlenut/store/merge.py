"""The merge law: for each record the union of its revisions by value, then the forgetting pass.

No clock, chance or file time is in it. A record that does not check is united as it stands, so that
the law holds for whatever a file holds. What is no record at all on one side stands beside the
revisions of the other under `aside`.
"""

from collections.abc import Iterable, Mapping

from castlenut.store.forgetting import forgets, forgotten
from castlenut.store.values import Object, Value, canonical

REVISIONS = "revs"
ASIDE = "aside"
_LISTS = (REVISIONS, ASIDE)

Tables = Mapping[str, Mapping[str, Value]]
"""Records by table and id, each as it stands on disk."""


def merge(ours: Tables, theirs: Tables) -> dict[str, dict[str, Value]]:
    """Unite two states of one file. Where both hold a record alike, our object is kept."""
    merged: dict[str, dict[str, Value]] = {}
    for name in ours.keys() | theirs.keys():
        here, there = ours.get(name, {}), theirs.get(name, {})
        merged[name] = {**there, **here}
        for record in here.keys() & there.keys():
            merged[name][record] = united(here[record], there[record])
    return merged


def merged_header(ours: Object, theirs: Object) -> Object:
    """Unite two headers of one file: the smaller identity stays, the greater schema."""
    header: Object = dict(theirs)
    for name, value in ours.items():
        if name not in header:
            header[name] = value
        elif name in {"vehicle", "garage"}:
            header[name] = min(header[name], value, key=canonical)
        else:
            header[name] = _greater(header[name], value)
    return header


def united(one: Value, other: Value) -> Value:
    """Unite two states of one record, in either order the same."""
    if one is other or canonical(one) == canonical(other):
        return one
    here, there = _parts(one), _parts(other)
    record: Object = {}
    for name in here.keys() | there.keys():
        if name in _LISTS:
            record[name] = in_order([*_members(here.get(name)), *_members(there.get(name))])
        elif name in here and name in there:
            record[name] = _greater(here[name], there[name])
        else:
            record[name] = here[name] if name in here else there[name]
    return record


def in_order(revisions: Iterable[Value]) -> list[Value]:
    """Give each value once, by rev and then by text: the order in which they are written.

    What one of them forgets has left those before it.
    """
    found = list(revisions)
    texts = {canonical(each): each for each in (forgotten(found) if forgets(found) else found)}
    return [each for _, each in sorted(texts.items(), key=lambda found: (_rev(found[1]), found[0]))]


def _parts(record: Value) -> Object:
    """Give a record as an object of which `revs` and `aside`, where they stand, are lists."""
    if (
        isinstance(record, dict)
        and any(name in record for name in _LISTS)
        and all(isinstance(record.get(name, []), list) for name in _LISTS)
    ):
        return record
    return {ASIDE: [record]}


def _members(value: Value) -> list[Value]:
    return value if isinstance(value, list) else []


def _rev(revision: Value) -> str:
    rev = revision.get("rev") if isinstance(revision, dict) else None
    return rev if isinstance(rev, str) else ""


def _greater(one: Value, other: Value) -> Value:
    return max(one, other, key=canonical)
