"""Items that may as well be done on the same days, each group planned as one."""

from collections.abc import Container, Sequence

from castlenut.domain.visits.line import Line
from castlenut.domain.visits.series import Series


def in_groups(
    series: Sequence[Series], line: Line, *, fixed: Container[str] = ()
) -> list[list[Series]]:
    """Give items in groups that may as well be done on the same days.

    They need the same opened, and their windows are the same whatever day they are done on: where
    two such were done on different days, both could be done on the cheaper ones. Those `fixed`,
    whose first day is told, make groups of their own.
    """
    found: dict[object, list[Series]] = {}
    for each in series:
        item = each.item
        key: object = (
            line.closure(item.access),
            item.due_on,
            item.due_at,
            item.every,
            item.window,
            item.next_from,
            item.is_safety_critical,
            item.id in fixed,
        )
        has_cost = each.cost > 0  # what costs nothing has a share of nothing in a group
        found.setdefault((item.id,) if item.late or not has_cost else key, []).append(each)
    return list(found.values())


def times(group: Sequence[Series]) -> float:
    """Give how much dearer a group is than its first item alone."""
    return sum(each.cost for each in group) / group[0].cost if group[0].cost else 1.0
