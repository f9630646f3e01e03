"""While it is apart: what is worth doing today, since what it needs is open, and what together.

The planner, run with the first day fixed: once with nothing more than is done anyway, once for each
item that could be done, and once with the choice among all of them.
"""

from collections.abc import Callable, Sequence
from datetime import date

from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import opening_costs
from castlenut.domain.visits.series import Occurrence, Series
from castlenut.domain.visits.solving import Solver
from castlenut.domain.visits.task import Entered, Row, Task, task

_FIRST_STEPS = 1 << 14
_TIMES_MORE = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """What doing an item today is worth, against leaving it: money, visits, hours of access.

    `days_early`: before the last day it could be left to. `life_given_up` is below 0 where doing it
    today lets other things wait for longer.
    """

    item: str
    net: float
    visits_saved: int
    access_saved: float
    hours_saved: float
    life_given_up: float
    late_saved: float
    days_early: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """The candidates, most worth first, and the set that is worth most together.

    `doing`: what is done that day anyway: as told, and what cannot be left any longer.
    """

    doing: tuple[str, ...]
    ranked: tuple[Worth, ...]
    items: tuple[str, ...]
    net: float
    is_proved: bool


def together(
    line: Line,
    *,
    on: date,
    opened: frozenset[str],
    doing: frozenset[str],
    may_go_on: Callable[[], bool],
) -> Together:
    """Judge what else may be done on a day on which some access is open."""
    from_here = replace(line, calendar=replace(line.calendar, today=on))
    days = OpenDays(from_here.calendar)
    rows = [Series(item, from_here, days) for item in line.items]
    here = on.toordinal()
    is_open = line.closure(tuple(opened))
    anyway = {
        each.item.id for each in rows if each.item.id in doing or _cannot_wait(each.first(), here)
    }
    candidates = [
        each
        for each in rows
        if each.item.id not in anyway
        and line.closure(each.item.access) & is_open
        and _may_be_done(each.first(), here)
    ]
    asked = _Asked(line=from_here, days=days, rows=rows, here=here, is_open=is_open, anyway=anyway)
    names = [each.item.id for each in candidates]
    base = asked.task(frozenset(names))
    none = Solver(asked.with_first(base, chosen=frozenset(), free=frozenset()), may_go_on)
    single = [
        Solver(
            asked.with_first(base, chosen=frozenset({name}), free=frozenset()),
            may_go_on,
            like=none,
        )
        for name in names
    ]
    every = asked.with_first(base, chosen=frozenset(), free=frozenset(names))
    best = Solver(every, may_go_on, like=none)
    solvers = [none, best, *single]
    for each in single:
        best.take(each.plan)
    steps = _FIRST_STEPS
    while any(not each.is_proved for each in solvers) and may_go_on():
        for each in solvers:
            if not each.is_proved:
                each.run(may_go_on, steps=steps)
        steps *= _TIMES_MORE
    left = asked.figures(none)
    done = asked.figures(best)
    ranked = [
        _worth(series, left, asked.figures(each), here)
        for series, each in zip(candidates, single, strict=True)
    ]
    ranked.sort(key=lambda each: (-round(each.net, 6), each.item))
    taken = [name for name in names if name in done.here]
    # The choice among all can be no worse than any alone, whatever was not proved.
    winner = max(ranked, key=lambda each: each.net, default=None)
    net = left.total - done.total
    if winner is not None and winner.net > net + _A_CENT:
        taken, net = [winner.item], winner.net
    if net < _A_CENT / 2:
        taken, net = [], 0.0
    return Together(
        doing=tuple(each.item.id for each in rows if each.item.id in anyway),
        ranked=tuple(ranked),
        items=tuple(taken),
        net=net,
        is_proved=all(each.is_proved for each in solvers),
    )


