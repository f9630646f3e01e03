"""What is due: states, sides, points, events, ages, seasons and looks, each reckoned by hand."""

from datetime import date

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.units import Distance
from castlenut.domain.vehicle import KeptAt
from castlenut.domain.working import Binds, From, State
from tests.builders import (
    book,
    car,
    checked,
    exposed,
    happened,
    inspected,
    item_of,
    job,
    only,
    part,
    reading,
    stated,
    stay,
    the_item,
    today,
    vehicle,
)

OIL = """
[[rule]]
id = "test-oil"
title = "engine oil, test"
part = "Engine"
component = "engine oil"
every = { miles = 3000, months = 6 }
tolerance = 10
intake = { rank = 1, act = "renew" }
"""

# 10 mi a day from 1 January 2026: on day n the dial shows 50,000 + 10 n
STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))


def test_the_first_side_reached_binds() -> None:
    """3,000 mi at 10 a day take 300 days, to 28 October; six months end on 1 July."""
    this = car(part("engine oil", on="2026-01-01", at=50000), readings=STEADY)

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert (item.due_on, item.due_at) == (date(2026, 7, 1), Distance(53000))
    assert item.binds is Binds.DATE
    assert item.state is State.AHEAD
    assert item.expected.p50 == date(2026, 7, 1)


def test_distance_binds_where_it_is_reached_first() -> None:
    """2,400 mi are left at 20 a day, read every ten days: reached 120 days on, give or take."""
    fast = tuple(
        reading(f"2026-{month:02}-{day:02}", 50000 + 600 * (month - 1) + 20 * (day - 1))
        for month in range(1, 13)
        for day in (1, 11, 21)
    )
    this = car(part("engine oil", on="2026-12-01", at=56600), readings=fast)

    item = the_item(today(this, only(OIL), "2026-12-21"), "test-oil")

    assert item.binds is Binds.DISTANCE
    assert item.expected.p50 is not None
    assert abs(item.expected.p50 - date(2027, 4, 30)).days <= 10


@pytest.mark.parametrize(
    ("on", "state"),
    [
        ("2026-06-12", State.AHEAD),
        ("2026-06-13", State.DUE),  # 10 % of 180 days = 18 days before 1 July
        ("2026-07-01", State.DUE),
        ("2026-07-19", State.DUE),
        ("2026-07-20", State.OVERDUE),
    ],
)
def test_the_window_opens_and_closes_on_its_days(on: str, state: State) -> None:
    standing = (reading("2026-01-01", 50000),)
    this = car(part("engine oil", on="2026-01-01", at=50000), readings=standing)

    item = the_item(today(this, only(OIL), on), "test-oil")

    assert item.state is state


@pytest.mark.parametrize(
    ("shown", "state"),
    [
        (52699, State.AHEAD),
        (52700, State.DUE),  # 10 % of 3,000 = 300
        (53300, State.DUE),
        (53301, State.OVERDUE),
    ],
)
def test_the_window_opens_and_closes_at_its_distances(shown: int, state: State) -> None:
    read = (reading("2026-01-01", 50000), reading("2026-02-01", shown))
    this = car(part("engine oil", on="2026-01-01", at=50000), readings=read)

    item = the_item(today(this, only(OIL), "2026-02-01"), "test-oil")

    assert item.state is state


def test_a_job_done_starts_the_counting_anew() -> None:
    oil = part("engine oil", on="2026-01-01", at=50000, name="oil")
    this = car(oil, readings=STEADY, jobs=[job("2026-03-01", 50590, "test-oil~oil")])

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert (item.due_on, item.due_at) == (date(2026, 9, 1), Distance(53590))
    assert item.baseline is not None
    assert (item.baseline.how, item.baseline.on) == (From.DONE, date(2026, 3, 1))


def test_a_job_that_included_it_counts_too() -> None:
    oil = part("engine oil", on="2026-01-01", at=50000, name="oil")
    wider = job("2026-03-01", 50590, "other~oil", includes=["test-oil~oil"])
    this = car(oil, readings=STEADY, jobs=[wider])

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert item.baseline is not None
    assert item.baseline.how is From.INCLUDED
    assert item.due_at == Distance(53590)


