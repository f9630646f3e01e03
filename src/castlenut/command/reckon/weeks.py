"""reckon weeks: planned visits against the garage's hours."""

from collections.abc import Mapping
from datetime import date

from castlenut.command.reckon.fields import Answer, Field, Fields, Json, shown
from castlenut.command.reckon.kind import Kind, day, figure
from castlenut.command.reckon.visits_line import CALENDAR, read_calendar
from castlenut.domain.visits.line import MOST_DAYS
from castlenut.domain.visits.weeks import Over, Placed, Wanted, Week, load

_MOST_HOURS = 10_000.0
_MOST_VISITS = 2000

_VISIT = (
    Field("id", "the name of the visit"),
    Field("hours", "hours of work"),
    Field("from_on", "the first day the car can be in"),
    Field("by_on", "the last day its work must be done"),
)


def _answer(fields: Fields) -> Answer:
    calendar = read_calendar(fields)
    hours = fields.need_number("day_hours", most=_MOST_HOURS)
    if fields.has("day_hours") and not hours > 0 and not fields.faults:
        fields.fault("day_hours", "is 0", "give the hours of a day, all hands together")
    days = _days(fields)
    visits = _visits(fields)
    fields.check()
    found = load(visits, calendar, day_hours=hours, days=days)
    return {
        "visits": [_placed(each) for each in found.visits],
        "weeks": [_week(each) for each in found.weeks],
        "over": [_over(each) for each in found.over],
    }


def _days(fields: Fields) -> Mapping[date, float]:
    part = fields.members("days")
    found: dict[date, float] = {}
    for name in () if part is None else part.names:
        on = None if part is None else part.day_of(name, name)
        hours = None if part is None else part.number(name, most=_MOST_HOURS)
        if on is not None and hours is not None:
            found[on] = hours
        elif on is not None and part is not None and not part.has(name):
            part.fault(name, "is null", "give its hours, 0 when it is closed")
    return found


def _visits(fields: Fields) -> list[Wanted]:
    found: list[Wanted] = []
    parts = fields.parts("visits", _VISIT, named_by="id")
    if len(parts) > _MOST_VISITS:
        fields.fault("visits", f"holds {len(parts)}", f"give {_MOST_VISITS:,} at the most")
        return []
    for part in parts:
        name = part.need_text("id")
        if any(each.id == name for each in found):
            part.fault("id", f"{shown(name)} is there twice", "name each visit once")
        begin, end = part.day("from_on"), part.day("by_on")
        if begin is not None and end is not None and end < begin:
            part.fault("by_on", "is before from_on", "let its window close after it opens")
        found.append(
            Wanted(
                id=name,
                hours=part.need_number("hours", most=_MOST_HOURS),
                from_on=begin or date.min,
                by_on=end or date.min,
            )
        )
    return found


def _placed(each: Placed) -> Json:
    return {
        "id": each.id,
        "work": [[day(stint.on), figure(stint.hours)] for stint in each.work],
        "unplaced": figure(each.unplaced),
    }


def _week(each: Week) -> Json:
    return {
        "monday": day(each.monday),
        "hours": figure(each.hours),
        "capacity": figure(each.capacity),
        "share": figure(each.share),
    }


def _over(each: Over) -> Json:
    return {
        "from_on": day(each.from_on),
        "by_on": day(each.by_on),
        "hours": figure(each.hours),
        "capacity": figure(each.capacity),
        "short": figure(each.short),
        "visits": list(each.visits),
    }


KIND = Kind(
    name="weeks",
    summary=f"planned visits of many cars against the hours there are, {MOST_DAYS:,} days at most",
    fields=(
        *CALENDAR,
        Field("day_hours", "hours of an open day, all hands together"),
        Field("days", "an object of days and their hours, where they differ", optional=True),
        Field("visits", "a list of objects: id, hours, from_on, by_on"),
    ),
    answers=(
        Field("visits", "id, work by day, and the hours unplaced"),
        Field("weeks", "monday, hours, capacity, share of every week"),
        Field("over", "spans with more asked than there is, and their visits"),
    ),
    answer=_answer,
)
