"""Visits in words: why each day, why each item that is early, and what cannot be kept."""

from collections.abc import Mapping, Sequence
from datetime import date
from types import MappingProxyType

from castlenut.domain.visits.at_risk import AtRisk
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import Doing, NotKept, Visit
from castlenut.domain.visits.together import Worth
from castlenut.words.days import spelled

_WEEK = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_LEAST_MONEY = 0.005
_AS_NAMED: Mapping[str, str] = MappingProxyType({})


def money(amount: float) -> str:
    """Give money to the cent."""
    return f"{amount:,.2f}"


def reasons(visit: Visit, line: Line, called: Mapping[str, str] = _AS_NAMED) -> tuple[str, ...]:
    """Give why a visit is on its day, then one sentence for every other item done in it.

    `called`: how items are called in a sentence; those not in it by their ids.
    """
    first = min(visit.doings, key=lambda each: (_last(each), each.occurrence.closes))
    others = [each for each in visit.doings if each is not first]
    others.sort(key=lambda each: each.occurrence.closes)
    return (
        _sets_the_day(first, visit, line, called.get(first.item, first.item)),
        *(_also_done(each, visit, line, called.get(each.item, each.item)) for each in others),
    )


def _last(doing: Doing) -> int:
    return doing.occurrence.last


def _sets_the_day(doing: Doing, visit: Visit, line: Line, name: str) -> str:
    on, closes = visit.on, date.fromordinal(doing.occurrence.closes)
    believed = _believed(doing, line)
    if not doing.occurrence.is_kept:
        return (
            f"{spelled(on)} because {name} closed on {spelled(closes)} with no open day left "
            f"for it, and this is the first open day since{believed}."
        )
    if on > closes:
        return (
            f"{spelled(on)} because {name} closed on {spelled(closes)}: {_days(on, closes)} "
            f"late costs less than a day of its own{believed}."
        )
    if on == closes:
        return f"{spelled(on)} because {name} closes first, on that day{believed}."
    if doing.occurrence.last == on.toordinal():
        return (
            f"{spelled(on)} because {name} closes first, on {_weekday(closes)} "
            f"{spelled(closes)}; {_weekday(on)} {spelled(on)} is the last open day it may be done "
            f"on{believed}."
        )
    return f"{spelled(on)} was chosen for {name}: {_early(doing)}{believed}."


def _also_done(doing: Doing, visit: Visit, line: Line, name: str) -> str:
    on, closes = visit.on, date.fromordinal(doing.occurrence.closes)
    believed = _believed(doing, line)
    if not doing.occurrence.is_kept:
        return (
            f"{name} closed on {spelled(closes)} with no open day left for it; this is the "
            f"first open day since{believed}."
        )
    if on > closes:
        return f"{name} is {_days(on, closes)} late, as that costs less{believed}."
    if doing.occurrence.last == on.toordinal():
        return f"{name} has its last open day then too{believed}."
    if doing.life < _LEAST_MONEY:
        return f"{name} is {_early(doing)}, giving up nothing of its life{believed}."
    return (
        f"{name} is {_early(doing)}, giving up {money(doing.life)} of its life: "
        f"{_against(doing)}{believed}."
    )


def _against(doing: Doing) -> str:
    if doing.life <= doing.alone:
        return f"less than a visit and access of its own, {money(doing.alone)}"
    return (
        f"a visit and access of its own would be {money(doing.alone)}, and would come sooner for "
        "the others"
    )


def _early(doing: Doing) -> str:
    due, on = date.fromordinal(doing.occurrence.due), doing.on
    if on < due:
        return f"done {_days(due, on)} early"
    return f"done {_days(date.fromordinal(doing.occurrence.last), on)} before its last day"


def _believed(doing: Doing, line: Line) -> str:
    if not doing.occurrence.is_by_distance:
        return ""
    is_safe = any(each.id == doing.item and each.is_safety_critical for each in line.items)
    return (
        ", by the early date of its distance (P10), as it is safety-critical"
        if is_safe
        else ", by the expected date of its distance (P50)"
    )


