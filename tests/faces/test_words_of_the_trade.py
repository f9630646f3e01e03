"""Every word of the trade and its other name find the same thing, on every way of asking.

The list is that of the trade page, kinds and attributes: our word in titles, kinds and events, then
the other words that find it too.
"""

from collections.abc import Callable, Iterator

import pytest

from castlenut.domain.apart import read_opening
from castlenut.domain.errors import BadInput
from castlenut.domain.vocabulary import OTHER_WORDS
from castlenut.garage.changes.conversions import find_conversion
from castlenut.garage.changes.happenings import find_event
from castlenut.garage.changes.own_rules import find_rule
from castlenut.garage.changes.pieces import find_part
from castlenut.garage.changes.placing import find_kind
from castlenut.screens.widgets.cells import folded
from castlenut.screens.widgets.columns import Line
from tests.builders import book

LIST = """
tire: tyre · lug nuts: wheel nuts · rotor: disc · parking brake: handbrake, emergency brake
brake line: brake pipe · booster: servo · curb: kerb · shock absorber: shock, damper
sway bar: anti-roll bar, stabilizer · arm: control arm, wishbone · tie rod end: track rod end
kingpin: swivel pin · alignment: tracking · bump stop: bump rubber · bushing: bush
transmission: gearbox · automatic transmission: automatic · driveshaft: prop, propeller shaft
universal joint: U-joint · axle: differential · valve cover: rocker cover
valve clearance: valve lash · valve train: valve gear · carburetor: carb, carburettor
gasoline: petrol · muffler: silencer · oil pan: sump · ground strap: earth, earth strap
generator: dynamo · ignition points: contact breaker · plug wires: leads, HT leads
headlight: headlamp · turn signal: indicator · wiring: loom
hood: bonnet · fender: wing · trunk: boot · windshield: windscreen · sill: rocker panel
weather seal: weatherstrip · cowl: scuttle · sedan: saloon · station wagon: estate
convertible: drophead
"""
WORDS = {
    ours.strip(): tuple(word.strip() for word in others.split(","))
    for entry in LIST.replace("\n", " · ").split("·")
    if entry.strip()
    for ours, _, others in (entry.partition(":"),)
}
PAIRS = [(ours, other) for ours, others in WORDS.items() for other in others]
NAMED_SO = {("lug nuts", "wheel nuts"): "wheel-nuts"}
"""Pairs of which the other word is the very id of one rule of those ours stands for."""

BESIDES = {("event", "boot")}
"""A word that is one of ours besides: the rubber boot of a steering rack, not the trunk."""


def ways() -> Iterator[tuple[str, Callable[[str], str]]]:
    """Give the ways in which a word is asked for, each with what it finds."""
    rules = book()
    yield "kind", lambda word: find_kind(word, rules)
    yield "part", lambda word: find_part(word, rules)
    yield "rule", lambda word: find_rule(word, rules).id
    yield "event", lambda word: find_event(word, rules.events)
    yield "conversion", lambda word: find_conversion(word, rules)
    yield "access", lambda word: read_opening(f"{word} off", rules.accesses, dual=False).key


def found(find: Callable[[str], str], word: str) -> str:
    """Give what a word finds, or what it may be; nothing is an empty text."""
    try:
        return find(word)
    except BadInput as refused:
        _, is_several, names = refused.faults[0].what.partition(" may be ")
        return names if is_several else ""


def test_the_program_knows_the_whole_list() -> None:
    assert dict(OTHER_WORDS) == WORDS


@pytest.mark.parametrize(("ours", "other"), PAIRS)
def test_the_other_word_finds_what_ours_does(ours: str, other: str) -> None:
    for way, find in ways():
        what = found(find, ours)
        if way == "rule" and (ours, other) in NAMED_SO:
            assert NAMED_SO[ours, other] == found(find, other)
            assert NAMED_SO[ours, other] in what
        elif (way, other) not in BESIDES:
            assert found(find, other) == what, way


@pytest.mark.parametrize(("ours", "other"), PAIRS)
def test_a_list_is_searched_by_either_word(ours: str, other: str) -> None:
    ours_row = Line(key="1", cells=(f"old {ours}, look over",))
    other_row = Line(key="2", cells=(f"old {other}, look over",))

    for word in (ours, other):
        sought = folded(word).split()
        assert ours_row.holds(sought)
        assert other_row.holds(sought)


def test_a_word_that_may_be_several_rules_is_asked_back() -> None:
    """It once took the first of them: done tyre would have recorded a clearance at full lock."""
    with pytest.raises(BadInput) as refused:
        find_rule("tyre", book())

    assert refused.value.faults[0].what.startswith("'tyre' may be ")
    assert "tire-tread" in refused.value.faults[0].what


def test_a_longer_word_of_ours_is_left_whole() -> None:
    assert find_kind("automatic transmission", book()) == "automatic transmission"
    assert find_kind("disc pad", book()) == "brake pad"
