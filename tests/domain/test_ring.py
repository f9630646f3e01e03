"""Whom to call, and why: invented cars, 10 mi a day."""

from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Raised
from castlenut.domain.ring import Reason, Why, reasons
from tests.builders import book, car, day, exposed, job, part, reading, stay, today, vehicle

READINGS = [reading("2026-10-05", 40000), reading("2026-11-24", 40500)]
PAD = part("brake pad", "LF", on="2025-11-20", at=38000)  # measured each 5,000 mi or 6 months


def asked(*parts: object, on: str = "2026-11-25", **tables: object) -> CarToday:
    return today(car(*parts, **{"readings": READINGS, **tables}), book(), on)  # type: ignore[arg-type]  # by name


def whys(found: tuple[Reason, ...]) -> list[Why]:
    return [each.why for each in found]


def test_a_window_that_opens_within_a_month_is_a_reason() -> None:
    # oil renewed 2026-06-20: due 2026-12-20, the window opens 18 days before, on 2026-12-02
    oil = part("engine oil", on="2026-06-20", at=39000)

    (reason,) = reasons(asked(oil))

    assert reason.why is Why.WINDOW
    assert reason.opens_on == date(2026, 12, 2)
    assert [row.first.rule.id for row in reason.rows] == ["oil"]


def test_a_window_further_off_is_none() -> None:
    # due 2027-02-20, opens 2027-02-02
    oil = part("engine oil", on="2026-08-20", at=39900)

    assert reasons(asked(oil)) == ()


def test_what_is_overdue_is_told_first() -> None:
    oil = part("engine oil", on="2026-06-20", at=39000)

    (reason,) = reasons(asked(PAD, oil))

    assert [row.first.rule.id for row in reason.rows] == ["bed-friction", "pad-measure", "oil"]


def test_a_visit_agreed_takes_its_items_from_the_list() -> None:
    found = asked(PAD)
    agreed = {item.id for item in found.items}

    assert reasons(found, agreed=agreed) == ()


def test_nobody_is_called_for_a_car_in_work_or_sold() -> None:
    sold = replace(vehicle(), sold_on=day("2026-11-24"))

    assert reasons(asked(PAD, stays=[stay("2026-11-20")])) == ()
    assert reasons(today(car(PAD, of=sold, readings=READINGS), book(), "2026-11-25")) == ()


def test_no_reading_for_six_months_is_a_reason_where_something_counts_by_distance() -> None:
    oil = part("engine oil", on="2026-11-01", at=40300)
    readings = [reading("2026-04-01", 40000), reading("2026-05-25", 40300)]

    found = reasons(asked(oil, readings=readings))

    assert whys(found) == [Why.NO_READING]
    assert found[0].last_reading == date(2026, 5, 25)


def test_a_reading_a_day_younger_than_six_months_is_not_asked_for() -> None:
    oil = part("engine oil", on="2026-11-01", at=40300)
    readings = [reading("2026-04-01", 40000), reading("2026-05-26", 40300)]

    assert reasons(asked(oil, readings=readings)) == ()


def test_a_car_laid_up_is_not_asked_for_a_reading() -> None:
    oil = part("engine oil", on="2026-11-01", at=40300)
    readings = [reading("2026-03-01", 40000), reading("2026-04-25", 40300)]

    found = asked(oil, readings=readings, exposures=[exposed("laid up", "2026-11-02")])

    assert reasons(found) == ()


def test_first_points_after_the_handover_are_a_reason_while_their_day_is_unknown() -> None:
    """A car just handed over has one reading: nobody can tell when 50 mi are driven."""
    work = job("2026-11-10", 40000, name="job", events=[("wheel-off", "")])
    wheel = part("wheel", "LF", on="2020-01-01", at=30000)

    found = asked(
        wheel,
        readings=[reading("2026-11-12", 40000)],
        jobs=[work],
        stays=[stay("2026-11-01", over="2026-11-12")],
    )

    assert Raised(event="wheel-off") in work.events
    assert Why.FIRST_POINTS in whys(reasons(found))
