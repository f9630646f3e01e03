"""The planning with its first day fixed: a day on which the car is in, and some access is open."""

from collections.abc import Sequence

from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.visits.alike import in_groups, times
from castlenut.domain.visits.chains import Chain
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import opening_costs
from castlenut.domain.visits.series import Occurrence, Series
from castlenut.domain.visits.solving import Known
from castlenut.domain.visits.task import Entered, Row, Task, task


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What a plan with the first day fixed comes to; `here`: the items it does on that day."""

    total: float
    visits: int
    access: float
    hours: float
    life: float
    late: float
    here: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """The tables with some items done on the first day: of each row, the items it stands for.

    `apart`: the group of which one item has a row of its own, the last.
    """

    task: Task
    items: tuple[tuple[str, ...], ...]
    apart: int | None = None

    def known(self, of: Known) -> Known:
        """Give what is known of tables in which no item stands apart, for these."""
        if self.apart is None:
            return of
        return Known(plan=(*of.plan, of.plan[self.apart]), paid=(*of.paid, of.paid[self.apart]))

    def as_groups(self, plan: Sequence[Chain]) -> list[Chain]:
        """Give a plan of these as one in which the item that stands apart takes its group along."""
        if self.apart is None:
            return list(plan)
        found = list(plan[:-1])
        found[self.apart] = plan[-1]
        return found


class FirstDay:
    """The tables in which the car is in on the first day, and what may be done on it."""

    def __init__(
        self,
        line: Line,
        *,
        rows: Sequence[Series],
        days: OpenDays,
        is_open: frozenset[str],
        anyway: frozenset[str],
        candidates: frozenset[str],
    ) -> None:
        """Make them. `anyway`: done on the first day; `candidates`: may be; all else later."""
        self._line = line
        self._days = days
        self._here = days.all[0]
        self._is_open = is_open
        self._anyway = anyway
        self._groups = in_groups(rows, line, fixed=anyway)
        self._items = tuple(tuple(each.item.id for each in group) for group in self._groups)
        self._base = task(
            [self._entered(group, candidates) for group in self._groups],
            opening=opening_costs(line),
            visit_cost=line.visit_cost,
            until=days.until,
            open_days=days.all,
            here=self._here,
            open_here=is_open,
        )

    @property
    def free(self) -> Variant:
        """Give the tables in which every candidate may be done on the first day."""
        return Variant(task=self._base, items=self._items)

    @property
    def without(self) -> Variant:
        """Give those in which none is."""
        rows = tuple(map(self._later, self._base.rows))
        return Variant(task=replace(self._base, rows=rows), items=self._items)

    def with_item(self, name: str) -> Variant:
        """Give those in which one candidate is done on it, and no other."""
        rows = [*map(self._later, self._base.rows)]
        number = next(place for place, names in enumerate(self._items) if name in names)
        group, row = self._groups[number], self._base.rows[number]
        cost = next(each.cost for each in group if each.item.id == name)
        if len(group) == 1:
            rows[number] = _now(row)
            return Variant(task=replace(self._base, rows=tuple(rows)), items=self._items)
        share = cost / sum(each.cost for each in group)
        rows[number] = self._later(row.part(1 - share, number))
        rows.append(_now(row.part(share, len(rows))))
        others = tuple(each for each in self._items[number] if each != name)
        return Variant(
            task=replace(self._base, rows=tuple(rows)),
            items=(*self._items[:number], others, *self._items[number + 1 :], (name,)),
            apart=number,
        )

    def like(self, name: str) -> tuple[int, float]:
        """Give what is the same for items that are worth the same: their group, and their cost."""
        number = next(place for place, names in enumerate(self._items) if name in names)
        each = next(each for each in self._groups[number] if each.item.id == name)
        return number, each.cost

    def figures(self, variant: Variant, plan: Sequence[Chain]) -> Figures:
        """Give what a plan comes to, without what decides between equal ones."""
        made, here = variant.task, self._here
        opened: set[tuple[str, int]] = set()
        visits: set[int] = set()
        life = late = 0.0
        done: set[str] = set()
        for names, row in zip(variant.items, made.rows, strict=True):
            number = 0
            for place in plan[row.number]:
                day = made.days[place]
                if day == here:
                    done.update(names)
                else:
                    visits.add(day)
                opened.update((made.names[need], day) for need in row.needs if need)
                window = row.windows[number]
                late += window.lateness(place) if window is not None else 0.0
                life += row.cost
                following = row.after(number, place)
                life -= row.credit(number, place) if following < 0 else 0.0
                number = following
        paid = [name for name, day in opened if day != here or name not in self._is_open]
        prices = opening_costs(self._line)
        access = sum(prices[name] for name in paid)
        return Figures(
            total=len(visits) * self._line.visit_cost + access + life + late,
            visits=len(visits),
            access=access,
            hours=sum(self._line.access[name].hours for name in paid),
            life=life,
            late=late,
            here=frozenset(done),
        )

    def _later(self, row: Row) -> Row:
        """Give a row whose first doing is not on the first day, unless it is done then anyway."""
        window = row.windows[0]
        names = self._items[row.number]
        if window is None or window.low > 0 or names[0] in self._anyway:
            return row
        return row.with_first(
            replace(window, low=1, timely=max(1, window.timely), late=window.late[1:])
        )

    def _entered(self, group: Sequence[Series], candidates: frozenset[str]) -> Entered:
        series, name = group[0], group[0].item.id
        needs = self._line.closure(series.item.access)
        begin = series.first()
        if name in self._anyway:
            return Entered(
                series=series,
                begin=self._today(begin),
                only_on=self._here,
                needs=needs,
                times=times(group),
            )
        if begin is not None and begin.first is not None and name not in candidates:
            first = self._days.first_from(max(begin.first, self._here + 1))
            begin = replace(begin, first=first)
        return Entered(series=series, begin=begin, needs=needs, times=times(group))

    def _today(self, begin: Occurrence | None) -> Occurrence:
        """Give the occurrence done today: the one that stands, or one told though none need be."""
        here = self._here
        if begin is not None:
            return replace(begin, first=here)
        # Its window is not planned, or nothing is known of it: it counts from the day done.
        return Occurrence(
            opens=here,
            due=here,
            closes=here,
            first=here,
            last=here,
            latest=here,
            is_kept=True,
            is_by_distance=False,
        )


def _now(row: Row) -> Row:
    """Give a row whose first doing is on the first day and no other."""
    window = row.windows[0]
    if window is None:
        raise AssertionError("a candidate without a window that is planned")
    return row.with_first(replace(window, timely=0, high=0, late=window.late[:1]))
