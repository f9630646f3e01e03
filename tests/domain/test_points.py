"""Points after fitting and after events: what opens and closes them, and what an event touches."""

from datetime import date

import pytest

from castlenut.domain.units import Distance
from castlenut.domain.working import Binds, NotKnown, State
from tests.builders import book, car, happened, item_of, job, only, part, reading, the_item, today

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day

POINTS = """
[[rule]]
id = "test-bolts"
title = "spring U-bolts, test"
part = "Steering and suspension"
component = "spring"
every = { miles = 12000, months = 12 }
first = [300, 1000]
also_after = ["spring@300", "spring@1000"]
intake = { rank = 2, act = "look" }
"""

BEARING = """
[[rule]]
id = "test-pack"
title = "wheel bearing, test pack"
part = "Wheel bearings"
component = "wheel bearing"
every = { miles = 24000, months = 24 }
also_after = ["hub-off@0", "hub-off@500"]
intake = { rank = 1, act = "renew" }

[[rule]]
id = "test-feel"
title = "wheel bearing, test look"
part = "Wheel bearings"
component = "wheel bearing"
every = { miles = 6000, months = 12 }
also_after = ["hub-off@0"]
intake = { rank = 1, act = "look" }
"""


def test_a_job_where_the_distance_at_fitting_is_not_known_closes_the_points() -> None:
    """Nobody can tell how far it had run; without this the points would stay open for ever."""
    this = car(
        part("spring", "rear", on="2025-03-01", name="spring"),
        readings=STEADY,
        jobs=[job("2026-02-01", 50310, "test-bolts~spring")],
    )

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert (item.due_on, item.due_at) == (date(2027, 2, 1), Distance(62310))


def test_without_the_distance_at_fitting_the_months_run_and_the_gap_is_told() -> None:
    this = car(part("spring", "rear", on="2025-06-01", name="spring"), readings=STEADY)

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert (item.due_on, item.due_at) == (date(2026, 6, 1), None)
    assert [step.what for step in item.working if isinstance(step, NotKnown)] == [
        "the distance at that day"
    ]


def test_each_event_has_its_own_points_and_one_job_may_close_both() -> None:
    """Off at 50,310 and again at 50,500: a look at 50,700 is past half of 300 after both."""
    events = [
        happened("spring", "2026-02-01", 50310, "rear"),
        happened("spring", "2026-02-20", 50500, "rear"),
    ]
    spring = part("spring", "rear", on="2024-01-01", at=40000, name="spring")
    before = job("2025-01-01", 41200, "test-bolts~spring")
    seen = job("2026-03-12", 50700, "test-bolts~spring")
    open_ones = car(spring, readings=STEADY, happenings=events, jobs=[before])
    after = car(spring, readings=STEADY, happenings=events, jobs=[before, seen])

    first = the_item(today(open_ones, only(POINTS), "2026-04-11"), "test-bolts")
    then = the_item(today(after, only(POINTS), "2026-04-11"), "test-bolts")

    assert first.due_at == Distance(50610)
    assert then.due_at == Distance(51310)  # 1,000 after the first of them


@pytest.mark.parametrize(
    ("figures", "left"),
    [
        ((50400,), 51000),  # late for 300, and not the one at 1,000 yet
        ((50590,), 51000),  # inside the window of 1,000, but nearer to 300
        ((50650,), 51000),  # as near to the one as to the other
        ((50651,), None),
        ((50310, 50499), 51000),
        ((50310, 50500), None),  # with 300 done, 1,000 may be done from half its distance on
    ],
)
def test_a_job_counts_for_the_point_it_is_nearest_to(
    figures: tuple[int, ...], left: int | None
) -> None:
    """Points at 300 and 1,000 from 50,000; None: all are closed."""
    jobs = [
        job(f"2026-02-{number:02}", figure, "test-bolts~spring")
        for number, figure in enumerate(figures, 1)
    ]
    this = car(
        part("spring", "rear", on="2026-01-01", at=50000, name="spring"),
        readings=STEADY[:1],
        jobs=jobs,
    )

    item = the_item(today(this, only(POINTS), "2026-02-11"), "test-bolts")

    assert item.due_at == (figures[-1] + Distance(12000) if left is None else left)


def test_an_event_before_the_part_was_fitted_is_none_of_its_own() -> None:
    this = car(
        part("spring", "rear", on="2026-03-01", at=50590, name="spring"),
        readings=STEADY,
        happenings=[happened("spring", "2026-02-01", 50310, "rear")],
    )

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert item.due_at == Distance(50890)


def test_an_event_that_names_no_place_touches_all() -> None:
    this = car(
        part("spring", "LF", on="2024-01-01", at=40000, name="left"),
        part("spring", "RF", on="2024-01-01", at=40000, name="right"),
        readings=STEADY,
        jobs=[job("2025-12-01", 49000, "test-bolts~left", "test-bolts~right")],
        happenings=[happened("spring", "2026-03-01", 50590)],
    )

    found = today(this, only(POINTS), "2026-04-11")

    assert [item.due_at for item in found.items] == [Distance(50890), Distance(50890)]


def test_a_new_part_needs_no_service_at_once_for_what_fitting_it_opened() -> None:
    """A new bearing is packed as it goes in; the look at it, and the point at 500, stand."""
    this = car(
        part("wheel bearing", "LF", on="2026-04-01", at=50900, name="new", job="fitted"),
        readings=STEADY,
        jobs=[job("2026-04-01", 50900, name="fitted", events=[("hub-off", "LF")])],
    )

    found = today(this, only(BEARING), "2026-04-11")
    pack, feel = the_item(found, "test-pack"), the_item(found, "test-feel")

    assert (pack.state, pack.due_at) == (State.AHEAD, Distance(51400))
    assert (feel.state, feel.due_on) == (State.OVERDUE, date(2026, 4, 1))


