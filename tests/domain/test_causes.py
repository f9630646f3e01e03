"""What is behind readings that do not fit: each cause, and what it would make of the figure.

All cars are invented.
"""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.causes.haste import cost, habit, is_possible
from castlenut.domain.causes.slips import other_days, slips
from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading
from castlenut.domain.ids import RecordId
from castlenut.domain.oddity import Cause
from castlenut.domain.odometer import Odometer, odometer
from castlenut.domain.units import Shown, Unit

MILES = Dial(unit=Unit.MI, digits=5, tenths=False)
TENTHS = Dial(unit=Unit.MI, digits=5, tenths=True)
KM = Dial(unit=Unit.KM, digits=6, tenths=False)


def placed(dial: Dial, *readings: tuple[str, str], events: tuple[DialEvent, ...] = ()) -> Odometer:
    return odometer(
        dial,
        [
            Reading(
                record=RecordId(f"{number:02}"),
                on=date.fromisoformat(on),
                figure=Decimal(figure),
                unit=dial.unit,
            )
            for number, (on, figure) in enumerate(readings)
        ],
        events,
    )


def found(history: Odometer) -> list[tuple[int, Cause, bool, Decimal | None]]:
    return [
        (place, each.oddity.cause, each.oddity.held, each.oddity.would_fit)
        for place, each in enumerate(history.placed)
        if each.oddity is not None
    ]


def test_miles_written_for_kilometers() -> None:
    history = placed(
        KM,
        ("2024-01-01", "83900"),
        ("2024-02-01", "52381"),
        ("2024-03-01", "84700"),
        ("2024-04-01", "85200"),
    )

    assert found(history) == [(1, Cause.OTHER_UNIT, True, Decimal(84299))]


def test_kilometers_written_for_miles() -> None:
    history = placed(
        MILES, ("2024-01-01", "51600"), ("2024-03-01", "83364"), ("2024-05-01", "52200")
    )

    assert found(history) == [(1, Cause.OTHER_UNIT, True, Decimal(51800))]


def test_the_point_left_out_within_the_dial() -> None:
    """8,331.6 written as 83,316 lies within five digits."""
    history = placed(
        TENTHS,
        ("2024-01-01", "8300.1"),
        ("2024-02-01", "83316"),
        ("2024-03-01", "8400.4"),
        ("2024-04-01", "8460"),
    )

    assert found(history) == [(1, Cause.TENTHS, True, Decimal("8331.6"))]


def test_the_point_left_out_beyond_the_dial() -> None:
    history = placed(TENTHS, ("2024-01-01", "58200.4"), ("2024-02-01", "583316"))

    assert found(history) == [(1, Cause.TENTHS, True, Decimal("58331.6"))]


def test_two_digits_swapped() -> None:
    history = placed(
        MILES,
        ("2024-01-01", "58600"),
        ("2024-02-01", "58273"),
        ("2024-03-01", "58900"),
        ("2024-04-01", "59200"),
    )

    assert found(history) == [(1, Cause.SWAPPED, True, Decimal(58723))]


def test_one_digit_changed() -> None:
    history = placed(
        MILES,
        ("2024-01-01", "72500"),
        ("2024-02-01", "73840"),
        ("2024-03-01", "72900"),
        ("2024-04-01", "73200"),
    )

    assert found(history) == [(1, Cause.ONE_DIGIT, True, Decimal(72840))]


def test_a_day_a_year_off_would_fit() -> None:
    history = placed(
        MILES,
        ("2023-01-10", "41000"),
        ("2023-04-15", "41900"),
        ("2023-09-01", "43100"),
        ("2024-02-10", "44800"),
        ("2024-06-20", "42300"),
        ("2024-09-12", "47300"),
    )

    (flag,) = found(history)
    oddity = history.placed[4].oddity
    assert flag == (4, Cause.DATE, True, None)
    assert oddity is not None
    assert oddity.would_fit_on == date(2023, 6, 20)


def test_a_figure_no_slip_explains_is_misread() -> None:
    """Of 41,208 38,650 41,975 it is the middle one: its neighbor is not dragged along."""
    history = placed(
        MILES, ("2024-01-01", "41208"), ("2024-02-01", "38650"), ("2024-03-01", "41975")
    )

    assert found(history) == [(1, Cause.MISREAD, True, None)]


def test_the_end_of_the_dial_passed_once() -> None:
    history = placed(
        TENTHS, ("2023-01-02", "96200.1"), ("2023-02-14", "97208.4"), ("2023-06-20", "1377.2")
    )

    assert found(history) == [(2, Cause.ROLLED_OVER, False, None)]
    assert history.placed[2].distance == pytest.approx(101_377.2)


def test_the_end_of_the_dial_passed_twice_in_a_car_that_is_driven_so() -> None:
    """A taxi, 44,000 a year, then nothing read for two years and more: 2,000 miles or 102,000?"""
    history = placed(
        MILES,
        ("2015-01-01", "11000"),
        ("2015-07-01", "33000"),
        ("2016-01-01", "55000"),
        ("2016-07-01", "77000"),
        ("2017-01-01", "99000"),
        ("2019-05-01", "1000"),
    )

    assert found(history) == [(5, Cause.ROLLED_OVER, False, None)]
    assert history.placed[5].distance == 201_000.0


