"""What was measured on an item: read by the rule it belongs to, and put on the record."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.item import Item
from castlenut.domain.measures import (
    MEASURES,
    NEW,
    Quantity,
    in_unit,
    quantity,
    stamped_measure,
)
from castlenut.domain.rules.rule import Rule
from castlenut.garage.drafting import DialThen, Drafting, noted, number
from castlenut.store.values import Value


def add_measurement(
    new: Drafting,
    item: Item,
    text: str,
    *,
    day: date,
    then: DialThen,
    job: str | None,
    note: str | None,
) -> None:
    """Add a measurement of an item; what it cannot be is kept as a fault."""
    read = new.read(lambda: read_value(text, item.rule, depth_unit=new.garage.settings.depth_unit))
    if read is None:
        return
    measure, found = read
    _tell_more_than_new(new, item, found)
    new.add(
        "measurement",
        {
            "measure": measure,
            "item": str(item.id),
            "place": str(item.place) if item.place is not None else None,
            "value": _value(found),
            "unit": found.unit,
            "resolution": number(found.resolution),
            "on": day.isoformat(),
            "at": number(then.at),
            "job": job,
            "note": noted(note, is_estimated=then.is_estimated and job is None),
        },
    )


def _tell_more_than_new(new: Drafting, item: Item, found: Quantity) -> None:
    """Say where a part that wears is thicker than it was when new: another part, perhaps."""
    stamped = item.component.stamped.get(NEW)
    if stamped is None or not found.values or found.unit is None:
        return
    was = quantity(stamped, stamped_measure(NEW))
    thickest = in_unit(max(found.values), found.unit, was.unit or "")
    if thickest is not None and thickest > Fraction(was.values[0]):
        new.told.append(f"more than when new ({stamped}): was the {item.component.kind} changed?")


def measured_on_item(item: Item, included: Sequence[Item]) -> Item:
    """Give the item that a value is of: what is measured at a repack is the play it includes."""
    if item.rule.limits:
        return item
    return next(
        (
            other
            for other in included
            if other.rule.limits and other.component.record == item.component.record
        ),
        item,
    )


def _value(found: Quantity) -> Value:
    if found.grade is not None:
        return found.grade.value
    figures: list[Value] = [number(value) for value in found.values]
    return figures[0] if len(figures) == 1 else figures


def read_value(text: str, rule: Rule, *, depth_unit: str) -> tuple[str | None, Quantity]:
    """Read a measurement of an item: which of its rule's measures it is, and what was found.

    `MEASURE=VALUE` names the measure; without it only one of them may be read so. A grade is the
    result of a check and has no measure.

    Raises:
        BadInput: the rule measures nothing so.
    """
    name, mark, value = text.partition("=")
    measures = list(dict.fromkeys(limit.measure for limit in rule.limits))
    if mark:
        named = name.strip().lower().replace(" ", "_")
        if named not in measures:
            raise BadInput(
                Fault(
                    f"{rule.id} has no measure {name.strip()!r}",
                    "value",
                    f"use {' or '.join(measures)}" if measures else "write good or not good",
                )
            )
        measures, text = [named], value
    faults: list[Fault] = []
    found: dict[str, Quantity] = {}
    for measure in measures:
        try:
            found[measure] = quantity(text, MEASURES[measure], depth_unit=depth_unit)
        except BadInput as bad:
            faults.extend(bad.faults)
    if not measures:
        return None, quantity(text, None)
    if not found:
        raise BadInput(faults[0])
    measure, first = next(iter(found.items()))
    if first.grade is not None:
        return None, first
    if len(found) > 1:
        raise BadInput(
            Fault(
                f"{text!r} may be {' or '.join(found)}",
                "value",
                f"name the measure, as {measure}={text}",
            )
        )
    return measure, first
