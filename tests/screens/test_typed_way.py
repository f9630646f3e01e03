"""A way to shoe a car as typed in one field. Sizes and wheels are invented."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.tires.fitment import AxleFitment, Fitment
from castlenut.domain.tires.size import read_size
from castlenut.screens.tires.typed_way import read_way

AXLE = AxleFitment(size=read_size("205/65R15"), rim_width_in=6.0, offset_mm=35.0, new_depth_mm=8.7)
NOW = Fitment(front=AXLE, rear=AXLE)


def test_one_size_is_for_both_axles_on_the_wheels_it_has() -> None:
    way = read_way("195/70R15", NOW, name="A")

    assert (way.front.size.designation, way.rear.size.designation) == ("195/70R15", "195/70R15")
    assert (way.front.rim_width_in, way.rear.offset_mm) == (6.0, 35.0)


def test_the_wheels_of_another_diameter_are_not_known() -> None:
    way = read_way("195/70R14", NOW, name="A")

    assert (way.front.rim_width_in, way.rear.offset_mm) == (None, None)


def test_two_sizes_are_front_and_rear() -> None:
    way = read_way("205/65R15/225/60R15", NOW, name="A")

    assert (way.front.size.designation, way.rear.size.designation) == ("205/65R15", "225/60R15")


def test_other_wheels_are_typed_behind_the_size() -> None:
    way = read_way("205/60R15 rim 6/7 offset 10/-6", NOW, name="A")

    assert (way.front.rim_width_in, way.rear.rim_width_in) == (6.0, 7.0)
    assert (way.front.offset_mm, way.rear.offset_mm) == (10.0, -6.0)


def test_every_fault_stands_at_the_field() -> None:
    with pytest.raises(BadInput) as refused:
        read_way("19X rim 6/70 offset far", NOW, name="B")

    faults = refused.value.faults
    assert {each.where for each in faults} == {"B"}
    assert [each.what for each in faults] == [
        "'19X' cannot be read at its end",
        "'70' is no rim",
        "'far' is no offset",
    ]
