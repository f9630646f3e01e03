"""The definition of a best plan, as it is written: every open day, every set of items.

Nothing of the planner is used here, not even its windows, so that it can be held against it.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property, lru_cache
from itertools import combinations

from dateutil.relativedelta import relativedelta

from castlenut.domain.visits.line import (
    AccessPrice,
    Calendar,
    Every,
    LatePrice,
    Line,
    NextFrom,
    PlannedItem,
    Span,
    Use,
    Weekday,
)

_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY = timedelta(days=1)


@dataclass
class Definition:
    """One line, with what is done by hand on it."""

    line: Line
    memo: dict[object, float] = field(default_factory=dict)
    passed: dict[tuple[str, date], date] = field(default_factory=dict)
    windows: dict[tuple[str, date | None], tuple[date | None, ...]] = field(default_factory=dict)

    @cached_property
    def open_days(self) -> list[date]:
        calendar = self.line.calendar
        closed = (*calendar.closed, *calendar.laid_up)
        weekdays = {each.value for each in calendar.closed_weekdays}
        count = (calendar.until - calendar.today).days + 1
        days = [calendar.today + timedelta(days=n) for n in range(count)]
        return [
            day
            for day in days
            if _NAMES[day.weekday()] not in weekdays
            and not any(first <= day <= last for first, last in closed)
        ]

    def distance(self, item: PlannedItem, day: date) -> float:
        use = self.line.use
        assert use is not None
        values = use.fast if item.is_safety_critical else use.expected
        if day <= use.dates[0]:
            return values[0]
        for place in range(1, len(use.dates)):
            if day <= use.dates[place]:
                begin, end = use.dates[place - 1], use.dates[place]
                share = (day - begin) / (end - begin)
                return values[place - 1] + share * (values[place] - values[place - 1])
        return values[-1]

    def reached(self, item: PlannedItem, distance: float) -> date | None:
        use = self.line.use
        assert use is not None
        day = use.dates[0]
        while day <= use.dates[-1]:
            if self.distance(item, day) >= distance - 1e-6:
                return day
            day += _DAY
        return None

    def window(self, item: PlannedItem, base: date | None) -> tuple[date | None, ...]:
        if (item.id, base) not in self.windows:
            self.windows[item.id, base] = self.window_from(item, base)
        return self.windows[item.id, base]

    def window_from(self, item: PlannedItem, base: date | None) -> tuple[date | None, ...]:
        on, at = item.due_on, item.due_at
        if base is not None:
            on = at = None
            every = item.every
            if every is None:
                return None, None, None
            if every.months:
                on = base + relativedelta(months=every.months)
            elif every.days:
                on = base + timedelta(days=every.days)
            if every.distance:
                at = self.distance(item, base) + every.distance
        w = item.window
        sides: list[tuple[date | None, ...]] = []
        if on is not None:
            sides.append((on - w.before_days * _DAY, on, on + w.after_days * _DAY))
        if at is not None:
            sides.append(
                tuple(
                    self.reached(item, each)
                    for each in (at - w.before_distance, at, at + w.after_distance)
                )
            )
        return tuple(
            min((day for side in sides if (day := side[place]) is not None), default=None)
            for place in range(3)
        )

    def allowed(self, item: PlannedItem, base: date | None) -> list[date] | None:
        """Give the days on which it may be done; None: it has not to be planned."""
        opens, due, closes = self.window(item, base)
        if closes is None or closes > self.line.calendar.until or due is None:
            return None
        days = [day for day in self.open_days if base is None or day > base]
        if item.next_from is NextFrom.SCHEDULE:
            assert opens is not None
            if base is not None:
                ends = []
                if item.every is not None and (item.every.months or item.every.days):
                    ends.append(base + item.window.after_days * _DAY)
                if item.every is not None and item.every.distance:
                    past = self.reached(
                        item, self.distance(item, base) + item.window.after_distance
                    )
                    if past is not None:
                        ends.append(past)
                # Two windows that overlap: the series keeps its order all the same.
                passed = self.passed[item.id, base]
                days = [day for day in days if day > min(ends) and day > passed]
            inside = [day for day in days if opens <= day <= closes]
            found = inside or [day for day in days if day < opens][-1:]
        else:
            found = [day for day in days if day <= closes + self.most_late(item) * _DAY]
        return found or [day for day in days if day > closes][:1]

    def is_kept(self, item: PlannedItem, base: date | None, day: date) -> bool:
        closes = self.window(item, base)[2]
        assert closes is not None
        return day <= closes + self.most_late(item) * _DAY

    def most_late(self, item: PlannedItem) -> int:
        may = (
            self.line.allow_late
            and item.late is not None
            and not item.is_safety_critical
            and item.next_from is NextFrom.DONE
        )
        return item.late.most_days if may and item.late is not None else 0

    def next_base(self, item: PlannedItem, base: date | None, day: date) -> date:
        opens, due, closes = self.window(item, base)
        assert opens is not None
        assert due is not None
        assert closes is not None
        if item.next_from is NextFrom.DONE:
            return day
        following = due if opens <= day <= closes else day
        days = self.allowed(item, base)
        assert days
        self.passed[item.id, following] = max(days[-1], day)
        return following

    def price_late(self, item: PlannedItem, base: date | None, day: date) -> float:
        closes = self.window(item, base)[2]
        if item.late is None or closes is None or not self.is_kept(item, base, day):
            return 0.0
        return item.late.price_per_day * max(0, (day - closes).days)

    def left(self, item: PlannedItem, base: date | None) -> float:
        if base is None or item.every is None:
            return 0.0
        until, every = self.line.calendar.until, item.every
        shares = []
        if every.months or every.days:
            due = base + (
                relativedelta(months=every.months) if every.months else every.days * _DAY  # type: ignore[operator] # one of them is given
            )
            shares.append((due - until) / (due - base))
        if every.distance:
            gone = self.distance(item, until) - self.distance(item, base)
            shares.append((every.distance - gone) / every.distance)
        return max(0.0, min(1.0, *shares))

    def cost(self, item: PlannedItem) -> float:
        return item.hours * self.line.hourly_rate + item.parts

    def least_used(self, item: PlannedItem) -> float:
        base: date | None = None
        times = 0
        while days := self.allowed(item, base):
            closes = self.window(item, base)[2]
            assert closes is not None
            timely = [day for day in days if day <= closes]
            day = timely[-1] if timely else days[0]
            base = self.next_base(item, base, day)
            times += 1
        return times - self.left(item, base) if times else 0.0

    def opened(self, items: tuple[PlannedItem, ...]) -> set[str]:
        found: set[str] = set()
        ahead = [name for item in items for name in item.access]
        while ahead:
            name = ahead.pop()
            found.add(name)
            ahead.extend(self.line.access[name].under)
        return found

    def opening(self) -> dict[str, float]:
        return {
            name: each.hours * self.line.hourly_rate + each.parts
            for name, each in self.line.access.items()
        }

    def total(self) -> float:
        """Give the least total of section 2."""
        counted = sum(self.cost(item) * self.least_used(item) for item in self.line.items)
        return self._least(0, (None,) * len(self.line.items)) - counted

    def total_with(self, done: frozenset[str], opened: tuple[str, ...]) -> float:
        """Give T(X) of section 7 but for a constant, the first open day being the one fixed."""
        day, items = self.open_days[0], self.line.items
        bases: list[date | None] = []
        spent = 0.0
        for item in items:
            if item.id not in done:
                bases.append(None)
                continue
            planned = self.allowed(item, None)
            spent += self.cost(item) + (self.price_late(item, None, day) if planned else 0.0)
            bases.append(self.next_base(item, None, day) if planned else day)
        names = self.opened(tuple(item for item in items if item.id in done))
        free = self._closure(opened)
        spent += sum(price for name, price in self.opening().items() if name in names - free)
        return spent + self._least(1, tuple(bases))

    def _closure(self, names: tuple[str, ...]) -> set[str]:
        found: set[str] = set()
        for name in names:
            found |= {name, *self._closure(self.line.access[name].under)}
        return found

    def _least(self, begin: int, begun: tuple[date | None, ...]) -> float:
        items = self.line.items
        allowed = lru_cache(maxsize=None)(lambda number, base: self.allowed(items[number], base))
        opening = self.opening()

        def last(number: int, base: date | None) -> date | None:
            days = allowed(number, base)
            return days[-1] if days else None

        def least(place: int, bases: tuple[date | None, ...]) -> float:
            standing = [n for n, base in enumerate(bases) if allowed(n, base)]
            if not standing:
                return -sum(
                    self.cost(item) * self.left(item, base)
                    for item, base in zip(items, bases, strict=True)
                )
            key = (place, bases)
            if key in self.memo:
                return self.memo[key]
            day = self.open_days[place]
            must = [n for n in standing if day == last(n, bases[n])]
            may = [n for n in standing if n not in must and day in (allowed(n, bases[n]) or ())]
            best = float("inf")
            for some in _sets(may):
                done = sorted([*must, *some])
                following = list(bases)
                spent = 0.0
                for n in done:
                    spent += self.cost(items[n]) + self.price_late(items[n], bases[n], day)
                    following[n] = self.next_base(items[n], bases[n], day)
                if done:
                    spent += self.line.visit_cost
                    names = self.opened(tuple(items[n] for n in done))
                    spent += sum(opening[name] for name in names)
                best = min(best, spent + least(place + 1, tuple(following)))
            self.memo[key] = best
            return best

        return least(begin, begun)


def _sets(of: list[int]) -> Iterator[tuple[int, ...]]:
    for count in range(len(of) + 1):
        yield from combinations(of, count)


def random_line(seed: int, *, may_be_late: bool = False) -> Line:
    """Make a small line; everything in it is invented."""
    chance = random.Random(seed)
    today = date(2031, 1, 6) + timedelta(days=chance.randrange(200))
    # Some nine open days, close together or wide apart: more would take the definition too long.
    span, weekdays = chance.choice(
        (
            (12, {"sat", "sun"}),
            (19, {"mon", "wed", "sat", "sun"}),
            (30, {"mon", "wed", "thu", "sat", "sun"}),
            (62, {"mon", "tue", "thu", "fri", "sat", "sun"}),
        )
    )
    until = today + timedelta(days=span)
    begin = today + timedelta(days=chance.randrange(-5, span))
    closed = ((begin, begin + timedelta(days=chance.randrange(1, 15))),)
    has_use = chance.random() < 0.5
    access = {
        "lift": AccessPrice(hours=0.3),
        "wheel": AccessPrice(hours=chance.choice((0.4, 0.8)), under=("lift",)),
        "hub": AccessPrice(hours=1.0, parts=5.0, under=("wheel", "lift")),
        "trim": AccessPrice(hours=0.5),
    }
    items = tuple(
        _item(chance, number, today, span, has_use=has_use, may_be_late=may_be_late)
        for number in range(chance.choice((2, 3, 3, 3)))
    )
    return Line(
        calendar=Calendar(
            today=today,
            until=until,
            closed_weekdays=frozenset(Weekday(each) for each in weekdays),
            closed=closed if chance.random() < 0.4 else (),
            laid_up=closed if chance.random() < 0.2 else (),
        ),
        visit_cost=chance.choice((0, 20, 60)),
        hourly_rate=50,
        allow_late=may_be_late,
        use=_use(chance, today, span) if has_use else None,
        access=access,
        items=items,
    )


def _use(chance: random.Random, today: date, span: int) -> Use:
    dates = tuple(today + timedelta(days=n) for n in (-3, span // 3, 2 * span // 3, span + 5))
    expected = [10_000.0]
    fast = [10_000.0]
    for _ in dates[1:]:
        expected.append(expected[-1] + chance.choice((0, 300, 700, 1500)))
        fast.append(max(expected[-1] * 1.02, fast[-1] + 100))
    return Use(dates=dates, expected=tuple(expected), fast=tuple(fast))


def _item(
    chance: random.Random,
    number: int,
    today: date,
    span: int,
    *,
    has_use: bool,
    may_be_late: bool,
) -> PlannedItem:
    by_distance = has_use and chance.random() < 0.5
    by_date = not by_distance or chance.random() < 0.5
    is_safe = chance.random() < 0.3
    is_fixed = chance.random() < 0.3
    days = chance.choice((None, 7, 13, 21, 40, 80))
    months = 1 if days is None and chance.random() < 0.7 else None
    every = None
    if (days or months) and chance.random() < 0.85:
        every = Every(
            months=months if by_date else None,
            days=days if by_date else None,
            distance=chance.choice((400.0, 900.0, 1600.0)) if by_distance else None,
        )
    after = 0 if is_safe else chance.choice((0, 0, 2, 5))
    return PlannedItem(
        id=f"item {number}",
        hours=chance.choice((0.3, 0.5, 1.0, 2.0)),
        parts=chance.choice((0, 10, 35)),
        access=chance.choice(((), ("lift",), ("wheel",), ("hub",), ("trim",), ("wheel", "trim"))),
        due_on=today + timedelta(days=chance.randrange(-8, span + 10)) if by_date else None,
        due_at=chance.choice((9_900.0, 10_200.0, 11_000.0, 12_500.0)) if by_distance else None,
        every=every,
        window=Span(
            before_days=chance.choice((0, 3, 6)) if every is None or not days or days > 20 else 1,
            after_days=after if every is None or not days or days > 20 else min(after, 2),
            before_distance=chance.choice((0.0, 50.0)),
            after_distance=0.0 if is_safe else chance.choice((0.0, 60.0)),
        ),
        next_from=NextFrom.SCHEDULE if is_fixed else NextFrom.DONE,
        is_safety_critical=is_safe,
        late=LatePrice(price_per_day=chance.choice((1.0, 6.0)), most_days=chance.choice((3, 10)))
        if may_be_late and not is_safe and not is_fixed and chance.random() < 0.6
        else None,
    )
