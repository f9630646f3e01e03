"""What goes past its window if the car is driven as much as it may well be."""

from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.curve import Curve
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import Plan
from castlenut.domain.visits.series import Series, points


@dataclass(frozen=True, slots=True, kw_only=True)
class AtRisk:
    """A doing whose window, by the fast curve, closes before its day."""

    item: str
    on: date
    closes_on: date


def at_risk(line: Line, plan: Plan) -> tuple[AtRisk, ...]:
    """Give the doings at risk, in the order of the visits.

    Safety-critical items are planned by the fast curve anyway.
    """
    if line.use is None:
        return ()
    curve = Curve(line.use.dates, line.use.fast)
    days = OpenDays(line.calendar)
    series = {item.id: Series(item, line, days) for item in line.items}
    found: list[AtRisk] = []
    for visit in plan.visits:
        for doing in visit.doings:
            each = series[doing.item]
            if each.item.is_safety_critical or not doing.occurrence.is_kept:
                continue
            item = each.item
            distance = item.due_at if doing.base is None else item.every and item.every.distance
            if distance is None:
                continue
            if doing.base is None:
                on = None if each.item.due_on is None else each.item.due_on.toordinal()
                window = points(each.item, on, each.item.due_at, curve)
            else:
                window = each.points_after(doing.base.toordinal(), curve)
            closes = window.closes
            if closes is not None and closes < doing.on.toordinal():
                found.append(
                    AtRisk(item=doing.item, on=doing.on, closes_on=date.fromordinal(closes))
                )
    return tuple(found)
