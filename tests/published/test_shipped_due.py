"""Published worked cases, through the computation: rules and recorded jobs, one after another."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.dial import Dial
from castlenut.domain.happenings import Job
from castlenut.domain.item import Item
from castlenut.domain.units import Distance, Unit
from castlenut.domain.working import Binds, State
from tests.builders import (
    book,
    car,
    day,
    exposed,
    happened,
    item_of,
    job,
    only,
    part,
    reading,
    record,
    the_item,
    today,
    vehicle,
)

SPECIAL = "TM 1-1500-328-23, recurring special inspections"
HOURS = Dial(unit=Unit.MI, digits=5, tenths=True)
"""An hour meter stands for the dial: the figures are the source's hours."""


def rule(*lines: str) -> str:
    return "\n".join(
        (
            "[[rule]]",
            'id = "special"',
            'title = "engine, special inspection"',
            'part = "Engine"',
            'component = "engine"',
            'next_from = "schedule"',
            *lines,
        )
    )


def done(figure: str, on: str) -> Job:
    return Job(
        record=record(f"done {on} {figure}"),
        on=day(on),
        at=Decimal(figure),
        items=(item_of("special~engine"),),
    )


def after_jobs(text: str, jobs: Sequence[Job], on: str) -> Item:
    this = car(part("engine", name="engine"), of=vehicle(dial=HOURS), jobs=jobs)
    return the_item(today(this, only(text), on), "special")


@pytest.mark.published(
    "4.24", basis="R", source="truck service manual of 1970, p.0-19, heavy-duty wheels"
)
def test_a_heavy_wheel_is_torqued_at_100_500_1000_and_every_1000() -> None:
    """Changed at 41,250: checks at 41,350, 41,750, 42,250, 43,250, 44,250."""
    wheel = part("wheel", "LR", on="2020-01-01", at=20000, type="heavy", name="wheel")
    known = job("2025-12-01", 41000, "wheel-nuts-heavy~wheel")
    readings = [reading("2025-12-01", 41000), reading("2026-01-10", 41250)]
    change = happened("wheel-off", "2026-01-10", 41250, "LR")
    checks: list[Job] = []
    asked = []

    for number, figure in enumerate((41350, 41750, 42250, 43250, 44250), 1):
        on = f"2026-01-{10 + number}"
        this = car(wheel, readings=readings, jobs=[known, *checks], happenings=[change])
        asked.append(the_item(today(this, book(), on), "wheel-nuts-heavy").due_at)
        checks.append(job(on, figure, "wheel-nuts-heavy~wheel"))

    assert asked == [
        Distance(41350),
        Distance(41750),
        Distance(42250),
        Distance(43250),
        Distance(44250),
    ]


@pytest.mark.published(
    "4.24", basis="R", source="truck service manual of 1970, p.0-19, heavy-duty wheels"
)
def test_a_new_heavy_wheel_is_torqued_at_the_same_points() -> None:
    wheel = part("wheel", "LR", on="2026-01-10", at=41250, type="heavy", name="wheel")
    checks: list[Job] = []
    asked = []

    for number, figure in enumerate((41350, 41750, 42250, 43250), 1):
        on = f"2026-01-{10 + number}"
        this = car(wheel, readings=[reading("2026-01-10", 41250)], jobs=checks)
        asked.append(the_item(today(this, book(), on), "wheel-nuts-heavy").due_at)
        checks.append(job(on, figure, "wheel-nuts-heavy~wheel"))

    assert asked == [Distance(41350), Distance(41750), Distance(42250), Distance(43250)]


@pytest.mark.published("9.17", basis="R", source="LO 9-2320-363-12, axle oil")
def test_axle_oil_first_at_5000_then_at_75000_or_yearly() -> None:
    text = rule("first = [5000]", "every = { miles = 75000, months = 12 }")
    fitted = part("engine", on="2025-01-01", at=0, name="engine")
    of = vehicle(dial=Dial(unit=Unit.MI, digits=6, tenths=False))
    new = car(fitted, of=of, readings=[reading("2025-01-01", 0)])
    changed = car(
        fitted, of=of, readings=[reading("2025-01-01", 0)], jobs=[done("5000", "2025-06-01")]
    )

    first = the_item(today(new, only(text), "2025-02-01"), "special")
    then = the_item(today(changed, only(text), "2025-06-02"), "special")

    assert (first.due_on, first.due_at) == (date(2026, 1, 1), Distance(5000))
    assert (then.due_on, then.due_at) == (date(2026, 6, 1), Distance(80000))


