"""What each side of an item tells of how it was found: its steps, figure by figure.

A due date with a wrong working beside it is believed no longer, even where the date is right.
"""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.item import Item
from castlenut.domain.units import Distance, Shown
from castlenut.domain.working import (
    Aged,
    Anchored,
    Beats,
    Binds,
    Counted,
    From,
    KeptToSchedule,
    NotKnown,
    NotShortened,
    Pointed,
    Shortened,
    WindowSet,
)
from tests.builders import book, car, exposed, happened, inspected, job, only, part, the_item, today
from tests.domain.test_counted import STEADY, rule
from tests.domain.test_points import POINTS

DAY = "2026-04-11"
ENGINE = part("engine", on="2026-01-01", at=50000, name="engine")
TIRE = part("tire", "LF", made="2014-06-30", name="tire")
EXPOSED = rule(
    "every = { miles = 24000, months = 24 }", "exposure = { dust = 0.7, wet = 0.5, salt = 0.5 }"
)
DAYS = rule("every = { miles = 1000, days = 45 }", "tolerance = 10", 'next_from = "schedule"')


def steps(item: Item, *kinds: type) -> list[object]:
    return [step for step in item.working if isinstance(step, kinds)]


def test_without_an_exposure_the_strongest_that_would_shorten_comes_first() -> None:
    item = the_item(today(car(ENGINE, readings=STEADY), only(EXPOSED), DAY), "test-rule")

    assert steps(item, Counted, NotShortened, Shortened) == [
        Counted(
            rule="test-rule", distance=Decimal(24000), months=24, days=None, whose=Beats.GARAGE
        ),
        NotShortened(
            would=(("salt", Fraction(1, 2)), ("wet", Fraction(1, 2)), ("dust", Fraction(7, 10)))
        ),
    ]


def test_an_exposure_tells_what_it_left_of_each_side() -> None:
    """7/10 of 24 months are 16 months and 24 days of a month of 30; of 24,000 mi 16,800."""
    this = car(ENGINE, readings=STEADY, exposures=[exposed("dust", "2025-01-01")])

    item = the_item(today(this, only(EXPOSED), DAY), "test-rule")

    assert steps(item, NotShortened, Shortened) == [
        Shortened(
            exposure="dust", factor=Fraction(7, 10), distance=Decimal(16800), months=16, days=24
        )
    ]


@pytest.mark.parametrize(
    ("figure", "anchor", "turn_at", "due_at"), [(50950, 50000, 2, 52000), (50700, 50700, 1, 51700)]
)
def test_a_schedule_tells_how_many_intervals_it_is_from_its_anchor(
    figure: int, anchor: int, turn_at: int, due_at: int
) -> None:
    """Done on the day; by distance inside the 100 mi of its window, or 300 mi early."""
    this = car(ENGINE, readings=STEADY, jobs=[job("2026-02-15", figure, "test-rule~engine")])

    item = the_item(today(this, only(DAYS), DAY), "test-rule")

    assert (item.due_on, item.due_at) == (date(2026, 4, 1), Distance(due_at))
    assert steps(item, KeptToSchedule) == [
        KeptToSchedule(on=date(2026, 1, 1), at=Shown(Decimal(anchor)), turn_on=2, turn_at=turn_at)
    ]


def test_what_no_schedule_holds_tells_of_none() -> None:
    this = car(ENGINE, readings=STEADY, jobs=[job("2026-03-10", 50500, "test-rule~engine")])

    item = the_item(today(this, only(DAYS), DAY), "test-rule")

    assert (item.due_on, item.due_at) == (date(2026, 4, 24), Distance(51500))
    assert steps(item, KeptToSchedule) == []


def test_a_point_after_fitting_tells_its_number() -> None:
    spring = part("spring", "rear", on="2026-03-01", at=50590, name="spring")

    item = the_item(today(car(spring, readings=STEADY), only(POINTS), DAY), "test-bolts")

    assert steps(item, Pointed, Counted) == [
        Pointed(rule="test-bolts", number=1, of=2, distance=Decimal(300)),
        Counted(rule="test-bolts", distance=None, months=12, days=None, whose=Beats.GARAGE),
    ]


def test_a_point_after_an_event_tells_the_event() -> None:
    this = car(
        part("spring", "rear", on="2025-01-01", at=45000, name="spring"),
        readings=STEADY,
        jobs=[job("2025-08-01", 46500, "test-bolts~spring")],
        happenings=[happened("spring", "2026-03-01", 50590, "rear")],
    )

    item = the_item(today(this, only(POINTS), DAY), "test-bolts")

    assert steps(item, Pointed) == [
        Pointed(rule="test-bolts", number=1, of=2, distance=Decimal(300), after="spring")
    ]


