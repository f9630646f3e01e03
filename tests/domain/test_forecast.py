"""When a car gets where: the edges, and answers known beforehand. All cars are invented."""

from datetime import date, timedelta
from decimal import Decimal

from castlenut.domain.dial import Dial, DialEvent, Reading, Replaced
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import odometer
from castlenut.domain.units import Distance, Unit
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.use.forecast import Forecast, Owner, forecast
from castlenut.domain.vehicle import Use

MILES = Dial(unit=Unit.MI, digits=5, tenths=False)
SIX_DIGITS = Dial(unit=Unit.MI, digits=6, tenths=False)


def day(text: str) -> date:
    return date.fromisoformat(text)


def taken(on: str, figure: float) -> Reading:
    record = RecordId(f"{on} {figure}")
    return Reading(record=record, on=day(on), figure=Decimal(str(figure)), unit=Unit.MI)


def use(
    readings: list[Reading],
    today: str,
    *events: DialEvent,
    owner: Owner | None = None,
    dial: Dial = MILES,
) -> Forecast:
    return forecast(odometer(dial, readings, events), today=day(today), owner=owner or Owner())


def ahead(found: Forecast, distance: float) -> DateBand:
    assert found.past is not None
    return found.reached(Distance(found.past.points[-1].distance + distance))


def days(band: DateBand, since: str) -> tuple[int | None, ...]:
    return tuple(
        None if each is None else (each - day(since)).days
        for each in (band.p10, band.p50, band.p90)
    )


def monthly(first: str, count: int, a_day: float, *, start: int = 30_000) -> list[Reading]:
    begin = day(first)
    return [
        taken((begin + timedelta(days=30 * number)).isoformat(), start + round(30 * number * a_day))
        for number in range(count)
    ]


def test_ten_miles_a_day_for_two_years_reach_three_hundred_in_thirty_days() -> None:
    """24 readings at exactly 10 mi a day: p50 within 2 days of day 30, band under 15 days."""
    readings = monthly("2024-01-01", 24, 10.0)
    last = readings[-1].on.isoformat()

    p10, p50, p90 = days(ahead(use(readings, last), 300), last)

    assert p10 is not None
    assert p50 is not None
    assert p90 is not None
    assert abs(p50 - 30) <= 2
    assert p90 - p10 < 15


def test_one_reading_rests_on_the_prior_and_is_wide() -> None:
    found = use([taken("2026-01-01", 41_000)], "2026-01-01")

    p10, p50, p90 = days(ahead(found, 2_000), "2026-01-01")

    assert p10 is not None
    assert p50 is not None
    assert p90 is None or p90 > 6 * p10
    assert found.basis.readings == 1


def test_a_declared_use_moves_the_prior() -> None:
    reading = [taken("2026-03-01", 41_000)]
    daily = use(reading, "2026-03-01", owner=Owner(declared=Use.DAILY))
    seasonal = use(reading, "2026-03-01", owner=Owner(declared=Use.SEASONAL))
    stored = use(reading, "2026-03-01", owner=Owner(declared=Use.STORED))

    assert daily.yearly is not None
    assert seasonal.yearly is not None
    assert stored.yearly is not None
    assert daily.yearly > seasonal.yearly > stored.yearly


def test_six_digits_of_a_young_car_tell_how_it_was_driven() -> None:
    reading = [taken("2026-03-01", 190_000)]
    told = use(reading, "2026-03-01", owner=Owner(first_use_year=2014), dial=SIX_DIGITS)
    old = use(reading, "2026-03-01", owner=Owner(first_use_year=1964), dial=SIX_DIGITS)

    assert told.yearly is not None
    assert old.yearly is not None
    assert told.yearly > 2 * old.yearly


def test_five_digits_of_the_same_car_tell_nothing() -> None:
    """They may have passed their end; only in the first years they cannot have."""
    one = use([taken("2026-03-01", 10_000)], "2026-03-01", owner=Owner(first_use_year=2014))
    other = use([taken("2026-03-01", 90_000)], "2026-03-01", owner=Owner(first_use_year=2014))

    assert one.yearly == other.yearly


def test_two_readings_undo_a_wrong_word() -> None:
    readings = [
        taken("2025-01-01", 41_000),
        taken("2025-07-01", 46_000),
        taken("2026-01-01", 51_000),
    ]

    found = use(readings, "2026-01-01", owner=Owner(declared=Use.STORED))

    assert found.yearly is not None
    assert 7_000 < found.yearly < 12_000


