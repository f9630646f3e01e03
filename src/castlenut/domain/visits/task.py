"""The planning put into tables: the days that can occur, and what each item may do on each.

Push a visit to a later open day: nothing in it uses more life, and no next window closes sooner. So
unless something may be late, some best plan has every visit exactly on the earliest last day then
standing, and the days that can occur follow: the last days of the first windows, then of the
windows that follow work on such a day. Where an item may be late, the days between its last day
that is not late and its latest day can occur too.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from heapq import heappop, heappush

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.series import Occurrence, Series

FINISHED = -1
INFINITE = float("inf")
# Plans that cost the same: fewer visits first, then later days. Far below a cent.
_A_VISIT_MORE = 1e-3
_A_DAY_SOONER = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """One occurrence in the table: places among the days from `low` to `high`, both allowed.

    `timely`: the last place that is not late. `late`: what each place costs for being late, empty
    where none is.
    """

    low: int
    timely: int
    high: int
    late: tuple[float, ...] = ()

    def lateness(self, day: int) -> float:
        """Give what a doing on a day costs for being late."""
        return self.late[day - self.low] if self.late else 0.0


class Row:
    """One item in the tables.

    Windows are numbered. Of an item counted from the day done, number 0 is the first and `1 + k`
    follows a doing on day k; of a fixed series they are numbered in order. `after(n, k)` is what
    follows a doing of window n on day k; `end` is the life left that is credited once no further
    window has to be planned.
    """

    __slots__ = ("cost", "end", "is_series", "live", "mask", "needs", "number", "windows")

    def __init__(
        self,
        *,
        number: int,
        cost: float,
        needs: tuple[int, ...],
        windows: Sequence[Window | None],
        end: Sequence[float],
        is_series: bool,
    ) -> None:
        self.number = number
        self.cost = cost
        self.needs = needs
        self.mask = sum(1 << need for need in needs)
        self.windows = windows
        self.end = end
        self.is_series = is_series
        self.live = max((k for k, each in enumerate(windows) if each is not None), default=-1)

    def with_first(self, window: "Window") -> "Row":
        """Give the same item with another first window."""
        return Row(
            number=self.number,
            cost=self.cost,
            needs=self.needs,
            windows=(window, *self.windows[1:]),
            end=self.end,
            is_series=self.is_series,
        )

    def part(self, share: float, number: int) -> "Row":
        """Give a share of an item that stands for several alike, under a number of its own."""
        return Row(
            number=number,
            cost=share * self.cost,
            needs=self.needs,
            windows=self.windows,
            end=[share * each for each in self.end],
            is_series=self.is_series,
        )

    def after(self, window: int, day: int) -> int:
        """Give the number of the window that follows, or FINISHED."""
        following = window + 1 if self.is_series else day + 1
        if following >= len(self.windows) or self.windows[following] is None:
            return FINISHED
        return following

    def credit(self, window: int, day: int) -> float:
        """Give what is credited for the life left, after a doing that no other follows."""
        return self.end[window if self.is_series else day]


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """All of it: days as ordinals in order, rows, and what opens with its cost by day.

    Resource 0 is the visit itself, the others are accesses. `names[r]` is the access of resource r.
    `prices` of a visit are above `visit_cost` by what decides between plans that cost the same.
    `begins_on_first`: a visit on the first day, which costs nothing of its own (a car that is in).
    """

    days: tuple[int, ...]
    rows: tuple[Row, ...]
    names: tuple[str, ...]
    prices: tuple[tuple[float, ...], ...]
    visit_cost: float
    begins_on_first: bool
    has_late: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """An item that enters a task: its series, and which days its first doing may have.

    `begin`: the first window. `only_on`: that one is done on this day and no other. `times`: how
    much dearer it is than its series alone, where it stands for others that are alike.
    """

    series: Series
    begin: Occurrence | None
    times: float = 1.0
    only_on: int | None = None
    needs: frozenset[str]


def task(
    entered: Sequence[Entered],
    *,
    opening: Mapping[str, float],
    visit_cost: float,
    until: int,
    open_days: Sequence[int],
    here: int | None = None,
    open_here: frozenset[str] = frozenset(),
) -> Task:
    """Make the tables.

    `here`: a day on which the car is in anyway, with `open_here` open; its visit costs nothing.
    """
    reach = [_Reach(each, open_days) for each in entered]
    days = _days_that_occur(reach, here)
    names = ("", *sorted(opening))
    prices = [
        [
            visit_cost + _A_VISIT_MORE + _A_DAY_SOONER * (until - day) if day != here else 0.0
            for day in days
        ]
    ]
    for name in names[1:]:
        is_open = name in open_here
        prices.append([0.0 if is_open and day == here else opening[name] for day in days])
    return Task(
        days=days,
        rows=tuple(_row(number, each, days, names) for number, each in enumerate(reach)),
        names=names,
        prices=tuple(tuple(each) for each in prices),
        visit_cost=visit_cost,
        begins_on_first=here is not None,
        has_late=any(each.entered.series.late_price for each in reach),
    )


class _Reach:
    """Which days an item can be done on, as the days that occur become known in order."""

    def __init__(self, entered: Entered, open_days: Sequence[int]) -> None:
        self.entered = entered
        self.bases: dict[int, Occurrence | None] = {}
        self.chain: list[Occurrence] = []
        self._open_days = open_days
        self._standing: list[Occurrence] = []
        series = entered.series
        self.is_series = series.item.next_from.value == "schedule"
        if entered.begin is not None and entered.begin.first is not None:
            self._standing.append(entered.begin)
        if self.is_series:
            occurrence = entered.begin
            day = entered.only_on
            while occurrence is not None and occurrence.first is not None:
                self.chain.append(occurrence)
                day = occurrence.last if day is None else day
                occurrence = series.after(series.base_of(occurrence, day))
                day = None

    def first_days(self) -> set[int]:
        """Give the days that the first windows bring about, of a fixed series all of them."""
        if self.is_series:
            first = {self.chain[0].last} if self.chain else set()
            if self.entered.only_on is not None and self.chain:
                first = {self.entered.only_on}
            return first | {each.last for each in self.chain[1:]}
        if not self._standing:
            return set()
        if self.entered.only_on is not None:
            return {self.entered.only_on}
        return self._brought_by(self._standing[0])

    def pass_day(self, day: int) -> set[int]:
        """Note a day that occurs, and give the days that work on it brings about."""
        if self.is_series or not self._may(day):
            return set()
        following = self.entered.series.after(day)
        self.bases[day] = following
        if following is None or following.first is None:
            return set()
        self._standing.append(following)
        return self._brought_by(following)

    def _may(self, day: int) -> bool:
        # What runs from a later base closes no sooner: the latest reached may last longest.
        only = self.entered.only_on
        for place in range(len(self._standing) - 1, -1, -1):
            each = self._standing[place]
            if place == 0 and only is not None:
                return day == only and each is self.entered.begin
            if each.first is not None and each.first <= day:
                return day <= each.latest
        return False

    def _brought_by(self, occurrence: Occurrence) -> set[int]:
        if occurrence.latest == occurrence.last:
            return {occurrence.last}
        begin = bisect_left(self._open_days, occurrence.last)
        end = bisect_right(self._open_days, occurrence.latest)
        return set(self._open_days[begin:end])


def _days_that_occur(reach: Sequence[_Reach], here: int | None) -> tuple[int, ...]:
    found = set().union(*(each.first_days() for each in reach))
    if here is not None:
        found.add(here)
    ahead = sorted(found)
    in_order: list[int] = []
    while ahead:
        day = heappop(ahead)
        in_order.append(day)
        for each in reach:
            for brought in each.pass_day(day):
                if brought not in found:
                    found.add(brought)
                    heappush(ahead, brought)
    return tuple(in_order)


def _row(number: int, reach: _Reach, days: tuple[int, ...], names: Sequence[str]) -> Row:
    entered, series = reach.entered, reach.entered.series
    cost = series.cost * entered.times
    needs = (0, *sorted(names.index(name) for name in entered.needs))

    def window(occurrence: Occurrence | None, only_on: int | None = None) -> Window | None:
        if occurrence is None or occurrence.first is None:
            return None
        if only_on is not None:
            place = bisect_left(days, only_on)
            return Window(low=place, timely=place, high=place)
        low = bisect_left(days, occurrence.first)
        high = bisect_right(days, occurrence.latest) - 1
        return Window(
            low=low,
            timely=bisect_right(days, occurrence.last) - 1,
            high=high,
            late=tuple(series.price_late(occurrence, day) for day in days[low : high + 1])
            if series.late_price
            else (),
        )

    first = window(entered.begin, entered.only_on)
    if reach.is_series:
        following = [window(each) for each in reach.chain[1:]]
        bases = [
            series.base_of(
                each,
                entered.only_on if place == 0 and entered.only_on is not None else each.last,
            )
            for place, each in enumerate(reach.chain)
        ]
        windows = [first, *following] if reach.chain else [first]
        end = [cost * series.left(base) for base in bases]
    else:
        windows = [first, *(window(reach.bases.get(day)) for day in days)]
        end = [cost * series.left(day) for day in days]
    return Row(
        number=number,
        cost=cost,
        needs=needs,
        windows=windows,
        end=end,
        is_series=reach.is_series,
    )
