"""Laws of the feed's file: the same bytes for the same records, identities stay, dates are calm."""

import os
import random
import subprocess
import sys
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from itertools import pairwise
from math import ceil

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.frozen import replace
from castlenut.domain.item import Item
from castlenut.domain.working import Binds, State
from castlenut.feed.churn import published_day
from castlenut.feed.feeds import GARAGE_FEED, Feed, owner_feed, vehicle_feed
from castlenut.feed.ledger import Ledger
from castlenut.feed.ledger_values import ledger_of, values_of
from castlenut.feed.publish import Published
from castlenut.feed.text import cut, lines_of, one_line
from castlenut.feed.week import as_of
from tests.feed.made import MONDAY, NOW, VEHICLE_ID, car, item, no_record, published, rule
from tests.feed.raw import assert_sound, events
from tests.laws.examples import examples

OTHER_ID = "22222222-2222-7222-8222-222222222222"
FEEDS = (GARAGE_FEED, vehicle_feed(VEHICLE_ID), owner_feed("Ada Fennimore"))
PLACES = ("", "LF", "RF", "LR", "RR")


@st.composite
def items(draw: st.DrawFn) -> tuple[Item, ...]:
    """Give a car's items as the reckoning might: each rule and place once."""
    found = []
    keys = draw(
        st.lists(
            st.tuples(st.integers(0, 4), st.sampled_from(PLACES)),
            unique=True,
            min_size=1,
            max_size=8,
        )
    )
    for number, where in keys:
        of = rule(f"rule-{number}", f"job {number}", own=number == 4, tolerance=number % 2 * 10)
        if draw(st.integers(0, 9)) == 0:
            found.append(no_record(of=of, where=where))
            continue
        left = draw(st.integers(-500, 700))
        state = State.AHEAD if left > 20 else State.DUE if left > -20 else State.OVERDUE
        found.append(
            item(
                (MONDAY + timedelta(days=left)).isoformat(),
                of=of,
                where=where,
                base=draw(st.sampled_from(["job-1", "job-2"])),
                binds=draw(st.sampled_from([Binds.DATE, Binds.DISTANCE])),
                state=state,
            )
        )
    return tuple(found)


def shifted(of: Sequence[Item], days: int) -> tuple[Item, ...]:
    """Give the items as a reading leaves them that moves what goes by distance."""
    moved = []
    for each in of:
        band = each.expected
        if each.binds is Binds.DISTANCE and band.p50 is not None:
            natural = band.p50 + timedelta(days=days)
            each = replace(each, expected=replace(band, p10=natural, p50=natural, p90=natural))  # noqa: PLW2901
        moved.append(each)
    return tuple(moved)


def uids(made: Published) -> set[str]:
    return {uid for uid, entry in made.ledger.events.items() if entry.gone_on is None}


@given(items(), st.integers(0, 6), st.integers(0, 86_399), st.randoms(use_true_random=False))
@examples(40)
def test_same_records_and_ledger_in_a_week_give_the_same_bytes(
    of: tuple[Item, ...], days: int, seconds: int, order: random.Random
) -> None:
    """Law 1: any day, any hour, records in any order: identical bytes."""
    mixed = list(of)
    order.shuffle(mixed)
    later = NOW + timedelta(days=days, seconds=seconds)

    for feed in FEEDS:
        first = published(car(*of), feed=feed)
        second = published(car(*mixed), feed=feed, ledger=first.ledger, now=later)

        assert second.data == first.data
        assert second.ledger == first.ledger


