"""In work, and ready to roll: what stands against handing a car over, worst first."""

from collections.abc import Iterator, Sequence
from enum import Enum

from castlenut.domain.conflicts import Conflict, conflicts
from castlenut.domain.due import CarToday
from castlenut.domain.findings import Finding
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import OWN, ItemId
from castlenut.domain.item import Item
from castlenut.domain.order import rows, sort_key
from castlenut.domain.own import is_to_be_mended, open_findings
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.working import State, lacks_limit

ROLLING_RANKS = frozenset({1, 2})
"""Ranks of no record: before it moves under its own power, before it goes on the road."""
GRAVE = 1
"""The danger of what may hurt somebody (work.md section 2)."""


class Cause(Enum):
    """Why something stands against handing a car over, the worst first."""

    POINT_AT_0 = "point at 0"
    NO_RECORD = "no record"
    OVERDUE = "overdue"
    CONFLICT = "parts exclude each other"
    TO_BE_MENDED = "to be mended"
    NO_LIMIT = "no limit known"
    DECLINED = "declined"


@dataclass(frozen=True, slots=True, kw_only=True)
class Against:
    """One thing that stands against handing a car over.

    `items` stand alike and make one line; a conflict and a finding have their own. What does not
    block is told: the owner knows of it.
    """

    cause: Cause
    items: tuple[Item, ...] = ()
    conflict: Conflict | None = None
    finding: Finding | None = None

    @property
    def blocks(self) -> bool:
        """Tell whether the car may not be handed over while it stands."""
        return self.cause is not Cause.DECLINED

    @property
    def danger(self) -> int:
        """Give how grave it is, from 1: parts that exclude each other are."""
        if self.conflict is not None:
            return GRAVE
        return self.items[0].rule.danger if self.items else 2


def against_rolling(today: CarToday, book: RuleBook) -> tuple[Against, ...]:
    """Give what stands against handing a car over, worst first; items that stand alike are one.

    An item stands by its worst cause; that its limit is missing is told besides. Inside a cause
    danger comes first, then the close of the window, then the title.
    """
    by_cause: dict[Cause, list[Item]] = {cause: [] for cause in Cause}
    for item in sorted(today.items, key=_by_danger):
        for cause in _causes(item):
            by_cause[cause].append(item)
    found = {
        cause: [Against(cause=cause, items=row.items) for row in rows(items)]
        for cause, items in by_cause.items()
    }
    found[Cause.CONFLICT] = [
        Against(cause=Cause.CONFLICT, conflict=each)
        for each in conflicts(today.car.components, book.kinds, on=today.today)
    ]
    found[Cause.TO_BE_MENDED] = list(_to_be_mended(today))
    return tuple(each for cause in Cause for each in found[cause])


def is_ready(standing: Sequence[Against]) -> bool:
    """Tell whether nothing blocks."""
    return not any(each.blocks for each in standing)


def _causes(item: Item) -> Iterator[Cause]:
    if item.state is State.DECLINED:
        if item.rule.danger == GRAVE:
            yield Cause.DECLINED
        return
    if item.has_open_point_at_0:
        if not is_to_be_mended(item):
            yield Cause.POINT_AT_0
        if any(lacks_limit(step) for step in item.working):
            yield Cause.NO_LIMIT
    elif item.state is State.NO_RECORD and item.rank in ROLLING_RANKS:
        yield Cause.NO_RECORD
    elif item.state is State.OVERDUE and item.rule.danger == GRAVE:
        yield Cause.OVERDUE


def _to_be_mended(today: CarToday) -> Iterator[Against]:
    items = {item.id: item for item in today.items}
    for finding in open_findings(today.car):
        item = items.get(ItemId(rule=OWN, component=finding.record))
        # what the owner refused is told as that
        if item is not None and item.state is not State.DECLINED:
            yield Against(cause=Cause.TO_BE_MENDED, items=(item,), finding=finding)


def _by_danger(item: Item) -> tuple[object, ...]:
    """Order items by danger first, then as the list of what is due does."""
    return (item.rank or 0, item.rule.danger, sort_key(item)[3:])
