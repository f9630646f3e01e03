"""Distance by tire and place: together the tires ran what the car ran, however they moved."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.place import CORNERS, Spot
from castlenut.domain.tires.rotation.moves import MOVES, Pattern, rotated
from castlenut.domain.tires.today import TiresToday
from castlenut.store.revisions import StoredRecord
from tests.domain.tires.recorded import put, shod, tires

DAYS = 100  # from 1 January, at 10 mi a day
PATTERNS = [pattern for pattern in Pattern if Spot.SP not in MOVES[pattern]]

turns = st.lists(
    st.tuples(st.integers(min_value=0, max_value=DAYS), st.sampled_from(PATTERNS)), max_size=6
).map(lambda each: sorted(each, key=lambda turn: turn[0]))


def driven(done: list[tuple[int, Pattern]]) -> TiresToday:
    """Give the car 1,000 mi after its tires were fitted, rotated on these days."""
    stands = {spot: spot.value for spot in CORNERS}
    moves: list[StoredRecord] = []
    for day, pattern in done:
        on = (date(2026, 1, 1) + timedelta(days=day)).isoformat()
        stands = dict(rotated(stands, pattern))
        moves.extend(
            put(f"tire-{name}+wheel-{name}", spot.value, on=on, at=50000 + 10 * day)
            for spot, name in stands.items()
        )
    return tires(*shod(), *moves)


@given(turns)
def test_each_tire_ran_as_far_as_the_car(done: list[tuple[int, Pattern]]) -> None:
    """Distance run by each tire in each place follows from the placements."""
    for here in driven(done).standing:
        assert here.run is not None
        assert here.run.is_whole
        assert abs(here.run.on_road - 1000) < 1e-6


@given(turns)
def test_at_each_place_one_tire_ran_at_a_time(done: list[tuple[int, Pattern]]) -> None:
    by_place = dict.fromkeys(CORNERS, 0.0)
    for here in driven(done).standing:
        for spot, far in here.run.by_spot.items() if here.run else ():
            by_place[spot] += far

    assert all(abs(far - 1000) < 1e-6 for far in by_place.values())


@given(turns)
def test_moving_is_no_change_of_what_is_on_the_car(done: list[tuple[int, Pattern]]) -> None:
    found = driven(done)

    assert found.changed_since == ()
    assert found.factor_offered is None
    assert found.look_at == ()