def test_an_old_part_is_touched_by_the_job_that_fits_another() -> None:
    this = car(
        part("wheel bearing", "LF", on="2025-04-01", at=44000, name="old", job="long ago"),
        readings=STEADY,
        jobs=[job("2026-04-01", 50900, name="fitted", events=[("hub-off", "LF")])],
    )

    item = the_item(today(this, only(BEARING), "2026-04-11"), "test-pack")

    assert (item.state, item.binds, item.due_on) == (
        State.OVERDUE,
        Binds.EVENT,
        date(2026, 4, 1),
    )


def test_what_was_due_at_once_tells_the_distance_it_fell_due_at() -> None:
    this = car(
        part("wheel bearing", "LF", on="2025-04-01", at=44000, name="old"),
        readings=STEADY,
        happenings=[happened("hub-off", "2026-04-01", 50900, "LF")],
    )

    item = the_item(today(this, only(BEARING), "2026-04-11"), "test-pack")

    assert item.due_at == Distance(50900)
    assert (item.window.opens_on, item.window.closes_on) == (date(2026, 4, 1), date(2026, 4, 1))
    assert (item.window.opens_at, item.window.closes_at) == (50900, 50900)
    assert item.expected.p50 == date(2026, 4, 1)


def test_an_event_on_a_standing_car_is_expected_on_its_own_day() -> None:
    """The distance was reached weeks before, when the car was put down; the event was not."""
    stood = (
        reading("2026-01-01", 50000),
        reading("2026-02-01", 50310),
        reading("2026-04-01", 50310),
    )
    this = car(
        part("wheel bearing", "LF", on="2025-04-01", at=44000, name="old"),
        readings=stood,
        happenings=[happened("hub-off", "2026-04-01", 50310, "LF")],
    )

    item = the_item(today(this, only(BEARING), "2026-04-02"), "test-pack")

    assert item.expected.p50 == date(2026, 4, 1)


@pytest.mark.parametrize(
    ("done", "is_open"),
    [("2026-03-31", True), ("2026-04-01", False), ("2026-04-02", False)],
)
def test_a_point_at_nothing_is_closed_by_a_job_from_its_day_on(done: str, is_open: bool) -> None:  # noqa: FBT001 - a table of cases
    figure = {"2026-03-31": 50890, "2026-04-01": 50900, "2026-04-02": 50910}[done]
    this = car(
        part("wheel bearing", "LF", on="2025-04-01", at=44000, name="old"),
        readings=STEADY,
        jobs=[job(done, figure, "test-feel~old")],
        happenings=[happened("hub-off", "2026-04-01", 50900, "LF")],
    )

    item = the_item(today(this, only(BEARING), "2026-04-11"), "test-feel")

    assert (item.binds is Binds.EVENT) is is_open


def test_a_job_of_that_day_at_a_lower_figure_came_before_the_event() -> None:
    this = car(
        part("wheel bearing", "LF", on="2025-04-01", at=44000, name="old"),
        readings=STEADY,
        jobs=[job("2026-04-01", 50880, "test-feel~old")],
        happenings=[happened("hub-off", "2026-04-01", 50900, "LF")],
    )

    item = the_item(today(this, only(BEARING), "2026-04-11"), "test-feel")

    assert item.binds is Binds.EVENT


def test_rotation_brings_the_lug_nuts_it_includes_again_at_50() -> None:
    """An event raised by a job leaves its points at a distance; only those at 0 are satisfied."""
    this = car(
        part("wheel", "LF", on="2024-01-01", at=40000, name="wheel", type="disc"),
        readings=STEADY,
        jobs=[
            job("2025-12-01", 49900, "wheel-nuts~wheel"),
            job(
                "2026-04-10",
                50990,
                "tire-rotate~set",
                includes=["wheel-nuts~wheel"],
                events=[("wheel-off", "LF")],
            ),
        ],
    )

    item = the_item(today(this, book(), "2026-04-11"), "wheel-nuts")

    assert (item.due_at, item.binds) == (Distance(51040), Binds.EVENT)


def test_a_job_by_its_rule_is_an_event_at_its_place() -> None:
    """hub-play is asked again 500 mi after a repack, at that corner alone."""
    corners = [
        part("wheel bearing", place, on="2020-01-01", at=30000, name=place, service="repackable")
        for place in ("LF", "RF")
    ]
    this = car(
        *corners,
        readings=STEADY,
        jobs=[
            job("2026-03-31", 50890, "hub-repack~LF", includes=["hub-play~LF"]),
            job("2026-03-31", 50890, "hub-play~RF"),
        ],
    )

    found = today(this, book(), "2026-04-11")

    assert the_item(found, "hub-play", "LF").due_at == Distance(51390)
    assert the_item(found, "hub-play", "RF").due_at == Distance(56890)


def test_an_event_speaks_only_of_what_its_condition_names() -> None:
    """After an alignment a repair is looked at where it is near a suspension mount."""
    near = part("repair", "LF", on="2025-01-01", at=46000, name="near", near="suspension mount")
    other = part("repair", "LR", on="2025-01-01", at=46000, name="other", near="other")
    done = job("2025-12-01", 49690, "repair-look~near", "repair-look~other")
    this = car(
        near,
        other,
        readings=STEADY,
        jobs=[done],
        happenings=[happened("align", "2026-04-11", 51000)],
    )

    found = today(this, book(), "2026-04-11")

    assert the_item(found, "repair-look", "LF").state is State.DUE
    assert the_item(found, "repair-look", "LF").id == item_of("repair-look~near")
    assert the_item(found, "repair-look", "LR").state is State.AHEAD
