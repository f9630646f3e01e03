"""Distances of a rule: an interval as it is typed, and a rule put into another unit, both exact."""

import re
from dataclasses import replace
from fractions import Fraction

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.rules.rule import Every, Margin, Rule
from castlenut.domain.units import Unit

EXACT_KM_PER_MI = Fraction(1609344, 1_000_000)

_DISTANCE = re.compile(
    r"(\d{1,7}|\d{1,3}(?:,\d{3})+|\d{0,4}\.\d{1,3})\s*(k(?!m))?\s*(mi|miles|km)?"
)
_TIME = re.compile(r"(\d{1,4})\s*(m|months?|d|days?|w|weeks?|y|years?)")
_LONGEST_MONTHS = 1200
_LONGEST_DAYS = 36_600


def exact(distance: Fraction, *, given: Unit, wanted: Unit) -> Fraction:
    """Give the same distance in another unit, exactly."""
    if given is wanted:
        return distance
    return distance * EXACT_KM_PER_MI if wanted is Unit.KM else distance / EXACT_KM_PER_MI


def every_from_text(text: str, unit: Unit) -> Every:
    """Read an interval as it is typed: `12k/24m`, `500mi`, `6k/-`, `-/12m`, `.25k`, `10000km/12m`.

    A distance without a unit is in `unit`, and so is the answer. `k` is a thousand, `m` a month;
    `d`, `w`, `y` are days, weeks and years. Either side may be missing, not both.

    Raises:
        BadInput: the text is none of these forms, or a side of it is nothing.
    """
    sides = [side.strip().lower() for side in text.split("/")]
    distance: Fraction | None = None
    months: int | None = None
    days: int | None = None
    if len(sides) == 2:
        distance_side, time_side = sides
    elif _TIME.fullmatch(sides[0]):
        distance_side, time_side = "-", sides[0]
    else:
        distance_side, time_side = sides[0], "-"
    if distance_side != "-":
        distance = _distance(distance_side, unit)
    if time_side != "-":
        months, days = _time(time_side)
    given = [side for side in (distance, months, days) if side is not None]
    expected = (distance_side != "-") + (time_side != "-")
    if len(sides) > 2 or not given or len(given) < expected or any(side <= 0 for side in given):
        raise BadInput(
            Fault(
                f'"{text}" is not an interval',
                "every",
                "write a distance, a time or both, as 12k/24m, 500mi, 6k/-, -/12m or 10000km/12m",
            )
        )
    return Every(distance=distance, months=months, days=days)


def rule_in(rule: Rule, unit: Unit) -> Rule:
    """Give the same rule with every distance of it in another unit, exactly."""
    if rule.unit is unit:
        return rule

    def put(distance: Fraction | None) -> Fraction | None:
        return None if distance is None else exact(distance, given=rule.unit, wanted=unit)

    def interval(every: Every) -> Every:
        return replace(every, distance=put(every.distance))

    def margin(margin: Margin) -> Margin:
        return replace(margin, cap_distance=put(margin.cap_distance))

    return replace(
        rule,
        unit=unit,
        every=rule.every and interval(rule.every),
        variants=tuple(replace(each, every=interval(each.every)) for each in rule.variants),
        first=tuple(exact(at, given=rule.unit, wanted=unit) for at in rule.first),
        also_after=tuple(
            replace(point, at=exact(point.at, given=rule.unit, wanted=unit))
            for point in rule.also_after
        ),
        lead=margin(rule.lead),
        tolerance=margin(rule.tolerance),
        ends_under_yearly=put(rule.ends_under_yearly),
    )


def _distance(side: str, unit: Unit) -> Fraction | None:
    found = _DISTANCE.fullmatch(side)
    if found is None:
        return None
    figure, thousand, named = found.groups()
    distance = Fraction(figure.replace(",", "")) * (1000 if thousand else 1)
    given = unit if named is None else (Unit.KM if named == "km" else Unit.MI)
    return exact(distance, given=given, wanted=unit)


def _time(side: str) -> tuple[int | None, int | None]:
    """Give months and days; both None where the text is no time, or no sensible one."""
    found = _TIME.fullmatch(side)
    if found is None:
        return None, None
    number, of = int(found.group(1)), found.group(2)[0]
    match of:
        case "m" | "y":
            months = number * (12 if of == "y" else 1)
            return (months, None) if months <= _LONGEST_MONTHS else (None, None)
        case _:
            days = number * (7 if of == "w" else 1)
            return (None, days) if days <= _LONGEST_DAYS else (None, None)
