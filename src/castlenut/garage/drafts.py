"""A change before it is saved: what it edits, what is told of it, and the car as if saved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.domain.car import Car
from castlenut.domain.errors import Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.garage.after_saving import follow
from castlenut.garage.car_record import differences_of
from castlenut.garage.garage import Garage
from castlenut.store.faults import NotSaved
from castlenut.store.photos import Photo, keep_photo
from castlenut.store.record_file import RecordFile
from castlenut.store.records import car_of
from castlenut.store.revisions import Edit, Gone, StoredRecord

if TYPE_CHECKING:
    from castlenut.domain.conversion import Difference
    from castlenut.domain.due import CarToday

__all__ = [
    "Draft",
    "NotSaved",
    "Saved",
    "SavedRecord",
    "car_after",
    "difference",
    "preview",
    "save",
]

_LAST = ("9999-12-31T00:00:00.000Z", "")
"""When a record of a draft counts as entered: after every other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A change not yet saved, of one car or (no `slug`) of the garage's settings.

    `told`: sentences to be told beside it: a reading that does not fit, an estimate taken, what
    was replaced. `title` names the change in few words, `items` those it is about. `file` is what
    it began from. `cautions` are the keys of those that go with the work. `faults`: of many lines
    those that were bad, and are left out of it. `photos` are copied when it is saved.
    """

    slug: str
    file: RecordFile
    edits: tuple[Edit, ...]
    told: tuple[str, ...]
    title: str
    items: tuple[ItemId, ...] = ()
    cautions: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    photos: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SavedRecord:
    """One record that a change wrote."""

    id: str
    table: str
    vehicle: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """A change that is saved for good. `change` None: nothing was to change."""

    slug: str
    change: str | None
    records: tuple[SavedRecord, ...]
    title: str
    told: tuple[str, ...]


def car_after(draft: Draft) -> Car:
    """Give the car as its record would be if the draft were saved."""
    records: dict[tuple[str, str], StoredRecord] = {
        (each.table, each.id): each for each in draft.file.records(history=True)
    }
    for edit in draft.edits:
        key = (edit.table, edit.id)
        records[key] = _edited(records.get(key), edit)
    return car_of(draft.file.vehicle_id, draft.slug, records.values()).car


def preview(garage: Garage, draft: Draft) -> CarToday:
    """Give what would be due on the car if the draft were saved."""
    return garage.reckoned(car_after(draft))


def difference(garage: Garage, draft: Draft) -> Difference:
    """Give what a draft does to the schedule: which items end, begin, and become due by it."""
    # Imported here: most changes are saved without asking what they do to the schedule.
    from castlenut.domain import conversion

    return conversion.difference(garage.today(draft.slug), preview(garage, draft))


def save(garage: Garage, draft: Draft) -> Saved:
    """Save a draft as one change. It is on the disk for good on return.

    What another set in the same fields since the draft began stays beside it, and is told.

    Raises:
        BadInput: it cannot be; nothing was stored.
        NotSaved: the disk or the lock did not allow it.
    """
    for each in draft.photos:
        keep_photo(garage.path, each)
    done = garage.folder.save(draft.file, draft.edits, garage.change())
    follow(garage, (done.file,))
    touched = [done.file.record(table, record) for table, record in done.records]
    return Saved(
        slug=draft.slug,
        change=done.change,
        records=tuple(
            SavedRecord(id=record, table=table, vehicle=draft.slug)
            for table, record in done.records
        ),
        title=draft.title,
        told=(
            *differences_of([each for each in touched if each is not None]),
            *draft.told,
            *done.notices,
        ),
    )


def _edited(held: StoredRecord | None, edit: Edit) -> StoredRecord:
    values = {**(held.values if held else {}), **edit.values}
    return StoredRecord(
        table=edit.table,
        id=edit.id,
        values={name: value for name, value in values.items() if value is not None},
        gone=edit.gone if isinstance(edit, Gone) else False,
        differences={},
        heads=held.heads if held else (),
        made=held.made if held else _LAST,
        changed=_LAST,
        revisions=(),
    )