def test_the_process_has_no_say_in_the_bytes() -> None:
    """Law 1: any process hash seed."""
    script = (
        "import sys, hashlib\n"
        "from tests.feed.made import car, item, published, rule\n"
        "made = published(car(*(item('2027-06-12', of=rule(f'r{n}', f'job {n}'))"
        " for n in range(9))))\n"
        "sys.stdout.write(hashlib.sha256(made.data).hexdigest())\n"
    )

    digests = {
        subprocess.run(
            [sys.executable, "-c", script],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("0", "1", "4711")
    }

    assert len(digests) == 1


@given(items())
@examples(40)
def test_settling_twice_is_settling_once(of: tuple[Item, ...]) -> None:
    """Law 2, and the ledger survives being written and read."""
    for feed in FEEDS:
        first = published(car(*of), feed=feed)
        kept = ledger_of(values_of(first.ledger))
        second = published(car(*of), feed=feed, ledger=kept, now=NOW + timedelta(minutes=5))

        assert second.ledger == first.ledger


@given(items(), items(), st.integers(-60, 60))
@examples(40)
def test_a_reading_of_one_vehicle_changes_no_event_of_another(
    of: tuple[Item, ...], others: tuple[Item, ...], days: int
) -> None:
    """Law 3: the garage's open-work event excepted."""
    other = car(*others, id_=OTHER_ID, name="Red coupe")
    first = published(car(*of), other)

    second = published(car(*shifted(of, days)), other, ledger=first.ledger, now=NOW)

    for uid, entry in first.ledger.events.items():
        if entry.scope.subject == OTHER_ID:
            assert second.ledger.events[uid] is entry


@given(items(), st.integers(-30, 30))
@examples(40)
def test_readings_and_renaming_change_no_uid(of: tuple[Item, ...], days: int) -> None:
    """Law 4: of what stays in view; a rule edited under its id is renamed here too."""
    near = [
        each
        for each in of
        if each.expected.p50 and abs((each.expected.p50 - MONDAY).days - 50) < 250
    ]
    edited = tuple(
        replace(each, rule=replace(each.rule, title="another title"))
        for each in shifted(near, days)
    )

    first = published(car(*near))
    second = published(car(*edited, name="Renamed"), ledger=first.ledger)

    of_items = {uid for uid in uids(first) if first.ledger.events[uid].scope.kind.value == "item"}
    assert of_items == {
        uid for uid in uids(second) if second.ledger.events[uid].scope.kind.value == "item"
    }


@given(st.integers(-300, 500))
@examples(30)
def test_done_makes_a_new_event_and_undo_brings_the_old_one_back(left: int) -> None:
    """Law 5: the old UID with a higher SEQUENCE."""
    on = (MONDAY + timedelta(days=left)).isoformat()
    open_, done = car(item(on, base="job-1")), car(item("2027-09-01", base="job-2"))
    vehicle = vehicle_feed(VEHICLE_ID)

    first = published(open_, feed=vehicle)
    second = published(done, feed=vehicle, ledger=first.ledger, now=NOW + timedelta(minutes=1))
    third = published(open_, feed=vehicle, ledger=second.ledger, now=NOW + timedelta(minutes=2))

    def item_uids(made: Published) -> set[str]:
        ledger = made.ledger
        return {uid for uid in uids(made) if ledger.events[uid].scope.kind.value == "item"}

    assert not item_uids(first) & item_uids(second)
    assert item_uids(first) == item_uids(third)
    for uid in item_uids(first):
        assert third.ledger.events[uid].sequence > first.ledger.events[uid].sequence


@given(items(), st.lists(st.tuples(st.integers(-90, 90), st.integers(0, 300)), max_size=6))
@examples(40)
def test_the_sequence_rises_with_every_change_and_the_stamp_tells_each(
    of: tuple[Item, ...], moves: list[tuple[int, int]]
) -> None:
    """Law 6: SEQUENCE never falls; DTSTAMP changes if and only if the event does."""
    ledger, now = Ledger(), NOW
    before: dict[str, dict[str, str]] = {}
    for days, seconds in [(0, 0), *moves]:
        now += timedelta(seconds=seconds)
        made = published(car(*shifted(of, days)), ledger=ledger, now=now)
        ledger = made.ledger
        assert made.data is not None
        found = {each["UID"]: each for each in events(made.data)}
        for uid, each in found.items():
            old = before.get(uid)
            if old is None:
                continue
            is_same = {**old, "DTSTAMP": "", "LAST-MODIFIED": "", "SEQUENCE": ""} == {
                **each,
                "DTSTAMP": "",
                "LAST-MODIFIED": "",
                "SEQUENCE": "",
            }
            if is_same and old["SEQUENCE"] == each["SEQUENCE"]:
                assert old == each
            else:
                assert int(each["SEQUENCE"]) > int(old["SEQUENCE"])
                assert each["DTSTAMP"] != old["DTSTAMP"]
        before = {**before, **found}


@given(
    st.dates(date(2026, 1, 1), date(2029, 12, 31)),
    st.none() | st.dates(date(2026, 1, 1), date(2029, 12, 31)),
    st.dates(date(2026, 1, 1), date(2029, 12, 31)),
)
def test_a_settled_day_is_within_the_margins_or_reached(
    natural: date, before: date | None, today: date
) -> None:
    """Law 7: after `settle` D is within rule 3 of N, or N is past; settling again moves nothing."""
    day = published_day(natural, before, is_exact=False, as_of=today)

    if natural <= today:
        assert day <= today
    else:
        left = max((day - today).days, 0)
        assert day - timedelta(days=max(3, ceil(0.1 * left))) <= natural
        assert natural <= day + timedelta(days=max(7, ceil(0.2 * left)))
    assert published_day(natural, day, is_exact=False, as_of=today) == day


@given(items(), items())
@examples(40)
def test_uids_are_unique_in_each_feed(of: tuple[Item, ...], others: tuple[Item, ...]) -> None:
    """Law 8, and every feed is a sound file with at least one event."""
    other = car(*others, id_=OTHER_ID, name="Red coupe")
    for feed, cars in (
        (GARAGE_FEED, (car(*of), other)),
        (vehicle_feed(VEHICLE_ID), (car(*of),)),
        (owner_feed("Ada Fennimore"), (car(*of), other)),
    ):
        made = published(*cars, feed=feed)

        assert made.data is not None
        assert_sound(made.data)
        found = [each["UID"] for each in events(made.data)]
        assert found
        assert len(found) == len(set(found))


@given(items())
@examples(40)
def test_a_lost_ledger_gives_the_same_uids_and_no_lower_sequence(of: tuple[Item, ...]) -> None:
    """Law 9: lost a day later."""
    for feed in FEEDS:
        first = published(car(*of), feed=feed)
        anew = published(car(*of), feed=feed, now=NOW + timedelta(days=1))

        assert uids(first) == uids(anew)
        for uid in uids(first):
            assert anew.ledger.events[uid].sequence >= first.ledger.events[uid].sequence


def test_dates_are_calm_over_a_year_of_drifting_readings() -> None:
    """Law 11: at most 0.5 moves a reading; 200 events, readings every 1 to 6 weeks, drift of 5 %.

    The chance is seeded: an invented car drives 25 units a day and is read now and then.
    """
    chance = random.Random(20261123)
    moves = readings = 0
    for _ in range(200):
        due = date(2027, 6, 1) + timedelta(days=chance.randrange(300))
        day: date | None = None
        today = MONDAY
        rate = 1.0
        while today < MONDAY + timedelta(days=365) and today < due:
            rate = min(max(rate + chance.gauss(0, 0.02), 0.85), 1.15)
            natural = today + timedelta(days=round((due - today).days / rate))
            before, day = day, published_day(natural, day, is_exact=False, as_of=today)
            readings += 1
            moves += before is not None and before != day
            today += timedelta(days=chance.randrange(7, 43))

    assert moves / readings <= 0.5


def test_time_alone_moves_a_date_seldom() -> None:
    """Law 11: at most 1.5 moves in an event's life without a record, as the margin shrinks."""
    chance = random.Random(7)
    moves = 0
    for _ in range(300):
        natural = MONDAY + timedelta(days=chance.randrange(30, 360))
        left = (natural - MONDAY).days
        day = natural + timedelta(days=round(chance.uniform(-0.16, 0.09) * left))
        days = []
        monday = MONDAY
        while monday <= natural:
            day = published_day(natural, day, is_exact=False, as_of=monday)
            days.append(day)
            monday += timedelta(days=7)
        moves += sum(before != after for before, after in pairwise(days))

    assert moves / 300 <= 1.5


@given(st.text(max_size=200))
def test_cleaning_twice_is_cleaning_once(text: str) -> None:
    """One function cleans every text, so that it may be cleaned on the way without harm."""
    assert one_line(one_line(text)) == one_line(text)
    assert lines_of("\n".join(lines_of(text))) == lines_of(text)


@given(st.text(alphabet="ab ,", max_size=60), st.integers(5, 40))
def test_a_cut_text_fits_and_begins_like_the_whole(text: str, longest: int) -> None:
    """A text that is cut ends with the mark, one that fits is left alone."""
    short = cut(text, longest)

    assert len(short) <= longest
    assert short == text or (short.endswith("…") and text.startswith(short[:-1]))


@given(st.dates(date(2020, 1, 1), date(2040, 1, 1)), st.none() | st.dates(date(2020, 1, 1)))
def test_the_day_reckoned_for_lies_in_this_week(today: date, latest: date | None) -> None:
    """As-of rule: from this Monday to this Sunday, whatever day of the week it is."""
    day = as_of(today, latest)

    monday = today - timedelta(days=today.weekday())
    assert monday <= day <= monday + timedelta(days=6)
    assert as_of(monday, latest) == day


def test_one_feed_is_made_from_the_real_clock_only_for_its_stamp() -> None:
    """`now` tells when, and nothing else: another instant gives other stamps and nothing more."""
    feed: Feed = vehicle_feed(VEHICLE_ID)
    one = published(car(item("2027-06-12")), feed=feed)
    other = published(
        car(item("2027-06-12")), feed=feed, now=datetime(2031, 1, 1, tzinfo=NOW.tzinfo)
    )

    assert one.data is not None
    assert other.data is not None
    unstamped = ({"DTSTAMP", "LAST-MODIFIED", "SEQUENCE"}, events(one.data), events(other.data))
    for before, after in zip(unstamped[1], unstamped[2], strict=True):
        assert {name: value for name, value in before.items() if name not in unstamped[0]} == {
            name: value for name, value in after.items() if name not in unstamped[0]
        }
