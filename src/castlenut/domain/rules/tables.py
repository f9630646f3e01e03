"""The tables rules speak of: kinds of parts, events, accesses, conversions, assemblies."""

from collections.abc import Collection, Mapping
from fractions import Fraction

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RuleId
from castlenut.domain.place import Place, place
from castlenut.domain.rules.document import Document
from castlenut.domain.rules.fields import Table
from castlenut.domain.rules.rule import (
    Access,
    Assembly,
    Conversion,
    Event,
    KindOfPart,
    PartChange,
    Per,
)

POSITIONS = ("corners", "corners and spare", "sides", "ends", "one", "numbered", "free")
PARTS = (
    "Wheels and tires",
    "Wheel bearings",
    "Brakes",
    "Steering and suspension",
    "Driveline",
    "Engine",
    "Cooling and fuel",
    "Electrics",
    "Body and safety",
    "Storage",
)
"""Parts of the car: pages of intake, and categories of dates in a calendar."""
CAUTIONS = (
    "lift",
    "spring",
    "dust",
    "bfluid",
    "fuel",
    "hot",
    "batt",
    "weld",
    "airbag",
    "inflate",
    "splitrim",
    "chem",
    "lead",
    "runeng",
    "rotating",
    "road",
)
"""Keys of the cautions; their sentences stand in words/cautions.py."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tables:
    """What rules speak of, by name. Events hold those of accesses and conversions too."""

    kinds: Mapping[str, KindOfPart]
    events: Mapping[str, Event]
    accesses: Mapping[str, Access]
    conversions: Mapping[str, Conversion]
    assemblies: Mapping[str, Assembly]


def read_tables(
    *, kinds: str, events: str, accesses: str, conversions: str, assemblies: str
) -> Tables:
    """Read the five tables from their TOML texts, and hold each against the others.

    Raises:
        BadInput: with every fault of all five.
    """
    faults: list[Fault] = []
    event_table = {
        each.name: each
        for each in map(event_of, Document(events, "events.toml", faults).entries("event"))
    }
    kind_table = {
        each.name: each
        for each in (
            kind_of(table, event_table)
            for table in Document(kinds, "kinds.toml", faults).entries("kind")
        )
    }
    access_table = {
        each.key: each
        for each in (
            access_of(table, event_table)
            for table in Document(accesses, "accesses.toml", faults).entries("access")
        )
    }
    conversion_table = {
        each.name: each
        for each in (
            conversion_of(table, kind_table, event_table)
            for table in Document(conversions, "conversions.toml", faults).entries("conversion")
        )
    }
    assembly_table = {
        each.name: each
        for each in (
            assembly_of(table, kind_table, event_table)
            for table in Document(assemblies, "assemblies.toml", faults).entries("assembly")
        )
    }
    if faults:
        raise BadInput(*faults)
    return Tables(
        kinds=kind_table,
        events=event_table
        | {
            each.name: Event(name=each.name, words=each.title) for each in conversion_table.values()
        },
        accesses=access_table,
        conversions=conversion_table,
        assemblies=assembly_table,
    )


def event_of(table: Table) -> Event:
    """Read one event."""
    table.only(("name", "words", "also_called"))
    return Event(
        name=_needed(table, "name"),
        words=_needed(table, "words"),
        also_called=table.texts("also_called") or (),
    )


def kind_of(table: Table, events: Collection[str]) -> KindOfPart:
    """Read one kind of part."""
    table.only(
        (
            "name", "part", "positions", "attributes", "excludes", "apart", "apart_by", "raises",
            "also_called",
        )
    )  # fmt: skip
    attributes: dict[str, tuple[str, ...]] = {}
    if (given := table.table("attributes", '{ material = ["rubber"] }')) is not None:
        attributes = {name: given.texts(name) or () for name in given.values}
    apart: dict[str, tuple[tuple[str, ...], ...]] = {}
    if (groups := table.table("apart", '{ fluid = [["DOT 3"], ["DOT 5"]] }')) is not None:
        apart = {name: _groups(groups, name, attributes.get(name, ())) for name in groups.values}
    return KindOfPart(
        name=_needed(table, "name"),
        part=(table.named("part", PARTS, "a part of the car") or ("",))[0],
        positions=table.named("positions", POSITIONS, "a way of standing") or (),
        attributes=attributes,
        excludes=table.texts("excludes") or (),
        apart=apart,
        apart_by=(table.named("apart_by", ("place", "axle"), "place or axle") or ("place",))[0],
        raises=table.named("raises", events, "an event") or (),
        also_called=table.texts("also_called") or (),
    )


def _groups(table: Table, name: str, allowed: Collection[str]) -> tuple[tuple[str, ...], ...]:
    found: list[tuple[str, ...]] = []
    for group in table.items(name, '[["DOT 3"], ["DOT 5"]]') or ():
        values = tuple(group) if isinstance(group, list) else ()
        if not values or not all(value in allowed for value in values):
            table.fault(name, "holds a value the attribute does not have", "use its own values")
        found.append(tuple(str(value) for value in values))
    return tuple(found)


def access_of(table: Table, events: Collection[str]) -> Access:
    """Read one access."""
    table.only(("key", "words", "implies", "hours", "per", "event"))
    return Access(
        key=_needed(table, "key"),
        words=_needed(table, "words"),
        implies=table.texts("implies") or (),
        hours=table.number("hours", 0, 100) or Fraction(0),
        per=table.choice("per", Per) or Per.CAR,
        event=(table.named("event", events, "an event") or (None,))[0],
    )


def conversion_of(
    table: Table, kinds: Mapping[str, KindOfPart], events: Collection[str]
) -> Conversion:
    """Read one conversion."""
    table.only(("name", "title", "ends", "begins", "raises", "triggers", "asks", "cautions"))
    triggers: dict[RuleId, tuple[Fraction, ...]] = {}
    if (given := table.table("triggers", "{ align = [0, 500] }")) is not None:
        for rule in given.values:
            points = given.items(rule, "[0, 500]") or ()
            read = (given.as_number(rule, each, 0, 100_000) for each in points)
            triggers[RuleId(rule)] = tuple(each for each in read if each is not None)
    return Conversion(
        name=_needed(table, "name"),
        title=_needed(table, "title"),
        ends=_changes(table, "ends", kinds),
        begins=_changes(table, "begins", kinds),
        raises=table.named("raises", events, "an event") or (),
        triggers=triggers,
        asks=table.texts("asks") or (),
        cautions=table.named("cautions", CAUTIONS, "a caution") or (),
    )


def _changes(table: Table, key: str, kinds: Mapping[str, KindOfPart]) -> tuple[PartChange, ...]:
    found: list[PartChange] = []
    for change in table.tables(key, '[{ kind = "rotor", places = ["LF", "RF"] }]') or ():
        change.only(("kind", "places", "attributes"))
        kind = (change.named("kind", kinds, "a kind") or ("",))[0]
        attributes: Mapping[str, str] = {}
        given = change.table("attributes", '{ friction = "disc" }')
        if given is not None and kind in kinds:
            attributes = _attributes(given, kinds[kind])
        found.append(
            PartChange(kind=kind, places=read_places(change, "places"), attributes=attributes)
        )
    return tuple(found)


def assembly_of(table: Table, kinds: Mapping[str, KindOfPart], events: Collection[str]) -> Assembly:
    """Read one assembly."""
    table.only(("name", "brings", "attributes", "raises", "also_called"))
    brings = table.named("brings", kinds, "a kind") or ()
    attributes: dict[str, Mapping[str, str]] = {}
    if (given := table.table("attributes", '{ rotor = { rotor = "one-piece" } }')) is not None:
        given.only(brings or ("no kind",), "not a kind it brings")
        for kind in (each for each in given.values if each in kinds):
            of = given.table(kind, '{ rotor = "one-piece" }')
            attributes[kind] = {} if of is None else _attributes(of, kinds[kind])
    return Assembly(
        name=_needed(table, "name"),
        brings=brings,
        attributes=attributes,
        raises=table.named("raises", events, "an event") or (),
        also_called=table.texts("also_called") or (),
    )


def _attributes(given: Table, kind: KindOfPart) -> Mapping[str, str]:
    """Read values of attributes that a kind has."""
    known = kind.attributes
    given.only(tuple(known) or ("no attribute",), "not an attribute of the kind")
    found: dict[str, str] = {}
    for name in (each for each in given.values if each in known):
        allowed = known[name]
        read = given.named(name, allowed, "a value of it") if allowed else given.texts(name)
        found[name] = (read or ("",))[0]
    return found


def read_places(table: Table, key: str) -> tuple[Place, ...]:
    """Read one place or a list of places of a field."""
    found: list[Place] = []
    for text in table.texts(key) or ():
        try:
            here = place(text)
        except BadInput as bad:
            for fault in bad.faults:
                table.fault(key, fault.what, fault.remedy)
            continue
        if here is None:
            table.fault(key, "is no place", "write LF, front, LF upper or the like")
        else:
            found.append(here)
    return tuple(found)


def _needed(table: Table, key: str) -> str:
    found = table.text(key)
    if found is None and key not in table:
        table.fault(key, "is missing", f'write {key} = "..."')
    return found or ""
