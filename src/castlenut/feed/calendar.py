"""The calendar file: entries of the ledger put into bytes, the same for the same entries.

The library is imported here alone, so that a feed in which nothing changed does not load it.
"""

from datetime import date, datetime, timedelta
from functools import lru_cache

from icalendar import Alarm, Calendar, Event, vCategory, vDDDTypes, vDuration, vInt, vText

from castlenut.domain.months import end_of_month_after
from castlenut.feed.candidate import ALARM_LEADS, Kind
from castlenut.feed.description import day
from castlenut.feed.ledger import Entry
from castlenut.feed.sheet import Rendered, Sheet

MOST_EVENTS = 1000
MOST_BYTES = 380_000
# No version number in it: an update of the program would change every feed.
_PRODID = "-//Castlenut//Feed//EN"
_REFRESH = timedelta(hours=6)
_END = b"END:VCALENDAR"
_CONFIRMED = vText("CONFIRMED")
# An opaque event of a whole day would block the day.
_TRANSPARENT = vText("TRANSPARENT")


def render(sheet: Sheet) -> Rendered:
    """Give the bytes of a feed.

    A feed of more than 1,000 events or 380,000 bytes shows less far ahead, month by month, and says
    so; what is open and what lies behind stays.
    """
    order = sorted(sheet.entries.items(), key=lambda pair: (pair[1].start, pair[0]))
    blocks = [(entry, _event(uid, entry).to_ical(sorted=False)) for uid, entry in order]
    until, head = sheet.until, _head(sheet, "")
    while _is_too_much(blocks, len(head)):
        until = end_of_month_after(until.replace(day=1), -1)
        head = _head(sheet, f"Shows to {day(until)}.")
        kept = [each for each in blocks if each[0].start <= until or each[0].scope.kind in _ALWAYS]
        if not any(entry.scope.kind not in _ALWAYS for entry, _ in kept):
            break
        blocks = kept
    body = b"".join(block for _, block in blocks)
    first, last = head[: head.index(_END)], head[head.index(_END) :]
    return Rendered(data=first + body + last, events=len(blocks), until=until)


_ALWAYS = {Kind.OPEN_WORK, Kind.EMPTY}


def _is_too_much(blocks: list[tuple[Entry, bytes]], head: int) -> bool:
    return len(blocks) > MOST_EVENTS or head + sum(len(block) for _, block in blocks) > MOST_BYTES


def _head(sheet: Sheet, caption: str) -> bytes:
    # Calendar.new() would add a UID, and vdirsyncer then takes the whole feed for one item.
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", _PRODID)
    calendar.add("calscale", "GREGORIAN")
    # Without vText the library writes these unescaped.
    calendar.add("name", vText(sheet.name))
    calendar.add("x-wr-calname", vText(sheet.name))
    if caption:
        calendar.add("x-wr-caldesc", vText(caption))
    calendar.add("refresh-interval", _REFRESH, parameters={"VALUE": "DURATION"})
    calendar.add("x-published-ttl", vDuration(_REFRESH))
    calendar.add("color", sheet.color)
    head: bytes = calendar.to_ical(sorted=False)
    return head


def _event(uid: str, entry: Entry) -> Event:
    event = Event()
    # Values are made here and set, not added: `add` looks up each one's type, at twice the cost.
    event["UID"] = vText(uid)
    # Equal on purpose: without METHOD they mean the same (RFC 5545 3.8.7.2).
    event["DTSTAMP"] = event["LAST-MODIFIED"] = _instant(entry.stamp)
    event["SEQUENCE"] = vInt(entry.sequence)
    event["DTSTART"] = _day(entry.start)
    event["DTEND"] = _day(entry.start + timedelta(days=entry.days))
    event["SUMMARY"] = vText(entry.summary)
    if entry.description:
        event["DESCRIPTION"] = vText(entry.description)
    if entry.location:
        event["LOCATION"] = vText(entry.location)
    event["CATEGORIES"] = vCategory([entry.category])
    event["STATUS"] = _CONFIRMED
    event["TRANSP"] = _TRANSPARENT
    for lead in entry.alarms:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", entry.summary)
        alarm.add("trigger", -ALARM_LEADS[lead])
        event.add_component(alarm)
    return event


@lru_cache(maxsize=1024)
def _day(day: date) -> vDDDTypes:
    return vDDDTypes(day)


@lru_cache(maxsize=1024)
def _instant(stamp: datetime) -> vDDDTypes:
    return vDDDTypes(stamp)
