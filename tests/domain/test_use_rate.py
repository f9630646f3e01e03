"""The plain use rate and its band. All cars are invented."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import Dial, DialEvent, Reading, Replaced, odometer
from castlenut.domain.pieces import StretchEstimated
from castlenut.domain.units import Distance, Shown, Unit
from castlenut.domain.use.estimate import BandFrom, DateBand, DistanceBand, LastReading
from castlenut.domain.use.rate import PlainRate, plain_rate

MILES = Dial(unit=Unit.MI, digits=5, tenths=False)
TODAY = date(2024, 6, 1)
NOTHING_KNOWN = DateBand(p10=None, p50=None, p90=None)


def day(text: str) -> date:
    return date.fromisoformat(text)


def rate(
    *readings: tuple[str, str],
    laid_up: Sequence[tuple[str, str | None]] = (),
    events: Sequence[DialEvent] = (),
    today: date = TODAY,
) -> PlainRate:
    taken = [
        Reading(record=RecordId(on), on=day(on), figure=Decimal(figure), unit=Unit.MI)
        for on, figure in readings
    ]
    return plain_rate(
        odometer(MILES, taken, events),
        today=today,
        laid_up=[(day(first), None if last is None else day(last)) for first, last in laid_up],
    )


def all_on(text: str) -> DateBand:
    return DateBand(p10=day(text), p50=day(text), p90=day(text))


def all_at(distance: float) -> DistanceBand:
    known = Distance(distance)
    return DistanceBand(p10=known, p50=known, p90=known)


def test_no_reading_gives_no_distance_and_no_date() -> None:
    use = rate()

    assert use.distance_on(TODAY) is None
    assert use.reached(Distance(1_000.0)) == NOTHING_KNOWN
    assert use.yearly is None
    assert use.basis.last is None
    assert use.basis.band is BandFrom.NO_RATE


def test_one_reading_stands_for_the_distance_and_tells_no_rate() -> None:
    use = rate(("2024-05-01", "47318"))

    assert use.distance_on(day("2024-06-01")) == all_at(47_318)
    assert use.distance_on(day("2020-06-01")) == all_at(47_318)
    assert use.reached(Distance(47_400.0)) == NOTHING_KNOWN
    assert use.yearly is None
    assert use.basis.a_day is None
    assert use.basis.band is BandFrom.NO_RATE


def test_what_one_reading_shows_was_reached_by_its_day() -> None:
    use = rate(("2024-05-01", "47318"))

    assert use.reached(Distance(47_318.0)) == all_on("2024-05-01")
    assert use.reached(Distance(47_000.0)) == all_on("2024-05-01")


def test_two_readings_give_a_mean_with_half_and_twice_of_it() -> None:
    """300 miles in 30 days: 10 a day; 200 to go take 20 days, 10 at twice and 40 at half."""
    use = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"))

    assert use.reached(Distance(40_500.0)) == DateBand(
        p10=day("2024-05-11"), p50=day("2024-05-21"), p90=day("2024-06-10")
    )
    assert use.distance_on(day("2024-05-11")) == DistanceBand(
        p10=Distance(40_350.0), p50=Distance(40_400.0), p90=Distance(40_500.0)
    )
    assert use.basis.band is BandFrom.HALF_AND_TWICE


def test_several_stretches_give_their_slowest_and_fastest_rate() -> None:
    """4, 12 and 8 a day; 720 in 90 days is 8."""
    use = rate(
        ("2024-01-01", "40000"),
        ("2024-01-31", "40120"),
        ("2024-03-01", "40480"),
        ("2024-03-31", "40720"),
    )

    assert use.basis.band is BandFrom.SLOWEST_AND_FASTEST
    assert (use.basis.slowest, use.basis.a_day, use.basis.fastest) == (4.0, 8.0, 12.0)
    assert use.reached(Distance(40_960.0)) == DateBand(
        p10=day("2024-04-20"), p50=day("2024-04-30"), p90=day("2024-05-30")
    )


def test_stretches_under_fourteen_driving_days_are_taken_together() -> None:
    """13 days at 1 and one at 587: together 600 in 14 days; then 280 in 14 days."""
    use = rate(
        ("2024-03-01", "40000"),
        ("2024-03-14", "40013"),
        ("2024-03-15", "40600"),
        ("2024-03-29", "40880"),
    )

    assert use.basis.slowest == 20.0
    assert use.basis.fastest == pytest.approx(42.857, abs=0.001)


def test_a_short_last_stretch_joins_the_one_before() -> None:
    """After 30 days at 10 and 20 at 5: five more days at 15 make the last one 25 days at 7."""
    use = rate(
        ("2024-03-01", "40000"),
        ("2024-03-31", "40300"),
        ("2024-04-20", "40400"),
        ("2024-04-25", "40475"),
    )

    assert (use.basis.slowest, use.basis.fastest) == (7.0, 10.0)


def test_two_readings_on_one_day_tell_no_rate() -> None:
    use = rate(("2024-05-01", "40000"), ("2024-05-01", "40040"))

    assert use.distance_on(day("2024-05-20")) == all_at(40_040)
    assert use.reached(Distance(40_100.0)) == NOTHING_KNOWN
    assert use.reached(Distance(40_020.0)) == all_on("2024-05-01")


def test_a_car_that_stands_reaches_nothing_more() -> None:
    use = rate(("2022-05-01", "40000"), ("2024-05-01", "40000"))

    assert use.reached(Distance(40_001.0)) == NOTHING_KNOWN
    assert use.distance_on(day("2026-05-01")) == all_at(40_000)
    assert use.yearly == 0.0


def test_a_distance_already_run_has_the_day_it_was_passed() -> None:
    """10 a day from 1 April, 20 a day from 1 May: 40,150 after 15 days, 40,400 five days on."""
    use = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"), ("2024-05-31", "40900"))

    assert use.reached(Distance(40_150.0)) == all_on("2024-04-16")
    assert use.reached(Distance(40_151.0)) == all_on("2024-04-17")
    assert use.reached(Distance(40_400.0)) == all_on("2024-05-06")
    assert use.reached(Distance(40_900.0)) == all_on("2024-05-31")


def test_between_readings_the_distance_lies_on_the_line() -> None:
    use = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"), ("2024-05-31", "40900"))

    assert use.distance_on(day("2024-04-16")) == all_at(40_150)
    assert use.distance_on(day("2024-05-01")) == all_at(40_300)
    assert use.distance_on(day("2024-05-06")) == all_at(40_400)


def test_before_the_first_reading_the_mean_goes_on_backward() -> None:
    use = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"))

    assert use.reached(Distance(39_900.0)) == all_on("2024-03-22")
    assert use.distance_on(day("2024-03-22")) == DistanceBand(
        p10=Distance(39_800.0), p50=Distance(39_900.0), p90=Distance(39_950.0)
    )


def test_before_the_first_reading_no_distance_is_below_0() -> None:
    use = rate(("2024-04-01", "100"), ("2024-05-01", "400"))

    assert use.distance_on(day("2020-01-01")) == all_at(0)


def test_a_distance_just_ahead_is_reached_tomorrow_at_the_earliest() -> None:
    use = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"))

    assert use.reached(Distance(40_300.5)) == all_on("2024-05-02")


def test_nothing_is_told_beyond_ten_years_after_today() -> None:
    """1 a day: 3,650 days after 1 May are told on that day, one more is not, and p90 never."""
    use = rate(("2024-04-01", "40000"), ("2024-05-01", "40030"), today=day("2024-05-01"))

    assert use.reached(Distance(43_680.0)).p50 == day("2034-04-29")
    assert use.reached(Distance(43_681.0)).p50 is None
    assert use.reached(Distance(43_680.0)).p90 is None
    assert use.reached(Distance(43_680.0)).p10 == day("2029-04-30")


def test_the_day_of_the_question_moves_no_date() -> None:
    early = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"), today=day("2024-05-01"))
    late = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"), today=day("2025-05-01"))

    assert early.reached(Distance(40_500.0)) == late.reached(Distance(40_500.0))


def test_the_mean_counts_driving_days_only() -> None:
    """61 days, 31 of them laid up: 300 miles in 30 driving days."""
    use = rate(
        ("2024-03-01", "40000"), ("2024-05-01", "40300"), laid_up=[("2024-03-10", "2024-04-09")]
    )

    assert use.basis.driving_days == 30
    assert use.basis.a_day == 10.0
    assert use.distance_on(day("2024-03-10")) == all_at(40_090)
    assert use.distance_on(day("2024-04-10")) == all_at(40_090)


def test_the_distance_stands_still_while_laid_up() -> None:
    use = rate(
        ("2024-04-01", "40000"), ("2024-05-01", "40300"), laid_up=[("2024-05-11", "2024-08-31")]
    )

    standing = DistanceBand(p10=Distance(40_350.0), p50=Distance(40_400.0), p90=Distance(40_500.0))
    assert use.distance_on(day("2024-05-11")) == standing
    assert use.distance_on(day("2024-08-31")) == standing
    assert use.distance_on(day("2024-09-01")) == standing


def test_what_is_not_reached_before_a_lay_up_is_reached_after_its_end() -> None:
    """5 of 10 days of driving lie before 6 May, the others from 1 September on."""
    use = rate(
        ("2024-04-01", "40000"), ("2024-05-01", "40300"), laid_up=[("2024-05-06", "2024-08-31")]
    )

    assert use.reached(Distance(40_400.0)).p10 == day("2024-05-06")
    assert use.reached(Distance(40_400.0)).p50 == day("2024-09-06")
    assert use.reached(Distance(40_400.0)).p90 == day("2024-09-16")


def test_what_is_not_reached_before_an_open_lay_up_has_no_date() -> None:
    use = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"), laid_up=[("2024-05-06", None)])

    assert use.reached(Distance(40_340.0)) == DateBand(
        p10=day("2024-05-03"), p50=day("2024-05-05"), p90=None
    )
    assert use.reached(Distance(40_500.0)) == NOTHING_KNOWN


def test_spans_laid_up_may_overlap() -> None:
    apart = rate(
        ("2024-04-01", "40000"), ("2024-05-01", "40300"), laid_up=[("2024-05-06", "2024-08-31")]
    )
    overlapping = rate(
        ("2024-04-01", "40000"),
        ("2024-05-01", "40300"),
        laid_up=[
            ("2024-06-01", "2024-08-31"),
            ("2024-05-06", "2024-06-15"),
            ("2024-05-10", "2024-05-12"),
        ],
    )

    assert overlapping.basis.laid_up == ((day("2024-05-06"), day("2024-08-31")),)
    assert overlapping == apart


def test_distance_run_while_laid_up_is_believed() -> None:
    """200 miles in a lay-up from reading to reading: no day of driving, but the distance counts."""
    use = rate(
        ("2024-03-01", "40000"),
        ("2024-03-31", "40300"),
        ("2024-04-20", "40500"),
        laid_up=[("2024-03-31", "2024-04-19")],
    )

    assert use.basis.driving_days == 30
    assert use.basis.a_day == pytest.approx(16.667, abs=0.001)
    assert use.distance_on(day("2024-04-10")) == all_at(40_400)
    assert use.reached(Distance(40_400.0)) == all_on("2024-04-10")


def test_a_car_always_laid_up_has_no_rate() -> None:
    use = rate(("2024-03-01", "40000"), ("2024-03-31", "40012"), laid_up=[("2023-10-01", None)])

    assert use.basis.band is BandFrom.NO_RATE
    assert use.basis.laid_up == ((day("2023-10-01"), None),)
    assert use.distance_on(TODAY) == all_at(40_012)


def test_yearly_is_the_distance_of_the_year_after_the_last_reading() -> None:
    """10 a day: 3,650, and with 65 days laid up 3,000."""
    driven = rate(("2024-04-01", "40000"), ("2024-05-01", "40300"))
    rested = rate(
        ("2024-04-01", "40000"), ("2024-05-01", "40300"), laid_up=[("2024-12-01", "2025-02-03")]
    )

    assert driven.yearly == 3_650.0
    assert rested.yearly == 3_000.0


def test_the_basis_tells_what_the_estimate_rests_on() -> None:
    use = rate(
        ("2024-04-01", "40000"),
        ("2024-05-01", "40300"),
        ("2024-05-31", "4600"),
        laid_up=[("2019-01-01", "2019-02-01"), ("2024-07-01", "2024-07-31")],
    )

    assert use.basis.last == LastReading(
        record=RecordId("2024-05-01"), on=day("2024-05-01"), shown=Shown(Decimal(40300))
    )
    assert (use.basis.readings, use.basis.held_back) == (2, 1)
    assert (use.basis.first_on, use.basis.last_on) == (day("2024-04-01"), day("2024-05-01"))
    assert use.basis.laid_up == ((day("2024-07-01"), day("2024-07-31")),)
    assert use.basis.notes == ()


def test_a_dial_replaced_at_a_known_figure_gives_a_rate_with_one_reading() -> None:
    """300 miles on the new dial in 30 days."""
    replaced = Replaced(
        record=RecordId("e"), on=day("2024-04-01"), start=Decimal(0), last=Decimal(40000)
    )

    use = rate(("2024-05-01", "300"), events=[replaced])

    assert use.basis.readings == 1
    assert use.basis.a_day == 10.0
    assert use.distance_on(day("2024-04-16")) == all_at(40_150)


def test_an_estimate_inside_the_distance_is_told() -> None:
    replaced = Replaced(record=RecordId("e"), on=day("2024-05-11"), start=Decimal(0), last=None)

    use = rate(
        ("2024-04-01", "40000"), ("2024-05-01", "40300"), ("2024-05-31", "200"), events=[replaced]
    )

    assert use.basis.notes == (
        StretchEstimated(
            since=day("2024-05-01"), until=day("2024-05-11"), distance=Distance(100.0)
        ),
    )
    assert use.distance_on(day("2024-05-31")) == all_at(40_600)
