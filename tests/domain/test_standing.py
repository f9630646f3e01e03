"""Where a kind of part can stand, and what a typed place stands for."""

import pytest

from castlenut.domain.place import Place, Spot, Which, place
from castlenut.domain.rules.rule import KindOfPart
from castlenut.domain.standing import allowed_places, standing_places, stands_at


def kind(*positions: str) -> KindOfPart:
    return KindOfPart(name="test part", positions=positions, attributes={})


def test_an_end_stands_for_both_its_corners() -> None:
    assert standing_places(kind("corners"), place("front")) == (Place(Spot.LF), Place(Spot.RF))


def test_a_kind_that_stands_at_an_end_takes_it_as_one_place() -> None:
    assert standing_places(kind("corners", "ends"), place("rear")) == (Place(Spot.REAR),)


def test_which_of_two_parts_is_kept_at_each_corner() -> None:
    assert standing_places(kind("corners"), place("front lower")) == (
        Place(Spot.LF, Which.LOWER),
        Place(Spot.RF, Which.LOWER),
    )


def test_with_dual_wheels_an_end_has_four_corners() -> None:
    assert len(standing_places(kind("corners"), place("rear"), dual=True)) == 4


def test_a_place_a_kind_cannot_stand_at_stands_for_none() -> None:
    assert standing_places(kind("one"), place("LF")) == ()
    assert standing_places(kind("ends"), place("LF")) == ()


@pytest.mark.parametrize(
    ("positions", "at", "answer"),
    [
        (("one",), "", True),
        (("one",), "L", False),
        (("corners",), "", False),
        (("corners",), "SP", False),
        (("corners and spare",), "SP", True),
        (("numbered",), "2", True),
        (("numbered",), "L 2", True),
        (("corners",), "2", False),
        (("free",), "LF", True),
        (("free",), "", True),
        (("sides",), "L", True),
    ],
)
def test_whether_a_kind_stands_there(positions: tuple[str, ...], at: str, *, answer: bool) -> None:
    assert stands_at(kind(*positions), place(at)) is answer


def test_the_allowed_places_are_told() -> None:
    assert allowed_places(kind("sides", "ends")) == "a side (L or R) or an end (front or rear)"
