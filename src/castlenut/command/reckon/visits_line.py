"""A line of reckon visits read into what is planned."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from itertools import pairwise
from time import monotonic

from castlenut.command.reckon.fields import Field, Fields, shown
from castlenut.domain.frozen import replace
from castlenut.domain.visits.line import (
    MOST_DAYS,
    MOST_ITEMS,
    AccessPrice,
    Calendar,
    Every,
    LatePrice,
    Line,
    NextFrom,
    PlannedItem,
    Span,
    Use,
    Weekday,
)
from castlenut.domain.visits.open_days import OpenDays

_MOST_HOURS = 1000.0
_MOST_MONEY = 1e9
_MOST_MONTHS = 1200
_MOST_SPAN = 36_500
_LAST_YEAR = 9000
_MOST_SECONDS = 3600.0

CALENDAR = (
    Field("today", "the first day, as 2031-01-06"),
    Field("until", "the last day"),
    Field("closed_weekdays", "a list of mon to sun, sat and sun without it", optional=True),
    Field("closed", "a list of days, or of first and last day in brackets", optional=True),
)
LINE = (
    *CALENDAR,
    Field("visit_cost", "what a visit costs"),
    Field("hourly_rate", "what an hour costs"),
    Field("laid_up", "a list of first and last day in brackets", optional=True),
    Field("day_hours", "hours worked a day, 8 without it", optional=True),
    Field("allow_late", "whether what has a price of lateness may be late", optional=True),
    Field("seconds", "time for the proof, 10 without it", optional=True),
    Field("use", "an object of dates, expected and fast: distance by day", optional=True),
    Field("access", "an object of accesses: hours, parts, under"),
    Field("items", "a list of objects"),
)
_USE = (
    Field("dates", "a list of days, rising"),
    Field("expected", "a list of distances"),
    Field("fast", "a list of distances"),
)
_ACCESS = (
    Field("hours", "hours to open and close"),
    Field("parts", "money", optional=True),
    Field("under", "what must be open first: a name or a list of names", optional=True),
)
_ITEM = (
    Field("id", "the name of the item"),
    Field("hours", "hours"),
    Field("parts", "money", optional=True),
    Field("access", "a list of names", optional=True),
    Field("due", "an object of on and at"),
    Field("every", "null for once, or an object of months or days, and distance", optional=True),
    Field("window", "an object of before_days, after_days and so on", optional=True),
    Field("next_from", "done (as without it) or schedule", optional=True),
    Field("safety_critical", "true or false", optional=True),
    Field("late", "an object of price_per_day and most_days", optional=True),
)
_DUE = (
    Field("on", "the day it is due", optional=True),
    Field("at", "the distance at which it is due", optional=True),
)
_EVERY = (
    Field("months", "calendar months", optional=True),
    Field("days", "days", optional=True),
    Field("distance", "the distance", optional=True),
)
_WINDOW = (
    Field("before_days", "days", optional=True),
    Field("after_days", "days", optional=True),
    Field("before_distance", "distance", optional=True),
    Field("after_distance", "distance", optional=True),
)
_LATE = (
    Field("price_per_day", "what a day late costs"),
    Field("most_days", "days late at the most"),
)


def may_go_on(fields: Fields) -> Callable[[], bool]:
    """Give whether there is still time for the proof, counted from now."""
    seconds = fields.number("seconds", most=_MOST_SECONDS)
    end = monotonic() + (10.0 if seconds is None else seconds)
    return lambda: monotonic() < end


def read_line(fields: Fields) -> Line:
    """Read a line; what was noted must be checked before it is used."""
    calendar = read_calendar(fields)
    access = _accesses(fields)
    use = _use(fields, calendar)
    hours = fields.number("day_hours", least=0.1, most=24)
    return Line(
        calendar=calendar,
        visit_cost=fields.need_number("visit_cost", most=_MOST_MONEY),
        hourly_rate=fields.need_number("hourly_rate", most=_MOST_MONEY),
        day_hours=8.0 if hours is None else hours,
        allow_late=fields.truth("allow_late") is True,
        use=use,
        access=access,
        items=_items(fields, access, has_use=fields.has("use")),
    )


def read_calendar(fields: Fields) -> Calendar:
    """Read which days there are, and note what is wrong with them."""
    today, until = fields.day("today"), fields.day("until")
    names = fields.texts("closed_weekdays")
    weekdays = {each.value: each for each in Weekday}
    for place, name in enumerate(names, start=1):
        if name not in weekdays:
            fields.fault(
                f"closed_weekdays[{place}]",
                f"{shown(name)} is no weekday",
                f"it may be {', '.join(weekdays)}",
            )
    closed = (
        frozenset(weekdays[name] for name in names if name in weekdays)
        if fields.has("closed_weekdays")
        else frozenset({Weekday.SAT, Weekday.SUN})
    )
    told = len(fields.faults)
    ranges = tuple(_ranges(fields, "closed", may_be_day=True))
    laid_up = tuple(_ranges(fields, "laid_up", may_be_day=False)) if fields.knows("laid_up") else ()
    if today is None or until is None:
        return Calendar(today=date.min, until=date.min)
    if until < today:
        fields.fault("until", "is before today", "give a day that is not before it")
        return Calendar(today=today, until=today)
    if until.year >= _LAST_YEAR:
        fields.fault("until", f"is after the year {_LAST_YEAR - 1}", "give an earlier day")
        return Calendar(today=date.min, until=date.min)
    if (until - today).days + 1 > MOST_DAYS:
        fields.fault(
            "until",
            f"makes {(until - today).days + 1:,} days",
            f"plan {MOST_DAYS:,} days at the most",
        )
        return Calendar(today=today, until=today)
    calendar = Calendar(
        today=today, until=until, closed_weekdays=closed, closed=ranges, laid_up=laid_up
    )
    if len(fields.faults) == told and not OpenDays(calendar).all:
        without = replace(calendar, laid_up=())
        what = "laid_up" if OpenDays(without).all else "closed"
        fields.fault(
            "closed_weekdays" if len(closed) == len(weekdays) else what,
            "leaves no open day",
            "leave one day open from today to until",
        )
    return calendar


def _ranges(fields: Fields, name: str, *, may_be_day: bool) -> list[tuple[date, date]]:
    found: list[tuple[date, date]] = []
    for place, value in enumerate(fields.rows(name, "days"), start=1):
        where = f"{name}[{place}]"
        if may_be_day and isinstance(value, str):
            day = fields.day_of(value, where)
            if day is not None:
                found.append((day, day))
            continue
        if not isinstance(value, list) or len(value) != 2:
            fields.fault(
                where, f"{shown(value)} is no range", "give first and last day in brackets"
            )
            continue
        first, last = (fields.day_of(each, where) for each in value)
        if first is None or last is None:
            continue
        if last < first:
            fields.fault(where, "ends before it begins", "give the first day, then the last")
            continue
        found.append((first, last))
    return found


def _use(fields: Fields, calendar: Calendar) -> Use | None:
    part = fields.part("use", _USE)
    if part is None:
        return None
    told = len(fields.faults)
    days = [
        part.day_of(value, f"dates[{place}]")
        for place, value in enumerate(part.rows("dates", "days"), start=1)
    ]
    expected, fast = part.numbers("expected"), part.numbers("fast")
    if len(fields.faults) > told:
        return None
    dates = [each for each in days if each is not None]
    if not dates:
        part.fault("dates", "holds no day", "give days from today or before to until or after")
        return None
    for name, values in (("expected", expected), ("fast", fast)):
        if len(values) != len(dates):
            part.fault(name, f"holds {len(values)} distances", f"give {len(dates)}, one a date")
        if any(after < before for before, after in pairwise(values)):
            part.fault(name, "falls", "give distances that do not fall")
    if any(after <= before for before, after in pairwise(dates)):
        part.fault("dates", "do not rise", "give each day once, the earliest first")
    elif calendar.today != date.min and dates[0] > calendar.today:
        part.fault("dates", "begin after today", "begin on today or before")
    elif calendar.today != date.min and dates[-1] < calendar.until:
        part.fault("dates", "end before until", "end on until or after")
    return Use(dates=tuple(dates), expected=tuple(expected), fast=tuple(fast))


def _accesses(fields: Fields) -> Mapping[str, AccessPrice]:
    part = fields.members("access")
    found: dict[str, AccessPrice] = {}
    for name in () if part is None else part.names:
        one = None if part is None else part.part(name, _ACCESS)
        if one is None:
            if part is not None and not part.has(name):
                part.fault(name, "is null", "give its hours")
            continue
        found[name] = AccessPrice(
            hours=one.need_number("hours", most=_MOST_HOURS),
            parts=one.number("parts", most=_MOST_MONEY) or 0.0,
            under=tuple(_under(one)),
        )
    for name, access in found.items():
        for under in access.under:
            if part is not None and under not in found:
                part.fault(f"{name}.under", f"{shown(under)} is no access", "name one of access")
    circle = _circle(found)
    if circle is not None and part is not None:
        part.fault(
            f"{circle}.under", "leads back to itself", "let nothing be under itself, round about"
        )
        return {name: AccessPrice(hours=each.hours) for name, each in found.items()}
    return {
        name: AccessPrice(
            hours=each.hours,
            parts=each.parts,
            under=tuple(under for under in each.under if under in found),
        )
        for name, each in found.items()
    }


def _under(one: Fields) -> Sequence[str]:
    value = one.value("under")
    if value is None:
        return ()
    if isinstance(value, str):
        return (value,)
    if isinstance(value, list) and all(isinstance(each, str) for each in value):
        return [str(each) for each in value]
    one.fault("under", f"{shown(value)} is no name", "give a name or a list of names")
    return ()


def _circle(access: Mapping[str, AccessPrice]) -> str | None:
    """Give an access that is under itself, if there is one."""
    for name in access:
        seen: set[str] = set()
        ahead = list(access[name].under)
        while ahead:
            under = ahead.pop()
            if under == name:
                return name
            if under in access and under not in seen:
                seen.add(under)
                ahead.extend(access[under].under)
    return None


def _items(
    fields: Fields, access: Mapping[str, AccessPrice], *, has_use: bool
) -> tuple[PlannedItem, ...]:
    parts = fields.parts("items", _ITEM, named_by="id")
    if len(parts) > MOST_ITEMS:
        fields.fault("items", f"holds {len(parts)} items", f"plan {MOST_ITEMS} at the most")
        return ()
    found: list[PlannedItem] = []
    for part in parts:
        name = part.need_text("id")
        if part.has("id") and not name.strip() and not part.faults:
            part.fault("id", "is empty", "give the name of the item")
        if any(each.id == name for each in found):
            part.fault("id", f"{shown(name)} is there twice", "name each item once")
        found.append(_item(part, name, access, has_use=has_use))
    return tuple(found)


def _item(
    part: Fields, name: str, access: Mapping[str, AccessPrice], *, has_use: bool
) -> PlannedItem:
    needs = part.texts("access")
    for each in needs:
        if each not in access:
            part.fault("access", f"{shown(each)} is no access", "name one of the line's access")
    due = part.part("due", _DUE)
    on = None if due is None else due.day("on")
    at = None if due is None else due.number("at")
    if due is not None and not due.has("on") and not due.has("at"):
        part.fault("due", "has no side", "give on, at or both")
    every = _every(part)
    window = _window(part)
    next_from = part.choice("next_from", NextFrom) or NextFrom.DONE
    is_safe = part.truth("safety_critical") is True
    late = _late(part)
    if at is not None and not has_use:
        part.fault("due.at", "is a distance without use", "give use, or a day only")
    if every is not None and every.distance is not None and not has_use:
        part.fault("every.distance", "is a distance without use", "give use, or days only")
    for side, span in (
        ("before_distance", window.before_distance),
        ("after_distance", window.after_distance),
    ):
        if span and not has_use:
            part.fault(f"window.{side}", "is a distance without use", "give use, or days only")
    if is_safe and (window.after_days or window.after_distance):
        side = "after_days" if window.after_days else "after_distance"
        part.fault(f"window.{side}", "is above 0 on a safety-critical item", "give 0")
    if is_safe and late is not None:
        part.fault("late", "is given for a safety-critical item", "leave it out")
    if late is not None and next_from is NextFrom.SCHEDULE:
        part.fault("late", "is given with next_from schedule", "leave one of them out")
    return PlannedItem(
        id=name,
        hours=part.need_number("hours", most=_MOST_HOURS),
        parts=part.number("parts", most=_MOST_MONEY) or 0.0,
        access=tuple(dict.fromkeys(each for each in needs if each in access)),
        due_on=on,
        due_at=at,
        every=every,
        window=window,
        next_from=next_from,
        is_safety_critical=is_safe,
        late=late,
    )


def _every(part: Fields) -> Every | None:
    if "every" not in part.names:
        part.fault("every", "is missing", "give an interval, or null for once")
    every = part.part("every", _EVERY)
    if every is None:
        return None
    months = every.whole("months", least=1, most=_MOST_MONTHS)
    days = every.whole("days", least=1, most=_MOST_SPAN)
    distance = every.number("distance", least=0.001)
    if not any(every.has(each) for each in ("months", "days", "distance")):
        part.fault("every", "has no side", "give months or days, distance, or null for once")
    if every.has("months") and every.has("days"):
        part.fault("every", "has both months and days", "give one of them")
    return Every(months=months, days=days, distance=distance)


def _window(part: Fields) -> Span:
    window = part.part("window", _WINDOW)
    if window is None:
        return Span()
    return Span(
        before_days=window.whole("before_days", least=0, most=_MOST_SPAN) or 0,
        after_days=window.whole("after_days", least=0, most=_MOST_SPAN) or 0,
        before_distance=window.number("before_distance") or 0.0,
        after_distance=window.number("after_distance") or 0.0,
    )


def _late(part: Fields) -> LatePrice | None:
    late = part.part("late", _LATE)
    if late is None:
        return None
    return LatePrice(
        price_per_day=late.need_number("price_per_day", most=_MOST_MONEY),
        most_days=late.need_whole("most_days", least=0, most=_MOST_SPAN),
    )


def cents(amount: float) -> float | int:
    """Give money as an answer holds it, to the cent."""
    rounded = round(amount, 2)
    return int(rounded) if rounded == int(rounded) else rounded


def names_of(fields: Fields, name: str, known: Sequence[str], what: str) -> frozenset[str]:
    """Read a list of names, and note those that are not known."""
    found = fields.texts(name)
    for place, each in enumerate(found, start=1):
        if each not in known:
            fields.fault(f"{name}[{place}]", f"{shown(each)} is {what}", "name one of the line's")
    return frozenset(found)
