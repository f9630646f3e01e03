"""Revisions of a record: its present values, differences, and the revisions a change makes."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from functools import lru_cache

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, field
from castlenut.domain.ids import RecordId, short
from castlenut.store.forgetting import FORGET
from castlenut.store.values import Object, Value, canonical

GONE = "gone"
"""Name under which a difference over a record's being struck is listed, beside its fields."""

_REV = re.compile(r"[!-~]{1,80}\.\d{1,6}")
_INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One act of one person at one device, saved whole: one change, one undo.

    `at` is aware. `doing` is the command's word, told to another program that waits for the lock.
    `undoes` is the change taken back by this one.
    """

    id: str
    at: datetime
    by: str
    doing: str = "writing"
    undoes: str | None = None

    @property
    def instant(self) -> str:
        """Give the time as records hold it: UTC with milliseconds."""
        return self.at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """A new record."""

    table: str
    id: str
    values: Mapping[str, Value]


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """Fields of a record set anew; None clears one. Equal values are not written."""

    table: str
    id: str
    values: Mapping[str, Value]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gone:
    """A record struck (`gone`) or restored, with fields that say why, if any."""

    table: str
    id: str
    gone: bool
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack:
    """A record put back as it was before a change; written even where nothing of it can be.

    `values` are fields as they were, `also` further values that then stood against the first and do
    so again. `gone` None: struck or not, it stays so. `gone_differs`: that it was struck stood
    against that it was not, and does so again.
    """

    table: str
    id: str
    values: Mapping[str, Value]
    gone: bool | None
    also: Mapping[str, tuple[Value, ...]] = field(default_factory=dict)
    gone_differs: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Forgotten:
    """Fields of a record taken out of every revision there is of it; `then` are set anew."""

    table: str
    id: str
    fields: tuple[str, ...]
    then: Mapping[str, Value] = field(default_factory=dict)

    @property
    def values(self) -> Mapping[str, Value]:
        """Give the record's fields as they will be: none of those but what is set anew."""
        return {**dict.fromkeys(self.fields), **self.then}


Edit = Added | Changed | Gone
"""What is entered."""