def test_two_readings_on_one_day_tell_nothing_of_the_rate() -> None:
    one = use([taken("2025-01-01", 41_000), taken("2025-07-01", 42_000)], "2025-07-01")
    other = use(
        [taken("2025-01-01", 41_000), taken("2025-07-01", 42_000), taken("2025-07-01", 42_030)],
        "2025-07-01",
    )

    assert ahead(one, 500) == ahead(other, 500)


def test_a_car_not_moved_in_years_may_never_get_there() -> None:
    readings = [taken(f"{year}-05-01", 41_000) for year in range(2019, 2027)]

    band = ahead(use(readings, "2026-05-01"), 1_000)

    assert band.p90 is None
    assert band.p50 is None or band.p50 > day("2029-01-01")


def test_a_winter_of_zeros_on_a_fair_weather_car_is_no_lay_up() -> None:
    driven = [
        taken("2024-04-01", 41_000),
        taken("2024-07-01", 41_900),
        taken("2024-10-15", 42_700),
        *(taken(f"2024-{month}-15", 42_700) for month in (11, 12)),
        *(taken(f"2025-{month:02}-15", 42_700) for month in (1, 2, 3)),
    ]

    found = use(driven, "2025-03-15", owner=Owner(declared=Use.SEASONAL))

    band = ahead(found, 300)
    assert found.basis.outlook is not None
    assert found.basis.outlook.laid_up_chance < 0.25
    assert band.p50 is not None
    assert band.p50 < day("2025-08-01")


def test_a_changed_use_wins_within_three_readings_and_is_said() -> None:
    before = monthly("2022-01-01", 24, 3.0)
    last = before[-1]
    after = [
        taken(
            (last.on + timedelta(days=120 * number)).isoformat(),
            float(last.figure) + 2_400 * number,
        )
        for number in (1, 2, 3)
    ]

    found = use([*before, *after], after[-1].on.isoformat())

    assert found.yearly is not None
    assert found.yearly > 5_000
    assert found.basis.outlook is not None
    assert found.basis.outlook.has_changed


def test_long_after_the_last_reading_the_middle_may_lie_in_the_past() -> None:
    readings = monthly("2024-01-01", 12, 10.0)
    found = use(readings, "2026-06-01")

    band = ahead(found, 600)
    assert found.past is not None
    there = Distance(found.past.points[-1].distance + 600)

    assert band.p50 is not None
    assert band.p50 < day("2026-06-01")
    assert found.chance(there, day("2026-06-01")) > 0.9


def test_a_long_gap_leaves_a_wider_band_than_many_short_ones() -> None:
    gap = [taken("2024-06-01", 30_000), taken("2026-06-01", 34_000)]
    short = [
        taken((day("2024-06-01") + timedelta(days=73 * number)).isoformat(), 30_000 + 400 * number)
        for number in range(11)
    ]

    wide = days(ahead(use(gap, "2026-06-01"), 1_000), "2026-06-01")
    narrow = days(ahead(use(short, "2026-06-01"), 1_000), "2026-06-01")

    assert narrow[0] is not None
    assert narrow[2] is not None
    assert wide[0] is not None
    assert wide[2] is None or wide[2] - wide[0] > narrow[2] - narrow[0]


def test_far_beyond_ten_years_of_use_is_told_as_never() -> None:
    band = ahead(use(monthly("2024-01-01", 12, 2.0), "2025-01-01"), 80_000)

    assert band == DateBand(p10=None, p50=None, p90=None)


def test_a_tiny_distance_is_reached_a_day_after_the_last_reading_at_the_earliest() -> None:
    readings = monthly("2024-01-01", 12, 40.0)
    last = readings[-1].on.isoformat()

    assert days(ahead(use(readings, last), 0.1), last)[0] == 1


def test_due_in_winter_on_a_fair_weather_car_is_due_in_spring() -> None:
    readings = [
        taken("2023-04-01", 41_000),
        taken("2023-07-01", 41_700),
        taken("2023-11-01", 42_600),
        taken("2024-04-01", 42_620),
        taken("2024-07-01", 43_300),
        taken("2024-11-01", 44_200),
    ]

    band = ahead(use(readings, "2024-11-01", owner=Owner(declared=Use.SEASONAL)), 300)

    assert band.p50 is not None
    assert day("2025-04-01") < band.p50 < day("2025-07-15")


