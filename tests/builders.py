"""Cars and rule books for tests, invented, put together in a line or two."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import cache
from importlib import resources

from castlenut.domain.car import Car, OwnFigure
from castlenut.domain.component import Component
from castlenut.domain.due import CarToday, items_today
from castlenut.domain.happenings import (
    Answer,
    Grade,
    Happening,
    Job,
    Measurement,
    Raised,
    Statement,
)
from castlenut.domain.ids import ItemId, RecordId, RuleId, VehicleId
from castlenut.domain.item import Item
from castlenut.domain.odometer import Dial, Reading
from castlenut.domain.place import place as read_place
from castlenut.domain.rules.precedence import rule_book
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.rules.shipped import ShippedTables, ShippedTexts, read_shipped
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive, Exposure, Stay, Vehicle

MILES = Dial(unit=Unit.MI, digits=5, tenths=False)
TABLES = {"kinds", "events", "accesses", "conversions", "assemblies"}


def day(text: str) -> date:
    return date.fromisoformat(text)


def record(name: str) -> RecordId:
    """Give a record id that reads as its name; ids of one test sort as their names do."""
    return RecordId(name)


@cache
def shipped() -> ShippedTables:
    folder = resources.files("castlenut.shipped_rules")
    texts = {
        each.name: each.read_text(encoding="utf-8")
        for each in sorted(folder.iterdir(), key=lambda entry: entry.name)
        if each.name.endswith(".toml")
    }
    tables = {name: texts.pop(f"{name}.toml") for name in sorted(TABLES)}
    return read_shipped(ShippedTexts(rules=texts, **tables))


@cache
def book(garage_text: str | None = None) -> RuleBook:
    """Give the shipped rules with a garage's own laid over them, which must have no fault."""
    rules, faults = rule_book(shipped(), garage_text)
    assert not faults, [str(fault) for fault in faults]
    return rules


def only(garage_text: str) -> RuleBook:
    """Give a book that holds nothing but the rules of a text, beside the shipped tables."""
    whole = book(garage_text)
    own = {id_: rule for id_, rule in whole.rules.items() if rule.origin == "garage"}
    return RuleBook(
        rules=own,
        kinds_of={id_: rule.kinds for id_, rule in own.items()},
        kinds=whole.kinds,
        accesses=whole.accesses,
        events=whole.events,
        conversions=whole.conversions,
        assemblies=whole.assemblies,
    )


def vehicle(
    *,
    slug: str = "test-car",
    year: int | None = 1970,
    dial: Dial = MILES,
    drive: Drive | None = Drive.REAR,
    dual: bool = False,
    weight_lb: int | None = None,
) -> Vehicle:
    return Vehicle(
        record=record("vehicle"),
        slug=slug,
        description="invented car",
        dial=dial,
        year=year,
        drive=drive,
        dual=dual,
        weight_lb=weight_lb,
    )


def reading(on: str, figure: str | int, name: str | None = None) -> Reading:
    return Reading(
        record=record(name or f"reading-{on}-{figure}"),
        on=day(on),
        figure=Decimal(figure),
        unit=Unit.MI,
    )


def part(
    kind: str,
    at_place: str = "",
    *,
    name: str | None = None,
    on: str | None = None,
    at: int | None = None,
    made: str | None = None,
    stamped: Mapping[str, str] | None = None,
    every: str | None = None,
    removed_on: str | None = None,
    job: str | None = None,
    **attributes: str,
) -> Component:
    return Component(
        record=record(name or f"{kind} {at_place}".strip()),
        kind=kind,
        place=read_place(at_place),
        on=None if on is None else day(on),
        at=None if at is None else Decimal(at),
        made=None if made is None else day(made),
        stamped=stamped or {},
        every=every,
        removed_on=None if removed_on is None else day(removed_on),
        job=None if job is None else record(job),
        attributes=attributes,
    )


