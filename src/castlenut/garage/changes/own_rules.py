"""A rule changed for one car alone: interval, first points, limits, off or in force, and why."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import partial
from itertools import pairwise

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.ids import RuleId
from castlenut.domain.measures import MEASURES, quantity
from castlenut.domain.naming import choose, rule_words
from castlenut.domain.rules.precedence import every_from_text
from castlenut.domain.rules.rule import Figure, Rule, RuleBook
from castlenut.domain.units import Unit
from castlenut.garage.changes.part_fields import figure_with_unit
from castlenut.garage.drafting import Drafting
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.revisions import StoredRecord
from castlenut.store.values import Value, whole_if_whole

_TABLE = "rule_change"
_NO_POINTS = frozenset({"", "-", "none"})
_LOOKED_UP = frozenset({Figure.SPEC.value, Figure.STAMPED.value})


def find_rule(text: str, book: RuleBook) -> Rule:
    """Give the rule meant by its id, its title or another word for it.

    Raises:
        BadInput: no rule is meant, or several are.
    """
    also, kinds = rule_words(book.rules.values())
    return book.rules[
        RuleId(choose(text, book.rules, what="rule", also=also, last=kinds, in_trade=True))
    ]


def draft_own_rule(
    garage: Garage,
    slug: str,
    rule: str,
    *,
    every: str | None = None,
    first: str | None = None,
    limits: Sequence[str] = (),
    off: bool | None = None,
    why: str | None = None,
) -> Draft:
    """Change a rule for one car. What is not given stays as the car had it.

    `limits` are `MEASURE=VALUE`, the value with its unit, or `spec` or `stamped`. `off` False puts
    a rule in force that is off elsewhere.

    Raises:
        BadInput: with every fault: no such rule, no interval, no reason, a measure it has not.
    """
    new = Drafting(garage, slug)
    of = find_rule(rule, garage.book)
    before = _before(new, of)
    values: dict[str, Value] = {}
    unit = new.car.vehicle.dial.unit
    if every is not None and new.read(lambda: every_from_text(every, unit)) is not None:
        values["every"] = every.strip()
    if first is not None:
        values["first"] = new.read(lambda: _points(first, unit))
    if limits:
        held = before.values.get("limits") if before else None
        own = dict(held) if isinstance(held, dict) else {}
        for text in limits:
            own.update(new.read(partial(_limit, text, of)) or {})
        values["limits"] = own
    if off is not None:
        values["off"] = off
    reason = (why or "").strip() or None
    if not values and reason is None:
        new.fault(
            "nothing is changed",
            where="rule",
            remedy="give --every, --first, --limit, --off, --in-force or --as-shipped",
        )
    elif reason is None and before is None:
        new.fault(
            "no reason is given", where="why", remedy='say where it stands: "its book, p. 31"'
        )
    if reason is not None:
        values["why"] = reason
    if before is None:
        if not new.faults:
            new.add(_TABLE, {"rule": of.id, **values})
    else:
        new.amend(_TABLE, before.id, values)
    return new.draft(f"{of.id} of this car: {_told(values)}")


def draft_as_shipped(garage: Garage, slug: str, rule: str) -> Draft:
    """Take back what was changed of a rule for one car: the garage's or the shipped one holds.

    Raises:
        BadInput: no such rule.
    """
    new = Drafting(garage, slug)
    of = find_rule(rule, garage.book)
    for record in _records(new, of):
        new.strike(_TABLE, record.id, gone=True, why=None)
    return new.draft(f"{of.id} of this car: as the other cars have it")


def _records(new: Drafting, rule: Rule) -> Sequence[StoredRecord]:
    return [each for each in new.record.file.table(_TABLE) if each.values.get("rule") == rule.id]


def _before(new: Drafting, rule: Rule) -> StoredRecord | None:
    """Give the change that counts: of two that copies made apart, the later."""
    return max(_records(new, rule), key=lambda each: (each.made[0], each.id), default=None)


def _points(text: str, unit: Unit) -> Value:
    """Read first points: `500,1000`, `100 mi`, `-` for none; each further than the one before.

    Raises:
        BadInput: one is no distance, or they do not rise.
    """
    if text.strip().lower() in _NO_POINTS:
        return []
    found: list[Fraction] = []
    for part in text.split(","):
        plain = part.strip()
        distance = Fraction(0) if plain == "0" else every_from_text(plain, unit).distance
        if distance is None:
            raise BadInput(Fault(f"{part!r} is no distance", "first", "write 500,1000"))
        found.append(distance)
    if any(later <= earlier for earlier, later in pairwise(found)):
        raise BadInput(Fault(f"{text!r} does not rise", "first", "write the nearest point first"))
    return [whole_if_whole(Decimal(f"{float(each):.1f}")) for each in found]


def _limit(text: str, rule: Rule) -> Mapping[str, Value]:
    """Read `MEASURE=VALUE` of a limit that the rule has.

    Raises:
        BadInput: it is not of that form, the rule has no such limit, or the value has another unit.
    """
    name, mark, value = text.partition("=")
    if not mark or not value.strip():
        raise BadInput(
            Fault(f"{text!r} is no limit", "limit", "write MEASURE=VALUE, as toe=1/16in")
        )
    known = tuple(dict.fromkeys(limit.measure for limit in rule.limits))
    if not known:
        raise BadInput(
            Fault(f"{rule.id} has no limit that is measured", "limit", "leave --limit away")
        )
    measure = choose(name, known, what="limit", also={MEASURES[each].words: each for each in known})
    plain = value.strip()
    if plain.lower() in _LOOKED_UP:
        return {measure: plain.lower()}
    try:
        read = quantity(plain, MEASURES[measure])
    except BadInput as bad:
        raise BadInput(*(Fault(each.what, "limit", each.remedy) for each in bad.faults)) from bad
    if len(read.values) != 1:
        raise BadInput(Fault(f"{value!r} is no limit", "limit", "give one figure with its unit"))
    return {measure: figure_with_unit(read)}


def _told(values: Mapping[str, Value]) -> str:
    told: list[str] = []
    if "every" in values:
        told.append(f"every {values['every']}")
    if isinstance(points := values.get("first"), list):
        told.append(f"first {', '.join(map(str, points)) or 'none'}")
    if isinstance(limits := values.get("limits"), dict):
        told.extend(f"{name} {value}" for name, value in limits.items())
    if "off" in values:
        told.append("off" if values["off"] else "in force")
    if "why" in values:
        told.append(str(values["why"]))
    return ", ".join(told)
