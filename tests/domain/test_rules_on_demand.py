"""The shipped rules read one by one are the shipped rules read whole."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.ids import RuleId
from castlenut.domain.rules.on_demand import shipped_on_demand
from castlenut.domain.rules.shipped import ShippedTables, ShippedTexts, read_shipped
from castlenut.store.shipped import shipped_texts


@pytest.fixture(scope="module")
def whole() -> ShippedTables:
    return read_shipped(shipped_texts())


@pytest.fixture
def asked() -> ShippedTables:
    return shipped_on_demand(shipped_texts())


def test_every_rule_is_the_same_in_the_same_order(
    asked: ShippedTables, whole: ShippedTables
) -> None:
    assert list(asked.rules.items()) == list(whole.rules.items())


def test_the_kinds_of_a_rule_are_known_before_it_is_read(
    asked: ShippedTables, whole: ShippedTables
) -> None:
    assert asked.kinds_of == whole.kinds_of


def test_the_conversions_that_make_a_rule_due_are_known_before_they_are_read(
    asked: ShippedTables, whole: ShippedTables
) -> None:
    assert asked.triggered_by == whole.triggered_by
    assert "front-discs" in whole.triggered_by[RuleId("hub-play")]


@pytest.mark.parametrize("table", ["kinds", "events", "accesses", "conversions", "assemblies"])
def test_every_table_is_the_same_in_the_same_order(
    asked: ShippedTables, whole: ShippedTables, table: str
) -> None:
    read_one_by_one = getattr(asked.tables, table)
    read_whole = getattr(whole.tables, table)

    assert list(read_one_by_one.items()) == list(read_whole.items())


def test_an_entry_is_read_once(asked: ShippedTables) -> None:
    rules = asked.rules
    (first, *_) = rules

    assert rules[first] is rules[first]


def test_a_faulty_entry_is_refused_when_it_is_asked_for() -> None:
    """Not before: a shipped rule set is held against itself by tests, not by each command."""
    sound = shipped_texts()
    faulty = '[[rule]]\nid = "odd-rule"\ncomponent = "no such kind"\n'
    texts = ShippedTexts(
        rules={"faulty.toml": faulty},
        kinds=sound.kinds,
        events=sound.events,
        accesses=sound.accesses,
        conversions=sound.conversions,
        assemblies=sound.assemblies,
    )

    rules = shipped_on_demand(texts).rules

    assert list(rules) == ["odd-rule"]
    with pytest.raises(BadInput):
        list(rules.values())


def test_an_entry_without_a_name_is_refused() -> None:
    sound = shipped_texts()
    texts = ShippedTexts(
        rules={"nameless.toml": '[[rule]]\ntitle = "nothing"\n'},
        kinds=sound.kinds,
        events=sound.events,
        accesses=sound.accesses,
        conversions=sound.conversions,
        assemblies=sound.assemblies,
    )

    with pytest.raises(BadInput, match="rule: has no name at the start of a line"):
        shipped_on_demand(texts)
