"""What the way between two marks of a dial costs: driven so, rolled over, or on another dial."""

from math import inf, log

from castlenut.domain.causes.haste import cost, in_miles, is_possible
from castlenut.domain.causes.slips import REPLACED
from castlenut.domain.course import Course, Join
from castlenut.domain.dial import Dial
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.units import Shown

_ROLLED = 2.5
_MOST_WRAPS = 3
_UNKNOWN = log(1_000)  # the cost of a distance that nobody knows
_ROUNDED = 2  # a whole mile cut off is more than a kilometer
_FIRST_ALONE = 3.0  # the first reading alone is sooner mistaken than the only one of an old dial
_AGAINST_A_JUDGMENT = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The way from one sound mark to the next."""

    join: Join
    wraps: int
    cost: float


class Ways:
    """The ways between the marks of one course, under one habit of use; each reckoned once."""

    def __init__(self, course: Course, dial: Dial, usual: tuple[float, float]) -> None:
        self.course = course
        self.usual = usual
        self._dial = dial
        self._mile_a_figure = [in_miles(float(factor), course.unit) for factor in course.factors]
        self._steps: dict[tuple[int, int], Step] = {}

    def step(self, first: int, second: int) -> Step:
        """Give the cheapest way from one mark to another, neither of them mistaken."""
        found = self._steps.get((first, second))
        if found is None:
            begin, end = self.course.marks[first], self.course.marks[second]
            found = self._cheapest(first, second, begin.shown, end.shown, may_be_new=True)
            if begin.judged and end.judged and found.cost > _AGAINST_A_JUDGMENT:
                found = replace(found, cost=_AGAINST_A_JUDGMENT)
            self._steps[first, second] = found
        return found

    def room(self, before: int | None, after: int | None) -> tuple[float, float]:
        """Give the figures between two sound marks; any, if the dial was changed or passed its end.

        Beside one sound mark alone no rollover is read into a slip.
        """
        low, high = 0.0, float(self.course.capacity)
        marks, counts = self.course.marks, self.course.counts
        if before is not None and after is not None:
            step = self.step(before, after)
            if step.join is not Join.AS_TOLD or counts[before] != counts[after]:
                return low, high
        if before is not None:
            low = float(marks[before].shown) - _ROUNDED
        if after is not None:
            high = float(marks[after].shown) + _ROUNDED
        return low, high

    def link(self, first: int, second: int, begin: Shown, end: Shown) -> float:
        """Give what the way between two figures costs; most lie on one round of one dial."""
        course = self.course
        if course.counts[first] == course.counts[second] and end - begin > -_ROUNDED:
            days = (course.marks[second].on - course.marks[first].on).days
            miles = float(end - begin) * self._mile_a_figure[first]
            return cost(miles, days=days, usual=self.usual, is_bounded=True)
        return self._cheapest(first, second, begin, end, may_be_new=False).cost

    def _cheapest(
        self, first: int, second: int, begin: Shown, end: Shown, *, may_be_new: bool
    ) -> Step:
        """Give the cheapest way between two marks, had they shown these figures."""
        course = self.course
        days = (course.marks[second].on - course.marks[first].on).days
        told = course.told(first, second, begin=begin, end=end)
        if told.run is None:
            return Step(join=Join.AS_TOLD, wraps=0, cost=_UNKNOWN)
        if told.is_wrapped and not told.falls:
            return Step(join=Join.AS_TOLD, wraps=0, cost=_UNKNOWN)
        miles = in_miles(told.run, course.unit)
        found = Step(join=Join.AS_TOLD, wraps=0, cost=inf)
        if not told.falls:
            found = replace(found, cost=cost(miles, days=days, usual=self.usual, is_bounded=True))
        round_miles = float(course.capacity) * self._mile_a_figure[first]
        for wraps in range(1, _MOST_WRAPS + 1):
            rolled = miles + round_miles * (wraps - told.falls)
            if not is_possible(rolled, days=days):
                break
            here = _ROLLED + cost(rolled, days=days, usual=self.usual, is_bounded=False)
            if here < found.cost:
                found = Step(join=Join.ROLLED, wraps=wraps, cost=here)
        if may_be_new and not course.has_other_dial(first, second):
            here = REPLACED + self._new_dial(float(end), days)
            if not first and len(course.marks) > 2:
                here += _FIRST_ALONE
            if here < found.cost:
                found = Step(join=Join.REPLACED, wraps=0, cost=here)
        return found

    def _new_dial(self, shown: float, days: int) -> float:
        """Give the cost of what a new dial shows: it began at 0, or had been on another car."""
        any_figure = self._dial.digits * log(10) + log(2)
        miles = in_miles(shown, self.course.unit)
        if not is_possible(miles, days=days):
            return any_figure
        from_nothing = cost(miles, days=days, usual=self.usual, is_bounded=False) + log(2)
        return min(any_figure, from_nothing)
