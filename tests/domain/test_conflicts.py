"""Parts that exclude each other at one place."""

import pytest

from castlenut.domain.component import Component
from castlenut.domain.conflicts import conflicts
from tests.builders import book, day, part

TODAY = "2026-11-25"


def found(*parts: Component) -> list[tuple[str, str, str | None, str]]:
    return [
        (each.one.kind, each.other.kind, each.attribute, str(each.place or ""))
        for each in conflicts(parts, book().kinds, on=day(TODAY))
    ]


def test_pads_and_shoes_at_one_corner_exclude_each_other() -> None:
    assert found(part("brake pad", "LF"), part("brake shoe", "LF")) == [
        ("brake pad", "brake shoe", None, "LF")
    ]


def test_pads_in_front_and_shoes_behind_do_not() -> None:
    assert found(part("brake pad", "LF"), part("brake shoe", "LR")) == []


def test_glycol_and_silicone_in_one_car_exclude_each_other() -> None:
    glycol = part("brake fluid", name="one", fluid="DOT 4")
    silicone = part("brake fluid", name="two", fluid="DOT 5")

    assert found(glycol, silicone) == [("brake fluid", "brake fluid", "fluid", "")]


def test_two_fluids_of_one_sort_or_of_no_known_sort_do_not() -> None:
    glycol = part("brake fluid", name="one", fluid="DOT 4")

    assert found(glycol, part("brake fluid", name="two", fluid="DOT 3")) == []
    assert found(glycol, part("brake fluid", name="three")) == []


@pytest.mark.parametrize(
    ("here", "there", "is_conflict"),
    [
        ("LF", "RF", True),
        ("LF", "LR", False),
        ("LR", "RR", True),
    ],
)
def test_bias_and_radial_may_not_share_an_axle(here: str, there: str, *, is_conflict: bool) -> None:
    bias = part("tire", here, name="one", construction="bias")
    radial = part("tire", there, name="two", construction="radial")

    assert bool(found(bias, radial)) is is_conflict


@pytest.mark.parametrize(
    ("here", "there", "is_conflict"),
    [
        ("LF upper", "LF upper", True),
        ("LF inner", "LF outer", True),
        ("LF upper", "LF lower", False),
        ("LF upper", "RF upper", False),
    ],
)
def test_rubber_and_polyurethane_may_not_share_an_arm(
    here: str, there: str, *, is_conflict: bool
) -> None:
    rubber = part("bushing", here, name="one", material="rubber")
    poly = part("bushing", there, name="two", material="polyurethane")

    assert bool(found(rubber, poly)) is is_conflict


def test_a_part_that_was_taken_off_excludes_nothing() -> None:
    shoes = part("brake shoe", "LF", removed_on="2026-11-01")

    assert found(part("brake pad", "LF"), shoes) == []
