"""Corrections of records, records struck and restored: each a new revision, nothing erased."""

from collections.abc import Mapping

from castlenut.domain.dial import Dial
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.ids import RecordId, short
from castlenut.garage import entry
from castlenut.garage.changes.tires import check_marking
from castlenut.garage.changes.vehicles import vehicle_faults, vin_told
from castlenut.garage.drafting import Drafting
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.revisions import Gone, StoredRecord
from castlenut.store.schema import typed
from castlenut.store.values import Value

PAST_DAYS = frozenset(
    {"reading", "job", "measurement", "happening", "odometer_event", "decline", "placement"}
)
"""Tables whose `on` cannot be to come."""


def draft_correction(
    garage: Garage, slug: str, record: str, assignments: Mapping[str, str]
) -> Draft:
    """Set fields of a record, each read by its type; an empty text clears one that may be missing.

    A field on which copies differ is settled by it.

    Raises:
        BadInput: no such record or field, a value it cannot have, or a record that is struck.
    """
    new = Drafting(garage, slug)
    stored = new.record.file.named(record)
    if stored.gone:
        raise BadInput(
            Fault(f"{_named(stored)} is struck", "record", "restore it first, then correct it")
        )
    if not assignments:
        raise BadInput(Fault("nothing to correct is given", "record", "give FIELD=VALUE"))
    values: dict[str, Value] = {}
    for field, text in assignments.items():
        if stored.table == "vehicle" and field == "slug":
            new.fault("the short name is the file's name", where=field, remedy="leave it as it is")
            continue
        try:
            values[field] = typed(stored.table, field, text)
            if stored.table in {"tire", "vehicle"}:
                check_marking(field, text)
        except BadInput as bad:
            new.faults.extend(bad.faults)
    after = {name: each for name, each in {**stored.values, **values}.items() if each is not None}
    _check(new, stored, after, changed=frozenset(values))
    new.amend(stored.table, stored.id, values)
    if stored.table == "vehicle" and values.keys() & {"vin", "year"}:
        new.told.extend(vin_told(after))
    fields = ", ".join(values)
    return new.draft(f"{_named(stored)} corrected: {fields}")


def _check(
    new: Drafting, stored: StoredRecord, after: Mapping[str, Value], *, changed: frozenset[str]
) -> None:
    """Keep faults of what cannot be true, whatever its type allows."""
    if stored.table == "vehicle":
        new.faults.extend(vehicle_faults(after, today=new.today))
        return
    if "on" in changed and isinstance(on := after.get("on"), str):
        past = stored.table in PAST_DAYS
        day = new.read(lambda: entry.day(on, today=new.today, past=past, field="on"))
        if day is not None:
            new.check_made(day, field="on")
    if stored.table == "reading" and changed & {"figure", "unit"}:
        figure, unit = after.get("figure"), after.get("unit")
        dial: Dial = new.car.vehicle.dial
        new.read(
            lambda: entry.distance(
                str(figure), dial, field="figure", unit=unit if isinstance(unit, str) else None
            )
        )


def draft_strike(garage: Garage, slug: str, record: str, *, why: str | None = None) -> Draft:
    """Strike a record as mistaken. It stays in the history and can be restored.

    Raises:
        BadInput: no such record, one that is struck already, or the vehicle's own.
    """
    new = Drafting(garage, slug)
    stored = new.record.file.named(record)
    if stored.table == "vehicle":
        raise BadInput(Fault("the vehicle's own record cannot be struck", "record", "correct it"))
    if stored.gone:
        raise BadInput(Fault(f"{_named(stored)} is struck already", "record", "leave it so"))
    new.strike(stored.table, stored.id, gone=True, why=why or None)
    return new.draft(f"{_named(stored)} struck")


def draft_restore(garage: Garage, slug: str, record: str) -> Draft:
    """Restore a record that was struck.

    Raises:
        BadInput: no such record, or one that is not struck.
    """
    # Not by the car: one whose taking in was undone is no car until this is saved.
    file = garage.file(slug)
    stored = file.named(record)
    if not stored.gone:
        raise BadInput(Fault(f"{_named(stored)} is not struck", "record", "leave it so"))
    return Draft(
        slug=slug,
        file=file,
        edits=(Gone(table=stored.table, id=stored.id, gone=False),),
        told=(),
        title=f"{_named(stored)} restored",
    )


def _named(stored: StoredRecord) -> str:
    return f"{stored.table} {short(RecordId(stored.id))}"
