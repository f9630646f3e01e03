"""One feed as published: what goes in, what leaves, and when nothing is made anew."""

import hashlib
from datetime import date, timedelta

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.vehicle import Exposure
from castlenut.domain.working import Binds, State
from castlenut.feed.event import GarageFacts
from castlenut.feed.feeds import GARAGE_FEED, Feed, owner_feed, vehicle_feed
from castlenut.feed.ledger import Ledger
from castlenut.feed.publish import Published
from tests.feed.made import (
    FACTS,
    GARAGE_ID,
    MONDAY,
    NOW,
    VEHICLE_ID,
    car,
    item,
    no_record,
    published,
    rule,
)
from tests.feed.raw import assert_sound, events, header, plain

OWNER = owner_feed("Ada Fennimore")
VEHICLE = vehicle_feed(VEHICLE_ID)
NEXT_WEEK = MONDAY + timedelta(days=7)
OTHER_ID = "22222222-2222-7222-8222-222222222222"


def bytes_of(made: Published) -> bytes:
    assert made.data is not None
    assert_sound(made.data)
    return made.data


def titles(made: Published) -> list[str]:
    return [plain(each["SUMMARY"]) for each in events(bytes_of(made))]


# what goes in


def test_the_garage_sees_the_next_twelve_months_and_the_vehicle_eighteen() -> None:
    this = car(
        item("2027-11-30", of=rule("a", "axle oil, change")),
        item("2027-12-01", of=rule("b", "belts, renew")),
        item("2028-05-31", of=rule("c", "coolant, renew")),
        item("2028-06-01", of=rule("d", "drum brakes, adjust")),
    )

    assert titles(published(this)) == ["Blue wagon: axle oil, change"]
    assert titles(published(this, feed=VEHICLE)) == [
        "Blue wagon: axle oil, change",
        "Blue wagon: belts, renew",
        "Blue wagon: coolant, renew",
    ]


def test_an_event_is_word_for_word_the_same_in_the_garages_and_the_vehicles_feed() -> None:
    this = car(item("2027-06-12"))
    garage = published(this)

    vehicle = published(this, feed=VEHICLE, ledger=garage.ledger)

    assert events(bytes_of(garage)) == events(bytes_of(vehicle))


def test_what_is_open_stays_on_its_day_up_to_400_days_back() -> None:
    """400 days before Monday 23 November 2026 is 19 October 2025."""
    this = car(
        item("2025-10-19", of=rule("a", "axle oil, change"), state=State.OVERDUE),
        item("2025-10-18", of=rule("b", "belts, renew"), state=State.OVERDUE),
    )

    assert titles(published(this, feed=VEHICLE)) == [
        "Blue wagon: axle oil, change",
        "Blue wagon: 2 overdue",
    ]


def test_own_checks_are_for_the_owner_alone() -> None:
    this = car(item("2026-12-02", of=rule("p", "tire pressure", own=True), months=1))

    garage, owner = titles(published(this)), titles(published(this, feed=OWNER))

    assert garage == ["Nothing due"]
    # 24 October 2026 to 31 May 2028: November to May, both years' first Saturdays
    assert owner == ["Blue wagon: own checks, 1"] * 19


def test_a_sold_car_leaves_and_its_own_feed_says_nothing_due() -> None:
    before = published(car(item("2027-06-12")))

    sold = car(item("2027-06-12"), sold_on=date(2026, 11, 24))

    assert titles(published(sold, ledger=before.ledger)) == ["Nothing due"]
    assert titles(published(sold, feed=VEHICLE)) == ["Nothing due"]


def test_a_car_that_changes_owner_leaves_the_one_feed_and_joins_the_other() -> None:
    this = car(item("2027-06-12"))
    old = published(this, feed=OWNER)

    left = published(feed=OWNER, ledger=old.ledger)
    joined = published(this, feed=owner_feed("Rufus Gray"), ledger=left.ledger)

    assert titles(left) == ["Nothing due"]
    assert titles(joined) == ["Blue wagon: wheel bearings, repack"]
    assert events(bytes_of(joined))[0]["UID"] == events(bytes_of(old))[0]["UID"]


def test_an_owner_is_the_same_whatever_case_and_blanks() -> None:
    assert owner_feed("  ada   FENNIMORE ") == OWNER
    assert OWNER.id == "owner|ada fennimore"