def test_nobody_knows_is_no_record_with_its_rank() -> None:
    this = car(part("engine oil"), readings=STEADY)

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert item.state is State.NO_RECORD
    assert item.rank == 1
    assert item.due_on is None
    assert item.due_at is None
    assert item.baseline is None


def test_a_stated_date_alone_ends_no_record_on_the_date_side() -> None:
    this = car(
        part("engine oil"),
        readings=STEADY,
        statements=[stated("engine oil", "", "2026-02-01", None)],
    )

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert item.state is State.AHEAD
    assert (item.due_on, item.due_at) == (date(2026, 8, 1), None)


LOOK = """
[[rule]]
id = "test-look"
title = "brake line, test look"
part = "Brakes"
component = "brake line"
every = { miles = 10000, months = 12 }
intake = { rank = 1, act = "look" }
"""


@pytest.mark.parametrize(
    ("on", "state"),
    [
        ("2026-04-11", State.AHEAD),
        ("2026-06-01", State.DUE),  # a year's lead is 30 days before 30 June
        ("2026-06-30", State.DUE),
        ("2026-07-01", State.NO_RECORD),
    ],
)
def test_found_good_holds_only_until_the_day_given(on: str, state: State) -> None:
    this = car(
        part("brake line"),
        readings=STEADY,
        statements=[inspected("brake line", "", "2026-01-01", "2026-06-30")],
    )

    item = the_item(today(this, only(LOOK), on), "test-look")

    assert item.state is state


def test_a_look_ends_no_record_of_nothing_that_has_to_be_renewed() -> None:
    this = car(
        part("engine oil"),
        readings=STEADY,
        statements=[inspected("engine oil", "", "2026-01-01", "2026-12-31")],
    )

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert item.state is State.NO_RECORD


POINTS = """
[[rule]]
id = "test-bolts"
title = "spring U-bolts, test"
part = "Steering and suspension"
component = "spring"
every = { miles = 12000, months = 12 }
first = [300, 1000]
also_after = ["spring@300"]
intake = { rank = 2, act = "look" }
"""


@pytest.mark.parametrize(
    ("shown", "state"),
    [
        (50149, State.AHEAD),
        (50150, State.DUE),  # opens half way
        (50300, State.DUE),
        (50301, State.OVERDUE),
    ],
)
def test_a_point_opens_half_way(shown: int, state: State) -> None:
    this = car(
        part("spring", "rear", on="2026-01-01", at=50000),
        readings=[reading("2026-01-01", 50000), reading("2026-02-01", shown)],
    )

    item = the_item(today(this, only(POINTS), "2026-02-01"), "test-bolts")

    assert item.state is state
    assert item.due_at == Distance(50300)
    assert item.due_on == date(2027, 1, 1)


def test_points_are_done_one_by_one() -> None:
    this = car(
        part("spring", "rear", on="2026-01-01", at=50000, name="spring"),
        readings=STEADY,
        jobs=[job("2026-02-01", 50310, "test-bolts~spring")],
    )

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert item.due_at == Distance(51000)
    assert item.due_on == date(2027, 1, 1)  # the months still run from the fitting


def test_a_job_before_a_points_window_does_not_close_it() -> None:
    this = car(
        part("spring", "rear", on="2026-01-01", at=50000, name="spring"),
        readings=STEADY,
        jobs=[job("2026-01-10", 50149, "test-bolts~spring")],
    )

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert item.due_at == Distance(50300)
    assert item.state is State.OVERDUE


def test_a_later_point_done_closes_the_earlier_ones_and_the_interval_takes_over() -> None:
    this = car(
        part("spring", "rear", on="2026-01-01", at=50000, name="spring"),
        readings=STEADY,
        jobs=[job("2026-03-01", 50700, "test-bolts~spring")],
    )

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert (item.due_on, item.due_at) == (date(2027, 3, 1), Distance(62700))


def test_an_event_brings_its_point_again() -> None:
    this = car(
        part("spring", "rear", on="2025-01-01", at=40000, name="spring"),
        readings=[reading("2025-01-01", 40000), *STEADY],
        jobs=[job("2025-12-01", 49000, "test-bolts~spring")],
        happenings=[happened("spring", "2026-03-01", 50590, "rear")],
    )

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert item.due_at == Distance(50890)
    assert item.binds is Binds.EVENT
    assert item.state is State.OVERDUE


