"""Findings: the other side, and what a repair raises."""

import pytest

from castlenut.domain.findings import (
    Decided,
    Finding,
    How,
    Nature,
    event_of_repair,
    is_without_metal,
    other_side,
)
from castlenut.domain.place import place
from tests.builders import day, record


@pytest.mark.parametrize(
    ("here", "there"),
    [
        ("L", "R"),
        ("R", "L"),
        ("LF", "RF"),
        ("RR upper", "LR upper"),
        ("LRI", "RRI"),
        ("L 2", "R 2"),
    ],
)
def test_the_other_side_is_the_same_place_across_the_car(here: str, there: str) -> None:
    assert other_side(place(here)) == place(there)


@pytest.mark.parametrize("here", ["", "rear", "front", "SP", "2"])
def test_what_stands_in_the_middle_has_no_other_side(here: str) -> None:
    assert other_side(place(here)) is None


def test_a_finding_is_named_by_what_is_to_be_done_about_it() -> None:
    seam = Finding(record=record("f"), what="sill seam", on=day("2026-11-25"))
    to_mend = Finding(
        record=record("g"), what="sill seam", on=day("2026-11-25"), decided=Decided.MEND
    )

    assert (seam.title, to_mend.title) == ("look at sill seam", "mend sill seam")


@pytest.mark.parametrize(
    ("how", "nature", "event"),
    [
        (How.WELD, Nature.RUST, "weld"),
        (How.PATCH, None, "weld"),
        (How.BRAZE, Nature.LEAK, "weld"),
        (How.PART, Nature.CRACK, "panel"),
        (How.PART, None, "panel"),
        (How.PART, Nature.LEAK, None),
        (How.PART, Nature.PLAY, None),
    ],
)
def test_heat_counts_as_welding_and_new_metal_as_a_panel(
    how: How, nature: Nature | None, event: str | None
) -> None:
    assert event_of_repair(how, nature) == event


def test_only_a_new_part_for_a_leak_wear_or_play_leaves_no_bare_metal() -> None:
    bare = {(how, nature) for how in How for nature in Nature if is_without_metal(how, nature)}

    assert bare == {(How.PART, Nature.LEAK), (How.PART, Nature.WEAR), (How.PART, Nature.PLAY)}
