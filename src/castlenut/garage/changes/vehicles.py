"""Taking a car in, and changing what is known of it."""

from collections.abc import Mapping
from datetime import date

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.vin import Check, Form, VinNote, read_vin
from castlenut.garage.changes.tires import check_marking
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.revisions import Added
from castlenut.store.schema import check_record, typed
from castlenut.store.slug import slug_from
from castlenut.store.values import Value

USUAL_DIGITS = 6
_MADE_HERE = frozenset({"slug"})


def draft_vehicle(garage: Garage, slug: str | None, fields: Mapping[str, str]) -> Draft:
    """Take a car in. `fields` are those of the vehicle record, as typed.

    Without a short name it is made from the description, without a description the name stands
    for it. The unit is the garage's; a dial nobody described has six digits and no tenths.

    Raises:
        BadInput: with every fault of every field.
    """
    name = slug if slug is not None else slug_from(fields.get("description", ""))
    if slug is None and not fields.get("description", "").strip():
        raise BadInput(
            Fault("no name is given", "short name", "give a short name or a description")
        )
    file = garage.folder.new_vehicle(name, garage.surroundings.new_id())
    values: dict[str, Value] = {
        "slug": name,
        "description": name,
        "unit": garage.settings.distance_unit.value,
        "digits": USUAL_DIGITS,
    }
    faults: list[Fault] = []
    for field, text in fields.items():
        if field in _MADE_HERE:
            faults.append(
                Fault("the short name cannot be set so", field, "give it before the fields")
            )
            continue
        try:
            value = typed("vehicle", field, text)
            check_marking(field, text)
        except BadInput as bad:
            faults.extend(_plainly(field, fault) for fault in bad.faults)
            continue
        if value is not None:
            values[field] = value
    faults.extend(vehicle_faults(values, today=garage.surroundings.today))
    faults.extend(check_record("vehicle", values))
    if faults:
        raise BadInput(*dict.fromkeys(faults))
    record = garage.surroundings.new_id()
    return Draft(
        slug=name,
        file=file,
        edits=(Added(table="vehicle", id=record, values=values),),
        told=vin_told(values),
        title=f"{name} added",
    )


def _plainly(field: str, fault: Fault) -> Fault:
    """Name the field alone where a fault was found: the table is plain from the command."""
    return Fault(fault.what, field, fault.remedy)


def vehicle_faults(values: Mapping[str, Value], *, today: date) -> tuple[Fault, ...]:
    """Give what cannot be true of a car."""
    faults: list[Fault] = []
    year = values.get("year")
    if isinstance(year, int) and year > today.year + 1:
        faults.append(Fault(f"{year} is not come yet", "year", "give the year of make"))
    sold_on = values.get("sold_on")
    if isinstance(sold_on, str) and date.fromisoformat(sold_on) > today:
        faults.append(Fault(f"{sold_on} is after today", "sold_on", "give the day it was sold"))
    return tuple(faults)


def vin_told(values: Mapping[str, Value]) -> tuple[str, ...]:
    """Say what is odd about a vehicle number: told, never refused. The number is not said."""
    vin, year = values.get("vin"), values.get("year")
    if not isinstance(vin, str):
        return ()
    try:
        read = read_vin(vin)
    except BadInput as bad:
        return tuple(f"vin: {fault.what}" for fault in bad.faults)
    told: list[str] = []
    if read.form is Form.VIN and read.check is Check.FAILS and VinNote.LETTERS not in read.notes:
        told.append(f"vin: {VinNote.FAILS.value}")
    if VinNote.LETTERS in read.notes:
        told.append(f"vin: {VinNote.LETTERS.value}")
    if isinstance(year, int) and read.model_years and year not in read.model_years:
        years = " or ".join(map(str, read.model_years))
        told.append(f"vin: it says model year {years}, {year} was given")
    return tuple(told)


def vin_words(vin: str, *, year: int | None) -> str:
    """Say in few words how a number stands that is being typed; empty: nothing is typed."""
    try:
        read = read_vin(vin) if vin else None
    except BadInput as bad:
        return bad.faults[0].what
    if read is None:
        return ""
    if read.form is Form.SERIAL:
        return "a serial: nothing to check"
    years = " or ".join(map(str, read.model_years))
    if year is not None and read.model_years and year not in read.model_years:
        return f"it says model year {years}"
    return "the check digit holds" if read.check is Check.HOLDS else "?? the check digit fails"
