"""Parts and this car's own rules from their records."""

from collections.abc import Mapping
from fractions import Fraction

from castlenut.domain.component import Component
from castlenut.domain.errors import BadInput
from castlenut.domain.ids import RuleId
from castlenut.domain.measures import MEASURES, Quantity, quantity, stamped_measure
from castlenut.domain.rules.precedence import OwnLimit, RuleChange, every_from_text
from castlenut.domain.rules.rule import Figure
from castlenut.domain.units import Unit
from castlenut.store.typed_fields import Fields

_LOOKED_UP = {each.value: each for each in (Figure.SPEC, Figure.STAMPED)}


def component_of(fields: Fields) -> Component:
    """Give the part that a record tells of."""
    return Component(
        record=fields.id,
        kind=fields.needed("kind"),
        place=fields.place(),
        attributes=fields.table("attributes"),
        part=fields.text("part"),
        made=fields.day("made"),
        on=fields.day("on"),
        at=fields.figure("at"),
        removed_on=fields.day("removed_on"),
        removed_at=fields.figure("removed_at"),
        is_on_shelf=fields.text("state") == "shelf",
        why=fields.text("why"),
        stamped=_stamped(fields),
        every=_every(fields),
        job=fields.named("job"),
    )


def _stamped(fields: Fields) -> Mapping[str, str]:
    """Give the figures stamped on a part, once it is known that each can be read."""
    stamped = fields.table("stamped")
    for name, text in stamped.items():
        measure = stamped_measure(name)
        try:
            read = quantity(text, measure) if measure is not None else None
        except BadInput as bad:
            raise fields.wrong("stamped", f"a figure with its unit for {name} is needed") from bad
        if read is not None and not read.values:
            raise fields.wrong("stamped", f"a figure with its unit for {name} is needed")
    return stamped


def _every(fields: Fields) -> str | None:
    """Give an interval as typed, once it is known that it can be read."""
    text = fields.text("every")
    if text is not None:
        try:
            every_from_text(text, Unit.MI)
        except BadInput as bad:
            raise fields.wrong("every", "an interval as 12k/24m is needed") from bad
    return text


def rule_change_of(fields: Fields, unit: Unit) -> RuleChange:
    """Give the figures a record sets for a rule on this car; distances are in `unit`."""
    every = _every(fields)
    off = fields.record.values.get("off")
    has_first = fields.record.values.get("first") is not None
    return RuleChange(
        rule=RuleId(fields.needed("rule")),
        why=fields.needed("why"),
        unit=unit,
        every=every_from_text(every, unit) if every is not None else None,
        first=tuple(map(Fraction, fields.figures("first"))) if has_first else None,
        limits={name: _limit(fields, name, text) for name, text in fields.table("limits").items()},
        off=off if isinstance(off, bool) else None,
    )


def _limit(fields: Fields, measure: str, text: str) -> OwnLimit:
    """Read a limit as it is kept: a number, a figure with its unit, `spec` or `stamped`."""
    if text in _LOOKED_UP:
        return _LOOKED_UP[text]
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError):
        return _with_unit(fields, measure, text)


def _with_unit(fields: Fields, measure: str, text: str) -> Quantity:
    try:
        read = quantity(text, MEASURES[measure]) if measure in MEASURES else None
    except BadInput as no_figure:
        raise fields.wrong("limits", "a figure for each measure is needed") from no_figure
    if read is None or len(read.values) != 1:
        raise fields.wrong("limits", "a figure for each measure is needed")
    return read