Deed = Edit | TakenBack | Forgotten
"""Whatever may be done to a record."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """One of several values that stand against each other; None is a field cleared."""

    value: Value
    at: str
    by: str
    rev: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredRecord:
    """A record as its revisions leave it.

    `differences` holds, by field, the values that stand against each other, the one used first.
    `made` and `changed` are when and by which device. `revisions` are as they stand on disk: never
    change one in place.
    """

    table: str
    id: str
    values: Mapping[str, Value]
    gone: bool
    differences: Mapping[str, tuple[Alternative, ...]]
    heads: tuple[str, ...]
    made: tuple[str, str]
    changed: tuple[str, str]
    revisions: Sequence[Object]


_NO_DIFFERENCES: Mapping[str, tuple[Alternative, ...]] = {}


def wrong_revision(revision: Object) -> str | None:
    """Give what is wrong with a revision read from disk, its `set` apart, or None."""
    rev, at, by = revision.get("rev"), revision.get("at"), revision.get("by")
    if not (isinstance(rev, str) and _REV.fullmatch(rev)):
        return "a revision has no rev, or one that cannot be"
    if not (isinstance(at, str) and _is_instant(at)):
        return "a revision has no at, or one that cannot be"
    if not (isinstance(by, str) and 0 < len(by) <= 100):
        return "a revision has no by, or one that cannot be"
    after = revision.get("after")
    if not isinstance(after, list) or (after and not all(isinstance(each, str) for each in after)):
        return "a revision has no after, or one that cannot be"
    n = revision.get("n")
    if type(n) is not int or not 0 < n < 10**15:
        return "a revision has no n, or one that cannot be"
    if not isinstance(revision.get("set", {}), dict):
        return "a revision's set is not an object"
    if GONE in revision and not isinstance(revision[GONE], bool):
        return "a revision's gone is neither true nor false"
    forget = revision.get(FORGET, [])
    if not isinstance(forget, list) or not all(isinstance(each, str) for each in forget):
        return "a revision's forget is not a list of fields"
    return None


@lru_cache(maxsize=8192)
def _is_instant(at: str) -> bool:
    if not _INSTANT.fullmatch(at):
        return False
    try:
        datetime.fromisoformat(at)
    except ValueError:
        return False
    return True


def is_own_ancestor(revisions: Sequence[Object]) -> bool:
    """Tell whether a revision stands among its own ancestors."""
    if len(revisions) == 1:
        after = revisions[0]["after"]
        return isinstance(after, list) and bool(after) and revisions[0]["rev"] in after
    return any(rev in before for rev, before in ancestors(revisions).items())


def as_record(table: str, record: str, revisions: Sequence[Object]) -> StoredRecord:
    """Work out a record from its revisions, which have been checked and are at least one."""
    if len(revisions) == 1:
        only = revisions[0]
        stamp = (text_of(only, "at"), text_of(only, "by"))
        return StoredRecord(
            table=table,
            id=record,
            values={name: each for name, each in set_by(only).items() if each is not None},
            gone=only.get(GONE) is True,
            differences=_NO_DIFFERENCES,
            heads=(text_of(only, "rev"),),
            made=stamp,
            changed=stamp,
            revisions=revisions,
        )
    return _of_several(table, record, revisions)


def _of_several(table: str, record: str, revisions: Sequence[Object]) -> StoredRecord:
    before = ancestors(revisions)
    values: dict[str, Value] = {}
    differences: dict[str, tuple[Alternative, ...]] = {}
    for name in sorted({name for each in revisions for name in set_by(each)}):
        standing = _standing([each for each in revisions if name in set_by(each)], before)
        ranked = _ranked([(each, set_by(each)[name]) for each in standing])
        if ranked[0].value is not None:
            values[name] = ranked[0].value
        if len(ranked) > 1:
            differences[name] = ranked
    heads = _standing(revisions, before)
    struck = _ranked([(each, each.get(GONE) is True) for each in heads])
    if len(struck) > 1:
        # False wins: a record struck here and changed there stays, and is shown.
        differences[GONE] = tuple(sorted(struck, key=lambda each: each.value is True))
    by_time = sorted(revisions, key=_rank)
    return StoredRecord(
        table=table,
        id=record,
        values=values,
        gone=all(each.value is True for each in struck),
        differences=differences,
        heads=tuple(sorted({text_of(each, "rev") for each in heads})),
        made=(text_of(by_time[0], "at"), text_of(by_time[0], "by")),
        changed=(text_of(by_time[-1], "at"), text_of(by_time[-1], "by")),
        revisions=revisions,
    )


def ancestors(revisions: Sequence[Object]) -> dict[str, frozenset[str]]:
    """Give, by rev, every rev before it. Two revisions of one rev count as one."""
    direct: dict[str, set[str]] = {}
    for each in revisions:
        direct.setdefault(text_of(each, "rev"), set()).update(_after(each))
    found: dict[str, frozenset[str]] = {}
    for rev, named in direct.items():
        seen: set[str] = set()
        ahead = list(named)
        while ahead:
            earlier = ahead.pop()
            if earlier not in seen:
                seen.add(earlier)
                ahead.extend(found[earlier] if earlier in found else direct.get(earlier, ()))
        found[rev] = frozenset(seen)
    return found


def _standing(
    revisions: Sequence[Object], before: Mapping[str, frozenset[str]]
) -> Sequence[Object]:
    """Leave out every revision that is an ancestor of another of them."""
    passed = frozenset().union(*(before[text_of(each, "rev")] for each in revisions))
    return [each for each in revisions if text_of(each, "rev") not in passed]


def _ranked(found: Sequence[tuple[Object, Value]]) -> tuple[Alternative, ...]:
    """Give the different values that revisions set, the greatest (at, by, rev, text) first."""
    ranked: dict[str, Alternative] = {}
    for revision, value in sorted(found, key=lambda each: _rank(each[0]), reverse=True):
        ranked.setdefault(
            canonical(value),
            Alternative(
                value=value,
                at=text_of(revision, "at"),
                by=text_of(revision, "by"),
                rev=text_of(revision, "rev"),
            ),
        )
    return tuple(ranked.values())


def _rank(revision: Object) -> tuple[str, str, str, str]:
    return (
        text_of(revision, "at"),
        text_of(revision, "by"),
        text_of(revision, "rev"),
        canonical(revision),
    )


def text_of(revision: Object, name: str) -> str:
    """Give a text of a revision that has been checked."""
    value = revision[name]
    if not isinstance(value, str):
        raise TypeError(f"{name} of a revision is not a text")
    return value


def set_by(revision: Object) -> Mapping[str, Value]:
    """Give the fields a revision sets; None clears one."""
    values = revision.get("set")
    return values if isinstance(values, dict) else {}


def _after(revision: Object) -> Iterable[str]:
    after = revision["after"]
    return [each for each in after if isinstance(each, str)] if isinstance(after, list) else []


def revision_for(
    edit: Edit, held: StoredRecord | None, change: Change, *, place: int, n: int
) -> Object | None:
    """Give the revision by which an edit is written, or None where it changes nothing.

    `held` is the record as it stood when the edit began: its heads are what the revision comes
    after, so that what another wrote meanwhile becomes a difference. `place` counts the records of
    the change from 0.

    Raises:
        BadInput: the record to change is not there, or the record to add is.
    """
    gone: bool | None = None
    values: Object
    if isinstance(edit, Added):
        if held is not None:
            raise BadInput(_record_fault(edit, "is in the record already", "change it instead"))
        values = {name: each for name, each in edit.values.items() if each is not None}
    else:
        if held is None:
            raise BadInput(_record_fault(edit, "is not in the record", "look it up in records"))
        values = {
            name: each
            for name, each in edit.values.items()
            if name in held.differences or canonical(each) != canonical(held.values.get(name))
        }
        if isinstance(edit, Gone):
            if edit.gone == held.gone and GONE not in held.differences and not values:
                return None
            gone = edit.gone
        elif not values:
            return None
    revision: Object = {
        "after": list(held.heads) if held else [],
        "at": change.instant,
        "by": change.by,
        "n": n,
        "rev": f"{change.id}.{place}",
        "set": values,
    }
    if gone is not None:
        revision[GONE] = gone
    if change.undoes is not None:
        revision["undoes"] = change.undoes
    return revision


def _record_fault(edit: Edit, what: str, remedy: str) -> Fault:
    return Fault(f"{edit.table} {short_of(edit.id)} {what}", "record", remedy)


def short_of(record: str) -> str:
    """Give the end of a record's id by which a message names it."""
    return short(RecordId(record))
