"""What the items of a car rest on: the dial, the figures read at jobs, and events."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.car import as_of
from castlenut.domain.dial import Dial, Replaced, RolledOver
from castlenut.domain.ground import Ground, ground
from castlenut.domain.happenings import Happening, Job
from castlenut.domain.ids import RuleId
from castlenut.domain.place import place as read_place
from castlenut.domain.units import Distance, Unit
from castlenut.domain.working import State
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
    stay,
    the_item,
    today,
    vehicle,
)

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day

OIL = """
[[rule]]
id = "test-oil"
title = "engine oil, test"
part = "Engine"
component = "engine oil"
every = { miles = 3000 }
intake = { rank = 1, act = "renew" }
"""


def grounded(**tables: object) -> Ground:
    return ground(car(**tables), today=date(2026, 4, 11), south=False)  # type: ignore[arg-type]  # by name


def test_the_due_distance_is_told_as_the_dial_will_show_it_past_its_end() -> None:
    """Five digits: 98,000 and 3,000 more stand as 01,000."""
    this = car(
        part("engine oil", on="2026-01-01", at=98000),
        readings=[reading("2026-01-01", 98000), reading("2026-02-01", 99500)],
    )

    item = the_item(today(this, only(OIL), "2026-02-01"), "test-oil")

    assert item.due_at == Distance(101000)
    assert item.shown.due_at == Decimal(1000)
    assert item.shown.opens_at == Decimal(700)
    assert item.shown.closes_at == Decimal(1000)


def test_a_dial_that_rolled_over_counts_on() -> None:
    """Fitted at 98,000; the dial shows 00,900 now: 2,900 run, 100 left."""
    this = car(
        part("engine oil", on="2026-01-01", at=98000),
        readings=[reading("2026-01-01", 98000), reading("2026-03-01", 900)],
        dial_events=[RolledOver(record=record("end"), on=day("2026-02-20"))],
    )

    item = the_item(today(this, only(OIL), "2026-03-01"), "test-oil")

    assert item.state is State.DUE
    assert item.shown.due_at == Decimal(1000)
    assert item.distance_left == pytest.approx(100)


def test_a_new_dial_shows_what_is_left() -> None:
    """1,200 run on the old dial, replaced at 51,200 by one from 0: 1,800 are left for the new."""
    this = car(
        part("engine oil", on="2026-01-01", at=50000),
        readings=[reading("2026-01-01", 50000), reading("2026-03-01", 400)],
        dial_events=[
            Replaced(
                record=record("dial"), on=day("2026-02-10"), start=Decimal(0), last=Decimal(51200)
            )
        ],
    )

    item = the_item(today(this, only(OIL), "2026-03-01"), "test-oil")

    assert item.shown.due_at == Decimal(1800)
    assert item.distance_left == pytest.approx(1400)


def test_the_figure_read_at_a_job_is_a_reading() -> None:
    found = grounded(readings=STEADY[:1], jobs=[job("2026-04-01", 50900)])

    last = found.odometer.last()

    assert last is not None
    assert last.reading.on == date(2026, 4, 1)
    assert last.shown == Decimal(50900)
    assert found.use.basis.a_day is not None
    assert 8 < found.use.basis.a_day < 12


def test_an_estimated_figure_is_no_reading() -> None:
    guess = Job(record=record("guess"), on=day("2026-04-10"), at=Decimal(50990), estimated=True)

    found = grounded(readings=STEADY, jobs=[guess])

    assert [placed.shown for placed in found.odometer.placed] == [50000, 51000]


def test_a_figure_at_a_job_comes_before_a_higher_reading_of_that_day() -> None:
    """Read in the morning at the job, and at the gate when the car left: both are sound."""
    found = grounded(readings=STEADY, jobs=[job("2026-04-11", 50990)])

    assert [placed.shown for placed in found.odometer.sound] == [50000, 50990, 51000]


def test_a_figure_at_a_job_that_was_read_already_stands_once() -> None:
    found = grounded(readings=STEADY, jobs=[job("2026-04-11", 51000)])

    assert [placed.shown for placed in found.odometer.placed] == [50000, 51000]


def test_what_was_saved_with_a_job_counts_as_raised_by_it() -> None:
    happening = Happening(
        record=record("happening"),
        event="weld",
        on=day("2026-04-01"),
        place=read_place("L"),
        job=record("job"),
    )

    found = grounded(readings=STEADY, happenings=[happening])

    assert [(event.record, str(event.place)) for event in found.events["weld"]] == [("job", "L")]


def test_a_job_is_an_event_by_the_rules_it_did_and_included() -> None:
    done = job("2026-04-01", 50900, "hub-repack~left", includes=["hub-play~left"], name="job")

    found = ground(
        car(part("wheel bearing", "LF", name="left"), readings=STEADY, jobs=[done]),
        today=date(2026, 4, 11),
        south=False,
    )

    assert [str(event.place) for event in found.events["hub-repack"]] == ["LF"]
    assert [event.distance for event in found.events["hub-play"]] == [Distance(50900)]


@pytest.mark.parametrize(
    ("until", "names"),
    [
        (None, {"layup"}),
        ("2026-04-10", {"layup", "layup-end"}),
        ("2026-04-11", {"layup", "layup-end"}),
        ("2026-04-12", {"layup"}),  # planned, not come yet
    ],
)
def test_a_lay_up_is_an_event_on_its_first_and_last_day(until: str | None, names: set[str]) -> None:
    found = grounded(readings=STEADY, exposures=[exposed("laid up", "2026-01-10", until)])

    assert set(found.events) == names


def test_a_lay_up_that_is_only_planned_is_no_event() -> None:
    found = grounded(readings=STEADY, exposures=[exposed("laid up", "2026-11-01")])

    assert (set(found.events), found.layup) == (set(), None)


def test_of_two_stays_the_earlier_tells_since_when() -> None:
    found = grounded(readings=STEADY, stays=[stay("2026-04-05"), stay("2026-04-01")])

    assert found.in_work_since == date(2026, 4, 1)


def test_a_rules_distance_is_put_in_the_dials_unit_exactly() -> None:
    dial = Dial(unit=Unit.KM, digits=6, tenths=False)
    found = ground(car(of=vehicle(dial=dial)), today=date(2026, 4, 11), south=False)

    length = found.length(Fraction(5000), book().rules[RuleId("tire-rotate")])

    assert length == Fraction("8046.72")


def test_as_of_keeps_what_is_planned_and_leaves_out_what_came_later() -> None:
    this = car(
        part("engine oil", on="2026-01-01", at=50000, removed_on="2026-05-01", name="old"),
        part("engine oil", on="2026-05-01", at=51200, name="new"),
        readings=STEADY,
        exposures=[exposed("laid up", "2026-11-01", "2027-03-01")],
    )

    seen = as_of(this, date(2026, 3, 1))

    assert [part.record for part in seen.components] == ["old"]
    assert [part.record for part in seen.fitted(date(2026, 3, 1))] == ["old"]
    assert [read.figure for read in seen.readings] == [50000]
    assert len(seen.exposures) == 1
