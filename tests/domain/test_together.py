"""The sides of an item put together: which is the earliest, which decides, how it stands today."""

from datetime import date

import pytest

from castlenut.domain.acts import Done
from castlenut.domain.frozen import replace
from castlenut.domain.ground import Ground, ground
from castlenut.domain.ids import RecordId
from castlenut.domain.sides import Side
from castlenut.domain.together import first_distance_side, how_it_stands, point_of
from castlenut.domain.units import Distance
from castlenut.domain.window import Window
from castlenut.domain.working import Binds, From, State
from tests.builders import car, reading, stay

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day
TODAY = date(2026, 4, 11)
BASE = Done(how=From.DONE, record=RecordId("job"), on=date(2026, 1, 1), at=None, distance=None)


def usual(**tables: object) -> Ground:
    return ground(car(readings=STEADY, **tables), today=TODAY, south=False)  # type: ignore[arg-type]  # by name


def by_day(
    due: str, *, opens: str | None = None, closes: str | None = None, binds: Binds = Binds.DATE
) -> Side:
    ends = [date.fromisoformat(each or due) for each in (opens, closes)]
    return Side(
        due_on=date.fromisoformat(due),
        window=Window(opens_on=ends[0], closes_on=ends[1]),
        binds_on=binds,
        binds_at=binds,
        base=BASE,
        steps=(BASE.step,),
    )


def point_at_0(*, waits: bool) -> Side:
    return replace(by_day("2026-04-05", binds=Binds.EVENT), waits=waits)


def by_distance(due: float, *, opens: float, closes: float) -> Side:
    return Side(
        due_at=due,
        window=Window(opens_at=opens, closes_at=closes),
        binds_on=Binds.DISTANCE,
        binds_at=Binds.DISTANCE,
        base=BASE,
        steps=(BASE.step,),
    )


def state(*sides: Side, rests_on: Ground | None = None) -> State:
    return how_it_stands(sides, rests_on or usual(), is_own_check=False).state


@pytest.mark.parametrize(
    ("opens", "closes", "stands"),
    [
        (51000.5, 51100.0, State.AHEAD),
        (51000.0, 51100.0, State.DUE),
        (50900.0, 51000.0, State.DUE),
        (50900.0, 50999.5, State.OVERDUE),
    ],
)
def test_at_the_distance_at_which_a_window_opens_or_closes_it_is_due(
    opens: float, closes: float, stands: State
) -> None:
    assert state(by_distance(51000.0, opens=opens, closes=closes)) is stands


def test_the_side_that_is_furthest_along_decides_how_an_item_stands() -> None:
    late = by_day("2026-04-01")
    far = by_distance(60000.0, opens=59500.0, closes=60000.0)

    assert state(late, far) is State.OVERDUE
    assert state(far, late) is State.OVERDUE


def test_a_side_of_no_window_stands_ahead() -> None:
    unknown = Side(
        window=Window(), binds_on=Binds.DATE, binds_at=Binds.DATE, base=BASE, steps=(BASE.step,)
    )

    assert state(unknown) is State.AHEAD


def test_the_window_of_two_sides_opens_and_closes_by_the_earliest_of_each() -> None:
    one = by_day("2026-06-10", opens="2026-05-01", closes="2026-07-20")
    other = by_day("2026-07-01", opens="2026-05-20", closes="2026-07-10")
    near = by_distance(52000.0, opens=51900.0, closes=52500.0)
    far = by_distance(52200.0, opens=51500.0, closes=52300.0)

    found = point_of((one, other, near, far), usual())

    assert (found.on, found.at) == (date(2026, 6, 10), 52000.0)
    assert found.window == Window(
        opens_on=date(2026, 5, 1),
        closes_on=date(2026, 7, 10),
        opens_at=51500.0,
        closes_at=52300.0,
    )


def test_two_sides_of_days_have_no_distance_and_two_of_distance_no_day() -> None:
    days = point_of((by_day("2026-06-10"), by_day("2026-07-01")), usual())
    miles = (
        by_distance(52000.0, opens=51900.0, closes=52500.0),
        by_distance(52200.0, opens=51800.0, closes=52300.0),
    )
    ways = point_of(miles, usual())

    assert days.window == Window(opens_on=date(2026, 6, 10), closes_on=date(2026, 6, 10))
    assert ways.window == Window(opens_at=51800.0, closes_at=52300.0)


def test_a_distance_of_0_is_the_least() -> None:
    at_once = by_distance(0.0, opens=0.0, closes=0.0)
    soon = by_distance(0.5, opens=0.0, closes=0.5)

    assert first_distance_side((soon, at_once)) is at_once


def test_a_day_reached_with_the_distance_decides_as_it_needs_no_driving() -> None:
    """10 mi a day: 51,500 are reached on the day P50 tells; due that very day, the date binds."""
    reached = usual().use.reached(Distance(51500.0)).p50
    assert reached is not None
    miles = by_distance(51500.0, opens=51000.0, closes=51500.0)

    assert point_of((by_day(reached.isoformat()), miles), usual()).binds is Binds.DATE
    later = date.fromordinal(reached.toordinal() + 1).isoformat()
    assert point_of((by_day(later), miles), usual()).binds is Binds.DISTANCE


def test_what_is_expected_is_never_later_than_the_day_it_falls_due() -> None:
    rests_on = usual()
    band = rests_on.use.reached(Distance(52000.0))
    assert band.p10 is not None
    assert band.p90 is not None
    miles = by_distance(52000.0, opens=51900.0, closes=52500.0)

    early = point_of((by_day("2026-04-12"), miles), rests_on).expected
    alone = point_of((miles,), rests_on).expected
    late = point_of((by_day("2036-01-01"), miles), rests_on).expected

    first = date(2026, 4, 12)
    assert (early.p10, early.p50, early.p90) == (first, first, first)
    assert alone == band
    assert late == band


@pytest.mark.parametrize(
    ("in_work", "waiting", "stands", "waits"),
    [
        (True, True, State.DUE, True),
        (True, False, State.OVERDUE, False),
        (False, True, State.OVERDUE, False),
    ],
)
def test_only_a_point_at_0_waits_and_only_while_the_car_is_in_work(
    in_work: bool,  # noqa: FBT001 - a column of the table
    waiting: bool,  # noqa: FBT001 - a column of the table
    stands: State,
    waits: bool,  # noqa: FBT001 - a column of the table
) -> None:
    rests_on = usual(stays=[stay("2026-04-01")] if in_work else [])
    side = point_at_0(waits=waiting)

    found = how_it_stands((side,), rests_on, is_own_check=False)

    assert (found.state, found.waits) == (stands, waits)


def test_what_waits_and_is_overdue_by_another_side_does_not_wait() -> None:
    rests_on = usual(stays=[stay("2026-04-01")])
    waiting = point_at_0(waits=True)

    found = how_it_stands((waiting, by_day("2026-03-01")), rests_on, is_own_check=False)

    assert (found.state, found.waits) == (State.OVERDUE, False)


@pytest.mark.parametrize("stays", [[], [stay("2026-04-01")]], ids=["out", "in work"])
def test_an_item_that_waits_for_nothing_does_not_wait(stays: list[object]) -> None:
    found = how_it_stands((by_day("2026-04-11"),), usual(stays=stays), is_own_check=False)

    assert (found.state, found.waits) == (State.DUE, False)
