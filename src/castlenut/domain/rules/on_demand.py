"""The shipped rule set read entry by entry, each when it is first asked for.

A command over one car needs a third of the rules, and reading all of them takes longer than all the
rest it does. That they hold together is proved by tests, which read them whole (`read_shipped`). So
the texts keep to one layout: an entry begins with the line `[[rule]]`; its name, the kinds of part
it is about and the rules it triggers stand on a line each. Where entries are one line each, they
stand in one list.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.ids import RuleId
from castlenut.domain.rules.document import Document
from castlenut.domain.rules.fields import Table
from castlenut.domain.rules.reading import rules_of
from castlenut.domain.rules.rule import Event, Rule
from castlenut.domain.rules.shipped import ShippedTables, ShippedTexts, triggered_by
from castlenut.domain.rules.tables import (
    Tables,
    access_of,
    assembly_of,
    conversion_of,
    event_of,
    kind_of,
)

Name = TypeVar("Name", bound=str)
Entry = TypeVar("Entry")

_NAME = re.compile(r'^(?:\w+ = \[  \{ )?(?:id|name|key) = "([^"]+)"', re.MULTILINE)
_KINDS = re.compile(r"^component = (.+)", re.MULTILINE)
_TRIGGERS = re.compile(r"^triggers = \{(.+)\}", re.MULTILINE)
_TRIGGERED = re.compile(r"([\w-]+) = \[")
_TEXT = re.compile(r'"([^"]+)"')


class OnDemand(Mapping[Name, Entry]):
    """Entries by name, each made of its text when it is first asked for, and kept."""

    def __init__(self, texts: Mapping[Name, str], read: Callable[[str], Entry]) -> None:
        """Read nothing yet."""
        self._texts = texts
        self._read = read
        self._found: dict[Name, Entry] = {}

    def __getitem__(self, name: Name) -> Entry:
        if name not in self._found:
            self._found[name] = self._read(self._texts[name])
        return self._found[name]

    def __contains__(self, name: object) -> bool:
        return name in self._texts

    def __iter__(self) -> Iterator[Name]:
        return iter(self._texts)

    def __len__(self) -> int:
        return len(self._texts)


def shipped_on_demand(texts: ShippedTexts) -> ShippedTables:
    """Give the shipped rule set, of which nothing is read yet."""
    conversion_texts = _entries(texts.conversions, "conversion")
    event_texts = _entries(texts.events, "event")
    events: Mapping[str, Event] = OnDemand({**event_texts, **conversion_texts}, _event)
    kinds = OnDemand(
        _entries(texts.kinds, "kind"), lambda text: _one(text, lambda table: kind_of(table, events))
    )
    tables = Tables(
        kinds=kinds,
        events=events,
        accesses=OnDemand(
            _entries(texts.accesses, "access"),
            lambda text: _one(text, lambda table: access_of(table, events)),
        ),
        conversions=OnDemand(
            conversion_texts,
            lambda text: _one(text, lambda table: conversion_of(table, kinds, events)),
        ),
        assemblies=OnDemand(
            _entries(texts.assemblies, "assembly"),
            lambda text: _one(text, lambda table: assembly_of(table, kinds, events)),
        ),
    )
    rule_texts = {
        RuleId(name): entry
        for text in texts.rules.values()
        for name, entry in _entries(text, "rule").items()
    }
    return ShippedTables(
        rules=OnDemand(rule_texts, lambda text: _rule(text, tables, rule_texts)),
        tables=tables,
        kinds_of={id_: _kinds(text) for id_, text in rule_texts.items()},
        triggered_by=triggered_by(
            {name: _triggers(text) for name, text in conversion_texts.items()}
        ),
    )


def _entries(text: str, array: str) -> Mapping[str, str]:
    """Divide a text into its entries by name, each with what stands above them all."""
    above, *parts = text.split(f"[[{array}]]\n")
    entries = [f"{above}[[{array}]]\n{part}" for part in parts]
    if not entries:
        entries = [f"{array} = [{line}]" for line in text.splitlines() if line.startswith("  {")]
    found: dict[str, str] = {}
    for entry in entries:
        named = _NAME.search(entry)
        if named is None:
            raise BadInput(
                Fault("has no name at the start of a line", array, 'write id = "my-rule"')
            )
        found[named[1]] = entry
    return found


def _kinds(text: str) -> tuple[str, ...]:
    """Give the kinds of part that the text of a rule says it is about."""
    written = _KINDS.search(text)
    return tuple(_TEXT.findall(written[1])) if written else ()


def _triggers(text: str) -> tuple[RuleId, ...]:
    """Give the rules that the text of a conversion says it makes due."""
    written = _TRIGGERS.search(text)
    return tuple(map(RuleId, _TRIGGERED.findall(written[1]))) if written else ()


def _one(text: str, read: Callable[[Table], Entry]) -> Entry:
    faults: list[Fault] = []
    document = Document(text, "shipped rules", faults)
    (array,) = (name for name, value in document.values.items() if isinstance(value, list))
    (table,) = document.entries(array)
    entry = read(table)
    if faults:
        raise BadInput(*faults)
    return entry


def _event(text: str) -> Event:
    """Read an event; a conversion is one too, by its name."""
    if "[[conversion]]" not in text:
        return _one(text, event_of)
    return _one(
        text,
        lambda table: Event(name=table.text("name") or "", words=table.text("title") or ""),
    )


def _rule(text: str, tables: Tables, named: Mapping[RuleId, str]) -> Rule:
    faults: list[Fault] = []
    document = Document(text, "shipped rules", faults)
    (rule,) = rules_of(document, origin="shipped", tables=tables, known={}, named=named)
    if faults:
        raise BadInput(*faults)
    return rule
