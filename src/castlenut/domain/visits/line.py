"""What is planned: items with their windows, what each has to open, days, and prices."""

from collections.abc import Mapping
from datetime import date
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.domain.months import after_span

MOST_DAYS = 1200
MOST_ITEMS = 80


class NextFrom(Enum):
    """What the next interval runs from."""

    DONE = "done"
    SCHEDULE = "schedule"


class Weekday(Enum):
    """The days of the week, as settings write them; Monday first."""

    MON = "mon"
    TUE = "tue"
    WED = "wed"
    THU = "thu"
    FRI = "fri"
    SAT = "sat"
    SUN = "sun"


@dataclass(frozen=True, slots=True, kw_only=True)
class AccessPrice:
    """What opening and closing one access takes; `under` has to be open first."""

    hours: float
    parts: float = 0.0
    under: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Every:
    """An interval: calendar months, days, or both, and a distance; at least one of them."""

    months: int | None = None
    days: int | None = None
    distance: float | None = None

    def day_after(self, base: date) -> date | None:
        """Give the day it leads to from a base; None where it has no such side."""
        if self.months is None and self.days is None:
            return None
        return after_span(base, self.months or 0, self.days or 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """How far the window reaches before and after the due point, on each side."""

    before_days: int = 0
    after_days: int = 0
    before_distance: float = 0.0
    after_distance: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LatePrice:
    """What a day past the window costs, and how many there may be."""

    price_per_day: float
    most_days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedItem:
    """An item as the planner sees it. `every` None: it is done once."""

    id: str
    hours: float
    parts: float = 0.0
    access: tuple[str, ...] = ()
    due_on: date | None
    due_at: float | None
    every: Every | None
    window: Span = Span()
    next_from: NextFrom = NextFrom.DONE
    is_safety_critical: bool = False
    late: LatePrice | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """True distance by day, as it may be expected and as early as it may well be (P50, P10)."""

    dates: tuple[date, ...]
    expected: tuple[float, ...]
    fast: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """The days there are: from `today` to `until`, both counted, and which of them are closed.

    `closed` and `laid_up` are ranges with both ends. They hold past `until` too: the work of a
    visit may last longer than the plan.
    """

    today: date
    until: date
    closed_weekdays: frozenset[Weekday] = frozenset({Weekday.SAT, Weekday.SUN})
    closed: tuple[tuple[date, date], ...] = ()
    laid_up: tuple[tuple[date, date], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One car to be planned. Money in the garage's currency."""

    calendar: Calendar
    visit_cost: float
    hourly_rate: float
    day_hours: float = 8.0
    allow_late: bool = False
    use: Use | None = None
    access: Mapping[str, AccessPrice]
    items: tuple[PlannedItem, ...]

    def cost_of(self, item: PlannedItem) -> float:
        """Give the cost of doing an item once, without what has to be opened."""
        return item.hours * self.hourly_rate + item.parts

    def closure(self, names: tuple[str, ...]) -> frozenset[str]:
        """Give what is opened for these: each once, with all that has to be open first."""
        found: set[str] = set()
        ahead = list(names)
        while ahead:
            name = ahead.pop()
            if name not in found:
                found.add(name)
                ahead.extend(self.access[name].under)
        return frozenset(found)
