"""Undo and redo: this machine's latest change taken back, found by reading the record."""

from collections.abc import Sequence

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId, short
from castlenut.garage.after_saving import follow
from castlenut.garage.drafts import Saved, SavedRecord
from castlenut.garage.garage import Garage
from castlenut.store.faults import FileFault
from castlenut.store.folder import VEHICLES
from castlenut.store.history import (
    Act,
    Left,
    PastChange,
    changes_of,
    latest,
    latest_undo,
    taking_back,
)
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change, Deed
from castlenut.words.changes import Did, Touched, sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class _Past:
    """One file with its changes."""

    file: RecordFile
    changes: tuple[PastChange, ...]


def undo(garage: Garage, vehicle: str | None = None) -> Saved:
    """Take back this machine's latest change, of the whole garage, or of one car.

    `vehicle` is a car's short name, or `garage` for the garage's own record. What another has set
    since is left, and told.

    Raises:
        BadInput: there is nothing to undo.
        NotSaved: the disk or the lock did not allow it; where several files are concerned it says
            which were saved.
    """
    past, unread = _past(garage)
    asked = [each for each in past if vehicle is None or each.file.slug == vehicle]
    by = garage.surroundings.device()
    found = _newest([latest(each.changes, by=by) for each in asked])
    if found is None:
        raise BadInput(Fault("nothing to undo", vehicle or "garage", _nothing_left(by)))
    return _save(garage, past, found, unread, title=f"taken back: {_sentence(past, found.id)}")


def redo(garage: Garage, vehicle: str | None = None) -> Saved:
    """Take back this machine's latest undo, while no newer change of its own stands.

    Raises:
        BadInput: there is nothing to redo.
        NotSaved: as for an undo.
    """
    past, unread = _past(garage)
    asked = [each for each in past if vehicle is None or each.file.slug == vehicle]
    by = garage.surroundings.device()
    found = _newest([latest_undo(each.changes, by=by) for each in asked])
    # In a file of its own an undo is known to be the latest by its place: clocks are set back.
    others = [each for each in asked if found is None or not _stands_in(found.id, each)]
    newest = _newest([latest(each.changes, by=by) for each in others])
    if found is None or (newest is not None and _when(newest) > _when(found)):
        raise BadInput(
            Fault(
                "nothing to redo",
                vehicle or "garage",
                "redo brings back what undo took, until something else is entered",
            )
        )
    undone = found.undoes or ""
    return _save(garage, past, found, unread, title=f"done again: {_sentence(past, undone)}")


def _past(garage: Garage) -> tuple[tuple[_Past, ...], tuple[str, ...]]:
    """Read every file; give the changes in those that could be read, and the faults of others."""
    files = [garage.folder.load_garage()]
    files.extend(garage.folder.load(slug) for slug in garage.folder.slugs())
    past = tuple(
        _Past(file=each, changes=changes_of(each)) for each in files if isinstance(each, RecordFile)
    )
    return past, tuple(str(each) for each in files if isinstance(each, FileFault))


def _newest(found: Sequence[PastChange | None]) -> PastChange | None:
    return max((each for each in found if each is not None), key=_when, default=None)


def _stands_in(change: str, past: _Past) -> bool:
    return any(each.id == change for each in past.changes)


def _when(change: PastChange) -> tuple[str, str]:
    return change.at, change.id


def _nothing_left(by: str) -> str:
    return f"undo takes back what was entered on this machine ({by})"


def _save(
    garage: Garage, past: Sequence[_Past], found: PastChange, unread: tuple[str, ...], *, title: str
) -> Saved:
    """Take a change back in every file in which it stands, as one change."""
    parts: list[tuple[RecordFile, Sequence[Deed]]] = []
    told: list[str] = list(unread)
    does_nothing = True
    for each in past:
        change = next((one for one in each.changes if one.id == found.id and one.stands), None)
        if change is None:
            continue
        taking = taking_back(each.file, change, each.changes)
        parts.append((each.file, taking.edits))
        told.extend(_left(left) for left in taking.left)
        does_nothing = does_nothing and taking.does_nothing
    begun = garage.change()
    change_ = Change(id=begun.id, at=begun.at, by=begun.by, doing=begun.doing, undoes=found.id)
    saved = garage.folder.save_all(parts, change_)
    follow(garage, (one.file for one in saved))
    slugs = [_slug(one.file) for one in saved]
    return Saved(
        slug=next((slug for slug in slugs if slug), ""),
        change=change_.id,
        records=tuple(
            SavedRecord(id=record, table=table, vehicle=slug)
            for one, slug in zip(saved, slugs, strict=True)
            for table, record in one.records
        ),
        title=f"{title} (all of it was changed later)" if does_nothing else title,
        told=(*told, *(notice for one in saved for notice in one.notices)),
    )


def _slug(file: RecordFile) -> str:
    return file.slug if file.place.name.startswith(VEHICLES) else ""


def _left(left: Left) -> str:
    named = f"{left.record.table} {short(RecordId(left.record.id))}"
    if left.field is None:
        return f"{named} was changed later by {left.by}: left as it is"
    return f"{named}: {left.field} was changed later by {left.by}: left as it is"


def _sentence(past: Sequence[_Past], change: str) -> str:
    """Say what a change was, with the car it was on."""
    parts = [(each.file, one) for each in past for one in each.changes if one.id == change]
    cars = dict.fromkeys(slug for file, _ in parts if (slug := _slug(file)))
    told = sentence([touched(act) for _, one in parts for act in one.acts])
    return f"{told}, {', '.join(cars)}" if cars and not told.startswith(tuple(cars)) else told


def touched(act: Act) -> Touched:
    """Give what a change did to a record, as it is put into words."""
    was_gone = act.before is not None and act.before.gone
    if act.forgets:
        did = Did.FORGOT
    elif act.gone:
        did = Did.STRUCK
    elif act.before is None:
        did = Did.MADE
    elif was_gone:
        did = Did.RESTORED
    else:
        did = Did.CORRECTED
    return Touched(
        table=act.record.table,
        short=short(RecordId(act.record.id)),
        did=did,
        values={
            name: value
            for name, value in act.values.items()
            if value is not None or did is Did.CORRECTED
        },
    )
