"""The working of an item: its steps in order, its end, and that each kind of step comes about."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import get_args

import pytest

from castlenut.domain import working
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Decline
from castlenut.domain.item import Item
from castlenut.domain.units import Shown
from castlenut.domain.working import (
    Anchored,
    Assumed,
    BeforeItRolls,
    Binds,
    Cautioned,
    Checked,
    Counted,
    DialRead,
    Expected,
    From,
    NotShortened,
    Pointed,
    Reached,
    Result,
    Seasoned,
    Sourced,
    State,
    WindowSet,
)
from tests.builders import (
    book,
    car,
    day,
    exposed,
    happened,
    inspected,
    item_of,
    job,
    measured,
    only,
    part,
    reading,
    record,
    stated,
    stay,
    the_item,
    today,
)
from tests.domain.tires.recorded import car_with, shod

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day


def kinds(item: Item) -> list[type]:
    return [type(step) for step in item.working]


def test_a_working_runs_from_the_record_to_the_result() -> None:
    this = car(part("engine oil", on="2026-01-01", at=50000, name="oil"), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "oil")

    assert kinds(item) == [
        Anchored,
        Counted,
        NotShortened,
        Checked,
        Reached,
        WindowSet,
        DialRead,
        Expected,
        Result,
        Sourced,
        Cautioned,
    ]
    assert (*item.working[:3], item.working[4]) == (
        Anchored(
            how=From.FITTED,
            record=record("oil"),
            on=date(2026, 1, 1),
            at=Shown(Decimal(50000)),
            name="engine oil",
        ),
        Counted(rule="oil", distance=Decimal("3000.0"), months=6, days=None),
        NotShortened(would=(("dust", Fraction(7, 10)), ("stop-start", Fraction(7, 10)))),
        Reached(on=date(2026, 7, 1), at=Shown(Decimal(53000)), binds=Binds.DATE),
    )
    assert item.working[8] == Result(
        state=State.AHEAD,
        may_be=None,
        today=date(2026, 4, 11),
        days_left=81,
        distance_left=Decimal("2000.0"),
    )


def test_an_item_by_date_alone_reads_no_dial() -> None:
    this = car(part("booster", on="2026-01-01", at=50000, type="vacuum"), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "booster-hose")

    assert DialRead not in kinds(item)


def test_a_rule_without_cautions_ends_in_its_source() -> None:
    this = car(part("booster", on="2026-01-01", at=50000, type="vacuum"), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "booster-hose")

    assert kinds(item)[-2:] == [Result, Sourced]


def test_what_is_added_stands_below_what_it_is_added_to() -> None:
    """Counted from the fitting, then from an event, then from the fitting again: each is told."""
    rule = """