def test_an_event_elsewhere_on_the_car_does_not_touch_it() -> None:
    this = car(
        part("spring", "rear", on="2025-01-01", at=40000, name="spring"),
        readings=[reading("2025-01-01", 40000), *STEADY],
        jobs=[job("2025-12-01", 49000, "test-bolts~spring")],
        happenings=[happened("spring", "2026-03-01", 50590, "LF")],
    )

    item = the_item(today(this, only(POINTS), "2026-04-11"), "test-bolts")

    assert item.due_at == Distance(61000)


ONCE = """
[[rule]]
id = "test-lock"
title = "clearance at full lock, test"
part = "Wheels and tires"
component = "steering box"
first = [0]
also_after = ["align@0"]
"""


def test_a_point_at_nothing_is_due_that_day_and_overdue_from_the_next() -> None:
    this = car(part("steering box", on="2026-04-10", at=50990), readings=STEADY)

    that_day = the_item(today(this, only(ONCE), "2026-04-10"), "test-lock")
    next_day = the_item(today(this, only(ONCE), "2026-04-11"), "test-lock")

    assert that_day.state is State.DUE
    assert next_day.state is State.OVERDUE
    assert next_day.binds is Binds.EVENT


def test_in_work_a_point_at_nothing_waits_until_it_rolls() -> None:
    this = car(
        part("steering box", on="2026-04-01", at=50900),
        readings=STEADY,
        stays=[stay("2026-03-30", "2026-04-20")],
    )

    in_work = the_item(today(this, only(ONCE), "2026-04-11"), "test-lock")
    after = the_item(today(this, only(ONCE), "2026-04-20"), "test-lock")

    assert (in_work.state, in_work.before_it_rolls) == (State.DUE, True)
    assert (after.state, after.before_it_rolls) == (State.OVERDUE, False)


def test_once_its_points_are_done_a_rule_without_interval_makes_no_item() -> None:
    this = car(
        part("steering box", on="2026-04-01", at=50900, name="box"),
        readings=STEADY,
        jobs=[job("2026-04-01", 50900, "test-lock~box")],
    )

    found = today(this, only(ONCE), "2026-04-11")

    assert found.items == ()


def test_the_job_that_raises_an_event_and_does_the_item_leaves_nothing_open() -> None:
    both = job("2026-04-05", 50940, "test-lock~box", events=[("align", "")])
    this = car(part("steering box", name="box"), readings=STEADY, jobs=[both])

    found = today(this, only(ONCE), "2026-04-11")

    assert found.items == ()


def test_exposure_shortens_both_sides_before_the_window_is_taken() -> None:
    """6 months x 0.7 = 4 months 6 days; 3,000 x 0.7 = 2,100, tolerance 210; 126 days, 12."""
    salted = OIL + "exposure = { salt = 0.7, dust = 0.9 }\n"
    this = car(
        part("engine oil", on="2026-01-01", at=50000),
        readings=STEADY,
        exposures=[exposed("salt", "2025-11-01"), exposed("dust", "2025-11-01")],
    )

    item = the_item(today(this, only(salted), "2026-04-11"), "test-oil")

    assert (item.due_on, item.due_at) == (date(2026, 5, 7), Distance(52100))
    assert (item.window.opens_on, item.window.closes_on) == (date(2026, 4, 25), date(2026, 5, 19))
    assert (item.window.opens_at, item.window.closes_at) == (51890, Distance(52310))


def test_an_exposure_that_has_ended_shortens_nothing() -> None:
    salted = OIL + "exposure = { salt = 0.5 }\n"
    this = car(
        part("engine oil", on="2026-01-01", at=50000),
        readings=STEADY,
        exposures=[exposed("salt", "2025-11-01", "2026-03-31")],
    )

    item = the_item(today(this, only(salted), "2026-04-11"), "test-oil")

    assert item.due_at == Distance(53000)


def test_the_makers_interval_on_the_part_beats_the_rule() -> None:
    this = car(part("engine oil", on="2026-01-01", at=50000, every="5k/12m"), readings=STEADY)

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert (item.due_on, item.due_at) == (date(2027, 1, 1), Distance(55000))


