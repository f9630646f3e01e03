"""The rule set that comes with the program: its texts, and the tables and rules read from them."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RuleId
from castlenut.domain.rules.document import Document
from castlenut.domain.rules.reading import ids_in, rules_of
from castlenut.domain.rules.rule import Rule
from castlenut.domain.rules.tables import Tables, read_tables


@dataclass(frozen=True, slots=True, kw_only=True)
class ShippedTexts:
    """The TOML texts of the rule folder; `rules` by file name, in the order they are to be told."""

    rules: Mapping[str, str]
    kinds: str
    events: str
    accesses: str
    conversions: str
    assemblies: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShippedTables:
    """The shipped rules and what rules may speak of.

    `kinds_of`: the kinds of part each rule is about. `triggered_by`: the conversions that make a
    rule due.
    """

    rules: Mapping[RuleId, Rule]
    tables: Tables
    kinds_of: Mapping[RuleId, tuple[str, ...]]
    triggered_by: Mapping[RuleId, Sequence[str]]


def read_shipped(texts: ShippedTexts) -> ShippedTables:
    """Read the shipped rule set and hold it against itself.

    Raises:
        BadInput: with every fault of every file.
    """
    tables = read_tables(
        kinds=texts.kinds,
        events=texts.events,
        accesses=texts.accesses,
        conversions=texts.conversions,
        assemblies=texts.assemblies,
    )
    faults: list[Fault] = []
    documents = [Document(text, file, faults) for file, text in texts.rules.items()]
    named = {id_ for document in documents for id_ in ids_in(document)}
    rules: dict[RuleId, Rule] = {}
    for document in documents:
        for rule in rules_of(document, origin="shipped", tables=tables, known={}, named=named):
            if rule.id in rules:
                faults.append(
                    Fault(
                        what="stands in another file too",
                        where=f"{document.file}, {rule.id}",
                        remedy="keep one of them",
                    )
                )
            rules[rule.id] = rule
    faults.extend(_unknown_triggers(tables, rules))
    if faults:
        raise BadInput(*faults)
    return ShippedTables(
        rules=rules,
        tables=tables,
        kinds_of={id_: rule.kinds for id_, rule in rules.items()},
        triggered_by=triggered_by(
            {each.name: tuple(each.triggers) for each in tables.conversions.values()}
        ),
    )


def triggered_by(triggers: Mapping[str, Iterable[RuleId]]) -> Mapping[RuleId, Sequence[str]]:
    """Turn the rules that each conversion makes due into the conversions that each rule has."""
    found: dict[RuleId, list[str]] = defaultdict(list)
    for conversion, rules in triggers.items():
        for rule in rules:
            found[rule].append(conversion)
    return found


def _unknown_triggers(tables: Tables, rules: Mapping[RuleId, Rule]) -> tuple[Fault, ...]:
    return tuple(
        Fault(
            what=f'triggers "{rule}", which is not a rule',
            where=f"conversions.toml, {conversion.name}, triggers",
            remedy="name a shipped rule",
        )
        for conversion in tables.conversions.values()
        for rule in conversion.triggers
        if rule not in rules
    )