@pytest.mark.published("7.02", basis="R", source=SPECIAL)
def test_done_inside_its_window_the_next_is_counted_from_the_due_point() -> None:
    """75 h, 5 h either side: due 1609.4, from 1604.4 to 1614.4; done inside, next at 1684.4."""
    text = rule(
        "every = { miles = 75 }",
        "lead = { percent = 10, cap_distance = 5 }",
        "tolerance = { percent = 10, cap_distance = 5 }",
    )
    begun = done("1534.4", "1998-01-05")

    due = after_jobs(text, [begun], "1998-01-06")
    following = after_jobs(text, [begun, done("1612", "1998-03-05")], "1998-03-06")

    assert due.due_at == 1609.4
    assert (due.window.opens_at, due.window.closes_at) == (1604.4, 1614.4)
    assert following.due_at == 1684.4


@pytest.mark.published("7.03", basis="R", source=SPECIAL)
def test_done_before_its_window_the_next_is_counted_from_the_job() -> None:
    """50 h due at 1306.4, done at 1299.9: next at 1349.9."""
    text = rule(
        "every = { miles = 50 }",
        "lead = { percent = 10, cap_distance = 5 }",
        "tolerance = { percent = 10, cap_distance = 5 }",
    )

    following = after_jobs(
        text, [done("1256.4", "1998-01-05"), done("1299.9", "1998-03-05")], "1998-03-06"
    )

    assert following.due_at == 1349.9


@pytest.mark.published("7.04", basis="R", source=SPECIAL)
def test_six_months_have_18_days_and_are_counted_from_the_due_day() -> None:
    """Due 31 January 1999: 13 January to 18 February; done inside, next 31 July 1999."""
    text = rule("every = { months = 6 }", "lead = 10", "tolerance = 10")
    begun = done("1000", "1998-07-31")

    due = after_jobs(text, [begun], "1998-12-01")
    following = after_jobs(text, [begun, done("1100", "1999-02-18")], "1999-02-19")

    assert due.due_on == date(1999, 1, 31)
    assert (due.window.opens_on, due.window.closes_on) == (date(1999, 1, 13), date(1999, 2, 18))
    assert following.due_on == date(1999, 7, 31)


@pytest.mark.published("7.05", basis="R", source=SPECIAL)
def test_a_year_has_30_days_flat() -> None:
    """Due 6 February 1999: 7 January to 8 March."""
    text = rule("every = { months = 12 }", "lead = 10", "tolerance = 10")

    due = after_jobs(text, [done("1000", "1998-02-06")], "1998-12-01")

    assert due.due_on == date(1999, 2, 6)
    assert (due.window.opens_on, due.window.closes_on) == (date(1999, 1, 7), date(1999, 3, 8))


DUAL = rule("every = { miles = 10, days = 14 }", "lead = 10", "tolerance = 10")
LAST = "1997-05-22"


@pytest.mark.published("7.07", basis="R", source=SPECIAL)
def test_of_two_sides_each_has_its_own_window() -> None:
    """Every 14 days or 10 h, last on 22 May 1997 at 1709 h; 1.4 days are 1 day."""
    due = after_jobs(DUAL, [done("1709", LAST)], "1997-05-23")

    assert (due.due_on, due.due_at) == (date(1997, 6, 5), Distance(1719))
    assert (due.window.opens_on, due.window.closes_on) == (date(1997, 6, 4), date(1997, 6, 6))
    assert (due.window.opens_at, due.window.closes_at) == (1718, 1720)