_A_CENT = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class _Figures:
    """What a plan with the first day fixed comes to; `here`: what it does on that day."""

    total: float
    visits: int
    access: float
    hours: float
    life: float
    late: float
    here: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    line: Line
    days: OpenDays
    rows: Sequence[Series]
    here: int
    is_open: frozenset[str]
    anyway: set[str]

    def task(self, candidates: frozenset[str]) -> Task:
        """Make the tables, in which every candidate may be done today."""
        return task(
            [self._entered(each, candidates) for each in self.rows],
            opening=opening_costs(self.line),
            visit_cost=self.line.visit_cost,
            until=self.days.until,
            open_days=self.days.all,
            here=self.here,
            open_here=self.is_open,
        )

    def with_first(self, base: Task, *, chosen: frozenset[str], free: frozenset[str]) -> Task:
        """Give the same tables with `chosen` done today, `free` perhaps, all else later."""
        rows: list[Row] = []
        for series, row in zip(self.rows, base.rows, strict=True):
            window, name = row.windows[0], series.item.id
            if window is None or window.low > 0 or name in self.anyway or name in free:
                rows.append(row)
            elif name in chosen:
                rows.append(row.with_first(replace(window, timely=0, high=0, late=window.late[:1])))
            else:
                rows.append(
                    row.with_first(
                        replace(
                            window,
                            low=1,
                            timely=max(1, window.timely),
                            late=window.late[1:],
                        )
                    )
                )
        return replace(base, rows=tuple(rows))

    def _entered(self, series: Series, candidates: frozenset[str]) -> Entered:
        name = series.item.id
        needs = self.line.closure(series.item.access)
        begin = series.first()
        if name in self.anyway:
            return Entered(series=series, begin=self._today(begin), only_on=self.here, needs=needs)
        if begin is not None and begin.first is not None and name not in candidates:
            first = self.days.first_from(max(begin.first, self.here + 1))
            begin = replace(begin, first=first)
        return Entered(series=series, begin=begin, needs=needs)

    def _today(self, begin: Occurrence | None) -> Occurrence:
        """Give the occurrence done today: the one that stands, or one told though none need be."""
        if begin is not None:
            return replace(begin, first=self.here)
        # Its window is not planned, or nothing is known of it: it counts from the day done.
        return Occurrence(
            opens=self.here,
            due=self.here,
            closes=self.here,
            first=self.here,
            last=self.here,
            latest=self.here,
            is_kept=True,
            is_by_distance=False,
        )

    def figures(self, solver: Solver) -> _Figures:
        """Give what the plan of a solver comes to, without what decides between equal ones."""
        made = solver.task
        opened: set[tuple[str, int]] = set()
        visits: set[int] = set()
        life = late = 0.0
        here: set[str] = set()
        for series, row in zip(self.rows, made.rows, strict=True):
            number = 0
            for place in solver.plan[row.number]:
                day = made.days[place]
                if day == self.here:
                    here.add(series.item.id)
                else:
                    visits.add(day)
                opened.update((made.names[need], day) for need in row.needs if need)
                window = row.windows[number]
                late += window.lateness(place) if window is not None else 0.0
                life += row.cost
                following = row.after(number, place)
                life -= row.credit(number, place) if following < 0 else 0.0
                number = following
        paid = [name for name, day in opened if day != self.here or name not in self.is_open]
        prices = opening_costs(self.line)
        access = sum(prices[name] for name in paid)
        return _Figures(
            total=len(visits) * self.line.visit_cost + access + life + late,
            visits=len(visits),
            access=access,
            hours=sum(self.line.access[name].hours for name in paid),
            life=life,
            late=late,
            here=frozenset(here),
        )


def _cannot_wait(occurrence: Occurrence | None, here: int) -> bool:
    return occurrence is not None and occurrence.first is not None and occurrence.latest <= here


def _may_be_done(occurrence: Occurrence | None, here: int) -> bool:
    return occurrence is not None and occurrence.first is not None and occurrence.first <= here


def _worth(series: Series, none: _Figures, done: _Figures, here: int) -> Worth:
    occurrence = series.first()
    return Worth(
        item=series.item.id,
        net=none.total - done.total,
        visits_saved=none.visits - done.visits,
        access_saved=none.access - done.access,
        hours_saved=none.hours - done.hours,
        life_given_up=done.life - none.life,
        late_saved=none.late - done.late,
        days_early=0 if occurrence is None else max(0, occurrence.last - here),
    )
