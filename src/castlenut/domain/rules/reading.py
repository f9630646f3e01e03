"""TOML to rules: a file is read whole, and every fault of it is told with line, rule and field."""

import re
from collections.abc import Collection, Iterator, Mapping
from fractions import Fraction
from typing import TypeVar

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import replace
from castlenut.domain.ids import OWN, RuleId
from castlenut.domain.rules.conditions import attributes_of, read_where
from castlenut.domain.rules.distances import rule_in
from castlenut.domain.rules.document import Document
from castlenut.domain.rules.fields import Table, meant
from castlenut.domain.rules.intervals import (
    margin_of,
    read_age,
    read_every,
    read_first,
    read_margin,
    read_points,
    read_season,
    read_variants,
)
from castlenut.domain.rules.limit_fields import read_limits
from castlenut.domain.rules.rule import (
    Act,
    Basis,
    Counting,
    Intake,
    Per,
    Rule,
)
from castlenut.domain.rules.tables import CAUTIONS, PARTS, Tables
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import EXPOSURES

OWN_SOURCE = "own rule of this garage"

FIELDS = (
    "id", "title", "component", "part", "also_called", "danger", "off", "vehicles", "where",
    "unit", "every", "variants", "first", "also_after", "season", "age", "limits", "check", "specs",
    "exposure", "lead", "tolerance", "next_from", "counted_from", "ends_under_yearly", "includes",
    "instead_of", "access", "hours", "per", "parts", "cautions", "intake", "source", "basis",
    "note",
)  # fmt: skip
"""Every field of a rule."""

Value = TypeVar("Value")

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_LONGEST_YEAR = 100_000
_TEN_PERCENT = Fraction(10)


def read_rules(
    text: str,
    *,
    file: str,
    origin: str,
    tables: Tables,
    known: Mapping[RuleId, Rule] | None = None,
) -> tuple[Rule, ...]:
    """Read the rules of one file. A rule whose id is known changes that one: fields given replace.

    `origin` is "shipped" or "garage"; a garage's rules need no source.

    Raises:
        BadInput: with every fault of the file.
    """
    faults: list[Fault] = []
    document = Document(text, file, faults)
    shipped = known or {}
    named = {*shipped, *ids_in(document)}
    rules = rules_of(document, origin=origin, tables=tables, known=shipped, named=named)
    if faults:
        raise BadInput(*sorted(faults, key=_line))
    return rules


def ids_in(document: Document) -> tuple[RuleId, ...]:
    """Give the ids of the rules of a file, as far as they are texts."""
    given = document.values.get("rule")
    entries = given if isinstance(given, list) else []
    ids = (each.get("id") for each in entries if isinstance(each, dict))
    return tuple(RuleId(each) for each in ids if isinstance(each, str))


def rules_of(
    document: Document,
    *,
    origin: str,
    tables: Tables,
    known: Mapping[RuleId, Rule],
    named: Collection[str],
) -> tuple[Rule, ...]:
    """Read the rules of a document, its faults added to the document's own.

    `named` holds every id a rule may speak of: those of this file and of the others.
    """
    document.only(("rule", "part", "danger"))
    top = document.top()
    part = (top.named("part", PARTS, "a part of the car") or (None,))[0]
    reader = _Reader(
        origin=origin,
        tables=tables,
        known=known,
        named=named,
        happenings=_Either(tables.events, named),
        part=part,
        danger=top.whole("danger", 1, 3),
    )
    rules: list[Rule] = []
    seen: set[str] = set()
    for table in document.entries("rule"):
        rule = reader.rule(table)
        if rule is None:
            continue
        if rule.id in seen:
            table.fault("id", f'"{rule.id}" stands twice in this file', "keep one of them")
        seen.add(rule.id)
        rules.append(rule)
    return tuple(rules)


def _line(fault: Fault) -> int:
    found = re.search(r" line (\d+)", fault.where)
    return int(found.group(1)) if found else 0


