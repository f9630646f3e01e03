"""The bytes of a feed: what other programs read of them, and what stands in them."""

import shutil
import subprocess
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import icalendar
import pytest
import recurring_ical_events
import vobject

from castlenut.feed.calendar import MOST_BYTES, render
from castlenut.feed.candidate import WEEK_BEFORE, Kind, Scope
from castlenut.feed.feeds import vehicle_feed
from castlenut.feed.ledger import Entry
from castlenut.feed.sheet import Sheet
from tests.feed.made import VEHICLE_ID, car, item, published, rule
from tests.feed.raw import assert_sound, events, header, plain, unfolded

HERE = Path(__file__).parent
STAMP = datetime(2026, 11, 25, 13, 17, 5, tzinfo=UTC)
NASTY = [
    "\u65e5\u672c\u8a9e \u8eca",
    "a;b,c\\d",
    "\\n \\, \\;",
    "Fennimore & Sons <b>&amp;</b>",
    "\"quoted\" 'text'",
    "x" * 5000,
    "\u00e9\u00e8" * 200,
    "COLON:SEMI;COMMA,",
    "BEGIN:VEVENT",
    "end \\",
]


def entry(summary: str = "Blue wagon: oil", on: str = "2027-06-12", **changes: object) -> Entry:
    values: dict[str, object] = {
        "scope": Scope(kind=Kind.ITEM, audience="garage", subject="v-1"),
        "start": date.fromisoformat(on),
        "days": 1,
        "summary": summary,
        "description": "Due 12 Jun 2027.\nEvery 24 months.",
        "category": "Engine",
        "location": "",
        "alarms": (),
        "expected": "",
        "stamp": STAMP,
        "sequence": 3629597,
        **changes,
    }
    return Entry(**values)  # type: ignore[arg-type]  # by name


def sheet(*entries: Entry, name: str = "Penmarrow Garage – due") -> Sheet:  # noqa: RUF001
    return Sheet(
        feed="garage",
        name=name,
        color="darkorange",
        until=date(2027, 11, 30),
        entries={f"uid-{number:04}": each for number, each in enumerate(entries)},
    )


def nasty_sheet() -> Sheet:
    fold = ["x" * offset + "\u00f6" * 3 for offset in range(60, 81)]
    return sheet(
        *(
            entry(text, description=f"{text}\n{text}", category=text, location=text)
            for text in [*NASTY, *fold]
        ),
        name="\u65e5\u672c a b & \u00f6",
    )


# what other programs read


def as_settled(what: Sheet) -> set[tuple[str, date, str]]:
    return {(uid, each.start, each.summary) for uid, each in what.entries.items()}


@pytest.mark.parametrize("what", [sheet(entry(), entry(days=7)), nasty_sheet()])
def test_icalendar_reads_what_was_settled(what: Sheet) -> None:
    calendar = icalendar.Calendar.from_ical(render(what).data)

    assert not calendar.errors
    found = set()
    for event in calendar.walk("VEVENT"):
        assert not event.errors
        found.add((str(event["UID"]), event.decoded("DTSTART"), str(event["SUMMARY"])))
    assert found == as_settled(what)


@pytest.mark.parametrize("what", [sheet(entry(), entry(days=7)), nasty_sheet()])
def test_recurring_ical_events_reads_what_was_settled(what: Sheet) -> None:
    calendar = icalendar.Calendar.from_ical(render(what).data)

    between = recurring_ical_events.of(calendar).between(date(2026, 1, 1), date(2029, 1, 1))

    assert {
        (str(each["UID"]), each["DTSTART"].dt, str(each["SUMMARY"])) for each in between
    } == as_settled(what)


@pytest.mark.parametrize("what", [sheet(entry(), entry(days=7)), nasty_sheet()])
def test_vobject_reads_what_was_settled(what: Sheet) -> None:
    calendar = vobject.readOne(render(what).data.decode())

    assert {
        (each.uid.value, each.dtstart.value, each.summary.value) for each in calendar.vevent_list
    } == as_settled(what)


def test_ics_reads_what_was_settled() -> None:
    """With plain texts: its own parser of 0.7 stumbles over what the other readers take."""
    ics = pytest.importorskip("ics", reason="the reader `ics` is not installed")
    what = sheet(entry(), entry(days=7))

    calendar = ics.Calendar(render(what).data.decode())

    assert {(each.uid, each.begin.date(), each.name) for each in calendar.events} == as_settled(
        what
    )


@pytest.mark.skipif(shutil.which("calcurse") is None, reason="calcurse is not installed")
def test_calcurse_takes_every_event(tmp_path: Path) -> None:
    what = nasty_sheet()
    file = tmp_path / "feed.ics"
    file.write_bytes(render(what).data)

    imported = subprocess.run(
        ["calcurse", "-D", str(tmp_path / "book"), "-i", str(file)],
        capture_output=True,
        text=True,
        check=True,
        env={"LC_ALL": "C.UTF-8", "PATH": "/usr/bin:/bin", "HOME": str(tmp_path)},
    )

    assert f"{len(what.entries)} apps / 0 events" in imported.stdout or (
        f"0 apps / {len(what.entries)} events" in imported.stdout
    )
    assert "0 skipped" in imported.stdout


# what stands in them


@pytest.mark.parametrize("what", [sheet(entry(alarms=(WEEK_BEFORE,))), nasty_sheet()])
def test_every_line_is_sound(what: Sheet) -> None:
    assert_sound(render(what).data)


