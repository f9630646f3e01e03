"""Changes found again in the revisions of a file, and what it takes to take one of them back.

There is no journal beside the record: a change is all revisions of one change id. It stands until a
standing change names it in `undoes`; so a redo, which undoes an undo, lets the first stand again.
"""

from collections import deque
from collections.abc import Iterable, Mapping, Sequence

from castlenut.domain.frozen import dataclass
from castlenut.store.forgetting import FORGET
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import (
    GONE,
    StoredRecord,
    TakenBack,
    ancestors,
    as_record,
    set_by,
    text_of,
)
from castlenut.store.schema import GARAGE_RECORD
from castlenut.store.values import Object, Value

NOT_TAKEN_BACK = frozenset({"feed_secret", "feed_generations"})
"""What the addresses of feeds rest on: taking it back would bring an ended address to life."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """What one change did to one record: the record before it, and its revision.

    `before` is None where the change made the record. A rev that stands twice gives two revisions.
    """

    record: StoredRecord
    before: StoredRecord | None
    revisions: tuple[Object, ...]

    @property
    def values(self) -> Mapping[str, Value]:
        """Give the fields the change set; None clears one."""
        return {name: value for each in self.revisions for name, value in set_by(each).items()}

    @property
    def has_something(self) -> bool:
        """Tell whether there is anything to take back: what was forgotten is not."""
        if self.values.keys() - NOT_TAKEN_BACK:
            return True
        was_gone = self.before is not None and self.before.gone
        return not self.values and (self.before is None or was_gone != self.gone)

    @property
    def forgets(self) -> bool:
        """Tell whether fields were forgotten by it."""
        return any(FORGET in each for each in self.revisions)

    @property
    def gone(self) -> bool:
        """Tell whether the record was struck by it."""
        return all(each.get(GONE) is True for each in self.revisions)


@dataclass(frozen=True, slots=True, kw_only=True)
class PastChange:
    """One change as far as it stands in one file.

    `n` is its place in the file, `undoes` the change it took back. `stands`: it was not taken back.
    """

    id: str
    at: str
    by: str
    n: int
    undoes: str | None
    forgets: bool
    stands: bool
    acts: tuple[Act, ...]

    @property
    def is_ordinary(self) -> bool:
        """Tell whether it is somebody's act, to be taken back: no undo, no forgetting."""
        return (
            self.undoes is None and not self.forgets and any(act.has_something for act in self.acts)
        )


def changes_of(file: RecordFile) -> tuple[PastChange, ...]:
    """Give the changes found in a file, the first first."""
    found: dict[str, list[tuple[StoredRecord, Object]]] = {}
    for record in file.records(history=True):
        for revision in record.revisions:
            found.setdefault(change_of(revision), []).append((record, revision))
    standing = _standing({name: _undoes(parts) for name, parts in found.items()})
    changes = [_change(name, parts, stands=name in standing) for name, parts in found.items()]
    return tuple(sorted(changes, key=_order))


def change_of(revision: Object) -> str:
    """Give the id of the change a revision belongs to."""
    return text_of(revision, "rev").rpartition(".")[0]


def latest(changes: Iterable[PastChange], *, by: str) -> PastChange | None:
    """Give a device's latest ordinary change in a file that was not taken back."""
    return max(
        (each for each in changes if each.by == by and each.is_ordinary and each.stands),
        key=_order,
        default=None,
    )


