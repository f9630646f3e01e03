"""Ages, labels and looks: what an age counts from, what renews it, what a look is worth."""

from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.happenings import Answer, Statement
from castlenut.domain.units import Distance
from castlenut.domain.working import Aged, Binds, From, NotKnown, State
from tests.builders import (
    book,
    car,
    checked,
    day,
    exposed,
    inspected,
    job,
    only,
    part,
    reading,
    record,
    stated,
    the_item,
    today,
)

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day


@pytest.mark.parametrize(
    ("on", "state"),
    [
        ("2027-11-30", State.AHEAD),
        ("2027-12-01", State.DUE),
        ("2027-12-31", State.DUE),
        ("2028-01-01", State.OVERDUE),
    ],
)
def test_a_harness_runs_to_the_end_of_the_year_on_its_label(on: str, state: State) -> None:
    """13.04; the year of its lead is capped at 30 days."""
    this = car(part("harness", "L 1", label="2027"), readings=STEADY)

    item = the_item(today(this, book(), on), "harness-date")

    assert (item.state, item.due_on, item.binds) == (state, date(2027, 12, 31), Binds.AGE)


def test_a_harness_whose_label_nobody_read_is_no_record() -> None:
    this = car(part("harness", "L 1"), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "harness-date")

    assert item.state is State.NO_RECORD


def test_an_extinguisher_is_emptied_at_six_years_and_again_six_years_on() -> None:
    """13.03: from the date of make, then from the job."""
    bottle = part("extinguisher", made="2019-03-31", type="dry chemical", name="bottle")
    new = car(bottle, readings=STEADY)
    emptied = car(bottle, readings=STEADY, jobs=[job("2025-05-10", None, "ext-6y~bottle")])

    first = the_item(today(new, book(), "2026-04-11"), "ext-6y")
    again = the_item(today(emptied, book(), "2026-04-11"), "ext-6y")

    assert (first.due_on, first.state) == (date(2025, 3, 31), State.OVERDUE)
    assert (again.due_on, again.state) == (date(2031, 5, 10), State.AHEAD)


@pytest.mark.parametrize(
    ("kind", "due"), [("dry chemical", date(2031, 3, 31)), ("CO2", date(2024, 3, 31))]
)
def test_the_pressure_test_comes_sooner_for_carbon_dioxide(kind: str, due: date) -> None:
    """13.03: 12 years from make, 5 for CO2."""
    this = car(part("extinguisher", made="2019-03-31", type=kind), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "ext-12y")

    assert item.due_on == due


def test_when_the_tires_were_fitted_does_not_hide_when_they_were_made() -> None:
    """4.46: the age counts from make; that they were fitted in 2022 is no renewal of them."""
    this = car(
        part("tire", "LF", made="2009-06-07", name="tire"),
        readings=STEADY,
        statements=[stated("tire", "LF", "2022-05-01", None)],
    )

    item = the_item(today(this, book(), "2026-04-11"), "tire-age")

    assert (item.due_on, item.state) == (date(2019, 6, 7), State.OVERDUE)


def test_stated_fitted_counts_where_no_date_of_make_is_known() -> None:
    this = car(
        part("tire", "LF", name="tire"),
        readings=STEADY,
        statements=[stated("tire", "LF", "2022-05-01", None)],
    )

    item = the_item(today(this, book(), "2026-04-11"), "tire-age")

    assert item.due_on == date(2032, 5, 1)


def test_a_look_that_finds_it_good_makes_no_tire_younger() -> None:
    this = car(
        part("tire", "LF", made="2014-06-30", name="tire"),
        readings=STEADY,
        measurements=[checked("tire-age~tire", "2026-03-01", 50590, good=True)],
    )

    item = the_item(today(this, book(), "2026-04-11"), "tire-age")

    assert (item.due_on, item.state) == (date(2024, 6, 30), State.OVERDUE)


