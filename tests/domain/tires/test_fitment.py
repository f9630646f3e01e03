"""Fitments held against each other, what they cost, and the room they leave."""

from decimal import Decimal

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.tires.assembly import Tread
from castlenut.domain.tires.cost import AxleRates, staggered_cost
from castlenut.domain.tires.fitment import AxleFitment, Fitment, compared, shod
from castlenut.domain.tires.reasons import Code
from castlenut.domain.tires.room import (
    Gaps,
    Stance,
    When,
    edge_change,
    room_left,
    widest,
)
from castlenut.domain.tires.size import read_size
from castlenut.domain.vehicle import Drive

FRONT, REAR = AxleRates(left=0.2, right=0.2), AxleRates(left=0.3, right=0.3)


def axle(size: str, *, price: str = "80", rim: float = 6.0, offset: float = 10.0) -> AxleFitment:
    return AxleFitment(
        size=read_size(size),
        rim_width_in=rim,
        offset_mm=offset,
        new_depth_mm=8.0,
        price=Decimal(price),
    )


ONE_SIZE = Fitment(front=axle("205/60R15"), rear=axle("205/60R15"))
STAGGERED = Fitment(front=axle("205/60R15"), rear=axle("225/60R15", rim=7.0, offset=0.0))


def test_one_size_is_bought_by_the_set() -> None:
    """6.4 mm on four tires at 1 mm in 1,000 altogether: 25,600, and 15.6 tires over 100,000."""
    found = compared(
        ONE_SIZE, ONE_SIZE, drive=Drive.REAR, front_rates=FRONT, rear_rates=REAR, limit_mm=1.6
    )

    assert found.patterns_left == 5
    assert found.life == pytest.approx(25_600)
    assert found.tires_bought == pytest.approx(15.625)
    assert found.money == pytest.approx(Decimal(1250))
    assert found.factor == 1


def test_staggered_sizes_leave_one_pattern_and_wear_out_by_axle() -> None:
    """Rear 6.4 / 0.3: 21,333; the dial of a rear-driven car is 651 / 627 slow."""
    found = compared(
        ONE_SIZE, STAGGERED, drive=Drive.REAR, front_rates=FRONT, rear_rates=REAR, limit_mm=1.6
    )

    assert found.patterns_left == 1
    assert found.life == pytest.approx(21_333.3, abs=0.1)
    assert found.tires_bought == pytest.approx(15.625)
    assert found.factor == pytest.approx(651 / 627)


def test_edges_move_by_half_the_width_and_by_the_offset() -> None:
    """225 on a 7 in rim is 233.1 mm, 205 on 6 in is 208.6: 12.3 a side, and 10 mm outward."""
    found = compared(ONE_SIZE, STAGGERED, drive=Drive.REAR, front_rates=FRONT, rear_rates=REAR)

    assert found.rear.section_width_mm == pytest.approx(233.12)
    assert found.rear.change is not None
    assert found.rear.change.inner_mm == pytest.approx(2.28)
    assert found.rear.change.outer_mm == pytest.approx(22.28)
    assert found.rear.is_in_range is True


def test_rim_too_wide_for_the_size_is_said() -> None:
    wide = replace(ONE_SIZE, rear=axle("205/60R15", rim=8.0))

    found = compared(ONE_SIZE, wide, drive=Drive.REAR, front_rates=FRONT, rear_rates=REAR)

    assert found.rear.is_in_range is False
    assert found.patterns_left == 1


def test_what_is_known_of_neither_axle_is_taken_to_be_alike_and_told() -> None:
    bare = Fitment(
        front=AxleFitment(size=read_size("205/60R15")),
        rear=AxleFitment(size=read_size("205/60R15")),
    )

    found = compared(bare, bare, drive=Drive.FRONT, front_rates=FRONT, rear_rates=REAR)

    assert found.patterns_left == 5
    assert found.assumed == (Code.RIM_WIDTH, Code.OFFSET, Code.LOAD, Code.SPEED)
    assert (found.life, found.tires_bought, found.money) == (None, None, None)
    assert found.rear.change is None


