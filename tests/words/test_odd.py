"""Odd readings in words."""

from castlenut.domain.odometer import Dial, odometer
from castlenut.domain.units import Unit
from castlenut.words import odd
from tests.builders import reading

DIAL = Dial(unit=Unit.MI, digits=5, tenths=False)


def said(*readings: tuple[str, int]) -> list[str]:
    placed = odometer(DIAL, [reading(on, figure) for on, figure in readings], []).placed
    return [odd.reading(each, DIAL) for each in placed if each.oddity is not None]


KEPT = " Kept, and left out until somebody says what it was."


def test_a_figure_that_lies_outside_its_neighbors_names_both() -> None:
    assert said(
        ("2026-01-01", 58600), ("2026-02-01", 58273), ("2026-03-01", 58900), ("2026-04-01", 59200)
    ) == [
        "58,273 mi on 2026-02-01: 58,273 does not lie between 58,600 and 58,900. With two digits"
        " swapped it would be 58,723." + KEPT
    ]


def test_a_lower_figure_names_the_reading_before_it() -> None:
    assert said(("2026-01-01", 61000), ("2026-06-01", 61600), ("2026-07-01", 16700)) == [
        "16,700 mi on 2026-07-01: 16,700 is lower than 61,600 on 1 June 2026. With two digits"
        " swapped it would be 61,700." + KEPT
    ]


def test_a_figure_too_far_off_names_the_time() -> None:
    assert said(("2026-01-01", 10000), ("2026-01-08", 10070), ("2026-01-09", 19000)) == [
        "19,000 mi on 2026-01-09: 19,000 is further from 10,070 on 8 January 2026 than a car is"
        " driven in that time. With two digits swapped it would be 10,900." + KEPT
    ]


def test_of_two_that_disagree_both_are_named() -> None:
    assert said(("2026-01-01", 61600), ("2026-01-05", 47211)) == [
        (
            "61,600 mi on 2026-01-01: 61,600 is higher than 47,211 on 5 January 2026. No common"
            " slip explains it. Either of the two may be the mistaken one."
        ),
        "47,211 mi on 2026-01-05: 47,211 is lower than 61,600 on 1 January 2026. No common slip"
        " explains it." + KEPT,
    ]


def test_a_figure_beyond_the_dial_is_told() -> None:
    assert said(("2026-01-01", 983316)) == [
        "983,316 mi on 2026-01-01: 983,316 is more than this five-digit dial can show. With the"
        " point it would be 98,331." + KEPT
    ]


def test_a_rollover_is_counted_and_asked_about() -> None:
    assert said(("2026-01-01", 98750), ("2026-06-01", 430)) == [
        (
            "430 mi on 2026-06-01: 430 on 1 June 2026 is lower than 98,750 on 1 January 2026. A"
            " five-digit dial passes 99,999 and starts again: 1,680 mi in 151 days, which fits this"
            " car. Counted so; confirm it."
        )
    ]


def test_another_dial_is_asked_for() -> None:
    assert said(
        ("2026-01-01", 43000), ("2026-02-01", 44120), ("2026-02-21", 310), ("2026-04-01", 700)
    ) == [
        "310 mi on 2026-02-21: From 44,120 to 310 in 20 days: no rollover explains it, and later"
        " readings go on from 310. Was the odometer replaced or set back? Enter the new dial's"
        " first figure." + KEPT
    ]


def test_kilometers_on_a_mile_dial_are_named() -> None:
    assert said(("2026-01-01", 51600), ("2026-03-01", 83364), ("2026-05-01", 52200)) == [
        "83,364 mi on 2026-03-01: 83,364 does not lie between 51,600 and 52,200. 51,800 mi would"
        " fit; the figure 83,364 looks like kilometers." + KEPT
    ]


def test_one_digit_is_named_with_the_figure_that_would_fit() -> None:
    assert said(
        ("2026-01-01", 72500), ("2026-02-01", 73840), ("2026-03-01", 72900), ("2026-04-01", 73200)
    ) == [
        "73,840 mi on 2026-02-01: 73,840 does not lie between 72,500 and 72,900. 72,840 would fit;"
        " one digit may be wrong." + KEPT
    ]


def test_a_figure_that_fits_another_day_names_it() -> None:
    assert said(
        ("2023-11-02", 41000),
        ("2024-01-15", 41600),
        ("2024-06-20", 43900),
        ("2024-09-12", 45300),
        ("2024-11-03", 42400),
        ("2024-12-20", 46900),
    ) == [
        "42,400 mi on 2024-11-03: 42,400 does not lie between 45,300 and 46,900. Fits 11 March"
        " 2024, not 3 November 2024: day and month swapped?" + KEPT
    ]


def test_each_oddity_has_a_short_name() -> None:
    placed = odometer(DIAL, [reading("2026-01-01", 98750), reading("2026-06-01", 430)], []).placed
    found = [odd.cause(each.oddity) for each in placed if each.oddity is not None]

    assert found == ["rolled over"]