class _Either(Collection[str]):
    """Two collections of names as one: a set of them all would be made anew for every rule read."""

    def __init__(self, one: Collection[str], other: Collection[str]) -> None:
        self._both = (one, other)

    def __contains__(self, name: object) -> bool:
        return any(name in each for each in self._both)

    def __iter__(self) -> Iterator[str]:
        return iter({*self._both[0], *self._both[1]})

    def __len__(self) -> int:
        return len({*self._both[0], *self._both[1]})


class _Reader:
    """Reads one rule after another against what rules may speak of."""

    def __init__(
        self,
        *,
        origin: str,
        tables: Tables,
        known: Mapping[RuleId, Rule],
        named: Collection[str],
        happenings: Collection[str],
        part: str | None,
        danger: int | None,
    ) -> None:
        self._origin = origin
        self._tables = tables
        self._known = known
        self._named = named
        self._happenings = happenings
        self._part = part
        self._danger = danger

    def rule(self, table: Table) -> Rule | None:
        """Read one rule, or None where it cannot even be named."""
        table.only(FIELDS)
        id_ = self._id(table)
        if id_ is None:
            return None
        unit = table.choice("unit", Unit)
        old = self._known.get(id_)
        if old is None and "title" not in table and "component" not in table:
            table.fault(
                "id",
                f'"{id_}" is not a rule that can be changed',
                f"{meant(id_, self._known, say='use')}; a rule of your own needs title, component",
            )
            return None
        kinds = self._kinds(table, old)
        if old is None:
            old = self._blank(id_, table, kinds, unit or Unit.MI)
        rule = self._read(table, rule_in(old, unit or old.unit), kinds)
        if not any((rule.every, rule.first, rule.also_after, rule.age, rule.limits)):
            table.fault("", "nothing makes it due", "give every, first, also_after, age or limits")
        return rule

    def _id(self, table: Table) -> RuleId | None:
        text = table.text("id")
        if text is None:
            if "id" not in table:
                table.fault("id", "is missing", 'write id = "my-rule"')
            return None
        if not _ID.fullmatch(text) or text == OWN:
            table.fault(
                "id", f'"{text}" may not be an id', "use small letters, digits and single hyphens"
            )
            return None
        if text in self._tables.events and text not in self._known:
            table.fault("id", f'"{text}" is the name of an event', "choose another id")
            return None
        return RuleId(text)

    def _kinds(self, table: Table, old: Rule | None) -> tuple[str, ...]:
        found = table.named("component", self._tables.kinds, "a kind of component")
        if found is not None:
            return found
        if old is not None:
            return old.kinds
        if "component" not in table:
            table.fault("component", "is missing", 'write component = "brake hose"')
        return ()

    def _blank(self, id_: RuleId, table: Table, kinds: tuple[str, ...], unit: Unit) -> Rule:
        """Give a rule that holds what is not written: the defaults."""
        if "title" not in table:
            table.fault("title", "is missing", 'write title = "thing, what is done"')
        if self._origin == "shipped":
            for key in ("source", "basis"):
                if key not in table:
                    table.fault(key, "is missing", "a shipped rule says where it comes from")
        first = self._tables.kinds.get(kinds[0]) if kinds else None
        return Rule(
            id=id_,
            title=id_,
            kinds=kinds,
            part=self._part or (first.part if first else ""),
            danger=self._danger or 2,
            unit=unit,
            lead=margin_of(_TEN_PERCENT, unit),
            tolerance=margin_of(Fraction(0), unit),
            source=OWN_SOURCE,
            basis=Basis.PRACTICE,
            origin=self._origin,
        )

    def _read(self, table: Table, old: Rule, kinds: tuple[str, ...]) -> Rule:
        attributes = attributes_of(kinds, self._tables.kinds)
        off, off_for = self._off(table, old)
        access = table.named("access", self._tables.accesses, "an access")
        return replace(
            old,
            kinds=kinds,
            title=table.text("title") or old.title,
            part=(table.named("part", PARTS, "a part of the car") or (old.part,))[0],
            also_called=_given(table.texts("also_called"), old.also_called),
            danger=table.whole("danger", 1, 3) or old.danger,
            off=off,
            off_for=off_for,
            where=read_where(table, attributes) if "where" in table else old.where,
            every=read_every(table, old.unit) if "every" in table else old.every,
            variants=_given(read_variants(table, old.unit, attributes), old.variants),
            first=_given(read_first(table), old.first),
            also_after=_given(read_points(table, self._happenings, attributes), old.also_after),
            season=_given(read_season(table), old.season),
            age=read_age(table) or old.age,
            limits=_given(read_limits(table, attributes), old.limits),
            check=table.text("check") or old.check,
            specs=_given(table.texts("specs"), old.specs),
            exposure=_given(self._exposure(table), old.exposure),
            lead=read_margin(table, "lead", old.unit) or old.lead,
            tolerance=read_margin(table, "tolerance", old.unit) or old.tolerance,
            counting=table.choice("next_from", Counting) or old.counting,
            counted_from_layup=self._is_from_layup(table, old),
            ends_under_yearly=table.number("ends_under_yearly", 1, _LONGEST_YEAR)
            or old.ends_under_yearly,
            includes=_given(self._rules(table, "includes"), old.includes),
            instead_of=_given(self._rules(table, "instead_of"), old.instead_of),
            access=_given(access, old.access),
            hours=_given(table.number("hours", 0, 200), old.hours),
            per=table.choice("per", Per) or old.per,
            parts=_given(table.texts("parts"), old.parts),
            cautions=_given(table.named("cautions", CAUTIONS, "a caution"), old.cautions),
            intake=self._intake(table) or old.intake,
            source=self._source(table, old),
            basis=table.choice("basis", Basis)
            or (Basis.PRACTICE if self._origin == "garage" else old.basis),
            note=table.text("note") or old.note,
            origin=self._origin,
        )

    def _source(self, table: Table, old: Rule) -> str:
        given = table.text("source")
        if given is not None or self._origin != "garage" or old.origin == "garage":
            return given or old.source
        return f"{OWN_SOURCE}; as shipped: {old.source}"

    def _off(self, table: Table, old: Rule) -> tuple[bool, frozenset[str]]:
        off = table.yes_no("off")
        vehicles = table.texts("vehicles")
        if vehicles is not None and not off:
            table.fault("vehicles", "stands without off = true", "write off = true beside it")
        if off is None:
            return old.off, old.off_for
        if vehicles is None:
            return off, frozenset()
        return old.off, frozenset(vehicles)

    def _is_from_layup(self, table: Table, old: Rule) -> bool:
        given = table.named("counted_from", ("baseline", "layup"), "a start of counting")
        return old.counted_from_layup if given is None else given == ("layup",)

    def _rules(self, table: Table, key: str) -> tuple[RuleId, ...] | None:
        found = table.named(key, self._named, "a rule")
        return None if found is None else tuple(map(RuleId, found))

    def _exposure(self, table: Table) -> Mapping[str, Fraction] | None:
        given = table.table("exposure", "{ wet = 0.5, salt = 0.5 }")
        if given is None:
            return None
        factors: dict[str, Fraction] = {}
        for name in given.values:
            if name not in EXPOSURES:
                given.fault(name, "not an exposure", meant(name, EXPOSURES, say="use"))
            elif (factor := given.number(name, 0, 1)) is not None:
                if factor:
                    factors[name] = factor
                else:
                    given.fault(name, "0 leaves no interval", "allowed above 0, to 1")
        return factors

    def _intake(self, table: Table) -> Intake | None:
        given = table.table("intake", '{ rank = 1, act = "renew" }')
        if given is None:
            return None
        given.only(("rank", "act"), "not a part of intake")
        rank, act = given.whole("rank", 1, 4), given.choice("act", Act)
        for key in ("rank", "act"):
            if key not in given:
                given.fault(key, "is missing", 'write { rank = 1, act = "renew" }')
        return None if rank is None or act is None else Intake(rank=rank, act=act)


def _given(new: Value | None, old: Value) -> Value:
    """Give what the file says, else what stood before: an empty list given replaces a full one."""
    return old if new is None else new
