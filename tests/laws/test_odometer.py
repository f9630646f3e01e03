"""Laws of true distance and of the plain use rate."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.ids import RecordId
from castlenut.domain.oddity import Verdict, sound_chain
from castlenut.domain.odometer import (
    Dial,
    DialEvent,
    FactorFrom,
    Reading,
    Replaced,
    RolledOver,
    odometer,
)
from castlenut.domain.units import KM_PER_MI, Distance, Unit
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.use.rate import plain_rate

FIRST = date(2015, 1, 1)
TODAY = date(2026, 1, 1)
DIAL = Dial(unit=Unit.MI, digits=5, tenths=True)

days = st.integers(min_value=0, max_value=3_000).map(lambda number: FIRST + timedelta(days=number))
figures = st.integers(min_value=0, max_value=999_999).map(lambda tenths: Decimal(tenths) / 10)
factors = st.fractions(min_value=Fraction(1, 2), max_value=2, max_denominator=100)


@st.composite
def any_readings(draw: st.DrawFn) -> list[Reading]:
    """Readings of anything, in order of time, no two on one day."""
    dates = sorted(draw(st.sets(days, min_size=1, max_size=8)))
    return [
        Reading(
            record=RecordId(f"reading {number}"),
            on=on,
            figure=draw(figures),
            unit=Unit.MI,
            judged_right=draw(st.booleans()) and draw(st.booleans()),
        )
        for number, on in enumerate(dates)
    ]


@st.composite
def driven_readings(draw: st.DrawFn) -> list[Reading]:
    """Readings of one car that is driven: none falls, none is hasty, none comes near the end."""
    runs = draw(
        st.lists(
            st.tuples(
                st.integers(min_value=1, max_value=400), st.integers(min_value=0, max_value=500)
            ),
            max_size=12,
        )
    )
    on, figure = FIRST, draw(st.integers(min_value=1_000, max_value=60_000))
    readings = [_reading(on, figure)]
    for passed, run in runs:
        on, figure = on + timedelta(days=passed), figure + run
        readings.append(_reading(on, figure))
    return readings


@st.composite
def any_events(draw: st.DrawFn) -> list[DialEvent]:
    """Up to four events, no two on one day."""
    events: list[DialEvent] = []
    for number, on in enumerate(sorted(draw(st.sets(days, max_size=4)))):
        record = RecordId(f"event {number}")
        events.append(
            draw(
                st.one_of(
                    st.just(RolledOver(record=record, on=on)),
                    st.builds(
                        Replaced,
                        record=st.just(record),
                        on=st.just(on),
                        start=figures,
                        last=st.none() | figures,
                    ),
                    st.builds(FactorFrom, record=st.just(record), on=st.just(on), factor=factors),
                )
            )
        )
    return events


def _reading(on: date, figure: int) -> Reading:
    return Reading(record=RecordId(on.isoformat()), on=on, figure=Decimal(figure), unit=Unit.MI)


def _in_order(band: DateBand) -> bool:
    dates = [each or date.max for each in (band.p10, band.p50, band.p90)]
    return dates == sorted(dates)


@given(any_readings(), any_events())
def test_distance_never_falls_along_sound_readings(
    readings: list[Reading], events: list[DialEvent]
) -> None:
    """True distance: d of -1 < d < 0 counts as 0; d <= -1 is a rollover, or something is wrong."""
    found = odometer(DIAL, readings, events)

    distances = [each.distance for each in found.sound if each.distance is not None]
    assert len(distances) == len(found.sound)
    assert all(one <= other + 1e-6 for one, other in pairwise(distances))
    known = [point.distance for point in found.points]
    assert all(one <= other + 1e-6 for one, other in pairwise(known))


@given(any_readings(), any_events(), st.randoms(use_true_random=False))
def test_the_order_in_which_things_are_given_is_irrelevant(
    readings: list[Reading], events: list[DialEvent], chance: Random
) -> None:
    """Order of events is irrelevant; so is that of readings of different days."""
    shuffled, turned = list(readings), list(events)
    chance.shuffle(shuffled)
    chance.shuffle(turned)

    assert odometer(DIAL, shuffled, turned) == odometer(DIAL, readings, events)


@given(any_readings(), any_events())
def test_every_reading_is_kept_and_judged_ones_are_sound(
    readings: list[Reading], events: list[DialEvent]
) -> None:
    """A reading that does not fit is kept and flagged; one that is right is kept and counted."""
    found = odometer(DIAL, readings, events)

    assert [each.reading for each in found.placed] == readings
    assert all(each.oddity is not None for each in found.placed if each.distance is None)
    assert all(each.distance is not None for each in found.placed if each.reading.judged_right)


@given(any_readings(), any_events())
def test_figure_and_distance_turn_into_each_other_on_every_piece(
    readings: list[Reading], events: list[DialEvent]
) -> None:
    """True distance is piecewise: on each piece it grows with the dial by one factor."""
    found = odometer(DIAL, readings, events)

    for piece in found.pieces:
        figure = (piece.start + piece.end) / 2
        assert abs(piece.shown(piece.distance(figure)) - float(figure)) < 1e-6
    for piece, following in pairwise(found.pieces):
        assert following.at >= piece.distance(piece.end) - 1e-6
        middle = Distance((piece.at + piece.distance(piece.end)) / 2)
        if piece.at + 1e-3 < middle < following.at:
            shown = piece.shown(middle) % float(found.capacity)
            assert abs(float(found.shown_of(middle)) - shown) <= 0.1 + 1e-5
    for each in found.sound:
        there = found.distance_of(each.shown, each.reading.on)
        assert there is not None
        assert each.distance is not None
        assert abs(there - each.distance) < 1e-6


@given(driven_readings(), st.integers(min_value=0, max_value=10_000))
def test_miles_and_kilometers_agree(readings: list[Reading], ahead: int) -> None:
    """A miles car and the same car written in km get the same dates to a day."""
    km_dial = Dial(unit=Unit.KM, digits=6, tenths=True)
    in_km = [
        Reading(
            record=each.record,
            on=each.on,
            figure=each.figure * Decimal("1.609344"),
            unit=Unit.KM,
        )
        for each in readings
    ]
    miles = odometer(DIAL, readings, [])
    kilometers = odometer(km_dial, in_km, [])
    use = plain_rate(miles, today=TODAY, laid_up=[])
    use_km = plain_rate(kilometers, today=TODAY, laid_up=[])

    last = miles.points[-1].distance + ahead
    band = use.reached(Distance(last))
    band_km = use_km.reached(Distance(last * KM_PER_MI))

    assert len(miles.sound) == len(kilometers.sound) == len(readings)
    for one, other in (
        (band.p10, band_km.p10),
        (band.p50, band_km.p50),
        (band.p90, band_km.p90),
    ):
        near_the_end = (one or other or TODAY) >= TODAY + timedelta(days=3_649)
        assert near_the_end or (one is None) == (other is None)
        assert one is None or other is None or abs((one - other).days) <= 1


@given(
    driven_readings(),
    st.integers(min_value=-2_000, max_value=20_000),
    st.integers(min_value=0, max_value=400),
    st.integers(min_value=0, max_value=400),
    st.integers(min_value=1, max_value=400),
)
def test_a_longer_lay_up_never_makes_it_earlier(
    readings: list[Reading], ahead: int, begins: int, length: int, longer: int
) -> None:
    """A longer `laid_up` span after the last reading, never earlier."""
    found = odometer(DIAL, readings, [])
    first = found.points[-1].on + timedelta(days=begins)
    distance = Distance(found.points[-1].distance + ahead)
    short = plain_rate(
        found, today=TODAY, laid_up=[(first, first + timedelta(days=length))]
    ).reached(distance)

    long = plain_rate(
        found, today=TODAY, laid_up=[(first, first + timedelta(days=length + longer))]
    ).reached(distance)
    never = plain_rate(found, today=TODAY, laid_up=[(first, None)]).reached(distance)

    for one, other, last in (
        (short.p10, long.p10, never.p10),
        (short.p50, long.p50, never.p50),
        (short.p90, long.p90, never.p90),
    ):
        assert (one or date.max) <= (other or date.max) <= (last or date.max)


@given(driven_readings(), st.integers(min_value=0, max_value=20_000), days)
def test_bands_are_in_order_and_agree(readings: list[Reading], ahead: int, day: date) -> None:
    """p10 <= p50 <= p90, none before the last reading."""
    found = odometer(DIAL, readings, [])
    use = plain_rate(found, today=TODAY, laid_up=[(day, day + timedelta(days=90))])
    last = found.points[-1]

    band = use.reached(Distance(last.distance + ahead + 1))
    distances = use.distance_on(day)

    assert _in_order(band)
    assert all(each is None or each > last.on for each in (band.p10, band.p50, band.p90))
    assert distances is not None
    assert distances.p10 <= distances.p50 <= distances.p90
    assert day < last.on or distances.p10 >= last.distance


@given(driven_readings(), st.integers(min_value=0, max_value=20_000))
def test_a_distance_is_run_by_the_day_it_is_said_to_be_reached(
    readings: list[Reading], ahead: int
) -> None:
    """The two questions are answered from one line: p50 is the first morning past the distance."""
    found = odometer(DIAL, readings, [])
    use = plain_rate(found, today=TODAY, laid_up=[])
    distance = Distance(found.points[0].distance + 1 + ahead)

    day = use.reached(distance).p50

    if day is not None:
        on_it, before = use.distance_on(day), use.distance_on(day - timedelta(days=1))
        assert on_it is not None
        assert on_it.p50 >= distance - 1e-6
        assert before is not None
        assert before.p50 < distance + 1e-6


@given(driven_readings(), st.integers(min_value=2, max_value=60))
def test_a_reading_exactly_on_the_line_changes_nothing_before_it(
    readings: list[Reading], half: int
) -> None:
    """A reading in the middle of a stretch, where the line has the car, tells nothing new."""
    found = odometer(DIAL, readings, [])
    last = readings[-1]
    end = Reading(
        record=RecordId("end"),
        on=last.on + timedelta(days=2 * half),
        figure=last.figure + 10 * half,
        unit=Unit.MI,
    )
    between = Reading(
        record=RecordId("between"),
        on=last.on + timedelta(days=half),
        figure=last.figure + 5 * half,
        unit=Unit.MI,
    )

    without = odometer(DIAL, [*readings, end], [])
    having = odometer(DIAL, [*readings, between, end], [])

    assert having.placed[: len(readings)] == found.placed == without.placed[: len(readings)]
    assert having.placed[-1] == without.placed[-1]
    use = plain_rate(without, today=TODAY, laid_up=[])
    use_having = plain_rate(having, today=TODAY, laid_up=[])
    assert use.basis.a_day == use_having.basis.a_day


def _is_chain(places: tuple[int, ...], judged: list[bool], verdicts: list[list[Verdict]]) -> bool:
    links = all(
        verdicts[one][other] is Verdict.FITS or (judged[one] and judged[other])
        for one, other in pairwise(places)
    )
    told = all(place in places for place, is_judged in enumerate(judged) if is_judged)
    start = judged.index(True) if any(judged) else 1
    return links and told and places[0] <= start


@given(
    st.integers(min_value=1, max_value=7).flatmap(
        lambda count: st.tuples(
            st.lists(st.sampled_from([False, False, False, True]), min_size=count, max_size=count),
            st.lists(
                st.lists(
                    st.sampled_from([Verdict.FITS, Verdict.FALLS, Verdict.TOO_FAST]),
                    min_size=count,
                    max_size=count,
                ),
                min_size=count,
                max_size=count,
            ),
        )
    )
)
def test_the_sound_set_is_the_largest_that_fits(
    drawn: tuple[list[bool], list[list[Verdict]]],
) -> None:
    """Against all sets there are: the largest, and of equal ones that of the earlier readings."""
    judged, verdicts = drawn
    count = len(judged)
    every = (
        tuple(place for place in range(count) if mask >> place & 1) for mask in range(1, 1 << count)
    )
    fitting = [places for places in every if _is_chain(places, judged, verdicts)]

    found = sound_chain(judged, lambda one, other: verdicts[one][other])

    assert found == min(fitting, key=lambda places: (-len(places), places))
