"""Places of a car: which share a part of it, which lie in which, and lists of them."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.place import corners_of, lies_in, place, places, touches


@pytest.mark.parametrize(
    ("one", "other", "shared"),
    [
        ("LF", "front", True),
        ("LF", "L", True),
        ("LF", "rear", False),
        ("L", "front", True),
        ("L", "R", False),
        ("front", "rear", False),
        ("LF upper", "LF lower", False),
        ("LF upper", "LF", True),
        ("LF upper", "upper", True),
        ("-", "RR", True),
    ],
)
def test_places_touch_where_they_share_a_part_of_the_car(
    one: str,
    other: str,
    shared: bool,  # noqa: FBT001 - a column of the table
) -> None:
    assert touches(place(one), place(other)) is shared
    assert touches(place(other), place(one)) is shared


@pytest.mark.parametrize(
    ("inside", "outside", "lies"),
    [
        ("LF", "front", True),
        ("front", "LF", False),
        ("LF upper", "LF", True),
        ("LF", "LF upper", False),
        ("LF upper", "upper", True),
        ("LF lower", "upper", False),
        ("LR", "-", True),
        ("-", "LR", False),
        ("upper", "LF", False),
    ],
)
def test_a_place_lies_in_another_as_a_whole(
    inside: str,
    outside: str,
    lies: bool,  # noqa: FBT001 - a column of the table
) -> None:
    assert lies_in(place(inside), place(outside)) is lies


def test_all_is_every_road_corner() -> None:
    assert [str(each) for each in places("all")] == ["LF", "RF", "LR", "RR"]
    assert [str(each) for each in places("all", dual=True)] == [
        *("LF", "RF", "LRO", "LRI", "RRI", "RRO")
    ]


def test_a_place_named_twice_is_refused() -> None:
    with pytest.raises(BadInput, match="names a place twice"):
        places("LF,rear,LF")


def test_a_place_the_car_does_not_have_is_refused() -> None:
    with pytest.raises(BadInput):
        places("LRO")
    with pytest.raises(BadInput):
        place("LF LF")


@pytest.mark.parametrize(
    ("where", "corners"),
    [
        ("-", ["LF", "RF", "LR", "RR"]),
        ("LR", ["LR"]),
        ("SP", ["SP"]),
        ("front", ["LF", "RF"]),
        ("R lower", ["RF lower", "RR lower"]),
        ("upper", ["LF upper", "RF upper", "LR upper", "RR upper"]),
    ],
)
def test_a_place_stands_for_its_corners(where: str, corners: list[str]) -> None:
    assert sorted(str(each) for each in corners_of(place(where))) == sorted(corners)
