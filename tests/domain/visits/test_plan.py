"""Plans worked by hand: the example of the planner's page, and the corners of the calendar."""

from datetime import date

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.visits.at_risk import at_risk
from castlenut.domain.visits.line import (
    AccessPrice,
    Calendar,
    Every,
    LatePrice,
    Line,
    NextFrom,
    PlannedItem,
    Span,
    Use,
)
from castlenut.domain.visits.plan import Plan, plan_visits
from castlenut.domain.visits.together import together

NO_WINDOW = Span()


def line(*items: PlannedItem, today: str = "2031-01-06", until: str = "2032-01-06") -> Line:
    return Line(
        calendar=Calendar(today=day(today), until=day(until)),
        visit_cost=60,
        hourly_rate=50,
        access={
            "lift": AccessPrice(hours=0.5),
            "wheel LF": AccessPrice(hours=0.5, under=("lift",)),
        },
        items=items,
    )


def item(
    name: str = "X",
    *,
    on: str | None = "2031-04-10",
    at: float | None = None,
    hours: float = 1.0,
    parts: float = 0.0,
    access: tuple[str, ...] = (),
    every: Every | None = None,
    window: Span = NO_WINDOW,
    next_from: NextFrom = NextFrom.DONE,
    is_safe: bool = False,
    late: LatePrice | None = None,
) -> PlannedItem:
    return PlannedItem(
        id=name,
        hours=hours,
        parts=parts,
        access=access,
        due_on=None if on is None else day(on),
        due_at=at,
        every=every,
        window=window,
        next_from=next_from,
        is_safety_critical=is_safe,
        late=late,
    )


def day(text: str) -> date:
    return date.fromisoformat(text)


def planned(given: Line) -> Plan:
    return plan_visits(given, may_go_on=lambda: True)


def days(plan: Plan) -> list[str]:
    return [each.on.isoformat() for each in plan.visits]


EXAMPLE = line(
    item(
        "A",
        on="2031-04-10",
        parts=30.0,
        access=("wheel LF",),
        every=Every(months=24),
        is_safe=True,
    ),
    item("B", on="2031-06-05", hours=1.5, parts=25.0, access=("wheel LF",), every=Every(months=12)),
    item("C", on="2031-12-04", hours=0.8, parts=20.0, every=Every(months=24)),
)


def test_three_items_are_done_in_one_visit_on_the_day_the_first_window_closes() -> None:
    """By hand: 60 for the visit, 50 for the wheel, 100 x 56/366 and 60 x 238/731 of life."""
    plan = planned(EXAMPLE)

    assert days(plan) == ["2031-04-10"]
    assert plan.visits[0].hours == pytest.approx(4.3)
    assert plan.visits[0].access == ("lift", "wheel LF")
    assert plan.cost.total == pytest.approx(144.84, abs=0.005)
    assert plan.cost.life == pytest.approx(34.84, abs=0.005)
    assert plan.life == pytest.approx({"A": 0, "B": 15.30, "C": 19.53}, abs=0.005)
    assert plan.is_proved


def test_two_that_are_not_worth_much_alone_are_worth_much_together() -> None:
    """By hand: T(none) 144.84, A now 131.40, B now 161.20, both now 98.12."""
    found = together(
        EXAMPLE,
        on=day("2031-02-10"),
        opened=frozenset({"wheel LF"}),
        doing=frozenset(),
        may_go_on=lambda: True,
    )

    assert [(each.item, round(each.net, 2)) for each in found.ranked] == [
        ("A", 13.44),
        ("B", -16.37),
    ]
    assert found.items == ("A", "B")
    assert found.net == pytest.approx(46.71, abs=0.005)


def test_nothing_to_do_is_no_visit_and_proved() -> None:
    plan = planned(line())

    assert plan.visits == ()
    assert plan.cost.total == 0
    assert plan.is_proved


def test_what_is_overdue_is_done_on_the_first_open_day_and_named() -> None:
    # Today is a Saturday; the Monday after it is the first open day.
    plan = planned(line(item(on="2030-12-20"), today="2031-01-04"))

    assert days(plan) == ["2031-01-06"]
    assert [(each.item, each.planned_on) for each in plan.cannot] == [("X", day("2031-01-06"))]


def test_a_window_that_closes_on_a_holiday_is_kept_on_the_open_day_before() -> None:
    # 10 April is closed, 12 and 13 April are a weekend.
    given = line(item(on="2031-04-10"))
    given = replace(
        given,
        calendar=replace(given.calendar, closed=((day("2031-04-10"), day("2031-04-11")),)),
    )

    assert days(planned(given)) == ["2031-04-09"]


