"""reckon interval: due point, window, what comes next, and how today stands to it."""

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind, day, figure
from castlenut.domain.interval import MOST_DAYS, MOST_DISTANCE, MOST_MONTHS, Interval, Point, scaled
from castlenut.domain.window import (
    NO_ALLOWANCE,
    Allowance,
    NextFrom,
    Window,
    binding_side,
    due_point,
    inside_at,
    inside_on,
    next_base,
    standing,
    window_around,
)

_EVERY = (
    Field("months", "calendar months", optional=True),
    Field("days", "days, instead of months", optional=True),
    Field("distance", "distance", optional=True),
)
_POINT = (
    Field("on", "a day", optional=True),
    Field("at", "a distance", optional=True),
)
_ALLOWANCE = (
    Field("percent", "percent of the interval"),
    Field("cap_days", "at most so many days", optional=True),
    Field("cap_distance", "at most so far", optional=True),
    Field("whole_months", "true: in whole calendar months", optional=True),
)


def _answer(fields: Fields) -> Answer:
    interval = _interval(fields)
    from_last, from_due = _point(fields, "last"), _point(fields, "due")
    if (from_last is None) == (from_due is None):
        fields.fault("last", "stands beside due" if from_last else "is missing", "give last or due")
    given_factor = fields.fraction("factor", least=0.01, most=1)
    tolerance = _allowance(fields, "tolerance") or NO_ALLOWANCE
    lead = _allowance(fields, "lead") or tolerance
    next_from = fields.choice("next_from", NextFrom) or NextFrom.DONE
    done = _point(fields, "done")
    today, at_today = fields.day("today"), fields.number("at_today")
    fields.check()
    if given_factor is not None:
        interval = scaled(interval, given_factor)
    due = (
        due_point(from_last, interval, next_from)
        if from_last
        else _counted(from_due or Point(), interval)
    )
    if due.on is None and due.at is None:
        fields.fault(
            "last" if from_last else "due", "gives no side that every counts", "give on or at"
        )
        fields.check()
    window = window_around(due.on, due.at, interval, lead=lead, tolerance=tolerance)
    answer: dict[str, Json] = {"due": _written(due), "window": _window(window)}
    if done is not None:
        answer["inside"] = {"on": inside_on(window, done.on), "at": inside_at(window, done.at)}
        base = next_base(done, due, window, next_from)
        answer["next"] = _written(due_point(base, interval, next_from))
    if today is not None or at_today is not None:
        stands = standing(window, today=today, at_today=at_today)
        binds = binding_side(due, window, interval, today=today, at_today=at_today)
        answer["state"] = stands.value if stands else None
        answer["left"] = {
            "days": (due.on - today).days if due.on and today else None,
            "distance": figure(due.at - at_today)
            if due.at is not None and at_today is not None
            else None,
        }
        answer["binds"] = binds.value if binds else None
    notes = _notes(fields, lead, tolerance)
    if notes:
        answer["notes"] = notes
    return answer


def _interval(fields: Fields) -> Interval:
    """Read `every`; a year stands for what cannot be read, until the faults are checked."""
    unread = Interval(months=12)
    part = fields.part("every", _EVERY)
    if part is None:
        return unread
    before = len(fields.faults)
    months = part.whole("months", least=1, most=MOST_MONTHS)
    days = part.whole("days", least=1, most=MOST_DAYS)
    distance = part.number("distance", least=0.001, most=MOST_DISTANCE)
    if months is not None and days is not None:
        part.fault("days", "stands beside months", "give one of the two")
    if months is None and days is None and distance is None and len(fields.faults) == before:
        fields.fault("every", "has no side", "give months, days or distance")
    if len(fields.faults) > before:
        return unread
    return Interval(months=months, days=days, distance=distance)


def _point(fields: Fields, name: str) -> Point | None:
    part = fields.part(name, _POINT)
    if part is None:
        return None
    if not part.has("on") and not part.has("at"):
        fields.fault(name, "has no side", "give on, at or both")
    return Point(on=part.day("on"), at=part.number("at"))


def _allowance(fields: Fields, name: str) -> Allowance | None:
    part = fields.part(name, _ALLOWANCE)
    if part is None:
        return None
    return Allowance(
        percent=part.fraction("percent", least=0, most=100) or NO_ALLOWANCE.percent,
        cap_days=part.whole("cap_days", least=0, most=MOST_DAYS),
        cap_distance=part.number("cap_distance"),
        whole_months=part.truth("whole_months") or False,
    )


def _counted(due: Point, interval: Interval) -> Point:
    """Give a due point without the side that the interval does not count."""
    return Point(
        on=due.on if interval.has_time else None,
        at=None if interval.distance is None else due.at,
    )


def _written(point: Point) -> Json:
    return {"on": day(point.on), "at": figure(point.at)}


def _window(window: Window) -> Json:
    return {
        "opens_on": day(window.opens_on),
        "closes_on": day(window.closes_on),
        "opens_at": figure(window.opens_at),
        "closes_at": figure(window.closes_at),
    }


def _notes(fields: Fields, lead: Allowance, tolerance: Allowance) -> list[Json]:
    """Say which reading of a calendar tolerance was used, once the line speaks of it."""
    return [
        f"{name}: {_IN_MONTHS if allowance.whole_months else _IN_DAYS}"
        for name, allowance in (("tolerance", tolerance), ("lead", lead))
        if (part := fields.part(name, _ALLOWANCE)) is not None and part.has("whole_months")
    ]


_IN_MONTHS = "counted in whole calendar months, a part of a month dropped"
_IN_DAYS = "counted in days of a 30-day month, a part of a day dropped"

KIND = Kind(
    name="interval",
    summary="due point, window, what comes next, and how today stands to it",
    fields=(
        Field("every", "an object with months or days, distance, or a time and distance"),
        Field("last", "an object with on, at: what is counted from", optional=True),
        Field("due", "an object with on, at: the due point, instead of last", optional=True),
        Field("factor", "one exposure factor, 0.01 to 1", optional=True),
        Field(
            "tolerance",
            "an object with percent, cap_days, cap_distance, whole_months: how late it closes",
            optional=True,
        ),
        Field("lead", "likewise: how early it opens; without it, as tolerance", optional=True),
        Field("next_from", "done (as without it), schedule, end of month", optional=True),
        Field("done", "an object with on, at: a job", optional=True),
        Field("today", "a day", optional=True),
        Field("at_today", "the distance today", optional=True),
    ),
    answers=(
        Field("due", "on, at"),
        Field("window", "opens_on, closes_on, opens_at, closes_at, all included"),
        Field("inside", "on, at: whether the job fell in the window", optional=True),
        Field("next", "on, at: the due point after the job", optional=True),
        Field("state", "ahead, due or overdue, of the due point given here", optional=True),
        Field("left", "days, distance to the due point", optional=True),
        Field("binds", "date or distance", optional=True),
        Field("notes", "which reading of whole_months was used", optional=True),
    ),
    answer=_answer,
)