def test_another_dial_that_all_later_readings_agree_with() -> None:
    history = placed(
        MILES,
        ("2024-01-01", "43000"),
        ("2024-02-01", "44120"),
        ("2024-02-21", "310"),
        ("2024-04-01", "700"),
        ("2024-05-01", "1200"),
    )

    assert found(history) == [(2, Cause.REPLACED, True, None)]
    assert [each.distance for each in history.placed] == [43_000.0, 44_120.0, None, None, None]
    assert [run.distance for run in history.driven] == [1_120.0, 390.0, 500.0]


def test_another_dial_that_shows_far_more() -> None:
    history = placed(
        MILES,
        ("2024-01-01", "20000"),
        ("2024-02-01", "20400"),
        ("2024-03-01", "61123"),
        ("2024-04-01", "61500"),
        ("2024-05-01", "61900"),
    )

    assert found(history) == [(2, Cause.REPLACED, True, None)]


def test_a_single_reading_cannot_be_checked_save_against_the_dial() -> None:
    assert found(placed(MILES, ("2024-01-01", "41208"))) == []
    assert found(placed(MILES, ("2024-01-01", "412080"))) == [
        (0, Cause.TENTHS, True, Decimal(41208))
    ]


def test_two_that_disagree_are_both_named() -> None:
    history = placed(MILES, ("2026-01-01", "61600"), ("2026-01-05", "47211"))

    assert [place for place, *_ in found(history)] == [0, 1]
    assert [each.distance for each in history.placed] == [61_600.0, None]


def test_a_tour_a_lay_up_and_a_haste_that_is_possible_are_no_mistakes() -> None:
    history = placed(
        MILES,
        ("2023-05-01", "41000"),
        ("2023-05-08", "45900"),
        ("2023-05-09", "46800"),
        ("2024-05-01", "46800"),
        ("2024-05-20", "46830"),
    )

    assert found(history) == []


def test_a_mistake_between_its_neighbors_that_fits_is_not_claimed() -> None:
    history = placed(
        MILES, ("2024-01-01", "41000"), ("2024-02-01", "41900"), ("2024-03-01", "42000")
    )

    assert found(history) == []


def test_what_is_settled_stays_settled_when_later_readings_come() -> None:
    right = Reading(
        record=RecordId("right"),
        on=date(2024, 2, 1),
        figure=Decimal(73840),
        unit=Unit.MI,
        judged_right=True,
    )
    before = Reading(record=RecordId("a"), on=date(2024, 1, 1), figure=Decimal(72500), unit=Unit.MI)
    after = [
        Reading(record=RecordId(f"{number}"), on=on, figure=Decimal(figure), unit=Unit.MI)
        for number, (on, figure) in enumerate(
            [(date(2024, 3, 1), 73900), (date(2024, 4, 1), 74100), (date(2024, 5, 1), 74600)]
        )
    ]

    for count in range(len(after) + 1):
        history = odometer(MILES, [before, right, *after[:count]], [])

        assert history.placed[1].oddity is None
        assert history.placed[1].distance == 73_840.0


def test_slips_across_another_factor_are_found_as_well() -> None:
    larger = FactorFrom(record=RecordId("f"), on=date(2024, 1, 20), factor=Fraction(104, 100))

    history = placed(
        MILES,
        ("2024-01-01", "58600"),
        ("2024-02-01", "58273"),
        ("2024-03-01", "58900"),
        ("2024-04-01", "59200"),
        events=(larger,),
    )

    assert found(history) == [(1, Cause.SWAPPED, True, Decimal(58723))]


def test_the_speed_that_is_possible() -> None:
    """900 miles in a day, 6,000 in a week or so, 45,000 in a year."""
    assert is_possible(900, days=0)
    assert not is_possible(901, days=1)
    assert is_possible(6_000, days=10)
    assert not is_possible(6_001, days=10)
    assert is_possible(45_000, days=365)
    assert not is_possible(45_001, days=365)


def test_standing_still_costs_little_and_haste_much() -> None:
    usual = habit([(3_000.0, 365)])

    still = cost(0.0, days=60, usual=usual, is_bounded=True)
    driven = cost(500.0, days=60, usual=usual, is_bounded=True)
    hasty = cost(20_000.0, days=60, usual=usual, is_bounded=True)

    assert still < driven + 3
    assert hasty > driven + 25


def test_every_slip_of_a_figure_is_one_step_from_it() -> None:
    undone = {
        (slip.cause, slip.shown) for slip in slips(Shown(Decimal(12345)), date(2024, 1, 1), MILES)
    }

    assert (Cause.SWAPPED, Decimal(21345)) in undone
    assert (Cause.ONE_DIGIT, Decimal(12945)) in undone
    assert (Cause.TENTHS, Decimal(1234)) in undone
    assert (Cause.OTHER_UNIT, Decimal(19867)) in undone
    assert (Cause.OTHER_UNIT, Decimal(7671)) in undone
    assert len([each for each in undone if each[0] is Cause.ONE_DIGIT]) == 45


def test_the_days_that_may_have_been_meant() -> None:
    meant = [slip.on for slip in other_days(Shown(Decimal(1)), date(2024, 11, 3))]
    leap = [slip.on for slip in other_days(Shown(Decimal(1)), date(2024, 2, 29))]

    assert meant == [date(2023, 11, 3), date(2025, 11, 3), date(2024, 3, 11)]
    assert leap == []