[[rule]]
id = "test-bolts"
title = "spring U-bolts, test"
part = "Steering and suspension"
component = "spring"
every = { miles = 12000, months = 12 }
also_after = ["spring@300"]
"""
    this = car(
        part("spring", "rear", on="2026-01-01", at=50000, name="fitted"),
        readings=STEADY,
        happenings=[happened("spring", "2026-04-01", 50900)],
    )

    item = the_item(today(this, only(rule), "2026-04-11"), "test-bolts")

    told = [step for step in item.working if isinstance(step, Anchored | Pointed | Counted)]
    assert [type(step) for step in told] == [Anchored, Pointed, Anchored, Counted]
    assert [step.how for step in told if isinstance(step, Anchored)] == [From.EVENT, From.FITTED]


def test_no_record_stops_where_knowledge_stops() -> None:
    item = the_item(today(car(part("engine oil"), readings=STEADY), book(), "2026-04-11"), "oil")

    assert kinds(item) == [working.NotKnown, Checked, Result, Sourced, Cautioned]
    assert item.working[2] == Result(
        state=State.NO_RECORD,
        may_be=None,
        today=date(2026, 4, 11),
        days_left=None,
        distance_left=None,
        rank=1,
    )


def test_found_good_says_until_when() -> None:
    this = car(
        part("exhaust"),
        readings=STEADY,
        statements=[inspected("exhaust", "", "2026-04-01", "2026-09-30")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "exhaust")

    anchors = [step for step in item.working if isinstance(step, Anchored)]
    assert [(step.how, step.until) for step in anchors] == [(From.INSPECTED, date(2026, 9, 30))]


def test_every_kind_of_step_comes_about() -> None:
    """style.md 5: a step that no computation makes is none."""
    this = car(
        part("engine oil", on="2026-01-01", at=50000),  # Counted, NotShortened
        part("wheel bearing", "LF", on="2025-06-01", at=48000),  # Assumed, Shortened
        part("tire", "LF", made="2015-01-01"),  # Aged
        part("drain", name="drain", area="cowl"),  # Seasoned
        part("drain", name="door", area="door"),  # KeptToSchedule
        part("brake pad", "LF", on="2025-06-01", at=48000, friction="disc", name="pads"),
        part("exhaust"),  # NotKnown
        part("alignment", on="2026-04-01", at=50900),  # BeforeItRolls
        part("drain", on="2025-06-01", at=48000, name="door", area="door"),  # KeptToSchedule
        readings=STEADY,
        jobs=[
            job("2026-01-15", None, "drain-cowl~drain"),
            job("2025-07-01", None, "drain-door~door"),
            job("2025-10-01", None, "drain-door~door"),
        ],
        measurements=[measured("pad_thickness", "2026-04-01", 50900, "9", unit="mm", where="LF")],
        declines=[
            Decline(record=record("no"), item=item_of("pad-measure~pads"), on=day("2026-04-02"))
        ],
        exposures=[exposed("wet", "2026-01-01")],
        stays=[stay("2026-03-30")],
    )

    found = today(this, book(), "2026-04-11")
    blocked = today(car_with(*shod(wheels={"LF": {"offset": None}})), book(), "2026-04-11")
    items = (*found.items, the_item(blocked, "tire-rotate"))  # NoRotation
    made = {type(step) for item in items for step in item.working}

    assert made == set(get_args(working.Step))


def test_in_work_the_working_says_before_it_rolls() -> None:
    this = car(
        part("alignment", on="2026-04-01", at=50900),
        readings=STEADY,
        stays=[stay("2026-03-30")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "align")

    assert BeforeItRolls(since=date(2026, 3, 30)) in item.working
    assert (item.state, item.before_it_rolls) == (State.DUE, True)


def test_in_work_what_is_overdue_otherwise_stays_overdue() -> None:
    """Every other item keeps its own reckoning."""
    this = car(
        part("engine oil", on="2025-01-01", at=46000), readings=STEADY, stays=[stay("2026-03-30")]
    )

    item = the_item(today(this, book(), "2026-04-11"), "oil")

    assert (item.state, item.before_it_rolls) == (State.OVERDUE, False)


EITHER = """
[[rule]]
id = "test-either"
title = "engine, test"
part = "Engine"
component = "engine"
every = {{ {every} }}
tolerance = 10
"""

# 10 mi a day, then 40: a month of each tells of a rate between them, and not sharply
UNEVEN = (reading("2026-01-01", 50000), reading("2026-01-31", 50300), reading("2026-03-02", 51500))


@pytest.mark.parametrize(
    ("every", "binds", "expected"),
    [
        ("miles = 6000, months = 3", Binds.DATE, ("2026-04-01", "2026-04-01", "2026-04-01")),
        ("miles = 3000, days = 90", Binds.DATE, ("2026-04-01", "2026-04-01", "2026-04-01")),
        ("months = 6", Binds.DATE, ("2026-07-01", "2026-07-01", "2026-07-01")),
        ("miles = 200000", Binds.DISTANCE, (None, None, None)),
    ],
)
def test_the_side_expected_first_binds(
    every: str, binds: Binds, expected: tuple[str | None, str | None, str | None]
) -> None:
    """Equal days go to the date, which needs no driving."""
    this = car(part("engine", on="2026-01-01", at=50000), readings=UNEVEN)

    item = the_item(today(this, only(EITHER.format(every=every)), "2026-03-02"), "test-either")

    found = (item.expected.p10, item.expected.p50, item.expected.p90)
    assert item.binds is binds
    assert [None if each is None else each.isoformat() for each in found] == list(expected)


def test_the_later_dates_are_cut_by_the_date_side() -> None:
    """1,500 mi from 2 March: 37 days at 40, 60 at 25; four months end on 1 May."""
    this = car(part("engine", on="2026-01-01", at=50000), readings=UNEVEN)
    text = EITHER.format(every="miles = 3000, months = 4")

    item = the_item(today(this, only(text), "2026-03-02"), "test-either")

    assert item.expected.p10 is not None
    assert date(2026, 4, 1) < item.expected.p10 < date(2026, 4, 20)
    assert item.expected.p90 == date(2026, 5, 1)


@pytest.mark.parametrize(
    ("on", "state", "may_be"),
    [
        ("2026-03-02", State.AHEAD, None),
        ("2026-04-10", State.AHEAD, State.DUE),
        ("2026-05-05", State.DUE, State.OVERDUE),
        ("2026-06-10", State.OVERDUE, None),
    ],
)
def test_the_far_end_of_the_band_gives_what_it_may_be(
    on: str, state: State, may_be: State | None
) -> None:
    """3,000 mi with a tenth either side: the window runs from 52,700 to 53,300."""
    this = car(part("engine", on="2026-01-01", at=50000), readings=UNEVEN)

    item = the_item(today(this, only(EITHER.format(every="miles = 3000")), on), "test-either")

    assert (item.state, item.may_be) == (state, may_be)
    assert [(step.state, step.may_be) for step in item.working if isinstance(step, Result)] == [
        (state, may_be)
    ]


def test_a_statement_without_a_distance_says_what_is_missing() -> None:
    this = car(
        part("engine oil"),
        readings=STEADY,
        statements=[stated("engine oil", "", "2026-02-01", None)],
    )

    item = the_item(today(this, book(), "2026-04-11"), "oil")

    assert [step.what for step in item.working if isinstance(step, working.NotKnown)] == [
        "the distance then"
    ]


def test_a_season_counts_its_window_and_not_an_interval() -> None:
    this = car(
        part("drain", name="drain", area="cowl"),
        readings=STEADY,
        jobs=[job("2026-01-15", None, "drain-cowl~drain")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "drain-cowl")

    assert Seasoned(first_day=date(2026, 3, 1), last_day=date(2026, 4, 30)) in item.working
    assert (item.state, item.binds) == (State.DUE, Binds.SEASON)


def test_the_same_item_has_the_same_working() -> None:
    this = car(part("wheel bearing", "LF", on="2025-06-01", at=48000), readings=STEADY)

    once = the_item(today(this, book(), "2026-04-11"), "hub-repack")
    again = the_item(today(replace(this), book(), "2026-04-11"), "hub-repack")

    assert once == again
    assert Assumed in kinds(once)
