"""Odd readings in words."""

from castlenut.domain.odometer import Dial, odometer
from castlenut.domain.units import Unit
from castlenut.words import odd
from tests.builders import reading

DIAL = Dial(unit=Unit.MI, digits=5, tenths=False)


def said(*readings: tuple[str, int]) -> list[str]:
    placed = odometer(DIAL, [reading(on, figure) for on, figure in readings], []).placed
    return [odd.reading(each, DIAL) for each in placed if each.oddity is not None]


def test_a_lower_figure_names_the_reading_before_it() -> None:
    assert said(("2026-01-01", 61000), ("2026-06-01", 61600), ("2026-07-01", 61510)) == [
        (
            "61,510 mi on 2026-07-01 is lower than 61,600 on 2026-06-01: rolled over, replaced,"
            " another unit, digits swapped? kept, and left out until somebody says what it was"
        )
    ]


def test_a_figure_too_far_off_names_the_time() -> None:
    assert said(("2026-01-01", 10000), ("2026-01-08", 10070), ("2026-01-09", 19000)) == [
        (
            "19,000 mi on 2026-01-09 is further from 10,070 on 2026-01-08 than a car is driven in"
            " that time: another unit, digits swapped? kept, and left out until somebody says what"
            " it was"
        )
    ]


def test_a_figure_beyond_the_dial_is_told() -> None:
    assert said(("2026-01-01", 983316)) == [
        (
            "983,316 mi on 2026-01-01 is more than a dial of 5 digits can show; kept, and left out"
            " until somebody says what it was"
        )
    ]


def test_a_rollover_is_counted_and_asked_about() -> None:
    assert said(("2026-01-01", 98750), ("2026-06-01", 430)) == [
        (
            "430 mi on 2026-06-01 is lower than 98,750 on 2026-01-01: counted as rolled over, true"
            " distance 1,680 mi; confirm it"
        )
    ]


def test_each_oddity_has_a_short_name() -> None:
    placed = odometer(DIAL, [reading("2026-01-01", 98750), reading("2026-06-01", 430)], []).placed
    found = [odd.cause(each.oddity) for each in placed if each.oddity is not None]

    assert found == ["rolled over"]