def test_a_month_with_no_open_day_is_said_to_be_in_the_way() -> None:
    # Every 10 days, and all of March laid up: no occurrence can be kept inside it.
    given = line(
        item(on="2031-02-20", every=Every(days=10)), today="2031-02-17", until="2031-04-15"
    )
    given = replace(
        given,
        calendar=replace(given.calendar, laid_up=((day("2031-03-01"), day("2031-03-31")),)),
    )

    plan = planned(given)

    assert [each.planned_on for each in plan.cannot] == [day("2031-04-01")]


def test_a_lay_up_from_before_today_is_waited_for() -> None:
    given = line(item(on="2031-04-10"))
    given = replace(
        given,
        calendar=replace(given.calendar, laid_up=((day("2030-10-01"), day("2031-04-13")),)),
    )

    plan = planned(given)

    assert days(plan) == ["2031-04-14"]
    assert plan.cannot[0].closes_on == day("2031-04-10")


def test_a_month_after_the_thirty_first_of_january_is_the_last_of_february() -> None:
    """7.27: the day the month does not have becomes its last."""
    given = line(item(on="2031-01-31", every=Every(months=1)), until="2031-03-01")
    given = replace(given, calendar=replace(given.calendar, closed_weekdays=frozenset()))

    assert days(planned(given)) == ["2031-01-31", "2031-02-28"]


def test_a_distance_that_is_never_reached_gives_no_visit() -> None:
    given = line(item(on=None, at=90_000.0))
    given = replace(
        given,
        use=Use(
            dates=(day("2031-01-06"), day("2032-01-06")),
            expected=(50_000.0, 60_000.0),
            fast=(50_000.0, 65_000.0),
        ),
    )

    plan = planned(given)

    assert plan.visits == ()
    assert plan.later == ("X",)


def test_safety_critical_items_go_by_the_early_date() -> None:
    """5,000 of 10,000 in a year of 365 days is reached after 183 days, of 20,000 after 92."""
    use = Use(
        dates=(day("2031-01-06"), day("2032-01-06")),
        expected=(50_000.0, 60_000.0),
        fast=(50_000.0, 70_000.0),
    )
    usual = replace(line(item("usual", on=None, at=55_000.0)), use=use)
    safe = replace(line(item("safe", on=None, at=55_000.0, is_safe=True)), use=use)

    assert days(planned(usual)) == ["2031-07-08"]
    assert days(planned(safe)) == ["2031-04-08"]
    assert [each.closes_on for each in at_risk(usual, planned(usual))] == [day("2031-04-08")]
    assert at_risk(safe, planned(safe)) == ()


def test_what_is_planned_late_is_at_risk_by_its_date_too() -> None:
    """Due on 10 April or far off by distance, and 10 days late at no price: past its window."""
    use = Use(
        dates=(day("2031-01-06"), day("2032-01-06")),
        expected=(0.0, 3_650.0),
        fast=(0.0, 5_000.0),
    )
    late = LatePrice(price_per_day=0.0, most_days=10)
    given = replace(line(item("A", on="2031-04-10", at=900_000.0, late=late)), use=use)
    given = replace(given, allow_late=True)

    assert days(planned(given)) == ["2031-04-18"]
    assert [each.closes_on for each in at_risk(given, planned(given))] == [day("2031-04-10")]


def test_a_fixed_series_is_done_inside_its_windows_only() -> None:
    """7.02: inside the window the next is counted from the due day, whenever it was done."""
    given = line(
        item(
            "season",
            on="2031-04-10",
            every=Every(months=6),
            window=Span(before_days=10, after_days=10),
            next_from=NextFrom.SCHEDULE,
        ),
        item("other", on="2031-02-03"),
    )

    plan = planned(given)

    # Not pulled into February; its last days are Sunday 20 April and Monday 20 October.
    assert days(plan) == ["2031-02-03", "2031-04-18", "2031-10-20"]


def test_a_day_late_is_taken_where_it_saves_a_visit() -> None:
    """8 days at 2.00 are less than a visit of 60."""
    late = LatePrice(price_per_day=2, most_days=10)
    given = replace(
        line(
            item("A", on="2031-04-02", late=late), item("B", on="2031-04-10", every=Every(days=9))
        ),
        allow_late=True,
        calendar=Calendar(today=day("2031-04-01"), until=day("2031-04-11")),
    )

    plan = planned(given)

    assert days(plan) == ["2031-04-10"]
    assert plan.cost.late == 16


def test_work_of_more_hours_than_a_day_goes_on_the_next_open_days() -> None:
    plan = planned(line(item(on="2031-04-11", hours=18.0)))

    assert [(each.on.isoformat(), each.hours) for each in plan.visits[0].work] == [
        ("2031-04-11", 8),
        ("2031-04-14", 8),
        ("2031-04-15", 2),
    ]


def test_without_time_there_is_a_plan_all_the_same() -> None:
    plan = plan_visits(EXAMPLE, may_go_on=lambda: False)

    assert plan.bound <= plan.cost.total
    assert {each.item for visit in plan.visits for each in visit.doings} == {"A", "B", "C"}