AGE = """
[[rule]]
id = "test-age"
title = "tire age, test"
part = "Wheels and tires"
component = "tire"
age = { months = 120, from = "made", advise = 72 }
intake = { rank = 1, act = "look" }

[[rule]]
id = "test-age-look"
title = "tire age, test look"
part = "Wheels and tires"
component = "tire"
every = { months = 12 }
tolerance = 10
age = { from = "made", inspect_from = 60 }
intake = { rank = 1, act = "look" }
"""


def test_age_counts_from_made_and_not_from_fitted() -> None:
    this = car(part("tire", "LF", on="2020-06-01", at=30000, made="2017-03-05"), readings=STEADY)

    item = the_item(today(this, only(AGE), "2026-04-11"), "test-age")

    assert item.due_on == date(2027, 3, 5)
    assert item.binds is Binds.AGE
    assert item.baseline is not None
    assert item.baseline.how is From.MADE


def test_without_a_date_of_make_age_counts_from_fitted() -> None:
    this = car(part("tire", "LF", on="2020-06-01", at=30000), readings=STEADY)

    item = the_item(today(this, only(AGE), "2026-04-11"), "test-age")

    assert item.due_on == date(2030, 6, 1)
    assert item.baseline is not None
    assert item.baseline.how is From.FITTED


def test_looking_begins_at_an_age_and_goes_on_from_look_to_look() -> None:
    young = car(part("tire", "LF", on="2023-06-01", made="2023-03-05"), readings=STEADY)
    old = car(
        part("tire", "LF", on="2018-06-01", made="2018-03-05", name="tire"),
        readings=STEADY,
        jobs=[job("2025-08-01", None, "test-age-look~tire")],
    )

    first = the_item(today(young, only(AGE), "2026-04-11"), "test-age-look")
    again = the_item(today(old, only(AGE), "2026-04-11"), "test-age-look")

    assert first.due_on == date(2028, 3, 5)
    assert again.due_on == date(2026, 8, 1)


SEASON = """
[[rule]]
id = "test-season"
title = "coolant strength, test"
part = "Cooling and fuel"
component = "coolant"
every = { months = 12 }
season = [["09-01", "10-31"]]
next_from = "schedule"
intake = { rank = 2, act = "look" }
"""


@pytest.mark.parametrize(
    ("done", "closes"),
    [
        ("2026-01-15", date(2026, 10, 31)),  # half a year later is 15 July 2026
        ("2026-05-01", date(2027, 10, 31)),  # half a year later is 1 November 2026
    ],
)
def test_a_season_is_the_first_that_ends_half_an_interval_on(done: str, closes: date) -> None:
    this = car(
        part("coolant", name="coolant"),
        readings=STEADY,
        jobs=[job(done, None, "test-season~coolant")],
    )

    item = the_item(today(this, only(SEASON), "2026-06-01"), "test-season")

    assert item.due_on == closes
    assert item.window.closes_on == closes
    assert item.window.opens_on == date(closes.year, 9, 1)
    assert item.binds is Binds.SEASON


def test_in_the_south_the_season_is_half_a_year_later() -> None:
    this = car(
        part("coolant", name="coolant"),
        readings=STEADY,
        jobs=[job("2026-01-15", None, "test-season~coolant")],
    )

    item = the_item(today(this, only(SEASON), "2026-06-01", south=True), "test-season")

    assert (item.window.opens_on, item.window.closes_on) == (date(2027, 3, 1), date(2027, 4, 30))


def test_by_schedule_a_job_inside_its_window_leaves_the_grid() -> None:
    """7.02: done inside the window, the next counts from the due point; outside, from the job."""
    grid = OIL.replace("tolerance = 10", 'tolerance = 10\nnext_from = "schedule"')
    oil = part("engine oil", on="2026-01-01", at=50000, name="oil")
    inside = car(oil, readings=STEADY, jobs=[job("2026-06-20", None, "test-oil~oil")])
    early = car(oil, readings=STEADY, jobs=[job("2026-05-20", None, "test-oil~oil")])

    kept = the_item(today(inside, only(grid), "2026-06-21"), "test-oil")
    moved = the_item(today(early, only(grid), "2026-06-21"), "test-oil")

    assert kept.due_on == date(2027, 1, 1)
    assert moved.due_on == date(2026, 11, 20)


