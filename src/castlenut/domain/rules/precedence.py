"""Whose figure counts: stamped on the part, its maker, this car, the garage, the shipped rule set.

`rule_book` lays the garage's rules over the shipped ones; `for_car` lays one car's own changes over
a rule of the book. `every_from_text` reads the intervals that a car and the maker of a part give.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, field, replace
from castlenut.domain.ids import RuleId
from castlenut.domain.measures import MEASURES, Quantity, in_unit
from castlenut.domain.rules.distances import exact, rule_in
from castlenut.domain.rules.reading import read_rules
from castlenut.domain.rules.rule import (
    Age,
    Basis,
    Bound,
    EventPoint,
    Every,
    Figure,
    Limit,
    Rule,
    RuleBook,
)
from castlenut.domain.rules.shipped import ShippedTables
from castlenut.domain.units import Unit

GARAGE_FILE = "rules.toml"
THIS_CAR = "this car"

_FIGURE = r"\d{1,7}|\d{1,3}(?:,\d{3})+|\d{0,4}\.\d{1,3}"
_DISTANCE = rf"({_FIGURE})\s*(k(?!m))?\s*(mi|miles|km)?"
_TIME = r"(\d{1,4})\s*(m|months?|d|days?|w|weeks?|y|years?)"
_LONGEST_MONTHS = 1200
_LONGEST_DAYS = 36_600


OwnLimit = Fraction | Quantity | Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleChange:
    """One car's own figures for a rule, and why.

    What is None, and a measure not in `limits`, stays as it was. Distances are in `unit`; a limit
    is in the unit the rule gives it in, or as it was entered, or a figure looked up elsewhere.
    `off` False puts a rule in force that was off.
    """

    rule: RuleId
    why: str
    unit: Unit
    every: Every | None = None
    first: tuple[Fraction, ...] | None = None
    limits: Mapping[str, OwnLimit] = field(default_factory=dict)
    off: bool | None = None


def rule_book(
    shipped: ShippedTables, garage_text: str | None
) -> tuple[RuleBook, tuple[Fault, ...]]:
    """Put the rules in force: the shipped ones, changed and added to by the garage's own file.

    A file with any fault changes nothing: the shipped rules alone are used, the faults are given.
    """
    changed: dict[RuleId, Rule] = {}
    faults: tuple[Fault, ...] = ()
    if garage_text is not None:
        try:
            own = read_rules(
                garage_text,
                file=GARAGE_FILE,
                origin="garage",
                tables=shipped.tables,
                known=shipped.rules,
            )
        except BadInput as bad:
            faults = bad.faults
        else:
            changed = {rule.id: rule for rule in own}
    book = RuleBook(
        rules=_InForce(shipped, changed),
        kinds_of={**shipped.kinds_of, **{id_: rule.kinds for id_, rule in changed.items()}},
        kinds=shipped.tables.kinds,
        accesses=shipped.tables.accesses,
        events=shipped.tables.events,
        conversions=shipped.tables.conversions,
        assemblies=shipped.tables.assemblies,
    )
    return book, faults


def for_car(rule: Rule, changes: Iterable[RuleChange]) -> Rule:
    """Give the rule as one car has it. Of several changes the later goes over the earlier.

    The months of an interval take the place of an age limit too: both say how long a part serves.
    """
    for change in changes:
        if change.rule != rule.id:
            continue
        own = rule_in(rule, change.unit)
        rule = replace(
            own,
            every=change.every or own.every,
            # The shipped variants are of the shipped interval.
            variants=own.variants if change.every is None else (),
            age=own.age if change.every is None else _age_with(own.age, change.every),
            first=own.first if change.first is None else change.first,
            limits=_limits_with(own.limits, change.limits),
            off=own.off if change.off is None else change.off,
            off_for=own.off_for if change.off is None else frozenset(),
            source=change.why,
            basis=Basis.PRACTICE,
            origin=THIS_CAR,
        )
    return rule


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
    elif re.fullmatch(_TIME, sides[0]):
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


def change_faults(change: RuleChange, book: RuleBook) -> tuple[Fault, ...]:
    """Give what keeps a change from being used: a rule or a measure that is not known."""
    faults: list[Fault] = []
    if change.rule not in book.rules:
        faults.append(
            Fault(f'"{change.rule}" is not a rule', "rule", "castlenut rules lists them all")
        )
    faults.extend(
        Fault(
            f'"{measure}" is not a measure',
            f"{change.rule}, limit",
            "name one of the rule's own measures",
        )
        for measure in change.limits
        if measure not in MEASURES
    )
    return tuple(faults)


def _age_with(age: Age | None, every: Every) -> Age | None:
    if age is None or age.months is None:
        return age
    return None if every.months is None else replace(age, months=every.months)


def _limits_with(limits: tuple[Limit, ...], values: Mapping[str, OwnLimit]) -> tuple[Limit, ...]:
    """Put a car's own values in the place of the rule's limits of that measure.

    Where a measure has to lie between two values, the one given is the upper.
    """
    found = list(limits)
    for measure, value in values.items():
        known = [limit for limit in found if limit.measure == measure]
        falls = MEASURES[measure].falls if measure in MEASURES else None
        bound = Bound.AT_LEAST if falls else Bound.AT_MOST
        kept = [limit for limit in found if limit.measure != measure or limit.bound is not bound]
        unit = known[0].unit if known else MEASURES[measure].unit
        held = _in_rules_unit(value, unit)
        found = [*kept, Limit(measure=measure, bound=bound, value=held, unit=unit)]
    return tuple(found)


def _in_rules_unit(value: OwnLimit, unit: str) -> Fraction | Figure:
    if not isinstance(value, Quantity):
        return value
    converted = in_unit(value.values[0], value.unit or unit, unit)
    return Fraction(value.values[0]) if converted is None else converted


class _InForce(Mapping[RuleId, Rule]):
    """The rules in force: the garage's own over the shipped, each looked at when asked for."""

    def __init__(self, shipped: ShippedTables, changed: Mapping[RuleId, Rule]) -> None:
        self._shipped = shipped
        self._changed = changed
        self._names = dict.fromkeys((*shipped.rules, *changed))
        self._found: dict[RuleId, Rule] = {}

    def __getitem__(self, id_: RuleId) -> Rule:
        if id_ not in self._found:
            rule = self._changed[id_] if id_ in self._changed else self._shipped.rules[id_]
            self._found[id_] = self._with_triggers(rule)
        return self._found[id_]

    def __contains__(self, id_: object) -> bool:
        return id_ in self._names

    def __iter__(self) -> Iterator[RuleId]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)

    def _with_triggers(self, rule: Rule) -> Rule:
        """Put what conversions make due among the points of a rule, under their names."""
        conversions = self._shipped.tables.conversions
        points = tuple(
            EventPoint(event=name, at=exact(at, given=Unit.MI, wanted=rule.unit))
            for name in self._shipped.triggered_by.get(rule.id, ())
            for at in conversions[name].triggers[rule.id]
        )
        return replace(rule, also_after=(*rule.also_after, *points)) if points else rule


def _distance(side: str, unit: Unit) -> Fraction | None:
    found = re.fullmatch(_DISTANCE, side)
    if found is None:
        return None
    figure, thousand, named = found.groups()
    distance = Fraction(figure.replace(",", "")) * (1000 if thousand else 1)
    given = unit if named is None else (Unit.KM if named == "km" else Unit.MI)
    return exact(distance, given=given, wanted=unit)


def _time(side: str) -> tuple[int | None, int | None]:
    """Give months and days; both None where the text is no time, or no sensible one."""
    found = re.fullmatch(_TIME, side)
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