def job(
    on: str,
    at: int | None,
    *items: str,
    name: str | None = None,
    includes: Sequence[str] = (),
    events: Sequence[tuple[str, str]] = (),
    by: str | None = None,
) -> Job:
    """Give a job; items are written `rule~component`."""
    return Job(
        record=record(name or f"job-{on}-{at}-{' '.join(items)}"),
        on=day(on),
        at=None if at is None else Decimal(at),
        by=by,
        items=tuple(item_of(each) for each in items),
        includes=tuple(item_of(each) for each in includes),
        events=tuple(Raised(event=event, place=read_place(where)) for event, where in events),
    )


def item_of(text: str) -> ItemId:
    rule, _, component = text.partition("~")
    return ItemId(rule=RuleId(rule), component=record(component))


def happened(event: str, on: str, at: int | None = None, where: str = "") -> Happening:
    return Happening(
        record=record(f"happening-{event}-{on}"),
        event=event,
        on=day(on),
        at=None if at is None else Decimal(at),
        place=read_place(where),
    )


def measured(
    measure: str,
    on: str,
    at: int | None,
    *values: str,
    unit: str,
    where: str = "",
    resolution: str | None = None,
) -> Measurement:
    return Measurement(
        record=record(f"measured-{measure}-{on}-{where}"),
        on=day(on),
        at=None if at is None else Decimal(at),
        measure=measure,
        place=read_place(where),
        values=tuple(Decimal(value) for value in values),
        unit=unit,
        resolution=None if resolution is None else Decimal(resolution),
    )


def checked(item: str, on: str, at: int | None, *, good: bool) -> Measurement:
    return Measurement(
        record=record(f"checked-{item}-{on}"),
        on=day(on),
        at=None if at is None else Decimal(at),
        item=item_of(item),
        grade=Grade.GOOD if good else Grade.NOT_GOOD,
    )


def stated(kind: str, where: str, on: str | None, at: int | None) -> Statement:
    return Statement(
        record=record(f"stated-{kind}-{where}"),
        answer=Answer.STATED,
        kind=kind,
        place=read_place(where),
        on=None if on is None else day(on),
        at=None if at is None else Decimal(at),
    )


def inspected(kind: str, where: str, on: str, until: str) -> Statement:
    return Statement(
        record=record(f"inspected-{kind}-{where}"),
        answer=Answer.INSPECTED,
        kind=kind,
        place=read_place(where),
        on=day(on),
        until=day(until),
    )


def exposed(name: str, since: str, until: str | None = None) -> Exposure:
    return Exposure(
        record=record(f"exposure-{name}-{since}"),
        name=name,
        since=day(since),
        until=None if until is None else day(until),
    )


def stay(since: str, over: str | None = None) -> Stay:
    return Stay(
        record=record(f"stay-{since}"), since=day(since), over=None if over is None else day(over)
    )


def figure(name: str, value: str, unit: str, where: str = "") -> OwnFigure:
    return OwnFigure(
        record=record(f"figure-{name}-{where}"),
        name=name,
        value=Decimal(value),
        unit=unit,
        place=read_place(where),
    )


def car(*parts: Component, of: Vehicle | None = None, **tables: Sequence[object]) -> Car:
    """Give a car with parts; the tables are those of Car, as sequences."""
    return Car(
        id=VehicleId("11111111-1111-7111-8111-111111111111"),
        vehicle=of or vehicle(),
        components=parts,
        **{name: tuple(values) for name, values in tables.items()},  # type: ignore[arg-type]  # by name
    )


def today(of: Car, rules: RuleBook, on: str, *, south: bool = False) -> CarToday:
    return items_today(of, rules, today=day(on), south=south)


def the_item(found: CarToday, rule: str, where: str = "") -> Item:
    """Give the one item of a rule, at a place if it has several."""
    items = [
        item
        for item in found.items
        if item.rule.id == rule and (not where or str(item.place) == where)
    ]
    assert len(items) == 1, [(item.rule.id, str(item.place)) for item in found.items]
    return items[0]
