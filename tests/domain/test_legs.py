"""The true distance between two readings, taken apart. All cars are invented."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading, Replaced
from castlenut.domain.ids import RecordId
from castlenut.domain.legs import Leg, legs
from castlenut.domain.odometer import odometer
from castlenut.domain.pieces import Begins
from castlenut.domain.units import Unit

DIAL = Dial(unit=Unit.MI, digits=5, tenths=False)


def read(on: str, figure: int) -> Reading:
    return Reading(
        record=RecordId(on), on=date.fromisoformat(on), figure=Decimal(figure), unit=Unit.MI
    )


def way(*readings: Reading, event: DialEvent | None = None) -> list[tuple[Leg, ...]]:
    found = odometer(DIAL, readings, [] if event is None else [event])
    return [each for _, each in legs(found)]


def told(leg: Leg) -> tuple[float | None, float | None, float, float, Begins | None]:
    return (
        None if leg.begin is None else float(leg.begin),
        None if leg.end is None else float(leg.end),
        float(leg.factor),
        round(leg.distance, 6),
        leg.begins,
    )


def test_the_first_reading_has_no_way_and_the_next_one_leg() -> None:
    first, second = way(read("2024-01-10", 41000), read("2024-03-10", 41430))

    assert first == ()
    assert [told(leg) for leg in second] == [(41000, 41430, 1, 430, None)]


def test_past_the_end_of_the_dial_are_two_legs() -> None:
    """10.01: 1,250 to the end and 430 after it are 1,680."""
    _, second = way(read("2024-01-10", 98750), read("2024-03-10", 430))

    assert [told(leg) for leg in second] == [
        (98750, 100000, 1, 1250, None),
        (0, 430, 1, 430, Begins.ROLLED_OVER),
    ]


def test_a_new_dial_begins_a_leg() -> None:
    """180 on the old one, 210 on the new one."""
    new = Replaced(
        record=RecordId("new"), on=date(2024, 2, 1), start=Decimal(0), last=Decimal(45300)
    )

    _, second = way(read("2024-01-01", 45120), read("2024-03-01", 210), event=new)

    assert [told(leg) for leg in second] == [
        (45120, 45300, 1, 180, None),
        (0, 210, 1, 210, Begins.REPLACED),
    ]
    assert second[1].since == date(2024, 2, 1)


def test_what_nobody_read_is_a_leg_without_figures() -> None:
    """1,330 in the 50 days read: 266 in the ten of which nobody knows."""
    new = Replaced(record=RecordId("new"), on=date(2024, 2, 11), start=Decimal(0), last=None)

    *_, last = way(
        read("2024-01-01", 44000), read("2024-02-01", 45120), read("2024-03-01", 210), event=new
    )

    assert [told(leg) for leg in last] == [
        (None, None, 1, 266, None),
        (0, 210, 1, 210, Begins.REPLACED),
    ]


def test_another_factor_on_the_day_of_a_reading_begins_there() -> None:
    """10.12: 5,000 at 1.04 are 5,200."""
    factor = FactorFrom(record=RecordId("f"), on=date(2023, 1, 1), factor=Fraction(104, 100))

    _, second, third = way(
        read("2022-01-01", 30000),
        read("2023-01-01", 40000),
        read("2024-01-01", 45000),
        event=factor,
    )

    assert [told(leg) for leg in second] == [(30000, 40000, 1, 10000, None)]
    assert [told(leg) for leg in third] == [(40000, 45000, 1.04, 5200, Begins.FACTOR)]


@pytest.mark.parametrize("figures", [(98750, 430, 930), (41000, 41000, 41200), (99000, 100, 50)])
def test_the_legs_add_up_to_the_distance(figures: tuple[int, ...]) -> None:
    readings = [read(f"2024-0{month}-10", figure) for month, figure in enumerate(figures, start=1)]
    found = odometer(DIAL, readings, [])

    before = None
    for placed, ways in legs(found):
        assert placed.distance is not None
        if before is not None:
            assert sum(leg.distance for leg in ways) == pytest.approx(placed.distance - before)
        before = placed.distance