def test_texts_come_back_to_the_letter() -> None:
    what = nasty_sheet()

    found = {each["UID"]: each for each in events(render(what).data)}

    for uid, each in what.entries.items():
        assert plain(found[uid]["SUMMARY"]) == each.summary
        assert plain(found[uid]["DESCRIPTION"]) == each.description
        assert plain(found[uid]["CATEGORIES"]) == each.category
        assert plain(found[uid]["LOCATION"]) == each.location


def test_the_head_holds_each_property_once_and_no_other() -> None:
    assert header(render(sheet(entry())).data) == [
        "VERSION:2.0",
        "PRODID:-//Castlenut//Feed//EN",
        "CALSCALE:GREGORIAN",
        "NAME:Penmarrow Garage – due",  # noqa: RUF001
        "X-WR-CALNAME:Penmarrow Garage – due",  # noqa: RUF001
        "REFRESH-INTERVAL;VALUE=DURATION:PT6H",
        "X-PUBLISHED-TTL:PT6H",
        "COLOR:darkorange",
    ]


def test_an_event_of_a_week_ends_on_the_day_after_its_last() -> None:
    (found,) = events(render(sheet(entry(on="2026-11-23", days=7))).data)

    assert (found["DTSTART"], found["DTEND"]) == ("20261123", "20261130")


def test_an_event_holds_these_properties_and_no_other() -> None:
    (found,) = events(render(sheet(entry())).data)

    assert found == {
        "UID": "uid-0000",
        "DTSTAMP": "20261125T131705Z",
        "LAST-MODIFIED": "20261125T131705Z",
        "SEQUENCE": "3629597",
        "DTSTART": "20270612",
        "DTEND": "20270613",
        "SUMMARY": "Blue wagon: oil",
        "DESCRIPTION": "Due 12 Jun 2027.\\nEvery 24 months.",
        "CATEGORIES": "Engine",
        "STATUS": "CONFIRMED",
        "TRANSP": "TRANSPARENT",
    }


def test_an_alarm_shows_the_title_before_the_start() -> None:
    lines = unfolded(render(sheet(entry(alarms=(WEEK_BEFORE,)))).data)

    first = lines.index("BEGIN:VALARM")
    assert lines[first : first + 5] == [
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        "DESCRIPTION:Blue wagon: oil",
        "TRIGGER:-P6DT15H",
        "END:VALARM",
    ]


def test_events_stand_in_order_of_start_then_uid() -> None:
    what = sheet(entry(on="2027-07-01"), entry(on="2027-06-01"), entry(on="2027-06-01"))

    assert [each["UID"] for each in events(render(what).data)] == [
        "uid-0001",
        "uid-0002",
        "uid-0000",
    ]


def test_one_small_car_gives_these_bytes() -> None:
    """The file as a phone gets it, whole: a changed byte is a changed product."""
    blue = car(
        item("2027-06-12", where="LF"),
        item("2027-06-12", where="RF"),
        item(
            "2026-12-15", of=rule("timing-belt", "timing belt, renew", part="Engine", tolerance=0)
        ),
    )

    made = published(blue, feed=vehicle_feed(VEHICLE_ID)).data

    assert made == (HERE / "blue_wagon.ics").read_bytes()


# limits


def many(count: int, length: int) -> Sheet:
    first = date(2026, 12, 1)
    return sheet(
        *(
            entry(
                on=(first + timedelta(days=number % 365)).isoformat(),
                description="x" * length,
            )
            for number in range(count)
        )
    )


def test_a_feed_over_its_bytes_shows_less_far_ahead_and_says_so() -> None:
    """Three a day: 546 to the end of May, of over 700 bytes each, are too many; 453 are not."""
    rendered = render(many(1000, 450))

    assert len(rendered.data) <= MOST_BYTES
    assert rendered.until == date(2027, 4, 30)
    assert "X-WR-CALDESC:Shows to 30 Apr 2027." in header(rendered.data)
    assert rendered.events == len(events(rendered.data))
    assert max(each["DTSTART"] for each in events(rendered.data)) == "20270430"


def test_a_feed_over_its_count_shows_less_far_ahead() -> None:
    """Four a day for 105 days, then three: 1,017 to the end of September, 927 to that of August."""
    rendered = render(many(1200, 0))

    assert (rendered.events, rendered.until) == (927, date(2027, 8, 31))


def test_a_feed_at_its_count_is_whole() -> None:
    rendered = render(many(1000, 0))

    assert (rendered.events, rendered.until) == (1000, date(2027, 11, 30))


def test_what_is_open_stays_in_a_feed_cut_back() -> None:
    banner = entry(
        on="2027-11-01",
        days=7,
        scope=Scope(kind=Kind.OPEN_WORK, audience="garage", subject="garage"),
    )
    crowded = many(1200, 0)

    rendered = render(
        Sheet(
            feed="garage",
            name=crowded.name,
            color=crowded.color,
            until=crowded.until,
            entries={**crowded.entries, "banner": banner},
        )
    )

    assert "banner" in {each["UID"] for each in events(rendered.data)}


def test_fifty_cars_of_twenty_dates_fit_and_see_eight_months_ahead() -> None:
    """A busy garage: 50 x 20 dates over 18 months, with texts of full length."""
    first = date(2026, 11, 23)
    busy = sheet(
        *(
            entry(
                on=(first + timedelta(days=(number * 541) % 540)).isoformat(),
                summary="Wendlecot Millrace…: wheel bearings, repack LF RF LR RR",
                description=("Due 12 Jun 2027 or at 84,500 km, whichever comes first. " * 6)[:300],
            )
            for number in range(1000)
        )
    )

    rendered = render(busy)

    assert len(rendered.data) <= 380_000
    assert rendered.until >= date(2027, 7, 31)
