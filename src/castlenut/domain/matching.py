"""Which rules apply to which components of a car on a day: an item is one rule on one component."""

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from datetime import date

from castlenut.domain.car import Car
from castlenut.domain.component import Component
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.happenings import Answer, Statement
from castlenut.domain.ids import RuleId
from castlenut.domain.place import Place, lies_in, touches
from castlenut.domain.rules.precedence import for_car
from castlenut.domain.rules.rule import OWN_ACCESS, UNKNOWN, Condition, Rule, RuleBook, Where
from castlenut.domain.vehicle import KeptAt
from castlenut.domain.working import Assumed

STORAGE = "Storage"
"""The part of the rule set that the owner sees to himself where the car is stored at his place."""

VehicleFacts = Mapping[str, frozenset[str]]
"""What is known of the car as a whole, by attribute; an attribute not known is not in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A rule that applies to a component, and what was assumed where an attribute is not known."""

    rule: Rule
    component: Component
    assumed: tuple[Assumed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Circumstances:
    """What a condition is held against besides the component: the car's facts on a day."""

    facts: VehicleFacts
    year: int | None
    weight_lb: int | None


def circumstances(car: Car, today: date) -> Circumstances:
    """Give the facts of the car that conditions speak of, as they are on a day."""
    vehicle = car.vehicle
    facts: dict[str, frozenset[str]] = {
        "dual": frozenset({"yes" if vehicle.dual else "no"}),
        "exposure": frozenset(each.name for each in car.exposures if each.holds_on(today)),
    }
    for name, fact in (
        ("drive", vehicle.drive),
        ("use", vehicle.use),
        ("kept_at", vehicle.kept_at),
    ):
        if fact is not None:
            facts[name] = frozenset({fact.value})
    return Circumstances(facts=facts, year=vehicle.year, weight_lb=vehicle.weight_lb)


def holds(
    where: Where, component: Component, around: Circumstances, at: Place | None
) -> tuple[Assumed, ...] | None:
    """Hold a condition against a component at its place: what was assumed, or None if it fails."""
    if where.places and not any(lies_in(at, place) for place in where.places):
        return None
    if where.year_from is not None and (around.year is None or around.year < where.year_from):
        return None
    if where.year_to is not None and around.year is not None and around.year > where.year_to:
        return None
    if where.weight_over_lb is not None and (
        around.weight_lb is None or around.weight_lb <= where.weight_over_lb
    ):
        return None
    assumed: list[Assumed] = []
    if where.year_to is not None and around.year is None:
        assumed.append(Assumed(attribute="year", taken_as=f"{where.year_to} or before"))
    for condition in where.conditions:
        known = _known(condition.attribute, component, around)
        if not _is_met(condition, known):
            return None
        if known is None and not condition.negated:
            taken = next(value for value in condition.values if value != UNKNOWN)
            assumed.append(Assumed(attribute=condition.attribute, taken_as=taken))
    if where.any_of:
        for each in where.any_of:
            found = holds(each, component, around, at)
            if found is not None:
                return (*assumed, *found)
        return None
    return tuple(assumed)


def _known(attribute: str, component: Component, around: Circumstances) -> frozenset[str] | None:
    own = component.attributes.get(attribute)
    if own is not None:
        return None if own == UNKNOWN else frozenset({own})
    return around.facts.get(attribute)


def _is_met(condition: Condition, known: frozenset[str] | None) -> bool:
    if condition.negated:
        return known is None or not known & set(condition.values)
    if known is None:
        return UNKNOWN in condition.values
    return bool(known & set(condition.values))


def matches(
    car: Car, book: RuleBook, *, today: date, kinds: Collection[str] | None = None
) -> tuple[Match, ...]:
    """Give every item of the car on a day, as rule and component; with `kinds` of such parts only.

    A rule switched off, answered "does not apply" at intake, or giving way to a special one on the
    same component (`instead_of`) makes none.
    """
    around = circumstances(car, today)
    by_kind: dict[str, list[Rule]] = defaultdict(list)
    fitted = [part for part in car.fitted(today) if kinds is None or part.kind in kinds]
    for rule in _in_force(car, book, {component.kind for component in fitted}):
        for kind in rule.kinds:
            by_kind[kind].append(rule)
    excused = [each for each in car.statements if each.answer is Answer.NOT_APPLICABLE]
    found: list[Match] = []
    for component in fitted:
        at = component.place_on(today)
        here: dict[RuleId, Match] = {}
        for rule in by_kind.get(component.kind, ()):
            if any(speaks_of(each, rule, component, at) for each in excused):
                continue
            assumed = holds(rule.where, component, around, at)
            if assumed is not None:
                here[rule.id] = Match(rule=rule, component=component, assumed=assumed)
        giving_way = {other for match in here.values() for other in match.rule.instead_of}
        found.extend(match for id_, match in here.items() if id_ not in giving_way)
    return tuple(found)


def _in_force(car: Car, book: RuleBook, kinds: Collection[str]) -> Sequence[Rule]:
    changed = defaultdict(list)
    for change in car.rule_changes:
        changed[change.rule].append(change)
    rules = (
        for_car(rule, changed[rule.id]) if rule.id in changed else rule
        for rule in book.about(kinds)
    )
    in_force = [rule for rule in rules if not rule.off and car.vehicle.slug not in rule.off_for]
    if car.vehicle.kept_at is not KeptAt.OWNER:
        return in_force
    return [
        replace(rule, access=(OWN_ACCESS,)) if rule.part == STORAGE else rule for rule in in_force
    ]


About = tuple[RuleId | None, str | None]
"""What an answer of the intake is about: the items of a rule, or all of a kind."""


def about_of(statement: Statement) -> About:
    """Give what an answer of the intake is about; places and components apart."""
    if statement.item is None:
        return None, statement.kind
    return RuleId(statement.item.partition("~")[0].partition("@")[0]), None


def speaks_of(statement: Statement, rule: Rule, component: Component, at: Place | None) -> bool:
    """Tell whether an answer of the intake is about this rule on this component."""
    if statement.item is not None:
        named, _, which = statement.item.partition("~")
        named_rule, _, _ = named.partition("@")
        if named_rule != rule.id or (which and not component.record.endswith(which)):
            return False
    elif statement.kind != component.kind:
        return False
    return statement.place is None or touches(statement.place, at)
