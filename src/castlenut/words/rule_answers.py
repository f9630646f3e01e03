"""Rules as answers of docs/json.md: every field, what a rule does not have null or empty."""

from collections.abc import Mapping
from fractions import Fraction

from castlenut.domain.rules.rule import Age, Every, Figure, Limit, Margin, Rule, Where
from castlenut.words import figures
from castlenut.words.answers import Answer


def rule_answer(rule: Rule) -> dict[str, Answer]:
    """Give one rule with every field; what it does not have is null or empty."""
    return {
        "rule": rule.id,
        "title": rule.title,
        "kinds": list(rule.kinds),
        "part": rule.part,
        "also_called": list(rule.also_called),
        "danger": rule.danger,
        "off": rule.off,
        "off_for": sorted(rule.off_for),
        "where": _where_answer(rule.where),
        "unit": rule.unit.value,
        "every": None if rule.every is None else _every_answer(rule.every),
        "variants": [
            {"where": _where_answer(each.where), "every": _every_answer(each.every)}
            for each in rule.variants
        ],
        "first": [figures.as_number(point) for point in rule.first],
        "also_after": [
            {
                "event": point.event,
                "at": figures.as_number(point.at),
                "where": _where_answer(point.where),
            }
            for point in rule.also_after
        ],
        "season": [[_month_day(first), _month_day(last)] for first, last in rule.season],
        "age": None if rule.age is None else _age_answer(rule.age),
        "limits": [_limit_answer(limit) for limit in rule.limits],
        "check": rule.check,
        "specs": list(rule.specs),
        "exposure": {name: figures.as_number(x) for name, x in rule.exposure.items()},
        "lead": _margin_answer(rule.lead),
        "tolerance": _margin_answer(rule.tolerance),
        "next_from": rule.counting.value,
        "includes": list(rule.includes),
        "instead_of": list(rule.instead_of),
        "access": list(rule.access),
        "hours": figures.as_number(rule.hours),
        "per": rule.per.value,
        "parts": list(rule.parts),
        "cautions": list(rule.cautions),
        "intake": None
        if rule.intake is None
        else {"rank": rule.intake.rank, "act": rule.intake.act.value},
        "source": rule.source,
        "basis": rule.basis.value,
        "note": rule.note,
        "origin": rule.origin,
    }


def _every_answer(every: Every) -> dict[str, Answer]:
    return {
        "distance": None if every.distance is None else figures.as_number(every.distance),
        "months": every.months,
        "days": every.days,
    }


def _where_answer(where: Where) -> Mapping[str, Answer]:
    found: dict[str, Answer] = {
        each.attribute: {"not" if each.negated else "any": list(each.values)}
        for each in where.conditions
    }
    if where.places:
        found["place"] = [str(place) for place in where.places]
    if where.year_from is not None:
        found["year_from"] = where.year_from
    if where.year_to is not None:
        found["year_to"] = where.year_to
    if where.weight_over_lb is not None:
        found["weight_over_lb"] = where.weight_over_lb
    if where.any_of:
        found["any_of"] = [_where_answer(each) for each in where.any_of]
    return found


def _age_answer(age: Age) -> dict[str, Answer]:
    return {
        "months": age.months,
        "from": age.counted_from.value,
        "inspect_from": age.inspect_from,
        "advise": age.advise,
    }


def _limit_answer(limit: Limit) -> dict[str, Answer]:
    value: Answer
    match limit.value:
        case Figure():
            value = limit.value.value
        case None:
            value = None
        case Fraction():
            value = figures.as_number(limit.value)
    return {
        "measure": limit.measure,
        "bound": limit.bound.value,
        "value": value,
        "share_of_new": None if limit.share_of_new is None else str(limit.share_of_new),
        "unit": limit.unit,
        "advise": None if limit.advise is None else figures.as_number(limit.advise),
        "where": _where_answer(limit.where),
    }


def _margin_answer(margin: Margin) -> dict[str, Answer]:
    return {
        "percent": figures.as_number(margin.percent),
        "cap_days": margin.cap_days,
        "cap_distance": None
        if margin.cap_distance is None
        else figures.as_number(margin.cap_distance),
    }


def _month_day(day: tuple[int, int]) -> str:
    return f"{day[0]:02}-{day[1]:02}"
