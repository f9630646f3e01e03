"""A rule's distances put into another unit, exactly."""

from fractions import Fraction

from castlenut.domain.frozen import replace
from castlenut.domain.rules.rule import Every, Margin, Rule
from castlenut.domain.units import Unit

EXACT_KM_PER_MI = Fraction(1609344, 1_000_000)


def exact(distance: Fraction, *, given: Unit, wanted: Unit) -> Fraction:
    """Give the same distance in another unit, exactly."""
    if given is wanted:
        return distance
    return distance * EXACT_KM_PER_MI if wanted is Unit.KM else distance / EXACT_KM_PER_MI


def as_float(distance: Fraction) -> float:
    """Give a distance as `float` does, which takes four times as long for a fraction."""
    return distance.numerator / distance.denominator


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
