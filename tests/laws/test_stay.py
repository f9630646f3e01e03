"""Laws of the stay: it speaks of points at 0 alone, and ending it and coming again is no event."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from castlenut.domain.due import items_today
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.item import Item
from castlenut.domain.stay import Cause, against_rolling, is_ready
from castlenut.domain.vehicle import Stay
from castlenut.domain.working import State
from tests.laws.examples import examples
from tests.laws.strategies import Case, cases

SOME = examples(15)
MANY = settings(max_examples=300)


def reckoned(case: Case, *stays: Stay) -> dict[object, Item]:
    car = replace(case.car, stays=stays)
    return {item.id: item for item in items_today(car, case.book, today=case.today).items}


def stay(name: str, since: date, over: date | None = None) -> Stay:
    return Stay(record=RecordId(name), since=since, over=over)


def standing(item: Item) -> tuple[object, ...]:
    """Give how an item stands, its working left aside: that tells since when the car is in work."""
    return (
        item.state,
        item.may_be,
        item.due_on,
        item.due_at,
        item.window,
        item.expected,
        item.baseline,
        item.days_left,
        item.distance_left,
        item.before_it_rolls,
        item.has_open_point_at_0,
    )


def check_that_a_stay_changes_points_at_0_alone(case: Case, days: int) -> None:
    without = reckoned(case)
    within = reckoned(case, stay("stay", case.today - timedelta(days=days)))

    assert without.keys() == within.keys()
    for id_, item in within.items():
        if item.has_open_point_at_0 and without[id_].state is not item.state:
            assert (without[id_].state, item.state) == (State.OVERDUE, State.DUE)
        elif not item.has_open_point_at_0:
            assert standing(item) == standing(without[id_])


@SOME
@given(cases(), st.integers(0, 400))
def test_a_stay_changes_points_at_0_alone(case: Case, days: int) -> None:
    """Points at 0 are then due, never overdue; all else keeps its own reckoning."""
    check_that_a_stay_changes_points_at_0_alone(case, days)


@pytest.mark.long
@MANY
@given(cases(), st.integers(0, 400))
def test_a_stay_changes_points_at_0_alone_on_many_cars(case: Case, days: int) -> None:
    check_that_a_stay_changes_points_at_0_alone(case, days)


@SOME
@given(cases(), st.integers(1, 400), st.integers(0, 400))
def test_ending_a_stay_and_coming_in_again_changes_nothing(
    case: Case, before: int, since: int
) -> None:
    """The car that was handed over and came back the same day stands as if it had stayed."""
    again = case.today - timedelta(days=since)
    began = again - timedelta(days=before)

    once = reckoned(case, stay("one", began))
    twice = reckoned(case, stay("one", began, over=again), stay("two", again))

    assert {id_: standing(item) for id_, item in once.items()} == {
        id_: standing(item) for id_, item in twice.items()
    }


@SOME
@given(cases(), st.integers(1, 400), st.integers(1, 100))
def test_a_stay_that_is_over_leaves_every_item_as_if_it_had_never_been(
    case: Case, before: int, days: int
) -> None:
    over = case.today - timedelta(days=days)

    ended = reckoned(case, stay("stay", over - timedelta(days=before), over=over))

    assert {id_: standing(item) for id_, item in ended.items()} == {
        id_: standing(item) for id_, item in reckoned(case).items()
    }


@SOME
@given(cases())
def test_whether_a_car_is_ready_is_the_same_in_work_and_out_of_it(case: Case) -> None:
    """What blocks is what is open, not where the car stands."""
    in_work = (stay("stay", case.today - timedelta(days=20)),)
    of_stay = items_today(replace(case.car, stays=in_work), case.book, today=case.today)
    without = items_today(replace(case.car, stays=()), case.book, today=case.today)

    found = against_rolling(of_stay, case.book)

    assert [(each.cause, [item.id for item in each.items]) for each in found] == [
        (each.cause, [item.id for item in each.items])
        for each in against_rolling(without, case.book)
    ]
    assert is_ready(found) == all(each.cause is Cause.DECLINED for each in found)
