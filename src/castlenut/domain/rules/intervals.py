"""Reading what makes a rule due: interval, variants, points, season, age, and the margins."""

from collections.abc import Collection, Mapping
from datetime import date
from fractions import Fraction
from functools import cache
from itertools import pairwise

from castlenut.domain.rules.conditions import read_where
from castlenut.domain.rules.distances import exact
from castlenut.domain.rules.fields import Table, as_fraction, meant, shown
from castlenut.domain.rules.rule import Age, AgeFrom, EventPoint, Every, Margin, Variant
from castlenut.domain.units import Unit

MOST_PERCENT = 50
CAP_DAYS = 30  # 7.01
CAP_MILES = Fraction(500)

_SIDES = ("miles", "km", "months", "days")
_LONGEST = 1_000_000
_LONGEST_MONTHS = 1200
_LONGEST_DAYS = 36_600
_EXAMPLE = "{ miles = 6000, months = 6 }"
_POINTS = '["wheel-off@50"]'
_LEAP_YEAR = 2000  # a season may begin on 29 February

Attributes = Mapping[str, tuple[str, ...]]


def read_every(table: Table, unit: Unit) -> Every | None:
    """Read `every = { miles or km, months or days }`, its distance in the rule's unit."""
    given = table.table("every", _EXAMPLE)
    if given is None:
        return None
    given.only(_SIDES, "not a side of an interval")
    for one, other in (("miles", "km"), ("months", "days")):
        if one in given and other in given:
            given.fault(other, f"stands beside {one}", "give one of the two")
    sides = {
        "miles": given.number("miles", 0, _LONGEST),
        "km": given.number("km", 0, _LONGEST),
        "months": given.whole("months", 0, _LONGEST_MONTHS),
        "days": given.whole("days", 0, _LONGEST_DAYS),
    }
    for key, side in sides.items():
        if side == 0:
            given.fault(key, "0 is no interval", "leave that side out, or give more than 0")
    if not given.values:
        given.fault("", "has no side", f"write {_EXAMPLE}")
    distance = None
    for key, of in (("miles", Unit.MI), ("km", Unit.KM)):
        if (side := sides[key]) is not None:
            distance = exact(Fraction(side), given=of, wanted=unit)
    months, days = sides["months"], sides["days"]
    return Every(
        distance=distance,
        months=None if months is None else int(months),
        days=None if days is None else int(days),
    )


def read_variants(table: Table, unit: Unit, attributes: Attributes) -> tuple[Variant, ...] | None:
    """Read `variants = [{ where, every, age }]`."""
    given = table.tables("variants", '[{ where = { volts = "6" }, every = { days = 45 } }]')
    if given is None:
        return None
    found: list[Variant] = []
    for each in given:
        each.only(("where", "every", "age"), "not a part of a variant")
        every = read_every(each, unit)
        if "every" not in each:
            each.fault("every", "is missing", f"write every = {_EXAMPLE}")
        if every is not None:
            found.append(
                Variant(where=read_where(each, attributes), every=every, age=read_age(each))
            )
    return tuple(found)


def read_first(table: Table) -> tuple[Fraction, ...] | None:
    """Read the points after fitting; each lies farther than the one before it."""
    given = table.items("first", "[500, 1000]")
    if given is None:
        return None
    read = [table.as_number("first", each, 0, _LONGEST) for each in given]
    points = tuple(each for each in read if each is not None)
    if any(later <= earlier for earlier, later in pairwise(points)):
        table.fault("first", "the points do not rise", "write them in order, as [500, 1000]")
    return points


def read_points(
    table: Table, happenings: Collection[str], attributes: Attributes
) -> tuple[EventPoint, ...] | None:
    """Read `also_after`: `"wheel-off@50"`, `"wheel-off@50, 500"` or `{ event, at, where }`."""
    given = table.items("also_after", _POINTS)
    if given is None:
        return None
    found: list[EventPoint] = []
    for number, each in enumerate(given):
        if isinstance(each, str):
            found.extend(_points_of(table, each, happenings))
        elif isinstance(each, dict):
            entry = table.entry("also_after", number, each)
            entry.only(("event", "at", "where"), "not a part of a point")
            event = (entry.named("event", happenings, "an event or a rule") or (None,))[0]
            at = entry.number("at", 0, _LONGEST)
            for key in ("event", "at"):
                if key not in entry:
                    entry.fault(key, "is missing", 'write { event = "align", at = 0 }')
            if event is not None and at is not None:
                where = read_where(entry, attributes)
                found.append(EventPoint(event=event, at=at, where=where))
        else:
            table.fault("also_after", f"{shown(each)} is not a point", f"write {_POINTS}")
    return tuple(found)


