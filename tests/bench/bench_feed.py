"""What a calendar feed costs: a thousand new events, and one that has not changed."""

import time
from datetime import timedelta
from pathlib import Path
from subprocess import DEVNULL, run

import pytest
from icalendar import Calendar, Event

from tests.bench import garages
from tests.bench.measuring import (
    Bench,
    Measure,
    cases,
    castlenut,
    cpu_of,
    environment,
    judge,
    main,
)
from tests.feed.made import MONDAY, NOW, car, item, published, rule

EVENTS = 1_000


def _ours(events: int) -> Measure:
    """Settle and render events that were never published.

    All lie within this week: a feed that grows too large looks less far ahead.
    """
    cars = [
        car(
            *(
                item(
                    (MONDAY + timedelta(days=1 + number % 5)).isoformat(),
                    of=rule(f"rule-{number}", f"part {number}, renew"),
                    where="LF",
                )
                for number in range(events // 10)
            ),
            id_=f"11111111-1111-7111-8111-{each:012d}",
            name=f"Invented car {each}",
        )
        for each in range(10)
    ]

    def settle_and_render() -> float:
        begun = time.process_time()
        made = published(*cars)
        taken = time.process_time() - begun
        assert made.events == events
        return taken

    return settle_and_render


def _plain() -> float:
    """Build as many events of nine properties with icalendar, and write them."""
    begun = time.process_time()
    calendar = Calendar()
    calendar.add("prodid", "-//plain//EN")
    calendar.add("version", "2.0")
    for number in range(EVENTS):
        event = Event()
        event.add("uid", f"event-{number}")
        event.add("dtstamp", NOW)
        event.add("last-modified", NOW)
        event.add("dtstart", MONDAY + timedelta(days=number % 300))
        event.add("summary", f"Invented car: part {number}, renew")
        event.add("description", "When it falls due, and why: the working line by line.\n" * 4)
        event.add("categories", ["Brakes"])
        event.add("sequence", 0)
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    calendar.to_ical()
    return time.process_time() - begun


def _unchanged(folder: Path) -> tuple[Measure, Measure]:
    """Write the feed of the sample fleet where it lies already; nothing has changed."""
    made = garages.sample(folder)
    write = castlenut(made.path, "feed", "write", str(folder / "fleet.ics"))
    run(write, env=environment(folder), stdout=DEVNULL, check=True)
    return cpu_of(write, folder), cpu_of(castlenut(made.path, "due", "--json"), folder)


BENCHES = (
    Bench(
        what="feed: settle and render 1,000 new events",
        against="icalendar: build and write 1,000 events of 9 properties",
        clock="cpu",
        goal=1.3,
        fail=1.6,
        sides=lambda _: (_ours(EVENTS), _plain),
    ),
    Bench(
        what="`feed write`, sample, nothing changed",
        against="`due --json`, sample",
        clock="cpu",
        goal=1.15,
        fail=1.4,
        sides=_unchanged,
    ),
    Bench(
        what="feed: 1,000 new events",
        against="the same, 500",
        clock="cpu",
        goal=2.1,
        fail=2.7,
        sides=lambda _: (_ours(EVENTS), _ours(EVENTS // 2)),
        raised="from 2.3; measured 2.06 to 2.50, either side spreading by 0.1 to 0.4",
    ),
)


@pytest.mark.parametrize("bench", cases(BENCHES))
def test_feed(bench: Bench, tmp_path: Path) -> None:
    judge(bench, tmp_path)


if __name__ == "__main__":
    main(BENCHES)