# the open work


def test_open_work_spans_this_week_and_lists_the_worst_first() -> None:
    this = car(
        item("2026-10-01", of=rule("a", "axle oil, change"), state=State.DUE),
        item("2026-09-01", of=rule("b", "belts, renew"), state=State.OVERDUE),
        item("2026-08-01", of=rule("c", "brake fluid, renew", danger=1), state=State.OVERDUE),
        item(
            "2026-07-01",
            of=rule("d", "door drains, clear"),
            state=State.DECLINED,
            reckoned=State.OVERDUE,
        ),
        no_record(of=rule("e")),
        no_record(of=rule("f")),
    )

    made = bytes_of(published(this, feed=VEHICLE))

    (banner,) = [each for each in events(made) if each["CATEGORIES"] == "Open work"]
    assert (banner["DTSTART"], banner["DTEND"]) == ("20261123", "20261130")
    assert plain(banner["SUMMARY"]) == "Blue wagon: 2 overdue, 1 due"
    assert plain(banner["DESCRIPTION"]).split("\n") == [
        "overdue: brake fluid, renew, 1 Aug 2026",
        "overdue: belts, renew, 1 Sep 2026",
        "due: axle oil, change, 1 Oct 2026",
        "declined: door drains, clear, 1 Jul 2026",
        "2 items with no record",
    ]


def test_the_garages_open_work_counts_cars_and_the_vehicles_is_not_in_its_feed() -> None:
    one = car(item("2026-10-01", state=State.OVERDUE))
    other = car(item("2026-10-02", state=State.DUE), id_=OTHER_ID, name="Red coupe")

    made = events(bytes_of(published(one, other)))

    banners = [each for each in made if each["CATEGORIES"] == "Open work"]
    assert [plain(each["SUMMARY"]) for each in banners] == ["1 overdue, 1 due on 2 cars"]
    assert plain(banners[0]["DESCRIPTION"]).split("\n") == [
        "Blue wagon: overdue: wheel bearings, repack, 1 Oct 2026",
        "Red coupe: due: wheel bearings, repack, 2 Oct 2026",
    ]


def test_what_falls_due_this_week_is_not_yet_open_work() -> None:
    this = car(item("2026-11-23", state=State.DUE))

    assert titles(published(this)) == ["Blue wagon: wheel bearings, repack"]


def test_open_work_goes_by_the_published_day() -> None:
    """Its point was reached since, but on the phones it stands in December."""
    first = published(car(item("2026-12-20", binds=Binds.DISTANCE)))
    reached = car(item("2026-11-20", binds=Binds.DISTANCE, state=State.DUE), on=date(2026, 11, 25))

    second = published(reached, ledger=first.ledger)

    assert titles(second) == ["Blue wagon: wheel bearings, repack"]
    assert events(bytes_of(second))[0]["DTSTART"] == "20261125"


def test_thirty_open_occurrences_are_listed_to_twenty_five() -> None:
    this = car(
        *(
            item("2026-10-01", of=rule(f"r{n}", f"job {n:02}"), state=State.OVERDUE)
            for n in range(30)
        )
    )

    made = events(bytes_of(published(this, feed=VEHICLE)))

    text = plain(made[-1]["DESCRIPTION"]).split("\n")
    assert (len(text), text[-1]) == (26, "and 5 more")


def test_a_new_week_moves_the_open_work_under_its_uid() -> None:
    this = item("2026-10-01", state=State.OVERDUE)
    first = published(car(this))

    second = published(
        car(this, on=NEXT_WEEK),
        ledger=first.ledger,
        monday=NEXT_WEEK,
        now=NOW + timedelta(days=7),
    )

    before, after = events(bytes_of(first))[1], events(bytes_of(second))[1]
    assert before["UID"] == after["UID"]
    assert (before["DTSTART"], after["DTSTART"]) == ("20261123", "20261130")
    assert int(after["SEQUENCE"]) > int(before["SEQUENCE"])


def test_a_car_without_any_day_but_without_record_does_not_look_finished() -> None:
    this = car(no_record(of=rule("a")), no_record(of=rule("b")))

    assert titles(published(this)) == ["2 with no record"]
    assert titles(published(this, feed=VEHICLE)) == ["Blue wagon: 2 with no record"]