def not_kept(each: NotKept, line: Line, called: Mapping[str, str] = _AS_NAMED) -> str:
    """Give what stands in the way of an occurrence, and since when."""
    name = called.get(each.item, each.item)
    closes = date.fromordinal(each.occurrence.closes)
    after = (
        f"it is planned on {spelled(each.planned_on)}, the first open day after"
        if each.planned_on is not None
        else f"and none follows by {spelled(line.calendar.until)}, so it is not planned"
    )
    if closes < line.calendar.today:
        return f"{name} is past its window since {spelled(closes)}; {after}."
    return f"{name} closes on {spelled(closes)} and {_in_the_way(each, line)}; {after}."


def _in_the_way(each: NotKept, line: Line) -> str:
    calendar, days = line.calendar, OpenDays(line.calendar)
    closes = each.occurrence.closes
    before = days.last_by(closes)
    for first, last in calendar.laid_up:
        if first.toordinal() <= closes <= last.toordinal():
            return f"the car is laid up since {spelled(first)}"
    if before is None:
        return f"no day is open from {spelled(calendar.today)} on until then"
    return f"no day is open after {spelled(date.fromordinal(before))} until then"


def risk(each: AtRisk, called: Mapping[str, str] = _AS_NAMED) -> str:
    """Give what happens if the car is driven as much as it may be."""
    name = called.get(each.item, each.item)
    return (
        f"If the car is driven as much as it may be, {name} goes past its window on "
        f"{spelled(each.closes_on)}, before the visit of {spelled(each.on)}."
    )


def worth(each: Worth, called: Mapping[str, str] = _AS_NAMED) -> str:
    """Give what doing an item today saves and what it gives up."""
    name = called.get(each.item, each.item)
    early = f"{name} is done {_count(each.days_early)} early" if each.days_early else name
    saved = [*_saved(each)]
    lost = [*_lost(each)]
    told = early if each.days_early else f"{early} is on its last day"
    if saved:
        told += f"; saves {_listed(saved)}"
    if lost:
        told += f"; {'but ' if saved else ''}costs {_listed(lost)}"
    end = "worth" if each.net >= 0 else "not worth it by"
    return f"{told}: {end} {money(abs(each.net))}."


def _saved(each: Worth) -> Sequence[str]:
    found = []
    if each.visits_saved > 0:
        found.append(_visits(each.visits_saved))
    if each.access_saved > _LEAST_MONEY:
        found.append(f"{money(each.access_saved)} of opening ({each.hours_saved:.4g} h)")
    if each.life_given_up < -_LEAST_MONEY:
        found.append(f"{money(-each.life_given_up)} of life, as other things can wait")
    if each.late_saved > _LEAST_MONEY:
        found.append(f"{money(each.late_saved)} of being late")
    return found


def _lost(each: Worth) -> Sequence[str]:
    found = []
    if each.visits_saved < 0:
        found.append(f"{_visits(-each.visits_saved)} more")
    if each.access_saved < -_LEAST_MONEY:
        found.append(f"{money(-each.access_saved)} of opening ({-each.hours_saved:.4g} h)")
    if each.life_given_up > _LEAST_MONEY:
        found.append(f"{money(each.life_given_up)} of life given up")
    if each.late_saved < -_LEAST_MONEY:
        found.append(f"{money(-each.late_saved)} of being late")
    return found


def _listed(parts: Sequence[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _visits(count: int) -> str:
    return "a visit" if count == 1 else f"{count} visits"


def _weekday(day: date) -> str:
    return _WEEK[day.weekday()]


def _days(later: date, earlier: date) -> str:
    return _count((later - earlier).days)


def _count(days: int) -> str:
    return "1 day" if days == 1 else f"{days} days"
