"""One car with its file, and what of it needs a look."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.domain.car import Car
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId, VehicleId, short
from castlenut.store.fields import shown
from castlenut.store.record_file import RecordFile
from castlenut.store.records import car_of
from castlenut.store.schema import PRIVATE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from castlenut.store.revisions import StoredRecord
    from castlenut.store.values import Value


@dataclass(frozen=True, slots=True, kw_only=True)
class CarRecord:
    """One car with its file.

    `look_at`: what needs a look, in sentences: records set aside, and fields for which two copies
    of the file hold different values.
    """

    car: Car
    file: RecordFile
    look_at: tuple[str, ...]


def car_record(file: RecordFile) -> CarRecord:
    """Put a car together from its file."""
    read = car_of(VehicleId(file.vehicle_id), file.slug, file.records())
    return CarRecord(
        car=read.car,
        file=file,
        look_at=(
            *(fault.message for fault in file.faults),
            *read.set_aside,
            *differences_of(file.records()),
        ),
    )


def file_look_at(file: RecordFile) -> tuple[str, ...]:
    """Say what of a file needs a look, whatever car it makes."""
    return *(fault.message for fault in file.faults), *differences_of(file.records())


def differences_of(records: Sequence[StoredRecord]) -> tuple[str, ...]:
    """Say of each field on which copies differ which values there are, and which is used."""
    return tuple(
        f"{record.table} {short(RecordId(record.id))}: {field} is "
        + ", or ".join(f"{_told(field, each.value)} by {each.by}" for each in alternatives)
        + "; the first is used until one is chosen"
        for record in records
        for field, alternatives in sorted(record.differences.items())
    )


def _told(field: str, value: Value) -> str:
    return "one text" if field in PRIVATE else shown(value)
