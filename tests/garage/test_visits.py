"""Visits of a car: planned, agreed, moved, refused, done; what is left out of the plan."""

from collections.abc import Callable
from datetime import date

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.visits.of_car import Left
from castlenut.domain.window_days import window_days
from castlenut.garage.changes.exposures import draft_layup
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.settings import draft_settings
from castlenut.garage.changes.visiting import (
    day_to_book,
    draft_canceled,
    draft_done,
    draft_item_moved,
    draft_moved,
    draft_refused,
    draft_visit,
)
from castlenut.garage.garage import Garage, open_garage
from castlenut.garage.visits import CarVisits, visits_of
from castlenut.garage.weeks import ask_all, weeks_of
from tests.garage.conftest import CAR, Shop, surroundings


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Give a car at 10 mi a day with brake fluid and coolant of June, and engine oil of August."""
    shop.save(draft_reading(shop.garage, CAR, "60000", on="2026-08-17"))
    shop.save(draft_reading(shop.garage, CAR, "61000", on="2026-11-24"))
    parts: tuple[tuple[str, dict[str, str], str], ...] = (
        ("brake fluid", {"fluid": "DOT 4"}, "2026-06-01"),
        ("engine oil", {}, "2026-08-17"),
    )
    for kind, fields, on in parts:
        shop.save(draft_fit(shop.garage, CAR, kind, fields=fields, on=on, at="60000"))
    return shop


def planned(garage: Garage) -> CarVisits:
    return visits_of(garage, CAR, may_go_on=lambda: True)


def test_every_item_is_done_before_its_window_closes(shop: Shop) -> None:
    found = planned(shop.garage)

    doings = [doing for visit in found.plan.visits for doing in visit.doings]
    assert doings
    assert all(doing.on <= doing.closes_on for doing in doings)
    assert found.plan.is_proved


def test_a_visit_is_on_an_open_day(shop: Shop) -> None:
    shop.save(draft_settings(shop.garage, {"hours": "tue:6"}))

    found = planned(shop.garage)

    assert {visit.on.weekday() for visit in found.plan.visits} == {1}
    assert found.of_car.line.day_hours == 6


def test_no_open_hours_at_all_is_said(shop: Shop) -> None:
    shop.save(draft_settings(shop.garage, {"hours": "tue:0"}))

    with pytest.raises(BadInput) as error:
        planned(shop.garage)

    assert str(error.value.faults[0]).startswith("hours: no day is open until 2027-11-25")


def test_a_lay_up_keeps_the_car_at_home(shop: Shop) -> None:
    shop.save(draft_layup(shop.garage, CAR, since="2026-12-01", until="2027-04-01"))

    found = planned(shop.garage)

    laid_up = (date(2026, 12, 1), date(2027, 4, 1))
    assert not [v for v in found.plan.visits if laid_up[0] <= v.on <= laid_up[1]]


def test_a_booked_item_enters_with_the_base_it_will_have(shop: Shop) -> None:
    before = planned(shop.garage)
    oil = next(item for item in before.today.items if item.id.rule == "oil")
    first = before.plan.done_on(str(oil.id))[0]

    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["oil"]))

    after = planned(shop.garage)
    assert [each.on for each in after.booked] == [date(2026, 12, 15)]
    again = after.plan.done_on(str(oil.id))
    assert all(each.on > date(2026, 12, 15) for each in again)
    assert not again or again[0].closes_on > first.closes_on


def test_a_refused_day_is_not_proposed(shop: Shop) -> None:
    day = planned(shop.garage).plan.visits[0].on

    shop.save(draft_refused(shop.garage, CAR, day.isoformat()))

    found = planned(shop.garage)
    assert day not in {visit.on for visit in found.plan.visits}
    assert found.refused == (day,)


def test_own_checks_and_what_has_no_record_are_left_out_and_counted(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "coolant", on="-"))

    found = planned(shop.garage)

    assert Left.NO_RECORD in found.of_car.left_out.values()
    assert Left.OWN_CHECK in found.of_car.left_out.values()


def test_a_second_booking_of_a_day_adds_to_the_first(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["oil"]))
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["brake-fluid"]))

    (visit,) = shop.table("visit")
    assert visit["state"] == "booked"
    assert [str(each).split("/")[0].split("@")[0] for each in _list(visit["items"])] != []
    assert len(_list(visit["items"])) == 2


def test_an_item_booked_for_two_days_is_told(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["oil"]))

    assert (
        "oil is booked for 2026-12-15, too"
        in draft_visit(shop.garage, CAR, "2026-12-22", ["oil"]).told
    )
    assert draft_visit(shop.garage, CAR, "2026-12-22", ["brake-fluid"]).told == ()


def _list(value: object) -> list[object]:
    assert isinstance(value, list)
    return value


def test_moving_a_visit_tells_what_goes_past_its_window(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["brake-fluid", "oil"]))

    draft = draft_moved(shop.garage, CAR, "2026-12-15", "2029-01-10")

    assert any(text.startswith("brake-fluid goes past its window on ") for text in draft.told)
    shop.save(draft)
    assert [each["on"] for each in shop.table("visit")] == ["2029-01-10"]


def test_a_visit_called_off_is_gone(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["oil"]))

    shop.save(draft_canceled(shop.garage, CAR, "2026-12-15", why="snow"))

    assert shop.table("visit") == []


def test_a_visit_done_is_a_job_with_its_items(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-11-25", ["oil"]))

    shop.save(draft_done(shop.garage, CAR, "2026-11-25", at="61010"))

    (visit,), *_, job = shop.table("visit"), *shop.table("job")
    assert visit["state"] == "done"
    assert visit["job"] == shop.ids("job")[-1]
    assert visit["items"] == job["items"]


@pytest.mark.parametrize(
    ("attempt", "sentence"),
    [
        (
            lambda garage: draft_visit(garage, CAR, "2026-11-01"),
            "DATE: 2026-11-01 is past; give a day from 2026-11-25 on",
        ),
        (
            lambda garage: draft_visit(garage, CAR, "2026-02-30"),
            "DATE: '2026-02-30' is no day: February 2026 has 28 days; give a day from 1 to 28",
        ),
        (
            lambda garage: draft_moved(garage, CAR, "2026-12-01", "2026-12-02"),
            "DATE: nothing is booked for tollgate on 2026-12-01; visit tollgate DATE books one",
        ),
        (
            lambda garage: draft_visit(garage, CAR, "2026-12-01", ["warp-core"]),
            "warp-core",
        ),
    ],
)
def test_what_cannot_be_is_refused(
    shop: Shop, attempt: Callable[[Garage], object], sentence: str
) -> None:
    with pytest.raises(BadInput) as error:
        attempt(shop.garage)

    assert sentence in " ".join(str(each) for each in error.value.faults)
    assert shop.table("visit") == []


def test_a_refused_day_cannot_be_booked(shop: Shop) -> None:
    shop.save(draft_refused(shop.garage, CAR, "2026-12-15"))

    with pytest.raises(BadInput) as error:
        draft_visit(shop.garage, CAR, "2026-12-15", ["oil"])

    assert str(error.value.faults[0]) == (
        "DATE: 2026-12-15 was refused; take another, or --cancel that"
    )


def test_the_weeks_hold_booked_and_proposed_visits(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["oil"], hours="3"))

    found = weeks_of(shop.garage, ask_all(shop.garage, [CAR]), may_go_on=lambda _: lambda: True)

    assert [(each.on, each.hours) for each in found.visits if each.is_booked] == [
        (date(2026, 12, 15), 3)
    ]
    assert found.booked_hours[date(2026, 12, 14)] == 3
    assert sum(each.unplaced for each in found.load.visits) == sum(
        each.short for each in found.load.over
    )


def test_one_item_of_a_booked_visit_is_moved_to_another_day(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["brake-fluid", "oil"]))

    draft = draft_item_moved(shop.garage, CAR, "oil", "2026-12-15", "2026-12-17")

    assert draft.title == "oil moved from 2026-12-15 to 2026-12-17"
    shop.save(draft)
    assert {str(each["on"]): len(_list(each["items"])) for each in shop.table("visit")} == {
        "2026-12-15": 1,
        "2026-12-17": 1,
    }


def test_a_visit_left_with_nothing_is_called_off(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["oil"]))

    shop.save(draft_item_moved(shop.garage, CAR, "oil", "2026-12-15", "2026-12-17"))

    assert [each["on"] for each in shop.table("visit")] == ["2026-12-17"]


@pytest.mark.parametrize(
    ("item", "to", "sentence"),
    [
        ("brake-fluid", "2026-12-17", "brake-fluid is not in the visit of 2026-12-15"),
        ("oil", "2026-12-15", "oil is in the visit of that day"),
        ("oil", "2026-11-01", "2026-11-01 is past"),
    ],
)
def test_an_item_that_cannot_be_moved_so_is_refused(
    shop: Shop, item: str, to: str, sentence: str
) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-12-15", ["oil"]))

    with pytest.raises(BadInput) as error:
        draft_item_moved(shop.garage, CAR, item, "2026-12-15", to)

    assert sentence in str(error.value.faults[0])


def test_a_visit_agreed_for_a_day_past_and_not_told_done_is_waiting(shop: Shop) -> None:
    shop.save(draft_visit(shop.garage, CAR, "2026-11-25", ["oil"]))

    later = open_garage(shop.garage.path, surroundings(date(2026, 11, 30)))

    found = planned(later)

    assert [each.on for each in found.waiting] == [date(2026, 11, 25)]
    assert found.booked == ()


def test_the_day_offered_is_the_visit_agreed_before_the_window_closes(shop: Shop) -> None:
    today = planned(shop.garage).today
    oil = next(item for item in today.items if item.id.rule == "oil")
    alone = day_to_book(shop.garage, today, [oil])

    shop.save(draft_visit(shop.garage, CAR, "2026-12-01", ["brake-fluid"]))

    agreed = day_to_book(shop.garage, planned(shop.garage).today, [oil])
    closes = window_days(oil, today).closes
    assert closes is not None
    assert alone <= closes
    assert agreed == date(2026, 12, 1)


def test_where_cars_may_come_sooner_more_fits(shop: Shop) -> None:
    """Six hours on a day of two, with the days before it free."""
    shop.save(draft_settings(shop.garage, {"hours": "mon:2,tue:2,wed:2,thu:2"}))
    shop.save(draft_visit(shop.garage, CAR, "2026-12-16", ["oil"], hours="6"))
    asked = ask_all(shop.garage, [CAR])

    short = [
        sum(
            each.unplaced
            for visit, each in zip(found.visits, found.load.visits, strict=True)
            if visit.is_booked
        )
        for days in (0, 2)
        for found in (
            weeks_of(shop.garage, asked, may_go_on=lambda _: lambda: True, days_sooner=days),
        )
    ]

    assert short == [4, 0]