def test_an_old_tire_found_good_at_intake_is_not_asked_for_before_that_day() -> None:
    """Looking began in 2020; found good until the end of June, nothing is due until then."""
    this = car(
        part("tire", "LF", made="2015-06-30", name="tire"),
        readings=STEADY,
        statements=[inspected("tire", "LF", "2026-04-01", "2026-06-30")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "tire-age-look")

    assert (item.due_on, item.state) == (date(2026, 6, 30), State.AHEAD)


def test_a_look_before_looking_begins_does_not_bring_it_forward() -> None:
    this = car(
        part("tire", "LF", made="2023-03-31", name="tire"),
        readings=STEADY,
        jobs=[job("2026-02-01", 50310, "tire-age-look~tire")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "tire-age-look")

    assert item.due_on == date(2028, 3, 31)


@pytest.mark.parametrize(("made", "is_advised"), [("2020-04-12", False), ("2020-04-11", True)])
def test_from_an_age_on_renewal_is_advised(made: str, is_advised: bool) -> None:  # noqa: FBT001 - a table of cases
    """4.40: six years are told as advice."""
    this = car(part("tire", "LF", made=made), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "tire-age")

    aged = [step for step in item.working if isinstance(step, Aged)]
    assert [(step.advise_months, step.is_advised) for step in aged] == [(72, is_advised)]


def test_advice_is_told_where_the_age_has_no_limit() -> None:
    """13.05: no life of a road belt is published, some advise ten years."""
    this = car(part("seat belt", "L 1", on="2025-06-01", made="2012-01-31"), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "belt-seat")

    aged = [step for step in item.working if isinstance(step, Aged)]
    assert [(step.months, step.advise_months, step.is_advised) for step in aged] == [
        (None, 120, True)
    ]
    assert (item.due_on, item.binds) == (date(2026, 6, 1), Binds.DATE)


def test_an_age_of_which_only_the_distance_is_known_is_no_record() -> None:
    """It must not vanish because it was fitted at a known figure on a day nobody knows."""
    this = car(part("tire", "LF", at=42000), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "tire-age")

    assert item.state is State.NO_RECORD
    assert [step.what for step in item.working if isinstance(step, NotKnown)] == ["the day"]


def test_a_hose_ages_from_make_and_is_counted_from_fitting() -> None:
    """Whichever comes first: made five years before May 2026, or 60 months in the car."""
    old_stock = part("brake hose", "L", on="2024-01-01", at=45000, made="2021-05-01", name="old")
    this = car(old_stock, readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "hose-renew")

    assert (item.due_on, item.due_at, item.binds) == (date(2026, 5, 1), Distance(76000), Binds.AGE)
    assert item.baseline is not None
    assert item.baseline.how is From.MADE


def test_exposure_shortens_an_age_too() -> None:
    """60 months x 0.7 = 42, of a hose that stands outdoors."""
    hose = part("brake hose", "L", on="2024-01-01", at=45000, made="2023-05-01")
    this = car(hose, readings=STEADY, exposures=[exposed("stored outdoors", "2024-01-01")])

    item = the_item(today(this, book(), "2026-04-11"), "hose-renew")

    assert item.due_on == date(2026, 11, 1)


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
    [("2026-02-01", State.AHEAD), ("2026-04-01", State.DUE), ("2026-06-01", State.NO_RECORD)],
)
def test_found_good_may_hold_until_a_distance(on: str, state: State) -> None:
    """Good until 51,000, reached about 11 April; it opens 500 before, the most a lead may be."""
    read = [reading("2025-09-23", 49000), reading("2026-01-01", 50000)]  # 10 mi a day
    seen = Statement(
        record=record("seen"),
        answer=Answer.INSPECTED,
        kind="brake line",
        on=day("2026-01-01"),
        until_at=Decimal(51000),
    )
    this = car(part("brake line"), readings=read, statements=[seen])

    item = the_item(today(this, only(LOOK), on), "test-look")

    assert item.state is state
