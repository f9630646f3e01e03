"""The `FIELD=VALUE` of a part as typed: its attributes, part number, stamped figures and dates."""

from collections.abc import Iterable, Mapping
from datetime import date

from castlenut.domain.component import Component
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, field
from castlenut.domain.measures import (
    MEASURES,
    NEW,
    THIRTY_SECOND,
    Quantity,
    quantity,
    stamped_measure,
)
from castlenut.domain.naming import choose
from castlenut.domain.place import Place, lies_in, place
from castlenut.domain.rules.precedence import every_from_text
from castlenut.domain.rules.rule import UNKNOWN, KindOfPart
from castlenut.domain.units import Unit
from castlenut.garage import entry
from castlenut.store.values import Value, whole_if_whole

STAMPED = "stamped."
_PLAIN = ("part", "made", "every", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFields:
    """What was typed of a part, read. `made` None: not typed."""

    attributes: Mapping[str, str] = field(default_factory=dict)
    stamped: Mapping[str, str] = field(default_factory=dict)
    part: str | None = None
    made: date | None = None
    every: str | None = None
    note: str | None = None

    def values(self, before: Component | None = None) -> dict[str, Value]:
        """Give the fields of a component's record; those not typed are as on the part `before`."""
        attributes = {**(before.attributes if before else {}), **self.attributes}
        stamped = {**(before.stamped if before else {}), **self.stamped}
        return {
            "attributes": dict(attributes) or None,
            "stamped": dict(stamped) or None,
            "part": self.part or (before.part if before else None),
            "made": self.made.isoformat() if self.made else None,
            "every": self.every or (before.every if before else None),
            "note": self.note,
        }


def fields_at(fields: Mapping[str, str], at: Place | None) -> Mapping[str, str]:
    """Give the fields for one place: `FIELD@PLACE=VALUE` is for that place alone, and goes first.

    Raises:
        BadInput: what stands behind an `@` is no place.
    """
    found = {name: value for name, value in fields.items() if "@" not in name}
    for name, value in fields.items():
        plain, mark, where = name.partition("@")
        if mark and lies_in(at, place(where)):
            found[plain] = value
    return found


def read_part_fields(
    kind: KindOfPart, fields: Mapping[str, str], *, today: date, unit: Unit, depth_unit: str
) -> PartFields:
    """Read the fields of a part of one kind.

    Raises:
        BadInput: with every fault: a field the kind does not have, a value it cannot have.
    """
    faults: list[Fault] = []
    attributes: dict[str, str] = {}
    stamped: dict[str, str] = {}
    plain: dict[str, str] = {}
    made: date | None = None
    for name, text in fields.items():
        try:
            meant = _meant(kind, name)
            if not text.strip():
                continue
            if meant.startswith(STAMPED):
                stamped[meant.removeprefix(STAMPED)] = _stamped(meant, text, depth_unit)
            elif meant in kind.attributes:
                attributes[meant] = _attribute(kind, meant, text)
            elif meant == "made":
                made = entry.period(text, today=today, field="made")
            else:
                if meant == "every":
                    every_from_text(text, unit)
                plain[meant] = text.strip()
        except BadInput as bad:
            faults.extend(bad.faults)
    if faults:
        raise BadInput(*faults)
    return PartFields(
        attributes=attributes,
        stamped=stamped,
        part=plain.get("part"),
        made=made,
        every=plain.get("every"),
        note=plain.get("note"),
    )


def _meant(kind: KindOfPart, name: str) -> str:
    """Give the field meant by a name; a measure's own name is a figure stamped on the part."""
    lower = name.strip().lower()
    if lower.startswith(STAMPED):
        measure = lower.removeprefix(STAMPED).replace(" ", "_")
        return STAMPED + choose(measure, (NEW, *MEASURES), what="stamped figure").replace(" ", "_")
    names = (*kind.attributes, *_PLAIN)
    also = {measure: STAMPED + measure for measure in (NEW, *MEASURES)}
    try:
        return choose(lower, names, what="field", also=also)
    except BadInput as bad:
        (fault,) = bad.faults
        remedy = fault.remedy
        if remedy.startswith("use "):
            remedy = f"use {', '.join(names)} or {STAMPED}MEASURE"
        raise BadInput(Fault(f"the {kind.name} has no field {name!r}", name, remedy)) from bad


def _attribute(kind: KindOfPart, name: str, text: str) -> str:
    allowed = kind.attributes[name]
    if not allowed:
        return text.strip()
    return choose(text, _with_unknown(allowed), what=name)


def _with_unknown(allowed: Iterable[str]) -> tuple[str, ...]:
    return (*allowed, UNKNOWN)


def _stamped(name: str, text: str, depth_unit: str) -> str:
    """Read a stamped figure, and give it as records hold it: with its unit."""
    measure = stamped_measure(name.removeprefix(STAMPED))
    try:
        read = quantity(text, measure, depth_unit=depth_unit)
    except BadInput as bad:
        raise BadInput(*(Fault(fault.what, name, fault.remedy) for fault in bad.faults)) from bad
    if not read.values:
        raise BadInput(Fault(f"{text!r} is no figure", name, "give the figure with its unit"))
    return figure_with_unit(read)


def figure_with_unit(read: Quantity) -> str:
    """Give a measured figure as a text that reads back the same: `10 mm`, `7/32`, `10.5 32nds`."""
    figure = whole_if_whole(read.values[0])
    if read.unit != THIRTY_SECOND:
        return f"{figure} {read.unit}"
    return f"{figure}/32" if isinstance(figure, int) else f"{figure} 32nds"