# nothing to show


def test_nothing_due_stands_on_the_day_the_feed_became_empty() -> None:
    first = published(car())

    second = published(
        car(on=NEXT_WEEK), ledger=first.ledger, monday=NEXT_WEEK, now=NOW + timedelta(days=7)
    )

    assert titles(first) == ["Nothing due"]
    assert events(bytes_of(first))[0]["DTSTART"] == "20261123"
    assert second.data == first.data


def test_nothing_due_leaves_when_something_is() -> None:
    first = published(car())

    second = published(car(item("2027-06-12")), ledger=first.ledger)

    assert titles(second) == ["Blue wagon: wheel bearings, repack"]


# what is made anew, and what not


def test_bytes_on_disk_that_are_the_same_are_not_made_again() -> None:
    this = car(item("2027-06-12"))
    first = published(this)
    digest = hashlib.sha256(bytes_of(first)).hexdigest()

    second = published(this, ledger=first.ledger, on_disk=digest, now=NOW + timedelta(days=2))

    assert second.data is None
    assert second.ledger == first.ledger
    assert (second.events, second.until) == (1, date(2027, 11, 30))


def test_a_file_that_was_changed_or_is_gone_is_made_again_with_the_same_bytes() -> None:
    this = car(item("2027-06-12"))
    first = published(this)

    for on_disk in (None, "0" * 64):
        again = published(this, ledger=first.ledger, on_disk=on_disk, now=NOW + timedelta(days=2))

        assert again.data == first.data
        assert again.ledger == first.ledger


def test_when_the_feed_changed_is_kept() -> None:
    first = published(car(item("2027-06-12")))

    second = published(car(item("2027-07-12")), ledger=first.ledger, now=NOW + timedelta(days=2))

    assert first.ledger.feeds["garage"].changed == NOW
    assert second.ledger.feeds["garage"].changed == NOW + timedelta(days=2)


# vehicles that cannot be read, and that are gone


@pytest.mark.parametrize("feed", [GARAGE_FEED, OWNER])
def test_a_car_that_cannot_be_read_keeps_its_events(feed: Feed) -> None:
    one, other = car(item("2027-06-12")), car(item("2027-07-12"), id_=OTHER_ID, name="Red coupe")
    first = published(one, other, feed=feed)

    second = published(
        other,
        feed=feed,
        ledger=first.ledger,
        readable=frozenset({OTHER_ID}),
        now=NOW + timedelta(days=1),
    )

    assert second.data == first.data


def test_the_open_work_of_the_garage_says_which_car_cannot_be_read() -> None:
    one = car(item("2026-10-01", state=State.OVERDUE))
    other = car(item("2026-10-08", state=State.OVERDUE), id_=OTHER_ID, name="Red coupe")
    first = published(one, other)

    second = published(other, ledger=first.ledger, readable=frozenset({OTHER_ID}))

    banner = next(each for each in events(bytes_of(second)) if each["CATEGORIES"] == "Open work")
    assert plain(banner["SUMMARY"]) == "1 overdue on 1 car, 1 car cannot be read"
    assert plain(banner["DESCRIPTION"]).splitlines() == [
        "Red coupe: overdue: wheel bearings, repack, 8 Oct 2026",
        "Blue wagon: cannot be read now",
    ]
    assert "Blue wagon: wheel bearings, repack" in titles(second)


def test_the_feed_of_a_car_that_cannot_be_read_keeps_its_name() -> None:
    first = published(car(item("2027-06-12"), name="Blue wagon of the quay"), feed=VEHICLE)

    second = published(feed=VEHICLE, ledger=first.ledger, readable=frozenset({OTHER_ID}))

    assert second.data == first.data


def test_a_car_taken_out_of_the_garage_leaves_the_feed() -> None:
    one, other = car(item("2027-06-12")), car(item("2027-07-12"), id_=OTHER_ID, name="Red coupe")
    first = published(one, other)

    second = published(other, ledger=first.ledger)

    assert titles(second) == ["Red coupe: wheel bearings, repack"]
    gone = [each for each in second.ledger.events.values() if each.gone_on is not None]
    assert [each.summary for each in gone] == ["Blue wagon: wheel bearings, repack"]


