"""A car's own notes and findings in the calendar: in their own words, not those of a rule."""

from decimal import Decimal

from castlenut.domain.car import Car, OwnItem
from castlenut.domain.findings import Decided, Finding
from castlenut.domain.item import Item
from castlenut.domain.place import place
from castlenut.feed import description
from castlenut.feed.event import occurrences
from tests.builders import MILES, book, car, day, reading, record, today

READINGS = (reading("2026-10-26", 61300), reading("2026-11-25", 61600))


def the_own(of: Car) -> Item:
    (item,) = (item for item in today(of, book(), "2026-11-25").items if item.id.rule == "own")
    return item


def test_a_note_waits_and_is_no_interval() -> None:
    note = OwnItem(
        record=record("note"),
        title="look at rear main seal",
        on=day("2026-11-25"),
        at=Decimal(61600),
        within="500mi",
    )

    item = the_own(car(own_items=[note], readings=READINGS))

    assert list(description.interval_lines(item, MILES)) == ["After 500 mi."]
    assert list(description.last_done_lines(item, MILES)) == ["Noted 25 Nov 2026 at 61,600 mi."]


def test_a_finding_is_seen_to_before_the_car_rolls() -> None:
    found = Finding(
        record=record("seam"),
        what="sill seam",
        on=day("2026-11-25"),
        at=Decimal(61600),
        decided=Decided.MEND,
    )

    item = the_own(car(findings=[found], readings=READINGS))

    assert list(description.interval_lines(item, MILES)) == ["Before it rolls."]
    assert list(description.last_done_lines(item, MILES)) == ["Found 25 Nov 2026 at 61,600 mi."]


def test_two_findings_of_one_day_are_two_events() -> None:
    found = [
        Finding(record=record(name), what=name, on=day("2026-11-25"), place=place(at))
        for name, at in (("crack", "LF"), ("leak", "rear"))
    ]

    told = occurrences(today(car(findings=found, readings=READINGS), book(), "2026-11-25"))

    assert sorted(each.title for each in told) == ["look at crack LF", "look at leak rear"]
