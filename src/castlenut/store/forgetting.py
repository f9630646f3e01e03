"""The forgetting pass: fields a revision asks to forget leave every revision before it.

It is part of the merge law: done on each union, so what one machine forgot is forgotten by every
copy it meets. It is the only way by which anything leaves the record.
"""

from collections.abc import Mapping, Sequence

from castlenut.store.values import Object, Value

FORGET = "forget"


def forgets(revisions: Sequence[Value]) -> bool:
    """Tell whether any of the revisions asks to forget something."""
    return any(isinstance(each, dict) and FORGET in each for each in revisions)


def forgotten(revisions: Sequence[Value]) -> list[Value]:
    """Give revisions without the fields that a later one forgets; none is dropped or reordered."""
    after = {rev: _after(each) for each in revisions if (rev := _rev(each)) is not None}
    for each in revisions:
        rev = _rev(each)
        if rev is not None:
            # Two revisions of one rev count as one.
            after[rev] = (*after[rev], *_after(each))
    taken: dict[str, set[str]] = {}
    for each in revisions:
        fields = _fields(each)
        if fields:
            for rev in _before(each, after):
                taken.setdefault(rev, set()).update(fields)
    return [_without(each, taken.get(_rev(each) or "", set())) for each in revisions]


def _before(revision: Value, after: Mapping[str, Sequence[str]]) -> set[str]:
    seen: set[str] = set()
    ahead = list(_after(revision))
    while ahead:
        rev = ahead.pop()
        if rev not in seen:
            seen.add(rev)
            ahead.extend(after.get(rev, ()))
    return seen


def _without(revision: Value, fields: set[str]) -> Value:
    values = revision.get("set") if isinstance(revision, dict) else None
    if not isinstance(revision, dict) or not isinstance(values, dict) or not fields & values.keys():
        return revision
    kept: Object = {name: value for name, value in values.items() if name not in fields}
    return {**revision, "set": kept}


def _rev(revision: Value) -> str | None:
    rev = revision.get("rev") if isinstance(revision, dict) else None
    return rev if isinstance(rev, str) else None


def _after(revision: Value) -> tuple[str, ...]:
    after = revision.get("after") if isinstance(revision, dict) else None
    return tuple(each for each in after if isinstance(each, str)) if isinstance(after, list) else ()


def _fields(revision: Value) -> tuple[str, ...]:
    fields = revision.get(FORGET) if isinstance(revision, dict) else None
    found = fields if isinstance(fields, list) else []
    return tuple(each for each in found if isinstance(each, str))
