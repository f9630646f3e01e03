"""Rules in words: how often, and one in full."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from castlenut.domain.rules.rule import (
    Age,
    Bound,
    EventPoint,
    Every,
    Figure,
    Limit,
    Margin,
    Rule,
    Where,
)
from castlenut.words import cautions, figures
from castlenut.words.sources import sourced


def mark(rule: Rule) -> str:
    """Tell in a word whose a rule is: shipped, own, or off."""
    if rule.off:
        return "off"
    return "shipped" if rule.origin == "shipped" else f"own of {rule.origin}"


def interval(rule: Rule) -> str:
    """Give how often, in a few words: `6,000 mi or 6 months`."""
    if rule.every is not None:
        return _every(rule.every, rule)
    if rule.age is not None and rule.age.months is not None:
        return f"at {figures.span(rule.age.months, None)} of age"
    if rule.first:
        return f"once at {_points(rule.first, rule)}"
    return "after its event" if rule.also_after else "by measurement"


def _every(every: Every, rule: Rule) -> str:
    time = figures.span(every.months, every.days)
    if every.distance is None:
        return time
    distance = f"{figures.rounded(every.distance, tenths=False):,f} {rule.unit.value}"
    return f"{distance} or {time}" if time else distance


def _points(points: Sequence[Fraction], rule: Rule) -> str:
    return f"{', '.join(f'{float(point):,g}' for point in points)} {rule.unit.value}"


def line(rule: Rule) -> str:
    """Give one rule as a line of the list of all."""
    return "  ".join((rule.id, rule.title, ", ".join(rule.kinds), interval(rule), mark(rule)))


def lines(rule: Rule) -> Iterator[str]:
    """Give one rule in full, a line a field that it has."""
    yield f"{rule.title}  ({rule.id}, {mark(rule)})"
    yield f"applies to: {', '.join(rule.kinds)}{_where(rule.where)}"
    yield f"every: {interval(rule)}"
    for variant in rule.variants:
        yield f"every, {_where(variant.where).removeprefix(', ')}: {_every(variant.every, rule)}"
    if rule.first:
        yield f"first points: {_points(rule.first, rule)}"
    for point in rule.also_after:
        yield f"also after {_after(point, rule)}"
    if rule.season:
        yield f"season: {', '.join(_season(part) for part in rule.season)}"
    if rule.age is not None:
        yield f"age: {_age(rule.age)}"
    for limit in rule.limits:
        yield f"limit: {_limit(limit)}"
    if rule.check is not None:
        yield f"must hold: {rule.check}"
    if rule.specs:
        named = ", ".join(each.replace("|", " or ") for each in rule.specs)
        yield f"car's own figures: {named}"
    if rule.exposure:
        told = ", ".join(f"{name} {figures.number(x)}" for name, x in rule.exposure.items())
        yield f"exposure: {told}"
    lead, tolerance = _margin(rule.lead, rule), _margin(rule.tolerance, rule)
    yield f"window: opens {lead} early, closes {tolerance} late"
    if rule.includes:
        yield f"includes: {', '.join(rule.includes)}"
    if rule.instead_of:
        yield f"instead of: {', '.join(rule.instead_of)}"
    yield f"opens: {', '.join(rule.access)}"
    yield f"hours: {figures.hours(rule.hours)} a {rule.per.value}"
    if rule.intake is not None:
        yield f"no record: rank {rule.intake.rank}, {rule.intake.act.value}"
    yield f"source: {sourced(rule.source, rule.basis.value)}"
    if rule.note is not None:
        yield f"note: {rule.note}"
    yield from (f"caution: {sentence}" for sentence in cautions.sentences(rule.cautions))
    yield cautions.DEFERRING_LINE


def other_than(own: Rule, general: Rule) -> Iterator[str]:
    """Give what the rule says for other cars, where one car has it otherwise."""
    if own.every != general.every or own.age != general.age:
        yield f"other cars, every: {interval(general)}"
    if own.first != general.first:
        points = _points(general.first, general) if general.first else "none"
        yield f"other cars, first points: {points}"
    if own.limits != general.limits:
        yield from (f"other cars, limit: {_limit(limit)}" for limit in general.limits)
    if own.off != general.off:
        yield f"other cars: {'off' if general.off else 'in force'}"
    yield f"other cars, source: {sourced(general.source, general.basis.value)}"


def _where(where: Where) -> str:
    told = [
        f"{each.attribute} {'not ' if each.negated else ''}{' or '.join(each.values)}"
        for each in where.conditions
    ]
    if where.places:
        told.append(f"at {', '.join(str(place) for place in where.places)}")
    if where.year_from is not None:
        told.append(f"from {where.year_from}")
    if where.year_to is not None:
        told.append(f"to {where.year_to}")
    if where.weight_over_lb is not None:
        told.append(f"over {where.weight_over_lb:,} lb")
    if where.any_of:
        told.append(" or ".join(_where(each).removeprefix(", ") for each in where.any_of))
    return f", {', '.join(told)}" if told else ""


def _after(point: EventPoint, rule: Rule) -> str:
    distance = "at once" if point.at == 0 else f"at {_points((point.at,), rule)}"
    return f"{point.event}, {distance}{_where(point.where)}"


def _season(part: tuple[tuple[int, int], tuple[int, int]]) -> str:
    (first_month, first_day), (last_month, last_day) = part
    return f"{first_month:02}-{first_day:02} to {last_month:02}-{last_day:02}"


def _age(age: Age) -> str:
    told = []
    if age.inspect_from is not None:
        told.append(f"looked at from {figures.span(age.inspect_from, None)}")
    if age.advise is not None:
        told.append(f"renewal advised from {figures.span(age.advise, None)}")
    if age.months is not None:
        told.append(f"at most {figures.span(age.months, None)}")
    return f"{', '.join(told)}, from {age.counted_from.value}"


def _limit(limit: Limit) -> str:
    side = "at least" if limit.bound is Bound.AT_LEAST else "at most"
    advise = (
        ""
        if limit.advise is None
        else f"; renewal advised at {figures.quantity(limit.advise, limit.unit)}"
    )
    return f"{limit.measure} {side} {_limit_value(limit)}{_where(limit.where)}{advise}"


def _limit_value(limit: Limit) -> str:
    match limit.value:
        case Figure.SPEC:
            return "the car's own figure"
        case Figure.STAMPED:
            return "the figure stamped on the part"
        case Figure.TABLE:
            return "the published table's figure"
        case None:
            return f"{limit.share_of_new} of its figure when new"
        case Fraction():
            return figures.quantity(limit.value, limit.unit)


def _margin(margin: Margin, rule: Rule) -> str:
    if not margin.percent:
        return "0 %"
    caps = []
    if margin.cap_distance is not None:
        caps.append(f"{float(margin.cap_distance):,g} {rule.unit.value}")
    if margin.cap_days is not None:
        caps.append(figures.count(margin.cap_days, "day"))
    return figures.percent(margin.percent) + (f" (at most {' and '.join(caps)})" if caps else "")