@pytest.mark.published("7.07", basis="R", source=SPECIAL)
@pytest.mark.parametrize(
    ("figure", "on", "state"),
    [
        ("1712", "1997-06-03", State.AHEAD),
        ("1712", "1997-06-04", State.DUE),
        ("1718", "1997-05-30", State.DUE),
        ("1720", "1997-06-06", State.DUE),
        ("1720.5", "1997-05-30", State.OVERDUE),
        ("1712", "1997-06-07", State.OVERDUE),
    ],
)
def test_the_side_reached_first_counts(figure: str, on: str, state: State) -> None:
    standing = [
        reading(LAST, "1709"),
        reading(on, figure),
    ]
    this = car(
        part("engine", name="engine"),
        of=vehicle(dial=HOURS),
        readings=standing,
        jobs=[done("1709", LAST)],
    )

    item = the_item(today(this, only(DUAL), on), "special")

    assert item.state is state


@pytest.mark.published("7.20", basis="R2", source="operator technical note of 2021")
def test_tolerances_do_not_add_up() -> None:
    """Every 100 h, 30 h tolerance: due at 100, done at 130, the next is due 70 h later."""
    text = rule("every = { miles = 100 }", "lead = 10", "tolerance = { percent = 30 }")

    following = after_jobs(
        text, [done("1000", "2021-01-05"), done("1130", "2021-03-05")], "2021-03-06"
    )

    assert following.due_at == Distance(1200)


@pytest.mark.published("7.21", basis="R2", source="Part-ML, ML.A.302(d)(1)(a), 2020")
def test_counted_from_the_job_a_late_one_moves_the_grid() -> None:
    """100 h with 10 h tolerance: due at 2000, done at 2010, next at 2110."""
    text = rule("every = { miles = 100 }", "tolerance = 10").replace(
        'next_from = "schedule"', 'next_from = "done"'
    )

    following = after_jobs(
        text, [done("1900", "2021-01-05"), done("2010", "2021-03-05")], "2021-03-06"
    )

    assert following.due_at == Distance(2110)


@pytest.mark.published(
    "7.34", basis="R", source="service book of 1993: arduous use at least halves the intervals"
)
def test_arduous_use_halves_the_grease_interval() -> None:
    """Grease in dust: 3,000 mi or 3 months of 6,000 or 6."""
    this = car(
        part("ball joint", "LF", on="2026-01-01", at=50000, grease="fitting"),
        readings=[reading("2026-01-01", 50000)],
        exposures=[exposed("dust", "2025-01-01")],
    )

    item = the_item(today(this, book(), "2026-01-02"), "grease")

    assert (item.due_on, item.due_at) == (date(2026, 4, 1), Distance(53000))


@pytest.mark.published(
    "7.06", basis="C", source="months of an interval by the calendar, parts of one in 30-day months"
)
@pytest.mark.parametrize(
    ("fitted", "due"),
    [
        ("2026-01-01", date(2026, 5, 7)),
        ("2025-10-31", date(2026, 3, 6)),  # 28 February and 6 days
        ("2026-08-15", date(2026, 12, 21)),
    ],
)
def test_six_months_times_seven_tenths_are_four_months_and_six_days(fitted: str, due: date) -> None:
    this = car(
        part("engine oil", on=fitted, at=50000),
        readings=[reading(fitted, 50000)],
        exposures=[exposed("stop-start", "2025-01-01")],
    )

    item = the_item(today(this, book(), fitted), "oil")

    assert (item.due_on, item.due_at) == (due, Distance(52100))


@pytest.mark.published("4.41", basis="R", source="owner's manuals, looked at yearly from year 5")
def test_a_tire_is_looked_at_from_year_5_and_yearly() -> None:
    tire = part("tire", "SP", made="2020-05-31", name="tire")
    readings = [reading("2026-01-01", 50000)]
    looked = job("2026-03-10", None, "tire-age-look~tire")

    first = the_item(today(car(tire, readings=readings), book(), "2025-01-01"), "tire-age-look")
    then = the_item(
        today(car(tire, readings=readings, jobs=[looked]), book(), "2026-04-01"), "tire-age-look"
    )
    out = the_item(today(car(tire, readings=readings), book(), "2026-04-01"), "tire-age")

    assert first.due_on == date(2025, 5, 31)
    assert then.due_on == date(2027, 3, 10)
    assert (out.due_on, out.binds) == (date(2030, 5, 31), Binds.AGE)