@pytest.mark.published("7.31", basis="C", source="computed: anchored 28 Feb, 31 Mar, 30 Apr")
def test_by_schedule_months_are_counted_from_the_anchor_and_not_chained() -> None:
    """Monthly from 31 January 2025, done on its day: chained it would slip to the 28th."""
    monthly = """
[[rule]]
id = "test-walk"
title = "walk round, test"
part = "Storage"
component = "underbody"
every = { months = 1 }
tolerance = 10
next_from = "schedule"
intake = { rank = 4, act = "look" }
"""
    body = part("underbody", name="body")
    done = ["2025-01-31", "2025-02-28", "2025-03-31"]
    this = car(body, readings=STEADY, jobs=[job(on, None, "test-walk~body") for on in done])

    after_two = the_item(today(this, only(monthly), "2025-03-01"), "test-walk")
    after_three = the_item(today(this, only(monthly), "2025-04-01"), "test-walk")

    assert after_two.due_on == date(2025, 3, 31)
    assert after_three.due_on == date(2025, 4, 30)


def test_a_bad_check_is_overdue_until_the_item_is_done() -> None:
    line = part("brake line", name="line", on="2026-01-01", at=50000)
    bad = checked("test-look~line", "2026-03-01", 50590, good=False)
    found_bad = car(line, readings=STEADY, measurements=[bad])
    mended = car(
        line,
        readings=STEADY,
        measurements=[bad],
        jobs=[job("2026-03-02", 50600, "test-look~line")],
    )

    before = the_item(today(found_bad, only(LOOK), "2026-04-11"), "test-look")
    after = the_item(today(mended, only(LOOK), "2026-04-11"), "test-look")

    assert (before.state, before.binds) == (State.OVERDUE, Binds.MEASUREMENT)
    assert (after.state, after.due_at) == (State.AHEAD, Distance(60600))


def test_what_is_dated_later_is_left_out() -> None:
    oil = part("engine oil", on="2026-01-01", at=50000, name="oil")
    this = car(oil, readings=STEADY, jobs=[job("2026-03-01", 50590, "test-oil~oil")])

    item = the_item(today(this, only(OIL), "2026-02-01"), "test-oil")

    assert item.due_at == Distance(53000)


def test_may_be_due_where_only_the_far_end_has_passed() -> None:
    """The slowest stretch ran 10 mi a day, the fastest 40: by then the window may be open."""
    uneven = (
        reading("2026-01-01", 50000),
        reading("2026-01-31", 50300),
        reading("2026-03-02", 51500),
    )
    this = car(part("engine oil", on="2026-01-01", at=50000), readings=uneven)

    item = the_item(today(this, only(OIL), "2026-04-05"), "test-oil")

    assert item.state is State.AHEAD
    assert item.may_be is State.DUE


def test_the_item_names_its_rule_and_component() -> None:
    oil = part("engine oil", on="2026-01-01", at=50000, name="oil")

    item = the_item(today(car(oil, readings=STEADY), only(OIL), "2026-04-11"), "test-oil")

    assert item.id == item_of("test-oil~oil")


def test_of_two_rules_of_a_family_the_special_one_stands_alone() -> None:
    sealed = car(
        part("wheel bearing", "LF", service="sealed"), of=vehicle(year=1990), readings=STEADY
    )

    rules = {item.rule.id for item in today(sealed, book(), "2026-04-11").items}

    assert "hub-sealed" in rules
    assert not {"hub-repack", "hub-repack-old", "hub-play"} & rules


def test_the_owners_own_checks_are_never_overdue() -> None:
    this = car(part("engine oil", on="2026-01-01", at=50000), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "oil-level")

    assert item.rule.is_own_check
    assert (item.due_at, item.state, item.may_be) == (Distance(50250), State.DUE, None)


def test_a_car_stored_at_the_owners_leaves_its_storage_checks_to_him() -> None:
    at_owners = replace(vehicle(), kept_at=KeptAt.OWNER)
    laid_up = [exposed("laid up", "2026-01-01")]
    battery = part("battery", on="2024-01-01", at=45000)

    his = today(
        car(battery, of=at_owners, readings=STEADY, exposures=laid_up), book(), "2026-04-11"
    )
    ours = today(car(battery, readings=STEADY, exposures=laid_up), book(), "2026-04-11")

    assert the_item(his, "layup-battery").state is State.DUE
    assert the_item(ours, "layup-battery").state is State.OVERDUE
