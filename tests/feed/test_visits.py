"""Booked visits in the feeds: one event each, their items with none of their own."""

from datetime import date, timedelta

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.item import Item
from castlenut.domain.vehicle import VisitRecord, VisitState
from castlenut.domain.working import State
from castlenut.feed.event import Alarms
from castlenut.feed.feeds import owner_feed, vehicle_feed
from castlenut.feed.publish import Published
from castlenut.feed.uid import Audience, visit_uid
from tests.feed.made import (
    FACTS,
    GARAGE_ID,
    MONDAY,
    VEHICLE_ID,
    car,
    item,
    published,
    rule,
    with_alarms,
)
from tests.feed.raw import assert_sound, events, plain

OWNER = owner_feed("Ada Fennimore")
VEHICLE = vehicle_feed(VEHICLE_ID)


def with_visit(
    this: CarToday, on: str, *items: Item, state: VisitState = VisitState.BOOKED
) -> CarToday:
    visit = VisitRecord(
        record=RecordId("visit-1"),
        on=date.fromisoformat(on),
        state=state,
        items=tuple(each.id for each in items),
    )
    return replace(this, car=replace(this.car, visits=(visit,)))


def shown(made: Published) -> list[dict[str, str]]:
    assert made.data is not None
    assert_sound(made.data)
    return [{name: plain(value) for name, value in each.items()} for each in events(made.data)]


HUBS = (item("2027-01-12", where="LF"), item("2027-01-12", where="RF"))
OIL = item("2027-03-01", of=rule("oil", "oil and filter", part="Engine"), base="job-2")


def test_a_booked_visit_is_an_event_and_its_items_have_none() -> None:
    this = with_visit(car(*HUBS, OIL), "2026-12-10", *HUBS)

    found = shown(published(this, feed=VEHICLE))

    assert [each["SUMMARY"] for each in found] == [
        "Blue wagon: visit, 2 jobs",
        "Blue wagon: oil and filter",
    ]
    visit = found[0]
    assert visit["DTSTART"] == "20261210"
    assert visit["CATEGORIES"] == "Visit"
    assert visit["LOCATION"] == "3 Quay Lane"
    assert "wheel bearings, repack LF RF" in visit["DESCRIPTION"]
    assert visit["UID"] == visit_uid(GARAGE_ID, Audience.GARAGE, RecordId("visit-1"))


def test_an_item_left_out_of_the_visit_keeps_its_event() -> None:
    this = with_visit(car(*HUBS), "2026-12-10", HUBS[0])

    found = [each["SUMMARY"] for each in shown(published(this))]

    assert found == ["Blue wagon: visit, 1 job", "Blue wagon: wheel bearings, repack RF"]


def test_a_day_refused_and_a_visit_done_are_in_no_feed() -> None:
    for state in (VisitState.REFUSED, VisitState.DONE):
        this = with_visit(car(OIL), "2026-12-10", state=state)

        assert [each["SUMMARY"] for each in shown(published(this))] == [
            "Blue wagon: oil and filter"
        ]


def test_a_visit_for_nothing_in_particular_leaves_the_items_theirs() -> None:
    found = shown(published(with_visit(car(OIL), "2026-12-10")))

    assert [each["SUMMARY"] for each in found] == [
        "Blue wagon: visit",
        "Blue wagon: oil and filter",
    ]


def test_the_owner_is_reminded_the_week_before_and_the_day_before() -> None:
    this = with_visit(car(OIL), "2026-12-10", OIL)

    owner = published(this, feed=OWNER).ledger.events
    garage = published(this).ledger.events
    silent = published(this, facts=with_alarms(Alarms.NONE)).ledger.events

    assert [each.alarms for each in owner.values() if each.category == "Visit"] == [
        ("-P6DT15H", "-PT15H")
    ]
    assert [each.alarms for each in garage.values() if each.category == "Visit"] == [("-PT15H",)]
    assert [each.alarms for each in silent.values() if each.category == "Visit"] == [()]


def test_a_visit_moved_keeps_its_uid_and_takes_a_higher_sequence() -> None:
    first = published(with_visit(car(OIL), "2026-12-10", OIL))

    moved = published(with_visit(car(OIL), "2026-12-17", OIL), ledger=first.ledger)

    uid = visit_uid(GARAGE_ID, Audience.GARAGE, RecordId("visit-1"))
    assert moved.ledger.events[uid].start == date(2026, 12, 17)
    assert moved.ledger.events[uid].sequence > first.ledger.events[uid].sequence


def test_a_visit_long_past_and_not_closed_gives_its_items_back() -> None:
    late = MONDAY - timedelta(days=31)
    this = with_visit(car(OIL), late.isoformat(), OIL)

    assert [each["SUMMARY"] for each in shown(published(this))] == ["Blue wagon: oil and filter"]


def test_what_is_open_and_booked_is_listed_with_the_day_of_its_visit() -> None:
    overdue = item("2026-11-02", of=rule("oil", "oil and filter"), state=State.OVERDUE)
    this = with_visit(car(overdue), "2026-12-10", overdue)

    found = shown(published(this, feed=VEHICLE))

    (open_work,) = (each for each in found if each["CATEGORIES"] == "Open work")
    assert "overdue: oil and filter, visit 10 Dec 2026" in open_work["DESCRIPTION"]


def test_the_address_is_left_away_where_none_is_set() -> None:
    this = with_visit(car(OIL), "2026-12-10", OIL)

    found = shown(published(this, facts=with_alarms(Alarms.VISITS)))

    assert FACTS.address
    assert all("LOCATION" not in each for each in found)
