"""What is wrong in a garage: faults of files, odd readings, differences, a VIN that fails."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from castlenut.domain.dial_history import history_of
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.vin import Check, read_vin
from castlenut.garage.car_record import differences_of
from castlenut.garage.garage import CannotRead
from castlenut.store.folder import GARAGE
from castlenut.words import odd

if TYPE_CHECKING:
    from collections.abc import Iterator

    from castlenut.command.call import Call
    from castlenut.domain.car import Car
    from castlenut.garage.car_record import CarRecord
    from castlenut.garage.garage import Garage
    from castlenut.store.faults import FileFault

_MOST_REVISIONS = 200
_CLOCK_SLACK = timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """One thing that needs a look. `fault` is its kind in a word or two; `line` as in the file."""

    file: str
    fault: str
    message: str
    line: int | None = None

    def answer(self) -> dict[str, str | int | None]:
        """Give it as JSON."""
        return {
            "file": self.file,
            "fault": self.fault,
            "line": self.line,
            "message": self.message,
        }


def found_wrong(call: Call) -> Iterator[Wrong]:
    """Give all that needs a look, in the garage or on the car named."""
    garage = call.quiet_garage()
    named = call.maybe("vehicle")
    if named is None:
        yield from _of_garage(garage)
    for slug in garage.slugs() if named is None else (garage.find(named),):
        try:
            record = garage.car(slug)
        except CannotRead as refused:
            yield _of_file(refused.fault)
            continue
        south = garage.settings.south
        yield from _of_car(f"vehicles/{slug}.json", record, call.world.now(), south=south)


def _of_file(fault: FileFault) -> Wrong:
    return Wrong(file=fault.file, fault=fault.word.value, message=fault.message, line=fault.line)


def _of_garage(garage: Garage) -> Iterator[Wrong]:
    if garage.settings_fault is not None:
        yield _of_file(garage.settings_fault)
    else:
        yield from (_of_file(fault) for fault in garage.garage_file().faults)
    if garage.folder.is_open_to_others():
        yield Wrong(
            file=GARAGE,
            fault="open to others",
            message="may be read by other users of this machine: chmod 600 closes it",
        )
    for name in garage.folder.cars().loose:
        yield _of_file(garage.folder.loose_fault(name))
    for told in garage.rule_faults_told:
        yield Wrong(file="rules.toml", fault="rule", message=told)


def _of_car(file: str, record: CarRecord, now: datetime, *, south: bool) -> Iterator[Wrong]:
    held = record.file
    yield from (_of_file(fault) for fault in held.faults)
    yield from (_of_file(fault) for fault in held.odd_characters())
    differences = differences_of(held.records())
    told = {*(fault.message for fault in held.faults), *differences}
    for sentence in record.look_at:
        if sentence not in told:
            yield Wrong(file=file, fault="record", message=sentence)
    for sentence in differences:
        yield Wrong(file=file, fault="difference", message=sentence)
    for each in held.records(history=True):
        if len(each.revisions) > _MOST_REVISIONS:
            yield Wrong(
                file=file,
                fault="revisions",
                message=f"record {each.id[-8:]} has {len(each.revisions)} revisions:"
                " some program writes it again and again",
            )
        if datetime.fromisoformat(each.changed[0]) > now + _CLOCK_SLACK:
            yield Wrong(
                file=file,
                fault="clock",
                message=f"record {each.id[-8:]} was written at {each.changed[0]}, which is still to"
                f" come: look at the clock of {each.changed[1]}",
            )
    yield from _of_record(file, record.car, south=south)


def _of_record(file: str, car: Car, *, south: bool) -> Iterator[Wrong]:
    dial = car.vehicle.dial
    for placed in history_of(car, south=south).placed:
        if placed.oddity is not None:
            yield Wrong(
                file=file,
                fault="odd reading",
                message=f"reading {placed.reading.record[-8:]}: {odd.reading(placed, dial)}",
            )
    if car.vehicle.vin:
        yield from _of_vin(file, car.vehicle.vin)


def _of_vin(file: str, vin: str) -> Iterator[Wrong]:
    try:
        number = read_vin(vin)
    except BadInput as bad:
        yield from (Wrong(file=file, fault="vin", message=fault.what) for fault in bad.faults)
        return
    if number.check is Check.FAILS:
        notes = " ".join(note.value for note in number.notes)
        yield Wrong(file=file, fault="vin", message=notes)