def test_what_is_known_of_one_axle_only_is_not_known() -> None:
    half = Fitment(
        front=AxleFitment(size=read_size("205/60R15"), rim_width_in=6.0),
        rear=AxleFitment(size=read_size("205/60R15")),
    )

    found = compared(half, half, drive=Drive.FRONT, front_rates=FRONT, rear_rates=REAR)

    assert found.patterns_left == 0
    assert Code.RIM_WIDTH not in found.assumed


def test_letter_size_has_no_factor() -> None:
    letters = Fitment(front=axle("FR70-14"), rear=axle("FR70-14"))

    found = compared(ONE_SIZE, letters, drive=Drive.REAR, front_rates=FRONT, rear_rates=REAR)

    assert (found.factor, found.front.diameter_mm, found.front.is_in_range) == (None, None, None)


def test_directional_tires_turn_for_their_side() -> None:
    wheels, _ = shod(replace(ONE_SIZE, is_directional=True), Drive.REAR)

    assert {each.tread for each in wheels.assemblies} == {Tread.DIRECTIONAL}
    assert [each.turns.value for each in wheels.assemblies if each.turns] == [
        *("left", "right", "left", "right")
    ]


def test_directional_pair_wears_out_by_its_faster_side() -> None:
    """6.4 at 0.32: 20,000; both sides together at 0.3 each would be 21,333."""
    found = staggered_cost(
        FRONT,
        AxleRates(left=0.28, right=0.32),
        usable_front_mm=6.4,
        usable_rear_mm=6.4,
        usable_one_size_mm=6.4,
        is_directional=True,
    )

    assert found.life_front == pytest.approx(32_000)
    assert found.life_rear == pytest.approx(20_000)
    assert found.tires_staggered == pytest.approx(16.25)


def test_spacer_moves_a_wheel_outward() -> None:
    change = edge_change(
        Stance(section_width_mm=208.6, offset_mm=10.0),
        Stance(section_width_mm=208.6, offset_mm=10.0, spacer_mm=5.0),
    )

    assert change.inner_mm == pytest.approx(-5)
    assert change.outer_mm == pytest.approx(5)


def test_less_than_three_mm_left_is_tight() -> None:
    now = Stance(section_width_mm=200.0, offset_mm=10.0)
    wider = edge_change(now, Stance(section_width_mm=220.0, offset_mm=10.0))

    roomy = room_left(Gaps(inner_mm=13.0, outer_mm=None, when=When.FULL_LOCK), wider)
    tight = room_left(Gaps(inner_mm=20.0, outer_mm=12.9, when=When.STRAIGHT), wider)

    assert (roomy.inner_mm, roomy.is_tight, roomy.is_full_lock) == (3.0, False, True)
    assert tight.outer_mm == pytest.approx(2.9)
    assert tight.is_tight
    assert not tight.is_full_lock


def test_widest_size_keeps_diameter_rim_and_room() -> None:
    """8 mm inside leave 5: 215 mm nominal is 4.3 mm a side more on a 6.5 in rim, 225 is 7.9.

    215/55R15 is nearer in diameter (617.5 to 627 mm) than 215/60R15 (639).
    """
    size = read_size("205/60R15")
    stance = Stance(section_width_mm=213.6, offset_mm=10.0)

    found = widest(
        size,
        rim_width_in=6.5,
        places=[(stance, Gaps(inner_mm=8.0, outer_mm=20.0, when=When.FULL_LOCK))],
    )

    assert [each.designation for each in found][:2] == ["215/55R15", "215/60R15"]
    assert "225/55R15" not in {each.designation for each in found}


def test_without_a_diameter_there_is_no_widest() -> None:
    assert widest(read_size("FR70-14"), rim_width_in=6.0, places=()) == ()
