"""While it is apart: what is worth doing today, since what it needs is open, and what together.

The planner, run with the first day fixed: once with nothing more than is done anyway, once for each
item that could be done, and once with the choice among all of them.
"""

from collections.abc import Callable, Sequence
from datetime import date

from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.visits.first_day import Figures, FirstDay, Variant
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.series import Occurrence, Series
from castlenut.domain.visits.solving import Solver

_FIRST_STEPS = 1 << 14
_TIMES_MORE = 4
_A_CENT = 0.01


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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Alone:
    """A candidate judged alone."""

    variant: Variant
    solver: Solver


def together(
    line: Line,
    *,
    on: date,
    opened: frozenset[str],
    doing: frozenset[str],
    may_go_on: Callable[[], bool],
    tell: Callable[[int, int], object] | None = None,
) -> Together:
    """Judge what else may be done on a day on which some access is open.

    `tell` is told how many of the candidates have been judged, of how many.
    """
    from_here = replace(line, calendar=replace(line.calendar, today=on))
    days = OpenDays(from_here.calendar)
    rows = [Series(item, from_here, days) for item in line.items]
    here = on.toordinal()
    is_open = line.closure(tuple(opened))
    anyway = frozenset(
        each.item.id for each in rows if each.item.id in doing or _cannot_wait(each.first(), here)
    )
    candidates = [
        each
        for each in rows
        if each.item.id not in anyway
        and line.closure(each.item.access) & is_open
        and _may_be_done(each.first(), here)
    ]
    names = [each.item.id for each in candidates]
    day = FirstDay(
        from_here,
        rows=rows,
        days=days,
        is_open=is_open,
        anyway=anyway,
        candidates=frozenset(names),
    )
    none = Solver(day.without.task, may_go_on, is_first_of_many=True)
    best = Solver(day.free.task, may_go_on, is_first_of_many=True)
    best.take(none.plan)
    alone: dict[tuple[int, float], _Alone] = {}
    for place, name in enumerate(names):
        if tell is not None:
            tell(place, len(names))
        # Items alike are worth the same, each alone.
        if day.like(name) not in alone:
            variant = day.with_item(name)
            solver = Solver(variant.task, may_go_on, like=variant.known(none.known))
            alone[day.like(name)] = _Alone(variant=variant, solver=solver)
    _run(none, best, list(alone.values()), may_go_on)
    left, done = day.figures(day.without, none.plan), day.figures(day.free, best.plan)
    ranked = [
        _worth(series, left, day.figures(each.variant, each.solver.plan), here)
        for series in candidates
        for each in (alone[day.like(series.item.id)],)
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
        is_proved=all(each.is_proved for each in (none, best))
        and all(each.solver.is_proved for each in alone.values()),
    )


def _run(
    none: Solver, best: Solver, alone: Sequence[_Alone], may_go_on: Callable[[], bool]
) -> None:
    """Run those that are not proved in turn, longer each time, until all are or time is out.

    What one finds out serves the others too: else a plan that is better for all of them would look
    like the gain of one.
    """
    steps, solvers = _FIRST_STEPS, [none, best, *(each.solver for each in alone)]
    _share(none, best, alone)
    while any(not each.is_proved for each in solvers) and may_go_on():
        for each in solvers:
            if not each.is_proved:
                each.run(may_go_on, steps=steps)
        _share(none, best, alone)
        steps *= _TIMES_MORE


def _share(none: Solver, best: Solver, alone: Sequence[_Alone]) -> None:
    for each in alone:
        best.take(each.variant.as_groups(each.solver.plan))
    none.take_like(best.known)
    best.take(none.plan)
    for each in alone:
        each.solver.take_like(each.variant.known(best.known))
        each.solver.take_like(each.variant.known(none.known))


def _cannot_wait(occurrence: Occurrence | None, here: int) -> bool:
    return occurrence is not None and occurrence.first is not None and occurrence.latest <= here


def _may_be_done(occurrence: Occurrence | None, here: int) -> bool:
    return occurrence is not None and occurrence.first is not None and occurrence.first <= here


def _worth(series: Series, none: Figures, done: Figures, here: int) -> Worth:
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