# names


@pytest.mark.parametrize(
    ("feed", "name", "car_name", "shown"),
    [
        (GARAGE_FEED, "Penmarrow Garage", "Blue wagon", "Penmarrow Garage – due"),  # noqa: RUF001
        (GARAGE_FEED, "  ", "Blue wagon", "Garage – due"),  # noqa: RUF001
        (GARAGE_FEED, "Penmarrow, Sons; Co\\", "x", "Penmarrow Sons Co – due"),  # noqa: RUF001
        (VEHICLE, "x", "Wendlecot Millrace 1956", "Wendlecot Millrace 1956 – due"),  # noqa: RUF001
        (OWNER, "Penmarrow Garage", "Blue wagon", "Penmarrow Garage – Blue wagon"),  # noqa: RUF001
    ],
)
def test_a_feed_has_a_name(feed: Feed, name: str, car_name: str, shown: str) -> None:
    facts = GarageFacts(id=GARAGE_ID, name=name)

    made = published(
        car(item("2027-06-12"), name=car_name),
        feed=feed,
        facts=facts,
    )

    head = header(bytes_of(made))
    assert f"NAME:{shown}" in head
    assert f"X-WR-CALNAME:{shown}" in head


def test_a_long_name_is_cut_to_sixty() -> None:
    made = published(car(item("2027-06-12"), name="Word " * 40), feed=VEHICLE)

    name = next(line for line in header(bytes_of(made)) if line.startswith("NAME:"))[5:]
    assert len(name) <= 60
    assert name.endswith("… – due")  # noqa: RUF001


@pytest.mark.parametrize(
    "name",
    [
        "\u65e5\u672c\u8a9e",
        'a;b,c\\d & "q"',
        "line\r\nbreak\u0085\u2028",
        "nul\x00 half \ud800",
        "   ",
        "x" * 5000,
        "\u202eright to left\u200f",
    ],
)
def test_a_nasty_name_anywhere_gives_a_sound_file(name: str) -> None:
    this = car(
        item(
            "2026-10-01",
            of=rule("a", name or "x", part=name, source=name, check=name),
            state=State.OVERDUE,
            part=name,
        ),
        item("2026-12-01", of=rule("b", name, own=True, check=name), months=1),
        name=name,
        owner=name,
    )
    facts = GarageFacts(id=GARAGE_ID, name=name, address=name, telephone=name)

    for feed in (GARAGE_FEED, VEHICLE, owner_feed(name)):
        assert_sound(bytes_of(published(this, feed=feed, facts=facts)))


# privacy


def test_the_owners_feed_holds_no_private_field() -> None:
    marker = "XPRIVATEX"
    bare = car(item("2026-10-01", state=State.OVERDUE, part=f"{marker}1"))
    vehicle = replace(
        bare.car.vehicle,
        owner=f"{marker}2",
        phone=f"{marker}3",
        plate=f"{marker}4",
        vin=f"{marker}5",
        note=f"{marker}6",
        slug="xprivatex7",
    )
    base = bare.items[0].baseline
    assert base is not None
    items = tuple(replace(each, baseline=replace(base, by=f"{marker}8")) for each in bare.items)
    notes = {RecordId("job-1"): f"{marker}9"}
    this = replace(bare, car=replace(bare.car, vehicle=vehicle, notes=notes), items=items)

    made = bytes_of(published(this, feed=owner_feed(f"{marker}2")))

    assert marker.casefold() not in made.decode().replace("\r\n ", "").casefold()


def test_the_garages_feed_holds_no_owner() -> None:
    this = car(item("2026-10-01", state=State.OVERDUE), owner="XPRIVATEX")

    assert b"XPRIVATEX" not in bytes_of(published(this)).replace(b"\r\n ", b"")


def test_the_ledger_is_not_touched_by_the_making() -> None:
    ledger = Ledger()

    published(car(item("2027-06-12")), ledger=ledger)

    assert ledger == Ledger()


def test_an_exposure_is_no_reason_to_hide_an_item() -> None:
    wet = Exposure(record=RecordId("x"), name="wet", since=date(2026, 1, 1))

    assert titles(published(car(item("2027-06-12"), exposures=[wet]), facts=FACTS)) == [
        "Blue wagon: wheel bearings, repack"
    ]
