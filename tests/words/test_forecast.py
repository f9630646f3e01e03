"""A forecast in words. The car is invented."""

from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.dial import Dial
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.pieces import StretchEstimated
from castlenut.domain.units import Distance, Shown, Unit
from castlenut.domain.use.estimate import (
    BandFrom,
    DateBand,
    DistanceBand,
    LastReading,
    Outlook,
    UseBasis,
)
from castlenut.words import days, use
from castlenut.words.forecast import Ahead, why

DIAL = Dial(unit=Unit.MI, digits=5, tenths=False)
LAST = LastReading(record=RecordId("r"), on=date(2026, 3, 3), shown=Shown(Decimal(41020)))
SEEN = Outlook(
    yearly=DistanceBand(p10=Distance(1_312.0), p50=Distance(1_893.0), p90=Distance(2_790.0)),
    season=(4, 10),
    laid_up_chance=0.02,
    has_changed=False,
    longest_days=200,
    was_run_laid_up=False,
)
BASIS = UseBasis(
    last=LAST,
    readings=4,
    held_back=0,
    first_on=date(2025, 1, 2),
    last_on=date(2026, 3, 3),
    driving_days=425,
    a_day=Distance(5.2),
    slowest=Distance(3.6),
    fastest=Distance(7.7),
    band=BandFrom.FORECAST,
    laid_up=(),
    notes=(),
    outlook=SEEN,
)
AHEAD = Ahead(
    asof=date(2026, 3, 10),
    due_at=Shown(Decimal(41864)),
    to_go=844.0,
    dates=DateBand(p10=date(2026, 4, 28), p50=date(2026, 6, 12), p90=date(2026, 9, 15)),
    chance_due=0.0,
)


def test_the_lines_say_from_where_how_known_and_when() -> None:
    assert why(AHEAD, BASIS, DIAL) == [
        "Last reading 41,020 on 3 March 2026; due at 41,864: 844 miles to go.",
        (
            "Known from 4 readings over 14 months: about 1,900 miles a year, likely 1,300 to 2,800;"
            " nearly all of it April to October."
        ),
        (
            "One chance in ten before 28 April 2026, even chance by 12 June 2026, nine in ten by 15"
            " September 2026."
        ),
    ]


def test_one_reading_says_that_it_rests_on_other_cars() -> None:
    one = replace(BASIS, readings=1, first_on=LAST.on, last_on=LAST.on)

    assert why(AHEAD, one, DIAL)[1] == (
        "Only one reading: this rests on how cars of this age and use are usually driven. A second"
        " reading will sharpen it."
    )


def test_what_widens_the_band_is_said() -> None:
    seen = replace(
        SEEN, has_changed=True, longest_days=700, laid_up_chance=0.4, was_run_laid_up=True
    )
    estimate = StretchEstimated(
        since=date(2025, 2, 1), until=date(2025, 2, 11), distance=Distance(266.0)
    )
    basis = replace(
        BASIS,
        readings=3,
        held_back=1,
        outlook=seen,
        notes=(estimate,),
        laid_up=((date(2025, 12, 1), date(2026, 2, 1)), (date(2026, 12, 1), None)),
    )

    assert why(AHEAD, basis, DIAL)[2:7] == [
        (
            "Less sure for: few readings, the use has changed lately, long stretches without a"
            " reading, the car may be laid up, 1 reading left out until settled."
        ),
        "The readings show distance run while the car was laid up: it is believed.",
        "Laid up from 1 December 2025 to 1 February 2026: no distance is run in it.",
        "Laid up from 1 December 2026 until further notice: no distance is run in it.",
        "What the old dial showed last is not known: 2025-02-01 to 2025-02-11 is taken for 266 mi.",
    ]


def test_a_long_wait_asks_for_a_reading() -> None:
    later = replace(AHEAD, asof=date(2026, 12, 3), chance_due=0.349)

    assert why(later, BASIS, DIAL)[-1] == (
        "No reading for 9 months: it may already be due (chance 35 %). Read the odometer."
    )


def test_a_date_beyond_ten_years_is_not_a_date() -> None:
    never = replace(AHEAD, dates=DateBand(p10=None, p50=None, p90=None))
    late = replace(AHEAD, dates=replace(AHEAD.dates, p90=None))

    assert why(never, BASIS, DIAL)[-1] == "Not likely within ten years."
    assert why(late, BASIS, DIAL)[-1].endswith("; it may well take longer than ten years.")


def test_a_car_that_stands_is_said_to_stand() -> None:
    nothing = DistanceBand(p10=Distance(0.0), p50=Distance(0.0), p90=Distance(0.0))
    hardly = replace(nothing, p90=Distance(212.0))

    stands = why(AHEAD, replace(BASIS, outlook=replace(SEEN, yearly=nothing)), DIAL)[1]
    may_stand = why(AHEAD, replace(BASIS, outlook=replace(SEEN, yearly=hardly)), DIAL)[1]

    assert stands == "Known from 4 readings over 14 months: the car stands still."
    assert may_stand.endswith(
        "the car may stand still; at most about 210 miles a year; nearly all of it April to"
        " October."
    )


def test_without_a_reading_nothing_is_known() -> None:
    assert "No reading: nothing is known of how the car is driven." in why(
        AHEAD, replace(BASIS, last=None, outlook=None), DIAL
    )


@pytest.mark.parametrize(
    ("count", "said"),
    [(1, "1 day"), (59, "59 days"), (91, "3 months"), (1_000, "33 months"), (1_500, "4 years")],
)
def test_a_length_of_time_is_said_as_one_would(count: int, said: str) -> None:
    assert days.length(count) == said


@pytest.mark.parametrize(
    ("distance", "said"),
    [(0.4, "0"), (7.2, "7"), (212.0, "210"), (1_893.0, "1,900"), (12_345.0, "12,000")],
)
def test_a_yearly_distance_is_told_to_two_figures(distance: float, said: str) -> None:
    assert use.two_figures(distance) == said