def test_a_southern_garage_has_its_summer_in_december() -> None:
    readings = [
        taken("2024-04-01", 41_000),
        taken("2024-10-01", 41_100),
        taken("2025-04-01", 42_600),
    ]
    owner = Owner(declared=Use.SEASONAL)

    south = use(readings, "2025-04-01", owner=replace(owner, south=True))

    band = ahead(south, 600)
    assert band.p50 is not None
    assert band.p50 > day("2025-09-15")


def test_no_date_lies_inside_a_lay_up_after_its_first_day() -> None:
    readings = monthly("2024-01-01", 12, 10.0)
    span = (day("2024-12-10"), day("2025-04-10"))
    found = use(readings, "2024-11-26", owner=Owner(laid_up=(span,)))

    for distance in range(20, 2_000, 60):
        for each in (ahead(found, distance).p10, ahead(found, distance).p50):
            assert each is None or not span[0] < each <= span[1]


def test_what_is_not_reached_before_an_open_lay_up_is_never_reached() -> None:
    readings = monthly("2024-01-01", 12, 10.0)
    owner = Owner(laid_up=((day("2024-12-10"), None),))

    assert ahead(use(readings, "2024-11-26", owner=owner), 5_000).p10 is None


def test_distance_run_while_laid_up_is_believed_and_said() -> None:
    readings = [
        taken("2024-05-01", 41_000),
        taken("2024-12-15", 42_000),
        taken("2025-01-15", 42_090),
    ]
    owner = Owner(laid_up=((day("2024-12-01"), day("2025-03-01")),))

    found = use(readings, "2025-01-15", owner=owner)

    assert found.basis.outlook is not None
    assert found.basis.outlook.was_run_laid_up
    assert found.distance_on(day("2025-01-15")) is not None


def test_a_new_dial_nobody_told_of_moves_no_date() -> None:
    """The starting point stays where the last sound reading is."""
    readings = monthly("2024-01-01", 12, 10.0)
    last = readings[-1].on
    other_dial = [
        taken((last + timedelta(days=20)).isoformat(), 310),
        taken((last + timedelta(days=50)).isoformat(), 610),
    ]

    one, other = use(readings, "2025-03-01"), use([*readings, *other_dial], "2025-03-01")

    assert one.past is not None
    assert other.past is not None
    assert other.past.points[-1] == one.past.points[-1]


def test_a_stretch_that_is_an_estimate_teaches_no_rate() -> None:
    readings = [taken("2024-01-01", 40_000), taken("2024-07-01", 41_800), taken("2025-01-01", 900)]
    told = Replaced(record=RecordId("r"), on=day("2024-10-01"), start=Decimal(0), last=None)

    found = use(readings, "2025-01-01", told)

    assert [note.distance for note in found.basis.notes if hasattr(note, "distance")]
    assert found.yearly is not None
    assert 2_500 < found.yearly < 5_000


def test_no_reading_tells_nothing() -> None:
    found = use([], "2026-01-01")

    assert found.distance_on(day("2026-01-01")) is None
    assert found.reached(Distance(10.0)) == DateBand(p10=None, p50=None, p90=None)
    assert found.chance(Distance(10.0), day("2026-01-01")) == 0.0
    assert found.yearly is None


def test_a_distance_already_run_was_reached_on_one_day_between_two_readings() -> None:
    found = use([taken("2024-01-01", 40_000), taken("2024-04-10", 41_000)], "2024-05-01")

    assert found.reached(Distance(40_500.0)) == DateBand(
        p10=day("2024-02-20"), p50=day("2024-02-20"), p90=day("2024-02-20")
    )
    assert found.chance(Distance(40_500.0), day("2024-02-19")) == 0.0
    assert found.chance(Distance(40_500.0), day("2024-02-20")) == 1.0


def test_a_car_read_every_week_is_learned_from_its_latest_runs() -> None:
    """300 readings: the latest 40 stretches of a month tell enough."""
    begin = day("2019-01-01")
    readings = [
        taken((begin + timedelta(days=7 * number)).isoformat(), 10_000 + 70 * number)
        for number in range(300)
    ]

    found = use(readings, readings[-1].on.isoformat())

    assert found.yearly is not None
    assert abs(found.yearly - 3_650) < 250
