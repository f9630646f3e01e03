"""Identities: of records, vehicles, rules and items."""

from typing import NewType

from castlenut.domain.frozen import dataclass

RecordId = NewType("RecordId", str)
"""UUID version 7 of a record, lower case; the last 8 digits tell it apart on screen."""

VehicleId = NewType("VehicleId", str)
"""UUID of a vehicle, in the header of its file; what calendar events rest on."""

RuleId = NewType("RuleId", str)

OWN = RuleId("own")
"""Stands for the rule of an item that no rule file names: an own note, or a watched finding."""

OWN_NOTE = "own note"
"""The kind and the source of what stands under such an item."""


ROTATE = RuleId("tire-rotate")
"""The rule of rotating tires: the one item that may be due and not possible."""


def short(record: RecordId) -> str:
    """Give the last 8 digits of a record's id: the first are its time and nearly all alike."""
    return record[-8:]


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class ItemId:
    """One rule on one component: what a job is done on."""

    rule: RuleId
    component: RecordId

    def __str__(self) -> str:
        """Give the form kept in records, `rule~<component id>`."""
        return f"{self.rule}~{self.component}"


def item_id(text: str) -> ItemId | None:
    """Read the form kept in records, or give None for a text that has another form."""
    rule, mark, component = text.partition("~")
    if not (rule and mark and component):
        return None
    return ItemId(rule=RuleId(rule), component=RecordId(component))
