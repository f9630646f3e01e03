"""What was changed, when and by which machine: the history of a car or of the garage."""

from collections.abc import Sequence
from decimal import Decimal

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId, short
from castlenut.garage.drafts import Saved
from castlenut.garage.garage import CannotRead, Garage
from castlenut.garage.undoing import touched, undo
from castlenut.store.history import Act, PastChange, changes_of, latest
from castlenut.store.record_file import RecordFile
from castlenut.store.values import Value
from castlenut.words.changes import sentence

_SECRET = frozenset({"feed_secret"})


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldThen:
    """One field that a change set: what it was before, and after; an empty text is none."""

    record: str
    field: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PastLine:
    """One change in the history of a file. `at` is UTC as records hold it.

    `is_undone`: it was taken back and stands no longer. `comes_first` is what would have to be
    taken back before it on this machine, in words; empty where it is next, None where it cannot be.
    """

    change: str
    at: str
    by: str
    what: str
    is_undone: bool
    comes_first: str | None
    fields: tuple[FieldThen, ...]


def history(garage: Garage, slug: str | None) -> tuple[PastLine, ...]:
    """Give the changes of a car, or with None of the garage's own record, the newest first.

    Raises:
        CannotRead: the file cannot be read.
    """
    changes = changes_of(_file(garage, slug))
    titles = {each.id: sentence([touched(act) for act in each.acts]) for each in changes}
    by = garage.surroundings.device()
    own = latest(changes, by=by)
    return tuple(
        PastLine(
            change=each.id,
            at=each.at,
            by=each.by,
            what=_what(each, titles),
            is_undone=not each.stands,
            comes_first=_comes_first(each, own, by, titles),
            fields=tuple(field for act in each.acts for field in _fields(act)),
        )
        for each in sorted(changes, key=lambda each: (each.at, each.n, each.id), reverse=True)
    )


def undo_line(garage: Garage, slug: str | None, line: PastLine) -> Saved:
    """Take back the change of a line, if it is this machine's latest that stands.

    Raises:
        BadInput: another comes first, or it cannot be taken back here.
        NotSaved: the disk or the lock did not allow it.
    """
    if line.comes_first is None:
        what = "was taken back already" if line.is_undone else f"was made by {line.by}"
        raise BadInput(Fault(f"{line.what} {what}", "undo", "choose a change of this machine"))
    if line.comes_first:
        raise BadInput(Fault(f"{line.comes_first} comes first", "undo", "take it back before"))
    return undo(garage, slug if slug is not None else "garage")


def _file(garage: Garage, slug: str | None) -> RecordFile:
    if slug is not None:
        return garage.file(slug)
    found = garage.folder.load_garage()
    if not isinstance(found, RecordFile):
        raise CannotRead(found)
    return found


def _what(change: PastChange, titles: dict[str, str]) -> str:
    if change.undoes is None:
        return titles[change.id]
    undone = titles.get(change.undoes, "a change that is not here")
    return f"taken back: {undone}"


def _comes_first(
    change: PastChange, own: PastChange | None, by: str, titles: dict[str, str]
) -> str | None:
    if own is None or change.by != by or not change.stands or not change.is_ordinary:
        return None
    return "" if change.id == own.id else titles[own.id]


def _fields(act: Act) -> Sequence[FieldThen]:
    record = f"{act.record.table} {short(RecordId(act.record.id))}"
    before = act.before.values if act.before is not None else {}
    found = [
        FieldThen(
            record=record,
            field=field,
            before="set" if field in _SECRET and field in before else told(before.get(field)),
            after="set" if field in _SECRET else told(value),
        )
        for field, value in sorted(act.values.items())
    ]
    was_gone = act.before is not None and act.before.gone
    if act.gone != was_gone:
        states = {True: "struck", False: "there"}
        found.append(
            FieldThen(
                record=record, field="record", before=states[was_gone], after=states[act.gone]
            )
        )
    return found


def told(value: Value) -> str:
    """Give a value of a field as a person reads it; an empty text is none."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int():
            return f"{value:,}"
        case Decimal():
            return f"{value:,f}"
        case list():
            return ", ".join(told(each) for each in value)
        case dict():
            return ", ".join(f"{name} {told(each)}" for name, each in value.items())
        case str():
            return value
