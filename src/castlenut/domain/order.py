"""The order in which items are told: worst first; and which of them make one line."""

from collections.abc import Sequence
from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.item import Item
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.working import Binds, State

_BY_DISTANCE = frozenset({Binds.DISTANCE, Binds.EVENT, Binds.MEASUREMENT})
_RANKS: dict[tuple[State, State | None], int] = {
    (State.OVERDUE, None): 0,
    (State.DUE, State.OVERDUE): 1,
    (State.AHEAD, State.OVERDUE): 1,
    (State.DUE, None): 2,
    (State.AHEAD, State.DUE): 3,
    (State.NO_RECORD, None): 4,
    (State.DECLINED, None): 5,
    (State.AHEAD, None): 6,
}


def state_rank(item: Item) -> int:
    """Give how bad a state is, from 0: overdue first, may be overdue next, ahead last."""
    may_be = item.may_be if item.state in (State.AHEAD, State.DUE) else None
    return _RANKS[item.state, may_be]


SortKey = tuple[int, int, int, date, str, tuple[int, str], str]


def sort_key(item: Item) -> SortKey:
    """Give the sorting key of an item.

    It is the state, of no record the rank, then danger, close of the window, title and place.
    """
    return (
        state_rank(item),
        item.rank or 0,
        item.rule.danger,
        _closes(item),
        item.rule.title,
        item.place.order if item.place else (-1, ""),
        str(item.id),
    )


def _closes(item: Item) -> date:
    """Give the day the window closes: by date, or where distance decides the expected day.

    Items due on one day come in the order in which their windows close (7.13).
    """
    by_distance = item.expected.p50 if item.binds in _BY_DISTANCE else None
    days = [day for day in (item.window.closes_on, by_distance) if day is not None]
    return min(days, default=item.expected.p50 or date.max)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Items of one rule that stand alike, from one baseline: one line on a screen, counted once."""

    items: tuple[Item, ...]

    @property
    def first(self) -> Item:
        """Give the item that stands for all."""
        return self.items[0]

    @property
    def places(self) -> str:
        """Give the places in their order: `LF RF`; empty for a part the car has once."""
        return " ".join(str(item.place) for item in self.items if item.place is not None)


def rows(items: Sequence[Item]) -> tuple[Row, ...]:
    """Put items of one rule, state, due point and day of baseline together, in the order given."""
    together: dict[tuple[object, ...], list[Item]] = {}
    for item in items:
        base = item.baseline
        key = (
            item.rule.id,
            item.rule.title,  # own notes are of one rule, and each its own
            item.state,
            item.may_be,
            item.due_on,
            item.shown.due_at,
            None if base is None else (base.how, base.on, base.at),
            item.component.record if item.place is None else None,
        )
        together.setdefault(key, []).append(item)
    return tuple(
        Row(
            items=tuple(sorted(each, key=lambda item: item.place.order if item.place else (-1, "")))
        )
        for each in together.values()
    )


def in_access_order(items: Sequence[Item], book: RuleBook) -> tuple[Row, ...]:
    """Give the lines of a job card: in the order in which the car is opened."""
    keys = list(book.accesses)

    def opened(row: Row) -> int:
        return max((keys.index(key) for key in row.first.rule.access if key in keys), default=-1)

    return tuple(sorted(rows(items), key=opened))


def worst(items: Sequence[Item]) -> Item | None:
    """Give the item that stands worst, the owner's own checks left aside; None: there is none."""
    return min((item for item in items if not item.rule.is_own_check), key=sort_key, default=None)
