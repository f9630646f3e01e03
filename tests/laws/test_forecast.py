"""Laws of the forecast. All cars are invented."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from hypothesis import assume, given
from hypothesis import strategies as st

from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading, Replaced
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import odometer
from castlenut.domain.units import KM_PER_MI, Distance, Unit
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.use.forecast import Forecast, Owner, forecast
from castlenut.domain.vehicle import Use
from tests.laws.examples import examples

FIRST = date(2015, 1, 1)
TODAY = date(2026, 1, 1)
DIAL = Dial(unit=Unit.MI, digits=6, tenths=True)


def _reading(on: date, figure: Decimal, unit: Unit = Unit.MI) -> Reading:
    record = RecordId(f"{on.isoformat()} {figure}")
    return Reading(record=record, on=on, figure=figure, unit=unit)


@st.composite
def driven(draw: st.DrawFn) -> list[Reading]:
    """Readings of a car that is driven on, at most 20 miles a day over a stretch; no odd ones."""
    runs = draw(
        st.lists(
            st.tuples(
                st.integers(min_value=1, max_value=400), st.integers(min_value=0, max_value=200)
            ),
            max_size=7,
        )
    )
    on, figure = FIRST, Decimal(draw(st.integers(min_value=1_000, max_value=60_000)))
    readings = [_reading(on, figure)]
    for passed, tenths_a_day in runs:
        on, figure = on + timedelta(days=passed), figure + passed * Decimal(tenths_a_day) / 10
        readings.append(_reading(on, figure))
    return readings


owners = st.builds(
    Owner,
    declared=st.none() | st.sampled_from(list(Use)),
    first_use_year=st.none() | st.integers(min_value=1930, max_value=2014),
    south=st.booleans(),
)
miles = st.integers(min_value=1, max_value=30_000).map(float)


def _use(readings: list[Reading], owner: Owner, today: date = TODAY) -> Forecast:
    return forecast(odometer(DIAL, readings, []), today=today, owner=owner)


def _ahead(use: Forecast, distance: float) -> DateBand:
    assert use.past is not None
    return use.reached(Distance(use.past.points[-1].distance + distance))


def _dates(band: DateBand) -> list[date]:
    return [each or date.max for each in (band.p10, band.p50, band.p90)]


@examples(60)
@given(driven(), owners, miles)
def test_quantiles_are_in_order_and_after_the_last_reading(
    readings: list[Reading], owner: Owner, distance: float
) -> None:
    """p10 <= p50 <= p90, none before the last reading; at least a day after it."""
    use = _use(readings, owner)

    dates = _dates(_ahead(use, distance))
    today = use.distance_on(TODAY)

    assert dates == sorted(dates)
    assert dates[0] > readings[-1].on
    assert today is not None
    assert today.p10 <= today.p50 <= today.p90


@examples(60)
@given(driven(), owners, st.lists(miles, min_size=2, max_size=6))
def test_more_distance_is_never_reached_earlier(
    readings: list[Reading], owner: Owner, distances: list[float]
) -> None:
    """More distance, never earlier."""
    use = _use(readings, owner)

    bands = [_dates(_ahead(use, distance)) for distance in sorted(distances)]

    for one, other in pairwise(bands):
        assert all(nearer <= further for nearer, further in zip(one, other, strict=True))


@examples(40)
@given(driven(), owners, miles, st.integers(min_value=1, max_value=400))
def test_one_more_day_of_asking_moves_no_date(
    readings: list[Reading], owner: Owner, distance: float, later: int
) -> None:
    """`asof` moves no date, it only cuts at ten years."""
    one = _ahead(_use(readings, owner), distance)
    other = _ahead(_use(readings, owner, TODAY + timedelta(days=later)), distance)

    for first, last in zip(_dates(one), _dates(other), strict=True):
        assert first == last or first == date.max


@examples(40)
@given(driven(), owners, miles)
def test_miles_and_kilometers_agree(readings: list[Reading], owner: Owner, distance: float) -> None:
    """A miles car and the same car written in km get the same dates to a day."""
    dial = Dial(unit=Unit.KM, digits=7, tenths=True)
    in_km = [_reading(each.on, each.figure * Decimal("1.609344"), Unit.KM) for each in readings]
    kilometers = forecast(odometer(dial, in_km, []), today=TODAY, owner=owner)

    band = _ahead(_use(readings, owner), distance)
    band_km = _ahead(kilometers, distance * KM_PER_MI)

    near_the_end = TODAY + timedelta(days=3_640)
    for one, other in zip(_dates(band), _dates(band_km), strict=True):
        assert one > near_the_end or other > near_the_end or abs((one - other).days) <= 1


@examples(40)
@given(driven(), owners, miles)
def test_a_zero_length_interval_changes_nothing(
    readings: list[Reading], owner: Owner, distance: float
) -> None:
    """Two readings on one day tell nothing of the rate."""
    last = readings[-1]
    again = replace(last, record=RecordId("again"))

    one, other = _use(readings, owner), _use([*readings, again], owner)

    assert _dates(_ahead(one, distance)) == _dates(_ahead(other, distance))


@examples(40)
@given(
    driven(),
    owners,
    miles,
    st.integers(min_value=0, max_value=400),
    st.integers(min_value=0, max_value=400),
    st.integers(min_value=1, max_value=400),
)
def test_a_longer_lay_up_never_makes_it_earlier(
    readings: list[Reading], owner: Owner, distance: float, begins: int, length: int, more: int
) -> None:
    """A longer `laid_up` span after the last reading, never earlier."""
    first = readings[-1].on + timedelta(days=begins)
    spans = (
        (first, first + timedelta(days=length)),
        (first, first + timedelta(days=length + more)),
        (first, None),
    )

    short, long, never = (
        _dates(_ahead(_use(readings, replace(owner, laid_up=(span,))), distance)) for span in spans
    )

    assert all(one <= other for one, other in zip(short, long, strict=True))
    assert all(one <= other for one, other in zip(long, never, strict=True))


@examples(30)
@given(driven(), owners, miles, st.integers(min_value=1, max_value=5))
def test_all_dates_shifted_by_whole_cycles_of_leap_years_shift_the_answer(
    readings: list[Reading], owner: Owner, distance: float, cycles: int
) -> None:
    """Shifting all dates by whole years shifts the answer: to the day over four years at a time."""
    shift = timedelta(days=1_461 * cycles)
    year = owner.first_use_year
    later = replace(owner, first_use_year=None if year is None else year + 4 * cycles)
    moved = [replace(each, on=each.on + shift) for each in readings]

    band = _ahead(_use(readings, owner), distance)
    band_moved = _ahead(_use(moved, later, TODAY + shift), distance)

    for one, other in zip(_dates(band), _dates(band_moved), strict=True):
        assert one == date.max == other or one + shift == other


@examples(30)
@given(driven(), owners, miles)
def test_the_order_of_events_is_irrelevant_and_one_entered_late_tells_the_same(
    readings: list[Reading], owner: Owner, distance: float
) -> None:
    """Order of events is irrelevant; an event entered late gives the same as entered in time."""
    last = readings[-1]
    events: list[DialEvent] = [
        FactorFrom(record=RecordId("f"), on=readings[0].on, factor=Fraction(103, 100)),
        Replaced(record=RecordId("r"), on=last.on, start=last.figure, last=last.figure),
    ]

    one = forecast(odometer(DIAL, readings, events), today=TODAY, owner=owner)
    other = forecast(odometer(DIAL, readings, events[::-1]), today=TODAY, owner=owner)

    assert _dates(_ahead(one, distance)) == _dates(_ahead(other, distance))


@examples(40)
@given(driven(), owners, miles)
def test_the_chance_and_the_dates_agree(
    readings: list[Reading], owner: Owner, distance: float
) -> None:
    """p50 <= asof exactly when chance_due >= 0.5."""
    use = _use(readings, owner)
    assert use.past is not None
    there = Distance(use.past.points[-1].distance + distance)

    chance = use.chance(there, TODAY)
    p50 = use.reached(there).p50

    assert (chance >= 0.5) == (p50 is not None and p50 <= TODAY)


@examples(30)
@given(
    st.integers(min_value=3, max_value=12),
    st.integers(min_value=20, max_value=60),
    st.integers(min_value=10, max_value=300),
)
def test_a_reading_on_the_forecast_line_changes_little(
    count: int, gap: int, tenths_a_day: int
) -> None:
    """A car that runs as ever, read once more: the middle date stays inside the band."""
    a_day = Decimal(tenths_a_day) / 10
    readings = [
        _reading(FIRST + timedelta(days=gap * number), 20_000 + a_day * gap * number)
        for number in range(count + 1)
    ]
    to_go = float(a_day) * 3 * gap
    before = _ahead(_use(readings[:-1], Owner(declared=Use.DAILY)), to_go + float(a_day) * gap)

    after = _ahead(_use(readings, Owner(declared=Use.DAILY)), to_go)

    p10, _, p90 = _dates(before)
    assert p10 <= _dates(after)[1] <= p90


@examples(60)
@given(
    driven(),
    owners,
    miles,
    st.integers(min_value=0, max_value=99_999),
    st.integers(min_value=1, max_value=90),
)
def test_a_reading_held_back_moves_no_date_until_it_is_settled(
    readings: list[Reading], owner: Owner, distance: float, figure: int, days: int
) -> None:
    """Whatever was typed last: if it is held back and drags no other along, all dates stay."""
    last = readings[-1]
    typed = _reading(last.on + timedelta(days=days), Decimal(figure))
    found = odometer(DIAL, [*readings, typed], [])
    assume(found.placed[-1].distance is None)
    assume(all(each.distance is not None for each in found.placed[:-1]))

    before = _use(readings, owner)
    after = forecast(found, today=TODAY, owner=owner)

    assert _dates(_ahead(after, distance)) == _dates(_ahead(before, distance))
    assert after.distance_on(TODAY) == before.distance_on(TODAY)
