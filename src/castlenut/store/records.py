"""From stored records to one car's record as the domain sees it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import TypeVar

from castlenut.domain.car import Car, OwnFigure, OwnItem
from castlenut.domain.component import Component, Origin
from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading, Replaced, RolledOver
from castlenut.domain.errors import BadInput
from castlenut.domain.findings import Decided, Finding, Nature
from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import (
    Answer,
    Decline,
    Grade,
    Happening,
    Job,
    Measurement,
    Raised,
    Statement,
)
from castlenut.domain.ids import ItemId, RecordId, RuleId, VehicleId, short
from castlenut.domain.place import place
from castlenut.domain.rules.precedence import every_from_text
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import (
    EXPOSURES,
    Drive,
    Exposure,
    KeptAt,
    Stay,
    Use,
    Vehicle,
    VisitRecord,
    VisitState,
)
from castlenut.store.part_records import component_of, rule_change_of
from castlenut.store.revisions import StoredRecord
from castlenut.store.tire_records import assemblies, room_of
from castlenut.store.typed_fields import CannotBe, Fields

THIS_GARAGE = "this garage"
_USUAL_DIGITS = 6

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class CarRead:
    """A car put together from its records, and a sentence for each record that was set aside."""

    car: Car
    set_aside: tuple[str, ...]


class _Reader:
    """The live records of one car by table, in the order they were entered."""

    def __init__(self, records: Iterable[StoredRecord]) -> None:
        self.tables: dict[str, list[Fields]] = {}
        for record in records:
            if not record.gone:
                self.tables.setdefault(record.table, []).append(Fields(record))
        for entries in self.tables.values():
            entries.sort(key=lambda each: each.entered)
        self.set_aside: list[str] = []

    def all(self, table: str, become: Callable[[Fields], T]) -> tuple[T, ...]:
        """Give what the records of a table become; what cannot be set aside."""
        found: list[T] = []
        for fields in self.tables.get(table, ()):
            try:
                found.append(become(fields))
            except CannotBe as wrong:
                self.set_aside.append(set_aside(fields.record, str(wrong)))
        return tuple(found)


def set_aside(record: StoredRecord, wrong: str) -> str:
    """Give the sentence told of a record that cannot be used."""
    return f"record {short(RecordId(record.id))} ({record.table}) is set aside: {wrong}"


def car_of(vehicle: str, slug: str, records: Iterable[StoredRecord]) -> CarRead:
    """Put a car together from its live records; tables the domain does not know are left alone.

    `vehicle` is the id in the file's header, `slug` the file's name. A car whose vehicle record
    cannot be used is answered all the same, with what the file tells of its dial.
    """
    reader = _Reader(records)
    readings = reader.all("reading", _reading)
    vehicles = reader.all("vehicle", lambda fields: _vehicle(fields, slug))
    here = vehicles[0] if vehicles else _unnamed(vehicle, slug, readings)
    if not vehicles:
        reader.set_aside.append(f"no vehicle record can be used: {slug} stands without its facts")
    loose = assemblies(
        tires=reader.tables.get("tire", ()),
        wheels=reader.tables.get("wheel", ()),
        placements=reader.tables.get("placement", ()),
        wrong=lambda fields, what: reader.set_aside.append(set_aside(fields.record, what)),
    )
    car = Car(
        id=VehicleId(vehicle),
        vehicle=here,
        readings=readings,
        dial_events=reader.all("odometer_event", _dial_event),
        components=(
            Component(kind="vehicle", record=here.record, origin=Origin.VEHICLE),
            *reader.all("component", component_of),
            *loose.components,
        ),
        jobs=reader.all("job", _job),
        happenings=reader.all("happening", _happening),
        measurements=reader.all("measurement", _measurement),
        statements=reader.all("statement", _statement),
        declines=reader.all("decline", _decline),
        exposures=reader.all("exposure", _exposure),
        stays=reader.all("stay", _stay),
        visits=reader.all("visit", _visit),
        own_items=reader.all("own_item", _own_item),
        findings=reader.all("finding", _finding),
        figures=reader.all("figure", _own_figure),
        rule_changes=reader.all(
            "rule_change", lambda fields: rule_change_of(fields, here.dial.unit)
        ),
        tires=loose.tires,
        wheels=loose.wheels,
        placements=loose.placements,
        rooms=reader.all("room", room_of),
        notes=_notes(reader.tables),
    )
    return CarRead(car=car, set_aside=tuple(reader.set_aside))


def _notes(tables: Mapping[str, Sequence[Fields]]) -> Mapping[RecordId, str]:
    return {
        fields.id: note
        for entries in tables.values()
        for fields in entries
        if isinstance(note := fields.record.values.get("note"), str)
    }


def _unnamed(vehicle: str, slug: str, readings: Sequence[Reading]) -> Vehicle:
    unit = readings[-1].unit if readings else Unit.MI
    return Vehicle(
        record=RecordId(vehicle),
        slug=slug,
        description=slug,
        dial=Dial(unit=unit, digits=_USUAL_DIGITS, tenths=False),
    )


def _vehicle(fields: Fields, slug: str) -> Vehicle:
    return Vehicle(
        record=fields.id,
        slug=slug,
        description=fields.text("description") or slug,
        dial=Dial(
            unit=fields.choice("unit", Unit) or Unit.MI,
            digits=fields.whole("digits") or _USUAL_DIGITS,
            tenths=fields.yes("tenths"),
        ),
        dual=fields.yes("dual"),
        year=fields.whole("year"),
        drive=fields.choice("drive", Drive),
        weight_lb=fields.whole("weight_lb"),
        use=fields.choice("use", Use),
        kept_at=fields.choice("kept_at", KeptAt),
        owner=fields.text("owner"),
        phone=fields.text("phone"),
        plate=fields.text("plate"),
        vin=fields.text("vin"),
        calibrated_size=fields.text("calibrated_size"),
        ticks=fields.table("ticks"),
        sold_on=fields.day("sold_on"),
        note=fields.text("note"),
    )


def _reading(fields: Fields) -> Reading:
    return Reading(
        record=fields.id,
        on=fields.day_needed("on"),
        figure=fields.figure_needed("figure"),
        unit=fields.choice("unit", Unit) or Unit.MI,
        judged_right=fields.text("judged") == "right",
        note=fields.text("note"),
    )


def _dial_event(fields: Fields) -> DialEvent:
    on = fields.day_needed("on")
    match fields.needed("event"):
        case "rolled over":
            return RolledOver(record=fields.id, on=on)
        case "replaced":
            return Replaced(
                record=fields.id,
                on=on,
                start=fields.figure_needed("start"),
                last=fields.figure("last"),
            )
        case "factor":
            factor = fields.figure_needed("factor")
            if factor <= 0:
                raise fields.wrong("factor", "a number above 0 is needed")
            return FactorFrom(record=fields.id, on=on, factor=Fraction(factor))
        case _:
            raise fields.wrong("event", "one of rolled over, replaced, factor is needed")


def _job(fields: Fields) -> Job:
    by = fields.text("by")
    return Job(
        record=fields.id,
        on=fields.day_needed("on"),
        at=fields.figure("at"),
        estimated=fields.yes("estimated"),
        by=None if by == THIS_GARAGE else by,
        items=fields.items("items"),
        includes=fields.items("includes"),
        events=tuple(_raised(fields, text) for text in fields.lines("events")),
        hours=fields.figure("hours"),
        cost=_money(fields, "cost"),
        note=fields.text("note"),
    )


def _money(fields: Fields, name: str) -> Decimal | None:
    text = fields.text(name)
    if text is None:
        return None
    try:
        return Decimal(text)
    except InvalidOperation as no_number:
        raise fields.wrong(name, 'an amount of money as "12.50" is needed') from no_number


def _raised(fields: Fields, text: str) -> Raised:
    event, _, at = text.partition(" ")
    try:
        return Raised(event=event, place=place(at))
    except BadInput as bad:
        raise fields.wrong("events", "an event and a place as wheel-off LF is needed") from bad


def _happening(fields: Fields) -> Happening:
    return Happening(
        record=fields.id,
        event=fields.needed("event"),
        on=fields.day_needed("on"),
        at=fields.figure("at"),
        place=fields.place(),
        job=fields.named("job"),
    )


def _measurement(fields: Fields) -> Measurement:
    value = fields.record.values.get("value")
    grade = fields.choice("value", Grade) if isinstance(value, str) else None
    figures = fields.figures("value") if grade is None else ()
    if grade is None and not figures:
        raise fields.wrong("value", "a figure, a list of figures, good or not good is needed")
    return Measurement(
        record=fields.id,
        on=fields.day_needed("on"),
        at=fields.figure("at"),
        measure=fields.text("measure"),
        item=fields.item("item"),
        place=fields.place(),
        values=figures,
        grade=grade,
        unit=fields.text("unit"),
        resolution=fields.figure("resolution"),
        job=fields.named("job"),
    )


def _statement(fields: Fields) -> Statement:
    answer = fields.choice("answer", Answer)
    if answer is None:
        raise CannotBe("answer is missing")
    return Statement(
        record=fields.id,
        answer=answer,
        kind=fields.text("kind"),
        item=fields.text("item"),
        place=fields.place(),
        on=fields.day("on"),
        at=fields.figure("at"),
        until=fields.day("until"),
        until_at=fields.figure("until_at"),
        why=fields.text("why"),
    )


def _decline(fields: Fields) -> Decline:
    item = fields.item("item")
    if item is None:
        raise CannotBe("item is missing")
    return Decline(
        record=fields.id,
        item=ItemId(rule=RuleId(item.rule), component=item.component),
        on=fields.day_needed("on"),
        who=fields.text("who"),
        why=fields.text("why"),
        until=fields.day("until"),
    )


def _exposure(fields: Fields) -> Exposure:
    name = fields.needed("name")
    if name not in EXPOSURES:
        raise fields.wrong("name", f"one of {', '.join(EXPOSURES)} is needed")
    return Exposure(
        record=fields.id, name=name, since=fields.day_needed("from"), until=fields.day("to")
    )


def _stay(fields: Fields) -> Stay:
    return Stay(record=fields.id, since=fields.day_needed("from"), over=fields.day("over"))


def _visit(fields: Fields) -> VisitRecord:
    state = fields.choice("state", VisitState)
    if state is None:
        raise CannotBe("state is missing")
    return VisitRecord(
        record=fields.id,
        on=fields.day_needed("on"),
        state=state,
        items=fields.items("items"),
        hours=fields.figure("hours"),
    )


def _own_item(fields: Fields) -> OwnItem:
    return OwnItem(
        record=fields.id,
        title=fields.needed("title"),
        on=fields.day_needed("on"),
        place=fields.place(),
        at=fields.figure("at"),
        within=_interval(fields, "in"),
        due_on=fields.day("due_on"),
        every=_interval(fields, "every"),
        finding=fields.named("finding"),
    )


def _interval(fields: Fields, name: str) -> str | None:
    text = fields.text(name)
    if text is not None:
        try:
            every_from_text(text, Unit.MI)
        except BadInput as bad:
            raise fields.wrong(name, "an interval as 500mi or 3m is needed") from bad
    return text


def _finding(fields: Fields) -> Finding:
    return Finding(
        record=fields.id,
        what=fields.needed("what"),
        on=fields.day_needed("on"),
        place=fields.place(),
        nature=fields.choice("kind", Nature),
        at=fields.figure("at"),
        decided=fields.choice("decided", Decided),
        mended_by=fields.named("mended_by"),
        photo=fields.text("photo"),
        job=fields.named("job"),
    )


def _own_figure(fields: Fields) -> OwnFigure:
    value = fields.record.values.get("value")
    return OwnFigure(
        record=fields.id,
        name=fields.needed("name"),
        value=value if isinstance(value, str) and value else fields.figure_needed("value"),
        unit=fields.text("unit") or "",
        place=fields.place(),
        source=fields.text("source"),
    )
