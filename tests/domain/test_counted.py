"""The repeating interval: days, variants, margins, seasons, lay-ups, and whose figure counts."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.dial import Dial, Reading
from castlenut.domain.ids import RuleId
from castlenut.domain.rules.precedence import RuleChange
from castlenut.domain.rules.rule import Every
from castlenut.domain.units import Distance, Unit
from castlenut.domain.working import Beats, Binds, Counted, From, Shortened, State
from tests.builders import (
    book,
    car,
    day,
    exposed,
    job,
    only,
    part,
    reading,
    record,
    the_item,
    today,
    vehicle,
)

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day


def rule(*lines: str) -> str:
    return "\n".join(
        (
            "[[rule]]",
            'id = "test-rule"',
            'title = "engine, test"',
            'part = "Engine"',
            'component = "engine"',
            'intake = { rank = 2, act = "renew" }',
            *lines,
        )
    )


def test_an_interval_of_days_counts_days() -> None:
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)

    item = the_item(
        today(this, only(rule("every = { days = 45 }", "tolerance = 10")), "2026-01-02"),
        "test-rule",
    )

    assert item.due_on == date(2026, 2, 15)
    assert (item.window.opens_on, item.window.closes_on) == (date(2026, 2, 11), date(2026, 2, 19))


@pytest.mark.parametrize(("volts", "due"), [("12", date(2026, 4, 1)), ("6", date(2026, 2, 15))])
def test_a_variant_gives_another_interval_to_what_it_names(volts: str, due: date) -> None:
    """A 6 V battery is tested at half the three months of a 12 V one: 45 days."""
    this = car(part("battery", on="2026-01-01", at=50000, volts=volts), readings=STEADY)

    item = the_item(today(this, book(), "2026-01-02"), "battery-test")

    assert item.due_on == due


@pytest.mark.parametrize(
    ("tolerance", "closes_on", "closes_at"),
    [
        ("", date(2028, 1, 1), 74000),
        ("tolerance = 10", date(2028, 1, 31), 74500),  # 72 days and 2,400 mi, capped
        ("tolerance = { percent = 20 }", date(2028, 5, 24), 78800),  # 144 days
        ("tolerance = { percent = 20, cap_days = 60 }", date(2028, 3, 1), 78800),
        ("tolerance = { percent = 20, cap_distance = 1000 }", date(2028, 5, 24), 75000),
    ],
)
def test_tolerance_closes_the_window_late(tolerance: str, closes_on: date, closes_at: int) -> None:
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)
    text = rule("every = { miles = 24000, months = 24 }", tolerance)

    item = the_item(today(this, only(text), "2026-04-11"), "test-rule")

    assert (item.due_on, item.due_at) == (date(2028, 1, 1), Distance(74000))
    assert (item.window.closes_on, item.window.closes_at) == (closes_on, closes_at)
    assert (item.window.opens_on, item.window.opens_at) == (date(2027, 12, 2), 73500)


@pytest.mark.parametrize(
    ("lead", "opens_on", "opens_at"),
    [
        ("lead = 0", date(2026, 7, 1), 53000),
        ("lead = 25", date(2026, 6, 1), 52500),  # 45 days and 750 mi, capped
        ("lead = { percent = 25 }", date(2026, 5, 17), 52250),
        ("lead = { percent = 25, cap_days = 7 }", date(2026, 6, 24), 52250),
    ],
)
def test_lead_opens_the_window_early(lead: str, opens_on: date, opens_at: int) -> None:
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)
    text = rule("every = { miles = 3000, months = 6 }", lead)

    item = the_item(today(this, only(text), "2026-04-11"), "test-rule")

    assert (item.window.opens_on, item.window.opens_at) == (opens_on, opens_at)
    assert (item.window.closes_on, item.window.closes_at) == (date(2026, 7, 1), 53000)


def test_distance_alone_not_reached_stays_ahead_whatever_the_time() -> None:
    """7.33: a rule with no time side is legitimate."""
    standing = (reading("2016-01-01", 50000),)
    this = car(part("engine", on="2016-01-01", at=50000), readings=standing)

    text = rule("every = { miles = 90000 }")
    item = the_item(today(this, only(text), "2026-04-11"), "test-rule")

    assert (item.state, item.due_on, item.due_at) == (State.AHEAD, None, Distance(140000))
    assert item.expected.p90 is None
    assert item.binds is Binds.DISTANCE


def test_time_alone_binds_by_date() -> None:
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)

    item = the_item(today(this, only(rule("every = { months = 12 }")), "2026-04-11"), "test-rule")

    assert (item.due_on, item.due_at, item.binds) == (date(2027, 1, 1), None, Binds.DATE)


def test_a_rule_in_km_counts_for_a_dial_in_miles() -> None:
    """8,046.72 km are 5,000 mi; its tolerance is capped at 500 mi."""
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)
    text = rule('unit = "km"', "every = { km = 8046.72 }", "tolerance = 10")

    item = the_item(today(this, only(text), "2026-04-11"), "test-rule")

    assert item.due_at == Distance(55000)
    assert (item.window.opens_at, item.window.closes_at) == (54500, 55500)


def test_a_dial_in_km_counts_a_rule_in_miles() -> None:
    """3,000 mi are 4,828.032 km; the dial shows no part of a kilometer."""
    dial = Dial(unit=Unit.KM, digits=6, tenths=False)
    this = car(
        part("engine", on="2026-01-01", at=80000),
        of=vehicle(dial=dial),
        readings=[
            Reading(
                record=record("read"), on=day("2026-01-01"), figure=Decimal(80000), unit=Unit.KM
            )
        ],
    )

    item = the_item(today(this, only(rule("every = { miles = 3000 }")), "2026-04-11"), "test-rule")

    assert item.due_at == 84828.032
    assert item.shown.due_at == 84828


def test_low_use_ends_the_rotation() -> None:
    """Under 2,000 mi a year nothing is gained by moving tires that have not run (7.32)."""
    parts = part("tire set", on="2024-01-01", at=46000, name="set")
    little = car(parts, readings=[reading("2025-01-01", 50000), reading("2026-01-01", 51000)])
    more = car(parts, readings=[reading("2025-01-01", 50000), reading("2026-01-01", 54000)])

    rules = [
        {item.rule.id for item in today(this, book(), "2026-01-02").items}
        for this in (little, more)
    ]

    assert "tire-rotate" not in rules[0]
    assert "tire-rotate" in rules[1]


def test_while_points_are_open_the_distance_is_not_counted() -> None:
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)
    text = rule("every = { miles = 3000, months = 6 }", "first = [500, 2000]")

    item = the_item(today(this, only(text), "2026-04-11"), "test-rule")
    counted = [step for step in item.working if isinstance(step, Counted)]

    assert (item.due_on, item.due_at) == (date(2026, 7, 1), Distance(50500))
    assert [(step.distance, step.months) for step in counted] == [(None, 6)]


def test_while_points_are_open_a_job_in_the_months_window_starts_them_anew() -> None:
    """Done on 20 June, inside the window of 1 July, with the point at 2,000 not yet reached."""
    this = car(
        part("engine", on="2026-01-01", at=50000, name="engine"),
        readings=STEADY,
        jobs=[job("2026-06-20", 50600, "test-rule~engine")],
    )
    text = rule("every = { miles = 3000, months = 6 }", "first = [500, 2000]")

    item = the_item(today(this, only(text), "2026-06-21"), "test-rule")

    assert (item.due_on, item.due_at) == (date(2026, 12, 20), Distance(52000))


def test_the_makers_interval_is_for_renewal_and_not_for_a_look() -> None:
    """The maker says how long the part lasts, not how often a careful man looks at it."""
    hose = part(
        "brake hose", "L", on="2026-01-01", at=50000, every="-/96m", material="rubber", name="hose"
    )
    this = car(hose, readings=STEADY, jobs=[job("2026-02-01", 50310, "hose-look~hose")])

    found = today(this, book(), "2026-04-11")

    assert the_item(found, "hose-look").due_on == date(2026, 8, 1)
    renew = the_item(found, "hose-renew")
    counted = [step for step in renew.working if isinstance(step, Counted)]
    assert [(step.months, step.whose) for step in counted] == [(96, Beats.MAKER)]


def test_this_cars_own_rule_goes_before_the_garages() -> None:
    """Precedence: part maker, this car, garage, shipped."""
    garage = '[[rule]]\nid = "oil"\nevery = { miles = 2000, months = 4 }\n'
    oil = part("engine oil", on="2026-01-01", at=50000)
    change = RuleChange(
        rule=RuleId("oil"),
        why="its book, p. 31 (invented)",
        unit=Unit.MI,
        every=Every(distance=Fraction(1500), months=3),
    )
    plain = car(oil, readings=STEADY)
    own = car(oil, readings=STEADY, rule_changes=[change])

    by_garage = the_item(today(plain, book(garage), "2026-04-11"), "oil")
    by_car = the_item(today(own, book(garage), "2026-04-11"), "oil")

    assert (by_garage.due_on, by_garage.due_at) == (date(2026, 5, 1), Distance(52000))
    assert (by_car.due_on, by_car.due_at) == (date(2026, 4, 1), Distance(51500))
    whose = [
        step.whose
        for item in (by_garage, by_car)
        for step in item.working
        if isinstance(step, Counted)
    ]
    assert whose == [Beats.GARAGE, Beats.THIS_CAR]


def test_the_strongest_exposure_applies_and_not_the_product() -> None:
    """24,000 mi and 24 months, halved by wet; towing at 0.7 adds nothing."""
    this = car(
        part("wheel bearing", "LF", on="2026-01-01", at=50000, service="repackable"),
        readings=STEADY,
        exposures=[exposed("towing", "2025-01-01"), exposed("wet", "2025-01-01")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "hub-repack")

    shortened = [step for step in item.working if isinstance(step, Shortened)]
    assert [(step.exposure, step.factor) for step in shortened] == [("wet", Fraction(1, 2))]
    assert (item.due_on, item.due_at) == (date(2027, 1, 1), Distance(62000))


def test_by_schedule_distance_and_date_keep_their_own_grid() -> None:
    """Done on 20 June at 53,600: the day is inside its window, the distance is past the end."""
    this = car(
        part("engine", on="2026-01-01", at=50000, name="engine"),
        readings=(reading("2026-01-01", 50000), reading("2026-06-20", 53600)),
        jobs=[job("2026-06-20", 53600, "test-rule~engine")],
    )
    text = rule("every = { miles = 3000, months = 6 }", "tolerance = 10", 'next_from = "schedule"')

    item = the_item(today(this, only(text), "2026-06-21"), "test-rule")

    assert (item.due_on, item.due_at) == (date(2027, 1, 1), Distance(56600))


@pytest.mark.parametrize(
    ("done", "opens", "closes"),
    [
        ("2026-01-15", date(2026, 3, 1), date(2026, 4, 30)),  # three months on is 15 April
        ("2026-04-10", date(2026, 9, 1), date(2026, 10, 31)),
        ("2026-08-20", date(2027, 3, 1), date(2027, 4, 30)),  # three months on is 20 November
    ],
)
def test_of_two_seasons_the_first_counts_that_ends_half_an_interval_on(
    done: str, opens: date, closes: date
) -> None:
    """Drains at the cowl: every six months, in March and April, and in September and October."""
    this = car(
        part("drain", name="drain", area="cowl"),
        readings=STEADY,
        jobs=[job(done, None, "drain-cowl~drain")],
    )

    item = the_item(today(this, book(), "2026-08-21"), "drain-cowl")

    assert (item.window.opens_on, item.window.closes_on) == (opens, closes)


def test_laid_up_the_walk_round_is_counted_from_the_first_day() -> None:
    this = car(
        part("vehicle", name="car"),
        readings=STEADY,
        exposures=[exposed("laid up", "2026-01-10")],
    )

    item = the_item(today(this, book(), "2026-01-20"), "layup-walk")

    assert item.due_on == date(2026, 2, 10)
    assert item.baseline is not None
    assert item.baseline.how is From.LAID_UP


def test_outdoors_a_laid_up_car_is_walked_round_every_week() -> None:
    this = car(
        part("vehicle", name="car"),
        readings=STEADY,
        exposures=[exposed("laid up", "2026-01-10"), exposed("stored outdoors", "2025-01-01")],
    )

    item = the_item(today(this, book(), "2026-01-12"), "layup-walk")

    assert item.due_on == date(2026, 1, 17)


def test_a_walk_round_inside_its_window_leaves_the_grid() -> None:
    """Three days either side of 10 February; done on the 12th, the next is 10 March."""
    this = car(
        part("vehicle", name="car"),
        readings=STEADY,
        exposures=[exposed("laid up", "2026-01-10")],
        jobs=[job("2026-02-12", None, "layup-walk~car")],
    )

    item = the_item(today(this, book(), "2026-02-13"), "layup-walk")

    assert item.due_on == date(2026, 3, 10)


def test_what_was_done_before_the_lay_up_does_not_count_in_it() -> None:
    this = car(
        part("vehicle", name="car"),
        readings=STEADY,
        exposures=[exposed("laid up", "2026-01-10")],
        jobs=[job("2026-01-08", None, "layup-walk~car")],
    )

    item = the_item(today(this, book(), "2026-01-20"), "layup-walk")

    assert item.due_on == date(2026, 2, 10)


@pytest.mark.parametrize(
    ("on", "states"),
    [
        ("2026-01-09", {}),
        ("2026-01-10", {"layup-start": State.DUE, "layup-walk": State.AHEAD}),
        ("2026-01-11", {"layup-start": State.OVERDUE, "layup-walk": State.AHEAD}),
        (
            "2026-03-01",  # the last day: still laid up, and back on the road
            {"layup-start": State.OVERDUE, "layup-walk": State.OVERDUE, "return": State.DUE},
        ),
        ("2026-03-02", {"return": State.OVERDUE}),
    ],
)
def test_storage_rules_live_from_the_first_day_to_the_last(
    on: str, states: dict[str, State]
) -> None:
    this = car(
        part("vehicle", name="car"),
        readings=STEADY,
        exposures=[exposed("laid up", "2026-01-10", "2026-03-01")],
    )

    found = {
        item.rule.id: item.state
        for item in today(this, book(), on).items
        if item.rule.id in {"layup-start", "layup-walk", "return"}
    }

    assert found == states