def latest_undo(changes: Sequence[PastChange], *, by: str) -> PastChange | None:
    """Give a device's latest undo in a file, if no newer ordinary change of its own stands."""
    ordinary = {each.id for each in changes if each.undoes is None}
    undone = max(
        (each for each in changes if each.by == by and each.stands and each.undoes in ordinary),
        key=_order,
        default=None,
    )
    newest = latest(changes, by=by)
    if undone is None or (newest is not None and newest.n > undone.n):
        return None
    return undone


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What of a change is left as it is, because another set it since.

    `field` None: the record as a whole, which was struck or changed since.
    """

    record: StoredRecord
    field: str | None
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TakingBack:
    """What taking back a change does to a file: an edit a record it touched, and what is left."""

    edits: tuple[TakenBack, ...]
    left: tuple[Left, ...]

    @property
    def does_nothing(self) -> bool:
        """Tell whether nothing of the change can be taken back any more."""
        return all(not each.values and each.gone is None for each in self.edits)


def taking_back(file: RecordFile, change: PastChange, changes: Sequence[PastChange]) -> TakingBack:
    """Give what takes a change back: fields as they were before, a made record gone, and so on.

    What another ordinary change that stands has set since, or beside it, is left.
    """
    standing = {each.id: each for each in changes if each.stands and each.undoes is None}
    standing.pop(change.id, None)
    touched = {(act.record.table, act.record.id) for act in change.acts}
    others = [each for each in file.records() if (each.table, each.id) not in touched]
    edits: list[TakenBack] = []
    left: list[Left] = []
    for act in change.acts:
        edit, stay = _taken_back(act, standing)
        if edit.gone is True and act.record.table == "vehicle" and others:
            # A car that others have written to since is not taken from under their records.
            edit = TakenBack(table=edit.table, id=edit.id, values={}, gone=None)
            stay = [Left(record=act.record, field=None, by=others[-1].changed[1])]
        edits.append(edit)
        left.extend(stay)
    return TakingBack(edits=tuple(edits), left=tuple(left))


def _taken_back(act: Act, standing: Mapping[str, PastChange]) -> tuple[TakenBack, list[Left]]:
    record, before = act.record, act.before
    passed = frozenset().union(
        *(ancestors(record.revisions)[text_of(each, "rev")] for each in act.revisions)
    )
    since = [
        each
        for each in record.revisions
        if change_of(each) in standing and text_of(each, "rev") not in passed
    ]
    was_gone = before is None or before.gone
    if before is None and record.table == GARAGE_RECORD:
        # The garage's own record stands as long as the garage; its fields go instead.
        was_gone = False
    left: list[Left] = []
    gone: bool | None = None
    gone_differs = before is not None and GONE in before.differences and not since
    if gone_differs:
        gone = False
    elif was_gone and not act.gone and not record.gone:
        if since:
            left = [
                Left(record=record, field=field, by=text_of(each, "by"))
                for each in since
                for field in (*sorted(set_by(each)),) or (None,)
            ]
            return TakenBack(table=record.table, id=record.id, values={}, gone=None), left
        gone = True
    elif act.gone and not was_gone and record.gone:
        struck = next((each for each in since if each.get(GONE) is True), None)
        if struck is not None:
            left.append(Left(record=record, field=None, by=text_of(struck, "by")))
        else:
            gone = False
    if before is None and was_gone:
        return TakenBack(table=record.table, id=record.id, values={}, gone=gone), left
    values: dict[str, Value] = {}
    also: dict[str, tuple[Value, ...]] = {}
    for field in sorted(act.values.keys() - NOT_TAKEN_BACK):
        setter = next((each for each in since if field in set_by(each)), None)
        if setter is not None:
            left.append(Left(record=record, field=field, by=text_of(setter, "by")))
            continue
        values[field] = before.values.get(field) if before else None
        if before is not None and field in before.differences:
            ranked = [each.value for each in before.differences[field]]
            values[field], also[field] = ranked[0], tuple(ranked[1:])
    return (
        TakenBack(
            table=record.table,
            id=record.id,
            values=values,
            gone=gone,
            also=also,
            gone_differs=gone_differs,
        ),
        left,
    )


def _change(name: str, parts: Sequence[tuple[StoredRecord, Object]], *, stands: bool) -> PastChange:
    revisions = [revision for _, revision in parts]
    n = max(each for revision in revisions if isinstance(each := revision["n"], int))
    by_record: dict[tuple[str, str], tuple[StoredRecord, list[Object]]] = {}
    for record, revision in parts:
        by_record.setdefault((record.table, record.id), (record, []))[1].append(revision)
    return PastChange(
        id=name,
        at=max(text_of(each, "at") for each in revisions),
        by=max(text_of(each, "by") for each in revisions),
        n=n,
        undoes=_undoes(parts),
        forgets=any(FORGET in each for each in revisions),
        stands=stands,
        acts=tuple(_act(record, own) for record, own in by_record.values()),
    )


def _act(record: StoredRecord, own: Sequence[Object]) -> Act:
    known = ancestors(record.revisions)
    passed = frozenset().union(*(known[text_of(each, "rev")] for each in own))
    earlier = [
        each for each in record.revisions if text_of(each, "rev") in passed and each not in own
    ]
    return Act(
        record=record,
        before=as_record(record.table, record.id, earlier) if earlier else None,
        revisions=tuple(own),
    )


def _undoes(parts: Iterable[tuple[StoredRecord, Object]]) -> str | None:
    named = (revision.get("undoes") for _, revision in parts)
    return next((each for each in named if isinstance(each, str)), None)


def _order(change: PastChange) -> tuple[int, str, str]:
    return change.n, change.at, change.id


def _standing(undoes: Mapping[str, str | None]) -> frozenset[str]:
    """Give the changes that no standing change takes back; such as take back each other stand."""
    takers = dict.fromkeys(undoes, 0)
    for taken in undoes.values():
        if taken in takers:
            takers[taken] += 1
    fallen: set[str] = set()
    ready = deque(name for name, count in takers.items() if not count)
    while ready:
        name = ready.popleft()
        taken = undoes[name]
        if taken not in takers:
            continue
        if name not in fallen:
            fallen.add(taken)
        takers[taken] -= 1
        if not takers[taken]:
            ready.append(taken)
    return frozenset(undoes) - fallen