def test_an_age_tells_what_it_is_counted_from() -> None:
    item = the_item(today(car(TIRE, readings=STEADY), book(), DAY), "tire-age")

    made = date(2014, 6, 30)
    assert steps(item, Anchored, Aged, WindowSet) == [
        Anchored(how=From.MADE, record=TIRE.record, on=made, at=None, name="tire"),
        Aged(months=120, counted_from=From.MADE, since=made, advise_months=72, is_advised=True),
        WindowSet(
            opens_on=date(2024, 5, 31),
            closes_on=date(2024, 6, 30),
            opens_at=None,
            closes_at=None,
            lead_percent=Fraction(10),
            late_percent=Fraction(0),
        ),
    ]


def test_a_first_look_tells_the_age_at_which_it_begins() -> None:
    item = the_item(today(car(TIRE, readings=STEADY), book(), DAY), "tire-age-look")

    assert item.binds is Binds.AGE
    assert steps(item, Aged, WindowSet) == [
        Aged(months=60, counted_from=From.MADE, since=date(2014, 6, 30)),
        WindowSet(
            opens_on=date(2019, 5, 31),
            closes_on=date(2019, 7, 30),
            opens_at=None,
            closes_at=None,
            lead_percent=Fraction(10),
            late_percent=Fraction(10),
        ),
    ]


@pytest.mark.parametrize("label", ["1900", "2027", "2200", "2027-05"])
def test_a_label_runs_to_the_last_day_of_its_year(label: str) -> None:
    harness = part("harness", "L 1", label=label, name="harness")

    item = the_item(today(car(harness, readings=STEADY), book(), DAY), "harness-date")

    ends = date(int(label[:4]), 12, 31)
    assert item.due_on == ends
    assert steps(item, Anchored, Aged, WindowSet) == [
        Anchored(how=From.LABEL, record=harness.record, on=None, at=None, name="harness"),
        Aged(months=None, counted_from=From.LABEL, since=ends),
        WindowSet(
            opens_on=date(int(label[:4]), 12, 1),
            closes_on=ends,
            opens_at=None,
            closes_at=None,
            lead_percent=Fraction(10),
            late_percent=Fraction(0),
        ),
    ]


def test_a_look_after_the_first_is_due_by_its_date() -> None:
    this = car(TIRE, readings=STEADY, jobs=[job("2025-09-01", None, "tire-age-look~tire")])

    item = the_item(today(this, book(), DAY), "tire-age-look")

    assert (item.due_on, item.binds) == (date(2026, 9, 1), Binds.DATE)
    assert steps(item, Aged) == []


def test_an_age_from_fitting_passes_by_when_the_part_was_made() -> None:
    engine = part("engine", on="2026-01-01", at=50000, made="2020-05-05", name="engine")
    text = only(rule('age = { months = 24, from = "fitted" }'))

    item = the_item(today(car(engine, readings=STEADY), text, DAY), "test-rule")

    assert item.due_on == date(2028, 1, 1)


def test_what_was_seen_good_until_a_day_is_due_on_it_and_not_later() -> None:
    """The look's own tolerance of 10 percent is for looks that are due by the rule."""
    seen = inspected("tire", "LF", "2026-04-01", "2026-06-30")

    item = the_item(
        today(car(TIRE, readings=STEADY, statements=[seen]), book(), DAY), "tire-age-look"
    )

    assert item.window.closes_on == date(2026, 6, 30)
    assert item.binds is Binds.DATE


@pytest.mark.parametrize(
    ("on", "at", "told"),
    [
        ("2026-01-01", None, NotKnown(what="the distance then", remedy="at=FIGURE")),
        (None, 50000, NotKnown(what="the day", remedy="on=DATE")),
    ],
)
def test_the_half_of_a_job_nobody_knows_tells_how_to_mend_it(
    on: str | None, at: int | None, told: NotKnown
) -> None:
    engine = part("engine", on=on, at=at, name="a-new-engine-fitted")
    text = only(rule("every = { miles = 24000, months = 24 }"))

    item = the_item(today(car(engine, readings=STEADY), text, DAY), "test-rule")

    assert steps(item, NotKnown) == [
        NotKnown(what=told.what, remedy=f"correct the record e-fitted: {told.remedy}")
    ]


def test_where_all_is_known_nothing_is_told_as_missing() -> None:
    text = only(rule("every = { miles = 24000, months = 24 }"))

    item = the_item(today(car(ENGINE, readings=STEADY), text, DAY), "test-rule")

    assert steps(item, NotKnown) == []
