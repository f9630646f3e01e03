"""One item moved to another visit of a plan, or a whole visit to another day: what that costs."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import Cost, Plan, Visit, laid_out, opening_costs
from castlenut.domain.visits.series import Occurrence, Series

_NOWHERE: Mapping[date, frozenset[str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A plan with one item moved. `more`: what it costs more than before, part by part.

    `visits` and `hours`: how many visits and hours of opening there are more. `past`: the day its
    window closes, where that is before the day it is moved to.
    """

    plan: Plan
    more: Cost
    visits: int
    hours: float
    past: date | None


class Moving:
    """A plan whose items may be moved one by one.

    `in_anyway`: days on which the car is in for something else, with what is open then.
    """

    def __init__(
        self, line: Line, plan: Plan, *, in_anyway: Mapping[date, frozenset[str]] = _NOWHERE
    ) -> None:
        self._line = line
        self._plan = plan
        self._days = OpenDays(line.calendar)
        self._series = [Series(item, line, self._days) for item in line.items]
        self._in_anyway = in_anyway
        self._prices = opening_costs(line)
        self._chains = {
            item.id: tuple(each.on.toordinal() for each in plan.done_on(item.id))
            for item in line.items
        }

    def days_for(self, item: str, on: date) -> tuple[date, ...]:
        """Give the days of other visits to which a doing may go, and its last day if none has it.

        Not before the doing before it, and not past the one that follows it.
        """
        chain = self._chains[item]
        place = chain.index(on.toordinal())
        begin = chain[place - 1] if place else self._days.today - 1
        end = chain[place + 1] if place + 1 < len(chain) else self._days.until + 1
        found = {each.on for each in self._plan.visits} | set(self._in_anyway)
        occurrence = self._standing(item, place)
        if occurrence is not None and occurrence.first is not None:
            found.add(date.fromordinal(occurrence.last))
        return tuple(sorted(day for day in found - {on} if begin < day.toordinal() < end))

    def moved(self, item: str, on: date, to: date) -> Moved:
        """Move the doing of a day to another day; what follows keeps its days where it may."""
        chain = self._chains[item]
        place = chain.index(on.toordinal())
        occurrence = self._standing(item, place)
        if occurrence is None:
            raise AssertionError("a doing that is not planned was moved")
        chains = dict(self._chains)
        chains[item] = self._followed(item, (*chain[:place], to.toordinal()), chain[place + 1 :])
        found = laid_out(
            self._line,
            self._days,
            self._series,
            [chains[each.item.id] for each in self._series],
            bound=None,
        )
        closes = date.fromordinal(occurrence.closes)
        before, after = self._paid(self._plan), self._paid(found)
        return Moved(
            plan=replace(found, bound=min(self._plan.bound, found.bound)),
            more=Cost(
                visits=after.visits - before.visits,
                access=after.access - before.access,
                life=after.life - before.life,
                late=after.late - before.late,
            ),
            visits=self._count(found) - self._count(self._plan),
            hours=self._hours(found) - self._hours(self._plan),
            past=closes if closes < to else None,
        )

    def life_on(self, visit: Visit, day: date) -> float:
        """Give what doing a whole visit on another day gives up more, in money; below 0: less."""
        series = {each.item.id: each for each in self._series}
        more = 0.0
        for doing in visit.doings:
            each, occurrence = series[doing.item], doing.occurrence
            if occurrence.is_kept:
                there = each.given_up(occurrence, day.toordinal())
                more += each.cost * there - doing.life
        return more

    def _standing(self, item: str, place: int) -> Occurrence | None:
        """Give the occurrence that a doing of an item is done for."""
        series = self._of(item)
        occurrence = series.first()
        for day in self._chains[item][:place]:
            if occurrence is None:
                return None
            occurrence = series.after(series.base_of(occurrence, day))
        return occurrence

    def _followed(
        self, item: str, chain: tuple[int, ...], later: tuple[int, ...]
    ) -> tuple[int, ...]:
        """Give the days of an item from a beginning on.

        As they were where they may be; else with another visit in its window, else its last day.
        """
        series, found = self._of(item), list(chain)
        visits = sorted({each.on.toordinal() for each in self._plan.visits})
        occurrence = series.first()
        for day in chain:
            if occurrence is None:
                return tuple(found)
            occurrence = series.after(series.base_of(occurrence, day))
        while occurrence is not None and occurrence.first is not None:
            first, last = occurrence.first, occurrence.last
            opens = max(first, occurrence.opens)
            kept = (each for each in later if first <= each <= last)
            along = (each for each in reversed(visits) if opens <= each <= last)
            day = next(kept, next(along, last))
            found.append(day)
            occurrence = series.after(series.base_of(occurrence, day))
        return tuple(found)

    def _of(self, item: str) -> Series:
        return next(each for each in self._series if each.item.id == item)

    def _paid(self, plan: Plan) -> Cost:
        """Give what a plan costs, with nothing for what is open on a day anyway."""
        return Cost(
            visits=self._line.visit_cost * self._count(plan),
            access=sum(self._prices[name] for name in self._opened(plan)),
            life=plan.cost.life,
            late=plan.cost.late,
        )

    def _count(self, plan: Plan) -> int:
        return sum(each.on not in self._in_anyway for each in plan.visits)

    def _hours(self, plan: Plan) -> float:
        return sum(self._line.access[name].hours for name in self._opened(plan))

    def _opened(self, plan: Plan) -> list[str]:
        return [
            name
            for visit in plan.visits
            for name in visit.access
            if name not in self._in_anyway.get(visit.on, frozenset())
        ]
