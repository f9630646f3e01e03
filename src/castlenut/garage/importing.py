"""Lines of a CSV file taken into the record: all of them, or with every fault named, none."""

import re
import uuid
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, partial
from pathlib import Path

from castlenut.domain.dial import Dial
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId, short
from castlenut.domain.naming import choose
from castlenut.garage import entry
from castlenut.garage.after_saving import follow
from castlenut.garage.car_record import CarRecord
from castlenut.garage.changes.corrections import PAST_DAYS
from castlenut.garage.drafts import Saved, SavedRecord
from castlenut.garage.garage import Garage
from castlenut.store.exchange import CsvLine, csv_lines, read_outside
from castlenut.store.files import read_plain
from castlenut.store.record_file import RecordFile
from castlenut.store.records import car_of
from castlenut.store.revisions import Added, Edit, StoredRecord
from castlenut.store.schema import VEHICLE_TABLES, check_record, typed
from castlenut.store.values import Value, canonical

USUAL_TABLE = "reading"
_NAMESPACE = uuid.UUID("9b3c6f0e-5d0a-5a57-8a54-6c1a2b7f0d11")
_VEHICLE, _ID = "vehicle", "id"
_ID_FORM = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line as it would be entered: its number, its car, its values, what stands there already.

    `is_here`: the same line came in before, or the record it names is there.
    """

    number: int
    slug: str
    record: str
    values: Mapping[str, Value]
    is_here: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Import:
    """A CSV file read and found right: what it would add."""

    table: str
    lines: tuple[Line, ...]
    cars: Mapping[str, CarRecord]

    @property
    def new(self) -> tuple[Line, ...]:
        """Give the lines that add a record."""
        return tuple(each for each in self.lines if not each.is_here)


def read_import(
    garage: Garage,
    path: Path,
    *,
    vehicle: str | None = None,
    table: str | None = None,
    mapped: Mapping[str, str] | None = None,
) -> Import:
    """Read a CSV file as lines of one table; nothing is saved yet.

    A column is the field of its name; `mapped` names the field of a column that has another name,
    an empty one leaves it out. The car is `vehicle`, or each line tells it in the column `vehicle`.

    Raises:
        BadInput: with every fault of every line.
    """
    name = choose(table or USUAL_TABLE, VEHICLE_TABLES, what="table")
    if name == _VEHICLE:
        raise BadInput(Fault("takes no cars in", "--table", "take a car in with add"))
    columns, rows = csv_lines(read_outside(read_plain(path), str(path)), str(path))
    fields = _fields(columns, name, mapped or {}, str(path))
    if vehicle is None and _VEHICLE not in fields.values():
        raise BadInput(
            Fault("no car is named", str(path), "give --vehicle, or a column named vehicle")
        )
    reading = _Reading(garage, name, fields, garage.find(vehicle) if vehicle else None)
    faults: list[Fault] = []
    lines: list[Line] = []
    seen: set[str] = set()
    for row in rows:
        try:
            line = reading.line(row)
        except BadInput as bad:
            where = f"{path} line {row.number}"
            faults.extend(
                Fault(each.what, f"{where}, {each.where}", each.remedy) for each in bad.faults
            )
            continue
        if line.record not in seen:
            lines.append(line)
        seen.add(line.record)
    if not faults:
        faults.extend(_set_aside(lines, name, reading.cars, str(path)))
    if faults:
        raise BadInput(*dict.fromkeys(faults))
    return Import(table=name, lines=tuple(lines), cars=reading.cars)


def save_import(garage: Garage, found: Import) -> Saved:
    """Save the lines that are not here yet, as one change over the cars they are of.

    Raises:
        NotSaved: the disk or the lock did not allow it; it names the files saved before.
    """
    edits: dict[str, list[Edit]] = {}
    for line in found.new:
        edits.setdefault(line.slug, []).append(
            Added(table=found.table, id=line.record, values=line.values)
        )
    parts: list[tuple[str, Sequence[Edit]]] = list(edits.items())
    change = garage.change()
    saved = (
        garage.folder.save_all([(found.cars[slug].file, each) for slug, each in parts], change)
        if parts
        else ()
    )
    follow(garage, (each.file for each in saved))
    return Saved(
        slug=parts[0][0] if len(parts) == 1 else "",
        change=change.id if parts else None,
        records=tuple(
            SavedRecord(id=record, table=table, vehicle=each.file.slug)
            for each in saved
            for table, record in each.records
        ),
        title=f"{len(found.new):,} {found.table} records",
        told=tuple(notice for each in saved for notice in each.notices),
    )


def _fields(
    columns: Sequence[str], table: str, mapped: Mapping[str, str], name: str
) -> Mapping[str, str]:
    """Give the field of each column that is taken."""
    known = {*VEHICLE_TABLES[table].fields, _VEHICLE, _ID}
    faults: list[Fault] = []
    for column, field in mapped.items():
        if column not in columns:
            faults.append(Fault(f"{column!a} is no column of {name}", "--map", "name one of it"))
        elif field and field not in known:
            faults.append(
                Fault(f"{field!a} is no field of {table}", "--map", f"use one of {_all(known)}")
            )
    fields: dict[str, str] = {}
    for column in columns:
        field = mapped.get(column, column.strip().lower())
        if column in mapped and not field:
            continue
        if field in fields.values():
            faults.append(Fault(f"two columns are {field}", name, "leave one out with --map"))
        elif field in known:
            fields[column] = field
        elif column not in mapped:
            faults.append(
                Fault(
                    f"column {column!a} is no field of {table}",
                    name,
                    f"name its field with --map, as --map '{column}=note', or leave it out with"
                    f" --map '{column}='",
                )
            )
    if faults:
        raise BadInput(*faults)
    return fields


def _all(known: set[str]) -> str:
    return ", ".join(sorted(known))


class _Reading:
    """Lines of one file being read, each car once."""

    def __init__(
        self, garage: Garage, table: str, fields: Mapping[str, str], slug: str | None
    ) -> None:
        self.garage = garage
        self.table = table
        self.fields = fields
        self.slug = slug
        self.cars: dict[str, CarRecord] = {}

    def line(self, row: CsvLine) -> Line:
        """Read one line.

        Raises:
            BadInput: with every fault of it.
        """
        cells = {field: row.cells[column] for column, field in self.fields.items()}
        named = cells.pop(_VEHICLE, "").strip()
        slug = self.slug or self.garage.find(named)
        if slug not in self.cars:
            self.cars[slug] = self.garage.car(slug)
        car = self.cars[slug]
        known = cells.pop(_ID, "").strip()
        values = self._values(cells, car.car.vehicle.dial)
        if known and car.file.record(self.table, known) is not None:
            return Line(number=row.number, slug=slug, record=known, values=values, is_here=True)
        if _is_id(known) and known not in self._taken:
            return Line(number=row.number, slug=slug, record=known, values=values, is_here=False)
        # Four tires of one kind are four records: with ids of their own, equal lines are not one.
        named_by = f"|{known}" if known else ""
        text = f"{car.file.vehicle_id}|{self.table}|{canonical(values)}{named_by}"
        record = str(uuid.uuid5(_NAMESPACE, text))
        is_here = car.file.record(self.table, record) is not None
        return Line(number=row.number, slug=slug, record=record, values=values, is_here=is_here)

    @cached_property
    def _taken(self) -> frozenset[str]:
        """Give the ids of all records here: a line keeps its own where none of them is that.

        Records name each other by id: the tire a placement is of, the job a part came in with.
        """
        folder = self.garage.folder
        files = [folder.load(slug) for slug in folder.slugs()]
        return frozenset(
            each.id
            for file in files
            if isinstance(file, RecordFile)
            for each in file.records(history=True)
        )

    def _values(self, cells: Mapping[str, str], dial: Dial) -> dict[str, Value]:
        values: dict[str, Value] = {}
        faults: list[Fault] = []

        def take(read: Callable[[], Value], field: str) -> None:
            try:
                value = read()
            except BadInput as bad:
                faults.extend(Fault(each.what, field, each.remedy) for each in bad.faults)
                return
            if value is not None:
                values[field] = value

        for field, text in cells.items():
            if text.strip():
                take(partial(typed, self.table, field, text), field)
        if "unit" in VEHICLE_TABLES[self.table].required:
            values.setdefault("unit", dial.unit.value)
        faults.extend(
            Fault(each.what, each.where.rpartition(" ")[2], each.remedy)
            for each in check_record(self.table, values)
            if each.where.rpartition(" ")[2] not in {fault.where for fault in faults}
        )
        if not faults:
            faults.extend(self._untrue(values, dial))
        if faults:
            raise BadInput(*faults)
        return values

    def _untrue(self, values: Mapping[str, Value], dial: Dial) -> list[Fault]:
        """Give what cannot be true, whatever its type allows: a day to come, a figure too long."""
        faults: list[Fault] = []
        checks: list[Callable[[], object]] = []
        on, figure, unit = values.get("on"), values.get("figure"), values.get("unit")
        if isinstance(on, str) and self.table in PAST_DAYS:
            today = self.garage.surroundings.today
            checks.append(lambda: entry.day(on, today=today, past=True, field="on"))
        if self.table == "reading":
            said = unit if isinstance(unit, str) else None
            checks.append(lambda: entry.distance(str(figure), dial, field="figure", unit=said))
        for check in checks:
            try:
                check()
            except BadInput as bad:
                faults.extend(bad.faults)
        return faults


def _is_id(text: str) -> bool:
    return _ID_FORM.fullmatch(text) is not None


def _set_aside(
    lines: Sequence[Line], table: str, cars: Mapping[str, CarRecord], name: str
) -> list[Fault]:
    """Give a fault for each line whose record could not be used if it were saved."""
    faults: list[Fault] = []
    for slug, car in cars.items():
        own = [each for each in lines if each.slug == slug and not each.is_here]
        records = (*car.file.records(), *(_as_stored(table, each) for each in own))
        read = car_of(car.file.vehicle_id, slug, records)
        for line in own:
            begins = f"record {short(RecordId(line.record))} ({table}) is set aside: "
            faults.extend(
                Fault(each.removeprefix(begins), f"{name} line {line.number}", "mend the line")
                for each in read.set_aside
                if each.startswith(begins)
            )
    return faults


def _as_stored(table: str, line: Line) -> StoredRecord:
    stamp = ("9999-12-31T00:00:00.000Z", "")
    return StoredRecord(
        table=table,
        id=line.record,
        values=line.values,
        gone=False,
        differences={},
        heads=(),
        made=stamp,
        changed=stamp,
        revisions=(),
    )