def _points_of(table: Table, text: str, happenings: Collection[str]) -> tuple[EventPoint, ...]:
    event, mark, distances = text.partition("@")
    event = event.strip()
    if not mark:
        table.fault("also_after", f"{shown(text)} has no distance", f"write {_POINTS}")
        return ()
    if event not in happenings:
        table.fault(
            "also_after",
            f"{shown(event)} is not an event or a rule",
            meant(event, happenings, say="allowed"),
        )
        return ()
    found: list[EventPoint] = []
    for distance in distances.split(","):
        word = distance.strip()
        at = as_fraction(int(word)) if word.isdecimal() and len(word) <= 7 else None
        if at is None or at > _LONGEST:
            table.fault("also_after", f"{shown(word)} is not a distance", f"write {_POINTS}")
        else:
            found.append(EventPoint(event=event, at=at))
    return tuple(found)


def read_season(
    table: Table,
) -> tuple[tuple[tuple[int, int], tuple[int, int]], ...] | None:
    """Read parts of the year, `[["09-01", "10-31"]]`, first and last day included."""
    example = '[["09-01", "10-31"]]'
    given = table.items("season", example)
    if given is None:
        return None
    found: list[tuple[tuple[int, int], tuple[int, int]]] = []
    for part in given:
        days = [_month_day(each) for each in part] if isinstance(part, list) else []
        match days:
            case [(_, _) as first, (_, _) as last]:
                found.append((first, last))
            case _:
                table.fault(
                    "season", f"{shown(part)} is not a part of the year", f"write {example}"
                )
    return tuple(found)


def _month_day(value: object) -> tuple[int, int] | None:
    if not isinstance(value, str) or len(value) != len("09-01"):
        return None
    try:
        day = date.fromisoformat(f"{_LEAP_YEAR}-{value}")
    except ValueError:
        return None
    return day.month, day.day


def read_age(table: Table) -> Age | None:
    """Read `age = { months, from, inspect_from, advise }`."""
    given = table.table("age", '{ months = 120, from = "made" }')
    if given is None:
        return None
    given.only(("months", "from", "inspect_from", "advise"), "not a part of an age")
    counted_from = given.choice("from", AgeFrom)
    if "from" not in given:
        given.fault("from", "is missing", 'write from = "made", "fitted" or "label"')
    months = given.whole("months", 1, _LONGEST_MONTHS)
    inspect_from = given.whole("inspect_from", 1, _LONGEST_MONTHS)
    advise = given.whole("advise", 1, _LONGEST_MONTHS)
    if counted_from is None:
        return None
    return Age(counted_from=counted_from, months=months, inspect_from=inspect_from, advise=advise)


@cache
def margin_of(percent: Fraction, unit: Unit) -> Margin:
    """Give the margin that a bare number of percent stands for: caps of 30 days, 500 mi."""
    if not percent:
        return Margin(percent=percent)
    cap = exact(CAP_MILES, given=Unit.MI, wanted=unit)
    return Margin(percent=percent, cap_days=CAP_DAYS, cap_distance=cap)


def read_margin(table: Table, key: str, unit: Unit) -> Margin | None:
    """Read `lead` or `tolerance`: a number of percent, or `{ percent, cap_days, cap_distance }`."""
    if key not in table:
        return None
    if not isinstance(table.values[key], dict):
        percent = table.number(key, 0, MOST_PERCENT)
        return None if percent is None else margin_of(percent, unit)
    given = table.table(key, "{ percent = 10 }")
    if given is None:
        return None
    given.only(("percent", "cap_days", "cap_distance"), "not a part of a margin")
    if "percent" not in given:
        given.fault("percent", "is missing", f"allowed 0 to {MOST_PERCENT}")
    percent = given.number("percent", 0, MOST_PERCENT)
    cap_days = given.whole("cap_days", 0, _LONGEST_DAYS)
    cap_distance = given.number("cap_distance", 0, _LONGEST)
    if percent is None:
        return None
    return Margin(percent=percent, cap_days=cap_days, cap_distance=cap_distance)
