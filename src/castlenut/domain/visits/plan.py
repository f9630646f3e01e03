"""The plan of one car: its visits, what they cost, and how good the plan is known to be."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.alike import in_groups, times
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays, Stint, worked
from castlenut.domain.visits.series import Occurrence, Series
from castlenut.domain.visits.solving import Solver
from castlenut.domain.visits.task import Entered, task

_SAME_MONEY = 0.01
_STEPS_AT_ONCE = 1 << 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """An item done on a day, and the window it is done for.

    `base`: what that window runs from; None: it is the first. `life`: what doing it before its last
    day gives up, in money. `alone`: what a visit and opening of its own would cost.
    """

    item: str
    on: date
    occurrence: Occurrence
    base: date | None
    life: float
    alone: float

    @property
    def closes_on(self) -> date:
        """Give the day its window closes."""
        return date.fromordinal(self.occurrence.closes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A day the car is in: what is done, in the order of the line, what is opened, what it costs.

    `hours` are those of its items and of opening and closing.
    """

    on: date
    hours: float
    work: Sequence[Stint]
    doings: tuple[Doing, ...]
    access: tuple[str, ...]
    visit_cost: float
    access_cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a plan costs. `life`: of intervals given up by doing things early."""

    visits: float
    access: float
    life: float
    late: float

    @property
    def total(self) -> float:
        """Give the sum."""
        return self.visits + self.access + self.life + self.late


@dataclass(frozen=True, slots=True, kw_only=True)
class NotKept:
    """An occurrence for which no open day is left; `planned_on` None: there is none after it."""

    item: str
    occurrence: Occurrence
    base: date | None
    planned_on: date | None

    @property
    def closes_on(self) -> date:
        """Give the day its window closes."""
        return date.fromordinal(self.occurrence.closes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The visits of a car. No plan costs less than `bound`; `life` by item, in money."""

    visits: tuple[Visit, ...]
    cost: Cost
    bound: float
    life: Mapping[str, float]
    cannot: tuple[NotKept, ...]
    later: tuple[str, ...]

    @property
    def is_proved(self) -> bool:
        """Tell whether no plan is cheaper by more than a cent."""
        return self.cost.total - self.bound <= _SAME_MONEY

    @property
    def gap(self) -> float:
        """Give by what share of its cost the plan may be dearer than the best."""
        total = self.cost.total
        return max(0.0, (total - self.bound) / total) if total > 0 else 0.0

    def done_on(self, item: str) -> tuple[Doing, ...]:
        """Give the doings of an item, in order."""
        return tuple(each for visit in self.visits for each in visit.doings if each.item == item)


def plan_visits(line: Line, *, may_go_on: Callable[[], bool]) -> Plan:
    """Plan the visits of a car; without end of time the plan is the best there is."""
    days = OpenDays(line.calendar)
    series = [Series(item, line, days) for item in line.items]
    alike = in_groups(series, line)
    entered = [
        Entered(
            series=group[0],
            begin=group[0].first(),
            times=times(group),
            needs=line.closure(group[0].item.access),
        )
        for group in alike
    ]
    made = task(
        entered,
        opening=opening_costs(line),
        visit_cost=line.visit_cost,
        until=days.until,
        open_days=days.all,
    )
    solver = Solver(made, may_go_on)
    while not solver.is_proved and may_go_on():
        solver.run(may_go_on, steps=_STEPS_AT_ONCE)
    planned = {
        each.item.id: tuple(made.days[place] for place in chain)
        for group, chain in zip(alike, solver.plan, strict=True)
        for each in group
    }
    chains = [planned[each.item.id] for each in series]
    return laid_out(line, days, series, chains, bound=None if solver.is_proved else solver.bound)


def opening_costs(line: Line) -> dict[str, float]:
    """Give what opening each access costs, alone."""
    return {
        name: access.hours * line.hourly_rate + access.parts for name, access in line.access.items()
    }


def laid_out(
    line: Line,
    days: OpenDays,
    series: Sequence[Series],
    chains: Sequence[tuple[int, ...]],
    *,
    bound: float | None,
) -> Plan:
    """Lay days out as a plan. `bound` of what the tables count; None: it is the best there is."""
    doings: dict[int, list[Doing]] = {}
    life: dict[str, float] = {}
    cannot: list[NotKept] = []
    later: list[str] = []
    late = counted = 0.0
    prices = opening_costs(line)
    for each, chain in zip(series, chains, strict=True):
        item = each.item
        occurrence, base = each.first(), None
        if occurrence is None:
            later.append(item.id)
        for day in chain:
            if occurrence is None:
                raise AssertionError("a day for an occurrence that is not planned")
            doing = Doing(
                item=item.id,
                on=date.fromordinal(day),
                occurrence=occurrence,
                base=None if base is None else date.fromordinal(base),
                life=each.cost * each.given_up(occurrence, day),
                alone=line.visit_cost + sum(prices[name] for name in line.closure(item.access)),
            )
            doings.setdefault(day, []).append(doing)
            late += each.price_late(occurrence, day)
            if not occurrence.is_kept:
                cannot.append(_not_kept(doing.item, occurrence, base, day))
            base = each.base_of(occurrence, day)
            occurrence = each.after(base)
        if occurrence is not None:
            cannot.append(_not_kept(item.id, occurrence, base, None))
        if chain:
            used = each.used(chain)
            life[item.id] = each.cost * (used - each.least_used())
            counted += each.cost * each.least_used()
    visits = _visits(line, days, doings)
    cost = Cost(
        visits=sum(each.visit_cost for each in visits),
        access=sum(each.access_cost for each in visits),
        life=sum(life.values()),
        late=late,
    )
    return Plan(
        visits=visits,
        cost=cost,
        bound=cost.total if bound is None else min(cost.total, bound - counted),
        life=life,
        cannot=tuple(cannot),
        later=tuple(later),
    )


def _visits(line: Line, days: OpenDays, doings: Mapping[int, list[Doing]]) -> tuple[Visit, ...]:
    items = {item.id: item for item in line.items}
    prices = opening_costs(line)
    opened = {
        day: line.closure(tuple(name for each in done for name in items[each.item].access))
        for day, done in doings.items()
    }
    hours = {
        day: sum(items[each.item].hours for each in done)
        + sum(line.access[name].hours for name in opened[day])
        for day, done in doings.items()
    }
    in_order = sorted(doings)
    work = worked([(day, hours[day]) for day in in_order], days, line.day_hours)
    return tuple(
        Visit(
            on=date.fromordinal(day),
            hours=hours[day],
            work=stints,
            doings=tuple(doings[day]),
            access=tuple(sorted(opened[day], key=list(line.access).index)),
            visit_cost=line.visit_cost,
            access_cost=sum(prices[name] for name in opened[day]),
        )
        for day, stints in zip(in_order, work, strict=True)
    )


def _not_kept(item: str, occurrence: Occurrence, base: int | None, day: int | None) -> NotKept:
    return NotKept(
        item=item,
        occurrence=occurrence,
        base=None if base is None else date.fromordinal(base),
        planned_on=None if day is None else date.fromordinal(day),
    )
