"""Names as typed: beginnings, near misses, and the names of items."""

import pytest

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.item import Item
from castlenut.domain.naming import choose, find_items, item_name, unique_name
from tests.builders import book, car, part, reading, today

NAMES = ("brake hose", "brake line", "brake pad", "wheel bearing")
LF = "01a20000-0000-7000-8000-00000000000a"
RF = "01a20000-0000-7000-8000-00000000000b"


def items() -> tuple[Item, ...]:
    """Give the items of an invented car with two repackable bearings and brake fluid."""
    this = car(
        part("wheel bearing", "LF", name=LF, service="repackable"),
        part("wheel bearing", "RF", name=RF, service="repackable"),
        part("brake fluid", name="01a20000-0000-7000-8000-00000000000c"),
    )
    return today(this, book(), "2026-11-25").items


def names(found: tuple[Item, ...]) -> list[str]:
    return sorted(unique_name(item) for item in found)


def test_an_exact_name_wins_over_a_longer_one_that_begins_so() -> None:
    assert choose("oil", ["oil", "oil-level"], what="rule") == "oil"


def test_an_unambiguous_beginning_is_enough() -> None:
    assert choose("whe", NAMES, what="kind") == "wheel bearing"


def test_hyphen_blank_and_case_make_no_difference() -> None:
    assert choose("Brake-Hose", NAMES, what="kind") == "brake hose"


def test_another_word_is_found() -> None:
    also = {"brake pipe": "brake line"}

    assert choose("brake pipe", NAMES, what="kind", also=also) == "brake line"


def test_an_ambiguous_beginning_names_what_it_may_be() -> None:
    with pytest.raises(BadInput) as raised:
        choose("brake", NAMES, what="kind")

    assert str(raised.value.faults[0]) == (
        "kind: 'brake' may be brake hose, brake line or brake pad; write more of it"
    )


def test_a_near_miss_is_named() -> None:
    with pytest.raises(BadInput) as raised:
        choose("milrace", ["millrace", "cobblegate"], what="vehicle")

    assert str(raised.value.faults[0]) == (
        "vehicle: no vehicle 'milrace'; did you mean 'millrace'?"
    )


def test_a_far_miss_names_what_there_is() -> None:
    with pytest.raises(BadInput) as raised:
        choose("zzz", ["millrace"], what="vehicle")

    assert str(raised.value.faults[0]) == "vehicle: no vehicle 'zzz'; use millrace"


def test_with_no_name_at_all_it_says_so() -> None:
    with pytest.raises(BadInput, match=r"there is no vehicle yet"):
        choose("millrace", [], what="vehicle")


def test_an_empty_text_means_nothing() -> None:
    with pytest.raises(BadInput):
        choose("", ["millrace"], what="vehicle")


def test_a_rule_alone_stands_for_all_its_items() -> None:
    assert names(find_items("hub-repack", items())) == [
        "hub-repack@LF~0000000a",
        "hub-repack@RF~0000000b",
    ]


def test_a_place_and_the_end_of_an_id_pick_one() -> None:
    assert names(find_items("hub-repack@RF", items())) == ["hub-repack@RF~0000000b"]
    assert names(find_items("hub-repack@LF~0000000a", items())) == ["hub-repack@LF~0000000a"]
    assert names(find_items("hub-repack~0000000b", items())) == ["hub-repack@RF~0000000b"]


def test_an_end_of_the_car_stands_for_its_corners() -> None:
    assert len(find_items("hub-repack@front", items())) == 2


def test_an_item_is_found_by_its_title() -> None:
    title = find_items("brake-fluid", items())[0].rule.title

    assert names(find_items(title, items())) == ["brake-fluid~0000000c"]


def test_a_place_without_the_item_names_where_it_stands() -> None:
    with pytest.raises(BadInput) as raised:
        find_items("hub-repack@LR", items())

    assert str(raised.value.faults[0]) == (
        "item: hub-repack has no item at LR; it stands at LF, RF"
    )


def test_a_wrong_id_names_the_items_there_are() -> None:
    with pytest.raises(BadInput, match=r"use one of hub-repack@LF~0000000a, hub-repack@RF"):
        find_items("hub-repack~ffffffff", items())


def test_no_item_at_all_says_what_to_do() -> None:
    with pytest.raises(BadInput, match=r"record what is fitted"):
        find_items("oil", ())


def test_the_shortest_name_is_used() -> None:
    among = items()
    by_unique = {unique_name(item): item for item in among}

    assert item_name(by_unique["brake-fluid~0000000c"], among) == "brake-fluid"
    assert item_name(by_unique["hub-repack@LF~0000000a"], among) == "hub-repack@LF"


def test_two_at_one_place_need_the_end_of_the_id() -> None:
    this = car(
        part("caliper", "LF", name=LF, on="2026-11-01", at=100),
        part("brake hose", "LF", name=RF, on="2026-11-01", at=100, material="rubber"),
        readings=(reading("2026-11-01", 100),),
    )
    among = today(this, book(), "2026-11-02").items
    rechecks = [item for item in among if item.id.rule == "brake-recheck"]

    assert [item_name(item, among) for item in rechecks] == [
        "brake-recheck@LF~0000000a",
        "brake-recheck@LF~0000000b",
    ]


def test_one_word_of_a_longer_name_mistyped_is_named() -> None:
    with pytest.raises(BadInput) as refused:
        choose("milrace", ["wendlecot-millrace", "tessarin-pim"], what="vehicle")

    assert refused.value.faults == (
        Fault("no vehicle 'milrace'", "vehicle", "did you mean 'wendlecot-millrace'?"),
    )
