"""Laws of true distance."""

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.ids import RecordId
from castlenut.domain.oddity import Cause
from castlenut.domain.odometer import (
    Dial,
    DialEvent,
    FactorFrom,
    Reading,
    Replaced,
    RolledOver,
    odometer,
)
from castlenut.domain.units import Distance, Unit

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
    untold = [
        each.oddity is not None and each.oddity.cause is Cause.REPLACED for each in found.placed
    ]
    waits = untold.index(True) if True in untold else len(untold)
    assert all(
        each.oddity is not None or place > waits
        for place, each in enumerate(found.placed)
        if each.distance is None
    )
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
