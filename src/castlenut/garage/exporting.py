"""The garage or a part of it written to one file: a zip that is a garage again, or a table."""

import os
from pathlib import Path

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.naming import choose
from castlenut.garage.forgetting import FEEDS_BY_NAME, OWNER_FIELDS
from castlenut.garage.garage import CannotRead, Garage
from castlenut.store.exchange import csv_bytes, zipped
from castlenut.store.faults import FileFault
from castlenut.store.outside import PRIVATE_MODE, write_outside
from castlenut.store.record_file import RecordFile
from castlenut.store.schema import VEHICLE_TABLES
from castlenut.store.values import Value


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """A file written: how large it is, what is in it, and what had to be left out."""

    path: Path
    bytes: int
    records: int
    cars: int
    left_out: tuple[FileFault, ...]


def export(
    garage: Garage,
    path: Path,
    *,
    vehicle: str | None = None,
    table: str | None = None,
    without_owner: bool = False,
    force: bool = False,
) -> Exported:
    """Write a zip of the garage or of one car, or a table as CSV, by the ending of the path.

    The feed's secret is never in it; `without_owner` leaves the owner's name, telephone and
    addresses out.

    Raises:
        BadInput: another ending, a file that is there already, a table that is none.
        NotSaved: the disk did not allow it.
    """
    ending = path.suffix.lower()
    faults = []
    if ending not in {".zip", ".csv"}:
        faults.append(Fault("ends in neither .zip nor .csv", str(path), "name it so"))
    if ending == ".csv" and table is None:
        faults.append(Fault("is missing", "--table", "name a table, as --table reading"))
    if ending == ".zip" and table is not None:
        faults.append(Fault("a zip has every table", "--table", "leave it out, or write a .csv"))
    if os.path.lexists(path) and not force:
        faults.append(Fault("is there already", str(path), "give --force to replace it"))
    if faults:
        raise BadInput(*faults)
    files, left_out = _files(garage, vehicle)
    if table is not None:
        name = choose(table, VEHICLE_TABLES, what="table")
        data = _table(files, name, without_owner=without_owner)
        count = sum(len(each.table(name)) for each in files)
    else:
        every = list(files)
        found = garage.folder.load_garage()
        if isinstance(found, FileFault):
            left_out = (*left_out, found)
        else:
            every.insert(0, found)
        # A feed of an owner is wanted and ended by his name.
        without = {"vehicle": OWNER_FIELDS, "garage": FEEDS_BY_NAME} if without_owner else {}
        photos = None if vehicle is None else _photos(files)
        data = zipped(garage.folder, every, without=without, photos=photos)
        count = sum(len(each.records()) for each in every)
    write_outside(path, data, mode=PRIVATE_MODE)
    return Exported(path=path, bytes=len(data), records=count, cars=len(files), left_out=left_out)


def _files(
    garage: Garage, vehicle: str | None
) -> tuple[tuple[RecordFile, ...], tuple[FileFault, ...]]:
    if vehicle is not None:
        return (garage.file(garage.find(vehicle)),), ()
    files: list[RecordFile] = []
    faults: list[FileFault] = []
    for slug in garage.folder.slugs():
        try:
            files.append(garage.file(slug))
        except CannotRead as refused:
            faults.append(refused.fault)
    return tuple(files), tuple(faults)


def _photos(files: tuple[RecordFile, ...]) -> frozenset[str]:
    named = (each.values.get("photo") for file in files for each in file.table("finding"))
    return frozenset(each for each in named if isinstance(each, str))


def _table(files: tuple[RecordFile, ...], table: str, *, without_owner: bool) -> bytes:
    left_out = OWNER_FIELDS if without_owner and table == "vehicle" else ()
    fields = [name for name in VEHICLE_TABLES[table].fields if name not in left_out]
    rows: list[list[Value]] = [
        [file.slug, each.id, *(each.values.get(name) for name in fields)]
        for file in files
        for each in file.table(table)
    ]
    return csv_bytes(["vehicle", "id", *fields], rows)
