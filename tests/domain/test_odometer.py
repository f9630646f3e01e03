"""Readings in their places, and the true distance at every figure. All cars are invented."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.ids import RecordId
from castlenut.domain.oddity import Cause
from castlenut.domain.odometer import (
    Dial,
    DialEvent,
    FactorFrom,
    Odometer,
    Reading,
    Replaced,
    RolledOver,
    odometer,
)
from castlenut.domain.pieces import Begins, FactorSplit, StretchEstimated
from castlenut.domain.units import Distance, Unit

MILES = Dial(unit=Unit.MI, digits=5, tenths=False)
TENTHS = Dial(unit=Unit.MI, digits=5, tenths=True)
SIX_DIGITS = Dial(unit=Unit.KM, digits=6, tenths=False)


def day(text: str) -> date:
    return date.fromisoformat(text)


def taken(on: str, figure: str, *, unit: Unit = Unit.MI, judged_right: bool = False) -> Reading:
    return Reading(
        record=RecordId(f"{on} {figure}"),
        on=day(on),
        figure=Decimal(figure),
        unit=unit,
        judged_right=judged_right,
    )


def replaced(on: str, start: str, last: str | None) -> Replaced:
    return Replaced(
        record=RecordId("replaced"),
        on=day(on),
        start=Decimal(start),
        last=None if last is None else Decimal(last),
    )


def rolled_over(on: str) -> RolledOver:
    return RolledOver(record=RecordId("rolled over"), on=day(on))


def factor_from(on: str, factor: str) -> FactorFrom:
    return FactorFrom(record=RecordId("factor"), on=day(on), factor=Fraction(factor))


def cause(found: Odometer, place: int) -> Cause | None:
    oddity = found.placed[place].oddity
    return None if oddity is None else oddity.cause


def placed(dial: Dial, readings: list[Reading], *events: DialEvent) -> Odometer:
    return odometer(dial, readings, events)


def distances(found: Odometer) -> list[float | None]:
    return [each.distance for each in found.placed]


def test_without_events_distance_is_what_the_dial_shows() -> None:
    found = placed(MILES, [taken("2024-01-10", "61240"), taken("2024-02-10", "61410")])

    assert distances(found) == [61_240.0, 61_410.0]
    assert [piece.begins for piece in found.pieces] == [Begins.FIRST]
    assert found.distance_of(Decimal(51000)) == 51_000.0
    assert found.distance_of(Decimal(51000), day("2011-05-05")) == 51_000.0


def test_no_reading_tells_nothing() -> None:
    found = placed(MILES, [])

    assert found.last() is None
    assert found.distance_of(Decimal(10)) is None
    assert found.distance_of(Decimal(10), day("2024-01-10")) is None
    assert found.shown_of(Distance(61_240.0)) == Decimal(61240)


def test_a_reading_in_the_other_unit_is_converted_for_computing_only() -> None:
    found = placed(
        MILES, [taken("2024-01-10", "31000"), taken("2024-03-10", "51000", unit=Unit.KM)]
    )

    last = found.last()
    assert last is not None
    assert last.reading.figure == Decimal(51000)
    assert last.distance == pytest.approx(31_689.931)  # 51,000 / 1.609344


def test_a_mile_figure_on_a_kilometer_dial_is_converted() -> None:
    found = placed(
        SIX_DIGITS, [taken("2024-01-10", "160000", unit=Unit.KM), taken("2024-03-10", "100000")]
    )

    assert distances(found) == [160_000.0, pytest.approx(160_934.4)]


def test_less_than_one_lower_counts_as_standing_still() -> None:
    """Tenths lost or rounded: 0.9 back is no rollover and no fault."""
    found = placed(
        TENTHS,
        [taken("2024-01-10", "100.9"), taken("2024-01-11", "100"), taken("2024-01-12", "101.5")],
    )

    assert distances(found) == [pytest.approx(100.9), pytest.approx(100.9), pytest.approx(102.4)]
    assert [piece.begins for piece in found.pieces] == [Begins.FIRST, Begins.READ_LOWER]
    assert [each.oddity for each in found.placed] == [None, None, None]


def test_one_lower_is_odd() -> None:
    found = placed(MILES, [taken("2024-01-10", "101"), taken("2024-01-11", "100")])

    assert sorted(each is None for each in distances(found)) == [False, True]
    assert all(each.oddity is not None for each in found.placed)


def test_swapped_digits_are_held_back_and_not_the_reading_after() -> None:
    found = placed(
        SIX_DIGITS,
        [
            taken("2024-01-01", "84512", unit=Unit.KM),
            taken("2024-02-16", "85930", unit=Unit.KM),
            taken("2024-03-23", "68995", unit=Unit.KM),
            taken("2024-03-23", "86995", unit=Unit.KM),
        ],
    )

    assert distances(found) == [84_512.0, 85_930.0, None, 86_995.0]
    assert cause(found, 2) is Cause.SWAPPED
    assert found.placed[2].oddity is not None
    assert found.placed[2].oddity.would_fit == Decimal(86995)
    assert found.last() == found.placed[3]
    assert len(found.sound) == 3


def test_a_mistaken_reading_does_not_drag_its_sound_neighbor_with_it() -> None:
    """Pair by pair 38,650 is lower and 41,975 far above it: only the middle one is wrong."""
    found = placed(
        MILES,
        [
            taken("2024-01-01", "41208"),
            taken("2024-02-01", "38650"),
            taken("2024-03-01", "41975"),
        ],
    )

    assert distances(found) == [41_208.0, None, 41_975.0]


def test_a_reading_higher_than_all_later_ones_is_held_back() -> None:
    found = placed(
        MILES,
        [
            taken("2024-01-01", "72500"),
            taken("2024-02-01", "73840"),
            taken("2024-03-01", "72900"),
            taken("2024-04-01", "73100"),
        ],
    )

    assert distances(found) == [72_500.0, None, 72_900.0, 73_100.0]
    assert cause(found, 1) is Cause.ONE_DIGIT


def test_of_two_that_disagree_the_newer_is_held_back() -> None:
    found = placed(MILES, [taken("2024-01-01", "44120"), taken("2024-01-21", "310")])

    assert distances(found) == [44_120.0, None]
    assert cause(found, 1) is Cause.REPLACED


def test_a_reading_that_may_as_well_be_the_mistaken_one_is_named_and_counted() -> None:
    """73,840 or 72,900: each has a slip that would explain it. One is held back, both are named."""
    found = placed(
        MILES,
        [
            taken("2024-01-01", "72500"),
            taken("2024-02-01", "73840"),
            taken("2024-03-01", "72900"),
        ],
    )

    odd = [each.oddity for each in found.placed[1:] if each.oddity is not None]
    assert found.placed[0].oddity is None
    assert [oddity.held for oddity in odd].count(True) == 1
    assert len(odd) == 2


def test_a_first_reading_alone_is_outvoted() -> None:
    found = placed(
        SIX_DIGITS,
        [
            taken("2024-01-01", "442000", unit=Unit.KM),
            taken("2024-02-01", "44300", unit=Unit.KM),
            taken("2024-03-01", "44900", unit=Unit.KM),
        ],
    )

    assert distances(found) == [None, 44_300.0, 44_900.0]
    assert cause(found, 0) is Cause.TENTHS


def test_a_later_run_does_not_unseat_readings_that_agree() -> None:
    """A dial replaced and not told: the new one stays held back, however long it is read."""
    found = placed(
        MILES,
        [
            taken("2024-01-01", "43000"),
            taken("2024-02-01", "44120"),
            taken("2024-03-01", "310"),
            taken("2024-04-01", "700"),
            taken("2024-05-01", "1200"),
        ],
    )

    assert distances(found) == [43_000.0, 44_120.0, None, None, None]


def test_more_than_nine_hundred_miles_in_a_day_is_too_fast() -> None:
    sound = placed(MILES, [taken("2024-01-10", "20000"), taken("2024-01-11", "20900")])
    hasty = placed(MILES, [taken("2024-01-10", "20000"), taken("2024-01-11", "20901")])

    assert distances(sound) == [20_000.0, 20_900.0]
    assert distances(hasty) == [20_000.0, None]
    assert hasty.placed[1].oddity is not None


def test_more_than_forty_five_thousand_miles_in_a_year_is_too_fast() -> None:
    sound = placed(MILES, [taken("2023-01-10", "20000"), taken("2024-01-10", "65000")])
    hasty = placed(MILES, [taken("2023-01-10", "20000"), taken("2024-01-10", "65001")])

    assert distances(sound) == [20_000.0, 65_000.0]
    assert distances(hasty) == [20_000.0, None]


def test_a_tour_is_no_mistake() -> None:
    found = placed(
        MILES,
        [
            taken("2024-05-01", "30000"),
            taken("2024-06-01", "30040"),
            taken("2024-06-15", "34100"),
            taken("2024-08-01", "34150"),
        ],
    )

    assert len(found.sound) == 4


def test_a_first_reading_too_far_from_the_next_is_held_back() -> None:
    found = placed(
        SIX_DIGITS,
        [
            taken("2024-01-01", "4430", unit=Unit.KM),
            taken("2024-02-01", "44300", unit=Unit.KM),
            taken("2024-03-01", "44900", unit=Unit.KM),
        ],
    )

    assert distances(found) == [None, 44_300.0, 44_900.0]


def test_two_readings_on_one_day_stand_in_the_order_given() -> None:
    found = placed(
        MILES,
        [taken("2024-03-01", "41300"), taken("2024-01-10", "41000"), taken("2024-03-01", "41340")],
    )

    assert distances(found) == [41_000.0, 41_300.0, 41_340.0]


def test_a_figure_beyond_the_dial_is_held_back() -> None:
    found = placed(TENTHS, [taken("2024-01-10", "58200"), taken("2024-02-10", "583316")])

    assert distances(found) == [58_200.0, None]
    assert cause(found, 1) is Cause.TENTHS


def test_only_figures_beyond_the_dial_leave_nothing_sound() -> None:
    found = placed(MILES, [taken("2024-01-10", "100000")])

    assert found.sound == ()
    assert found.pieces == ()


def test_a_figure_beyond_the_dial_judged_right_proves_another_digit() -> None:
    found = placed(
        MILES, [taken("2024-01-10", "99800"), taken("2024-02-10", "100100", judged_right=True)]
    )

    assert distances(found) == [99_800.0, 100_100.0]
    assert found.shown_of(Distance(100_100.0)) == Decimal(100100)


def test_a_rollover_is_counted_and_asked_about() -> None:
    found = placed(MILES, [taken("2024-01-10", "98750"), taken("2024-03-10", "430")])

    assert distances(found) == [98_750.0, 100_430.0]
    assert cause(found, 1) is Cause.ROLLED_OVER
    assert [piece.begins for piece in found.pieces] == [Begins.FIRST, Begins.ROLLED_OVER]


def test_a_rollover_faster_than_any_year_of_driving_is_not_counted() -> None:
    """45,000 round to 500 in a year would be 55,500 miles; 80,000 to 500 in it 20,500."""
    likely = placed(MILES, [taken("2023-01-10", "80000"), taken("2024-01-10", "500")])
    hasty = placed(MILES, [taken("2023-01-10", "45000"), taken("2024-01-10", "500")])

    assert distances(likely) == [80_000.0, 100_500.0]
    assert distances(hasty) == [45_000.0, None]


def test_a_rollover_that_does_not_fit_the_habit_is_not_counted() -> None:
    """1,000 miles a year: 15,000 in half a year is more than four times that and a tour."""
    found = placed(
        MILES,
        [
            taken("2021-01-10", "83000"),
            taken("2022-01-10", "84000"),
            taken("2023-01-10", "85000"),
            taken("2023-07-10", "100"),
        ],
    )

    assert distances(found) == [83_000.0, 84_000.0, 85_000.0, None]


def test_a_rollover_faster_than_any_car_is_driven_is_not_counted() -> None:
    found = placed(MILES, [taken("2024-01-10", "98750"), taken("2024-01-11", "430")])

    assert distances(found) == [98_750.0, None]
    assert cause(found, 1) is Cause.REPLACED


def test_no_reading_is_kept_by_two_rollovers() -> None:
    """Two rounds of the dial in ten years of a little-driven car: one figure is mistaken."""
    found = placed(
        MILES,
        [
            taken("2014-01-10", "85000"),
            taken("2019-01-10", "82000"),
            taken("2024-01-10", "86000"),
        ],
    )

    assert [each for each in distances(found) if each is None] == [None]
    assert Cause.ROLLED_OVER not in {cause(found, place) for place in range(3)}


def test_a_later_reading_of_the_same_round_speaks_against_a_rollover() -> None:
    """A digit lost, not the end of the dial: 97,400 follows 96,000."""
    found = placed(
        MILES,
        [
            taken("2023-01-10", "96000"),
            taken("2023-11-10", "9700"),
            taken("2024-01-10", "97400"),
        ],
    )

    assert distances(found) == [96_000.0, None, 97_400.0]


def test_a_rollover_told_needs_no_likelihood() -> None:
    """A taxi laid by: from 50,000 round to 49,000 in three years."""
    found = placed(
        MILES,
        [taken("2020-01-10", "50000"), taken("2023-01-10", "49000")],
        rolled_over("2023-01-10"),
    )

    assert distances(found) == [50_000.0, 149_000.0]
    assert found.placed[1].oddity is None


def test_a_rollover_told_between_readings_is_counted_in_the_next() -> None:
    found = placed(
        MILES,
        [taken("2020-01-10", "50000"), taken("2023-01-10", "49000"), taken("2023-06-10", "50500")],
        rolled_over("2020-01-10"),
    )

    assert distances(found) == [50_000.0, 149_000.0, 150_500.0]


def test_a_rollover_told_is_counted_once() -> None:
    found = placed(
        MILES,
        [taken("2024-01-10", "99900"), taken("2024-02-10", "300"), taken("2024-03-10", "700")],
        rolled_over("2024-02-10"),
    )

    assert distances(found) == [99_900.0, 100_300.0, 100_700.0]


def test_a_rollover_told_with_no_lower_figure_adds_a_round() -> None:
    found = placed(
        MILES,
        [taken("2015-01-10", "20000"), taken("2024-01-10", "21000")],
        rolled_over("2020-06-01"),
    )

    assert distances(found) == [20_000.0, 121_000.0]


def test_a_rollover_told_before_the_first_reading_keeps_the_former_round() -> None:
    found = placed(MILES, [taken("2024-01-10", "430")], rolled_over("2021-06-01"))

    assert distances(found) == [100_430.0]
    assert found.distance_of(Decimal(91000), day("2019-01-01")) == 91_000.0
    assert found.distance_of(Decimal(200), day("2023-01-01")) == 100_200.0


def test_a_rollover_told_after_the_last_reading_waits_for_the_next() -> None:
    found = placed(MILES, [taken("2024-01-10", "99900")], rolled_over("2024-02-01"))

    assert distances(found) == [99_900.0]
    assert found.shown_of(Distance(100_050.0)) == Decimal(50)


def test_two_rollovers_told_add_two_rounds() -> None:
    second = RolledOver(record=RecordId("second"), on=day("2020-01-10"))

    found = placed(
        MILES,
        [taken("2010-01-10", "90000"), taken("2024-01-10", "10000")],
        rolled_over("2012-01-10"),
        second,
    )

    assert distances(found) == [90_000.0, 210_000.0]
    assert found.distance_of(Decimal(50000), day("2018-01-01")) == 150_000.0


def test_a_figure_judged_right_that_falls_is_of_another_dial() -> None:
    """1,120 in 31 days before and 390 in 31 after it: 706 in the 29 of which nothing is known."""
    found = placed(
        MILES,
        [
            taken("2024-01-01", "43000"),
            taken("2024-02-01", "44120"),
            taken("2024-03-01", "310", judged_right=True),
            taken("2024-04-01", "700"),
        ],
    )

    assert distances(found) == pytest.approx([43_000.0, 44_120.0, 44_826.290, 45_216.290])
    assert all(each.oddity is None for each in found.placed)


def test_judged_right_is_kept_though_it_is_hasty() -> None:
    found = placed(
        MILES,
        [
            taken("2024-01-10", "20000", judged_right=True),
            taken("2024-01-12", "25000", judged_right=True),
        ],
    )

    assert distances(found) == [20_000.0, 25_000.0]


def test_a_rollover_judged_right_is_no_longer_asked_about() -> None:
    found = placed(
        MILES, [taken("2024-01-10", "98750"), taken("2024-03-10", "430", judged_right=True)]
    )

    assert distances(found) == [98_750.0, 100_430.0]
    assert found.placed[1].oddity is None


def test_of_two_judged_right_that_fall_the_later_begins_anew() -> None:
    """30 miles in 30 days before, so 31 for the 31 days of which the dial tells nothing."""
    found = placed(
        MILES,
        [
            taken("2023-12-02", "44090"),
            taken("2024-01-01", "44120", judged_right=True),
            taken("2024-02-01", "310", judged_right=True),
        ],
    )

    assert distances(found) == [44_090.0, 44_120.0, 44_151.0]
    assert found.notes == (
        StretchEstimated(since=day("2024-01-01"), until=day("2024-02-01"), distance=Distance(31.0)),
    )


def test_a_judged_reading_far_along_is_reached_past_many_odd_ones() -> None:
    odd = [taken(f"2024-02-{number:02}", str(97_000 - 3_713 * number)) for number in range(1, 13)]

    found = placed(
        MILES,
        [taken("2024-01-01", "20000"), *odd, taken("2024-03-01", "20500", judged_right=True)],
    )

    assert distances(found) == [20_000.0, *[None] * 12, 20_500.0]


def test_a_replacement_without_the_last_figure_is_estimated_at_the_mean_rate() -> None:
    """1,120 in 31 days and 210 in 19: 1,330 in 50, so 266 in the 10 days nobody knows of."""
    found = placed(
        MILES,
        [taken("2024-01-01", "44000"), taken("2024-02-01", "45120"), taken("2024-03-01", "210")],
        replaced("2024-02-11", "0", None),
    )

    assert distances(found) == [44_000.0, 45_120.0, 45_596.0]
    assert found.notes == (
        StretchEstimated(
            since=day("2024-02-01"), until=day("2024-02-11"), distance=Distance(266.0)
        ),
    )


def test_a_replacement_with_no_rate_known_counts_nothing_and_says_so() -> None:
    found = placed(
        MILES,
        [taken("2024-02-01", "45120"), taken("2024-02-11", "0")],
        replaced("2024-02-11", "0", None),
    )

    assert distances(found) == [45_120.0, 45_120.0]
    assert found.notes == (
        StretchEstimated(since=day("2024-02-01"), until=day("2024-02-11"), distance=Distance(0.0)),
    )


def test_a_reading_on_the_day_of_a_replacement_is_of_the_new_dial() -> None:
    found = placed(
        MILES,
        [taken("2024-01-01", "45120"), taken("2024-02-01", "5"), taken("2024-03-01", "210")],
        replaced("2024-02-01", "5", "45300"),
    )

    assert distances(found) == [45_120.0, 45_300.0, 45_505.0]


def test_a_dial_may_be_replaced_by_one_that_shows_more() -> None:
    found = placed(
        MILES,
        [taken("2024-01-01", "45120"), taken("2024-03-01", "88210")],
        replaced("2024-02-01", "88000", "45300"),
    )

    assert distances(found) == [45_120.0, 45_510.0]


def test_a_replacement_before_the_first_reading_ties_the_old_dial_to_the_new() -> None:
    """Old dial ended at 99,310, new one began at 12; factor 1.041 from 1 December 2024 on."""
    found = placed(
        MILES,
        [taken("2024-12-01", "1500"), taken("2026-01-01", "1840")],
        replaced("2024-02-01", "12", "99310"),
        factor_from("2024-12-01", "1.041"),
    )

    assert distances(found) == [pytest.approx(100_798.0), pytest.approx(101_151.94)]
    assert found.distance_of(Decimal(99200), day("2024-01-20")) == 99_200.0
    assert found.distance_of(Decimal(99310), day("2024-02-01")) == 99_310.0
    assert found.distance_of(Decimal(12), day("2024-02-01")) == 99_310.0
    assert [point.on for point in found.points] == [
        day("2024-02-01"),
        day("2024-12-01"),
        day("2026-01-01"),
    ]


def test_nothing_ties_an_old_dial_whose_end_nobody_knows() -> None:
    found = placed(MILES, [taken("2026-01-01", "1840")], replaced("2024-02-01", "12", None))

    assert distances(found) == [1_840.0]
    assert found.distance_of(Decimal(99200), day("2024-01-20")) is None
    assert found.distance_of(Decimal(1000), day("2025-01-20")) == 1_000.0


def test_a_first_reading_lower_than_the_new_dial_began_is_held_back() -> None:
    found = placed(MILES, [taken("2026-01-01", "1840")], replaced("2024-02-01", "2000", "99310"))

    assert distances(found) == [None]
    assert found.placed[0].oddity is not None
    assert found.distance_of(Decimal(2050), day("2026-01-20")) == 99_360.0


def test_two_replacements_before_the_first_reading_both_count() -> None:
    second = Replaced(
        record=RecordId("s"), on=day("2022-01-01"), start=Decimal(0), last=Decimal(700)
    )

    found = placed(
        MILES, [taken("2024-01-01", "50")], replaced("2021-01-01", "100", "60000"), second
    )

    assert distances(found) == [60_650.0]
    assert found.distance_of(Decimal(400), day("2021-06-01")) == 60_300.0


def test_two_replacements_on_one_day_count_one_after_the_other() -> None:
    """The first new dial stuck at once: it ended where it began."""
    second = Replaced(
        record=RecordId("s"), on=day("2021-01-01"), start=Decimal(0), last=Decimal(100)
    )

    found = placed(
        MILES, [taken("2024-01-01", "50")], replaced("2021-01-01", "100", "60000"), second
    )

    assert distances(found) == [60_050.0]


def test_a_first_reading_held_back_does_not_hide_what_was_told_of_the_dial() -> None:
    found = placed(
        MILES,
        [taken("2023-01-01", "88888"), taken("2024-01-01", "50"), taken("2024-02-01", "90")],
        replaced("2023-06-01", "0", "41200"),
    )

    assert distances(found) == [None, 41_250.0, 41_290.0]
    assert found.distance_of(Decimal(41000), day("2023-05-01")) == 41_000.0


def test_a_first_dial_that_no_reading_fits_leaves_no_reading_untold() -> None:
    """A second dial told to begin at 99,999 and to end at 1: the next one's readings count on.

    No later one of 0 to 1 fits 61,795.3, which is on the third dial, begun at 20,030.
    """
    found = odometer(
        TENTHS,
        [
            taken("2015-01-04", "61795.3"),
            taken("2015-01-06", "0"),
            taken("2015-01-08", "0.1"),
            taken("2015-01-09", "1"),
        ],
        [replaced("2015-01-03", "99999", "1"), replaced("2015-01-04", "20030", "1")],
    )

    assert [each.distance is None for each in found.placed] == [False, True, True, True]
    assert [cause(found, place) for place in range(4)] == [None, *[Cause.MISREAD] * 3]


def test_a_replacement_after_the_last_reading_moves_the_dial_and_the_last_point() -> None:
    found = placed(MILES, [taken("2024-01-01", "45120")], replaced("2024-02-01", "0", "45300"))

    assert found.shown_of(Distance(45_310.0)) == Decimal(10)
    assert found.shown_of(Distance(45_299.0)) == Decimal(45299)
    assert (found.points[-1].on, found.points[-1].distance) == (day("2024-02-01"), 45_300.0)


def test_a_replacement_after_the_last_reading_with_an_impossible_end_is_estimated() -> None:
    found = placed(MILES, [taken("2024-01-01", "45120")], replaced("2024-02-01", "0", "45000"))

    assert [point.distance for point in found.points] == [45_120.0]
    assert found.shown_of(Distance(45_130.0)) == Decimal(10)


def test_a_factor_before_the_first_reading_is_in_force_at_it() -> None:
    found = placed(
        MILES,
        [taken("2024-01-01", "40000"), taken("2024-03-01", "41000")],
        factor_from("2020-01-01", "1.05"),
    )

    assert distances(found) == [40_000.0, 41_050.0]
    assert found.notes == ()


def test_a_factor_replaces_the_former_one() -> None:
    second = FactorFrom(record=RecordId("second"), on=day("2024-02-01"), factor=Fraction("0.98"))

    found = placed(
        MILES,
        [taken("2024-01-01", "40000"), taken("2024-02-01", "41000"), taken("2024-03-01", "42000")],
        factor_from("2024-01-01", "1.05"),
        second,
    )

    assert distances(found) == [40_000.0, 41_050.0, 42_030.0]


def test_a_factor_that_changes_between_readings_splits_the_distance_by_days() -> None:
    """10 of 40 days at 1, 30 at 1.1: 100 + 330."""
    found = placed(
        MILES,
        [taken("2024-01-01", "40000"), taken("2024-02-10", "40400")],
        factor_from("2024-01-11", "1.1"),
    )

    assert distances(found) == [40_000.0, 40_430.0]
    assert found.notes == (FactorSplit(record=RecordId("factor"), on=day("2024-01-11")),)


def test_a_factor_on_a_reading_held_back_is_split_all_the_same() -> None:
    found = placed(
        MILES,
        [taken("2024-01-01", "40000"), taken("2024-01-11", "4010"), taken("2024-02-10", "40400")],
        factor_from("2024-01-11", "1.1"),
    )

    assert distances(found) == [40_000.0, None, 40_430.0]
    assert len(found.notes) == 1


def test_a_factor_after_the_last_reading_is_what_the_dial_will_count_by() -> None:
    found = placed(MILES, [taken("2024-01-01", "40000")], factor_from("2024-02-01", "1.25"))

    assert found.shown_of(Distance(40_125.0)) == Decimal(40100)
    assert [point.on for point in found.points] == [day("2024-01-01")]


def test_a_factor_may_change_while_a_rollover_is_not_yet_seen() -> None:
    """From 99,900 to 300 in 40 days: 100 at 1 in ten days, then 300 at 1.1."""
    found = placed(
        MILES,
        [taken("2024-01-01", "99900"), taken("2024-02-10", "300")],
        factor_from("2024-01-11", "1.1"),
    )

    assert distances(found) == [99_900.0, 100_330.0]


def test_a_factor_in_a_stretch_nobody_knows_counts_from_the_next_dial_on() -> None:
    found = placed(
        MILES,
        [taken("2024-01-01", "45120"), taken("2024-03-01", "0"), taken("2024-03-11", "100")],
        factor_from("2024-01-15", "1.1"),
        replaced("2024-03-01", "0", None),
    )

    assert found.sound[2].distance == pytest.approx((found.sound[1].distance or 0.0) + 110.0)


def test_a_figure_between_two_readings_around_a_rollover_finds_its_round() -> None:
    found = placed(MILES, [taken("2024-01-10", "98750"), taken("2024-03-10", "430")])

    assert found.distance_of(Decimal(99100), day("2024-02-01")) == 99_100.0
    assert found.distance_of(Decimal(100), day("2024-02-01")) == 100_100.0
    assert found.distance_of(Decimal(98750), day("2024-01-10")) == 98_750.0
    assert found.distance_of(Decimal(430), day("2024-03-10")) == 100_430.0


def test_a_figure_read_on_the_day_is_that_reading() -> None:
    """A whole round in a day: 500 was read that morning, and 500 again the next."""
    found = placed(
        MILES,
        [taken("2024-01-10", "500"), taken("2024-01-11", "500")],
        rolled_over("2024-01-11"),
    )

    assert found.distance_of(Decimal(500), day("2024-01-10")) == 500.0
    assert found.distance_of(Decimal(500), day("2024-01-11")) == 100_500.0


def test_a_figure_without_a_day_is_in_the_latest_round_that_was_read_so_far() -> None:
    found = placed(MILES, [taken("2024-01-10", "98750"), taken("2024-03-10", "430")])

    assert found.distance_of(Decimal(400)) == 100_400.0
    assert found.distance_of(Decimal(500)) == 500.0
    assert found.distance_of(Decimal(91000)) == 91_000.0


def test_a_figure_above_all_that_was_read_goes_on_from_the_latest_piece() -> None:
    found = placed(MILES, [taken("2024-01-10", "61240")])

    assert found.distance_of(Decimal(62000)) == 62_000.0


def test_the_dial_will_show_figures_beyond_its_end_from_0_again() -> None:
    found = placed(MILES, [taken("2024-01-10", "99900")])

    assert found.shown_of(Distance(100_025.0)) == Decimal(25)
    assert found.starts_again(Distance(99_990.0), Distance(100_025.0))
    assert not found.starts_again(Distance(100_010.0), Distance(100_025.0))


def test_tenths_are_shown_only_by_a_dial_that_has_them() -> None:
    without = placed(MILES, [taken("2024-01-10", "61530")])
    having = placed(TENTHS, [taken("2024-01-10", "61530")])

    assert without.shown_of(Distance(61_530.78)) == Decimal(61530)
    assert having.shown_of(Distance(61_530.78)) == Decimal("61530.7")
