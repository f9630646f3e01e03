"""The cheapest explanation of a whole series: which readings are sound, and what the others are.

Each explanation has a cost, minus the logarithm of its chance: of every distance between two sound
readings under the car's own habit, of each rollover or replacement nobody told, of each slip. The
cheapest is found by dynamic programming over which readings are sound.
"""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import inf, log

from castlenut.domain.causes.haste import cost, habit, in_miles, is_possible
from castlenut.domain.causes.slips import REPLACED, Slip, misread, other_days, slips
from castlenut.domain.course import Course, Join
from castlenut.domain.dial import Dial
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.oddity import Cause
from castlenut.domain.units import Shown

REACH = 4
"""How far ahead the next sound reading is looked for: three in a row may be mistaken."""

_ROUNDS = 2
_ROLLED = 2.5
_MOST_WRAPS = 3
_UNKNOWN = log(1_000)  # the cost of a distance that nobody knows
_AS_LIKELY = 1.5
_ROUNDED = 2  # a whole mile cut off is more than a kilometer
_FIRST_ALONE = 3.0  # the first reading alone is sooner mistaken than the only one of an old dial
_NEWEST = 0.5  # in doubt it is the newest reading that is held back: it moves no date then
_AGAINST_A_JUDGMENT = 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The way from one sound mark to the next."""

    join: Join
    wraps: int
    cost: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """Which marks are sound, and what happened to the others.

    `steps` has the way to each mark of `chain` but the first. `mistaken` has the others, with the
    slip that explains each, None where none does. `as_likely` has marks of the chain that are
    mistaken in an explanation nearly as cheap, each with the mark that is mistaken in this one.
    """

    chain: tuple[int, ...]
    steps: tuple[Step, ...]
    mistaken: Mapping[int, Slip | None]
    as_likely: Mapping[int, tuple[int, Slip | None]]


def explain(course: Course, dial: Dial) -> Explanation:
    """Explain a series of marks, at least one. Those judged right are all sound."""
    breaks = _breaks(course)
    if not breaks:
        chain = tuple(range(len(course.marks)))
        steps = tuple(Step(join=Join.AS_TOLD, wraps=0, cost=0.0) for _ in chain[1:])
        return Explanation(chain=chain, steps=steps, mistaken={}, as_likely={})
    sound = frozenset(
        place
        for place, mark in enumerate(course.marks)
        if mark.judged or all(abs(place - each) > REACH for each in breaks)
    )
    usual = habit([])
    search = _Search(course, dial, usual, sound)
    found = search.best(frozenset())
    for _ in range(_ROUNDS):
        again = habit(_runs(course, found))
        if again == usual:
            break
        usual = again
        search = _Search(course, dial, usual, sound)
        found = search.best(frozenset())
    return _with_doubts(search, found)


def _breaks(course: Course) -> Sequence[int]:
    """Give the places of the readings that do not fit the one before as it stands."""
    breaks = []
    for place, (one, other) in enumerate(pairwise(course.marks)):
        told = course.told(place, place + 1, begin=one.shown, end=other.shown)
        fits = not told.falls
        if fits and told.run is not None and not told.is_wrapped:
            days = (other.on - one.on).days
            judged = one.judged and other.judged
            fits = judged or is_possible(in_miles(told.run, course.unit), days=days)
        if not fits:
            breaks.append(place + 1)
    return breaks


def _runs(course: Course, found: Explanation) -> Sequence[tuple[float, int]]:
    runs = []
    for (one, other), step in zip(pairwise(found.chain), found.steps, strict=True):
        begin, end = course.marks[one], course.marks[other]
        told = course.told(one, other, begin=begin.shown, end=end.shown)
        if step.join is Join.AS_TOLD and told.run is not None:
            runs.append((in_miles(told.run, course.unit), (end.on - begin.on).days))
    return runs


def _with_doubts(search: "_Search", found: Explanation) -> Explanation:
    """Find the sound marks that may as well be the mistaken ones: neighbors of a mistaken one.

    Of more than two readings only where a single slip explains either; of two always.
    """
    doubts: dict[int, tuple[int, Slip | None]] = {}
    are_two = len(search.course.marks) == 2
    for mistaken, slip in found.mistaken.items():
        if slip is None and not are_two:
            continue
        other = search.best(frozenset({mistaken}))
        if search.worth(other) - search.worth(found) > _AS_LIKELY and not are_two:
            continue
        for place, its_slip in other.mistaken.items():
            if place not in found.mistaken and (its_slip or are_two):
                doubts[place] = (mistaken, its_slip)
    return replace(found, as_likely=doubts)


class _Search:
    """One pass over a course under one habit."""

    def __init__(
        self, course: Course, dial: Dial, usual: tuple[float, float], sound: frozenset[int]
    ) -> None:
        self.course = course
        self._sound = sound
        self._dial = dial
        self._usual = usual
        self._misread = misread(dial)
        self._mile_a_figure = [in_miles(float(factor), course.unit) for factor in course.factors]
        self._slips: dict[int, Sequence[tuple[float, Slip]]] = {}
        self._worth: dict[tuple[int, ...], float] = {}
        self._steps: dict[tuple[int, int], Step] = {}
        self._mistakes: dict[tuple[int, int | None, int | None], tuple[float, Slip | None]] = {}

    def worth(self, found: Explanation) -> float:
        """Give the cost of an explanation this search has found."""
        return self._worth[found.chain]

    def best(self, also_sound: frozenset[int]) -> Explanation:
        """Give the cheapest explanation in which these marks are sound as well."""
        count = len(self.course.marks)
        forced = sorted(self._sound | also_sound)
        total = [inf] * count
        came: list[int | None] = [None] * count
        for place in range(count):
            first_forced = forced[0] if forced else count
            is_judged = self.course.marks[place].judged
            if place <= first_forced and (place < REACH or is_judged):
                total[place] = sum(self._mistake(each, None, place)[0] for each in range(place))
            for before in self._befores(place, forced):
                if total[before] == inf:
                    continue
                here = total[before] + self._step(before, place).cost
                if here >= total[place]:
                    continue
                here += sum(
                    self._mistake(each, before, place)[0] for each in range(before + 1, place)
                )
                if here < total[place]:
                    total[place], came[place] = here, before
        last = self._last(total, forced)
        places: list[int] = [last[1]]
        while (before_it := came[places[-1]]) is not None:
            places.append(before_it)
        chain = tuple(reversed(places))
        self._worth[chain] = last[0]
        return self._explained(chain)

    def _befores(self, place: int, forced: Sequence[int]) -> range:
        """Give the places that may come before one: no forced one may be passed by.

        What was judged right is reached past any number of odd ones.
        """
        number = bisect_left(forced, place)
        least = 0 if self.course.marks[place].judged else max(place - REACH, 0)
        return range(max(least, forced[number - 1]) if number else least, place)

    def _last(self, total: Sequence[float], forced: Sequence[int]) -> tuple[float, int]:
        """Give the cheapest end of a chain, with what the marks after it cost."""
        count = len(total)
        least = max(count - REACH, 0)
        if forced:
            least = min(max(least, forced[-1]), count - 1)
        ends = [
            (
                total[place]
                + sum(self._mistake(each, place, None)[0] for each in range(place + 1, count)),
                place,
            )
            for place in range(least, count)
        ]
        # of ends that cost the same the one that holds back the newer readings
        worth, place = min(ends)
        return worth, place

    def _explained(self, chain: tuple[int, ...]) -> Explanation:
        mistaken: dict[int, Slip | None] = {}
        bounds: list[int | None] = [None, *chain, None]
        for before, after in pairwise(bounds):
            begin = 0 if before is None else before + 1
            end = len(self.course.marks) if after is None else after
            for place in range(begin, end):
                mistaken[place] = self._mistake(place, before, after)[1]
        return Explanation(
            chain=chain,
            steps=tuple(self._step(one, other) for one, other in pairwise(chain)),
            mistaken=mistaken,
            as_likely={},
        )

    def _step(self, first: int, second: int) -> Step:
        found = self._steps.get((first, second))
        if found is None:
            begin, end = self.course.marks[first], self.course.marks[second]
            found = self._cheapest(first, second, begin.shown, end.shown, may_be_new=True)
            if begin.judged and end.judged and found.cost > _AGAINST_A_JUDGMENT:
                found = replace(found, cost=_AGAINST_A_JUDGMENT)
            self._steps[first, second] = found
        return found

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
            found = replace(found, cost=cost(miles, days=days, usual=self._usual, is_bounded=True))
        round_miles = float(course.capacity) * self._mile_a_figure[first]
        for wraps in range(1, _MOST_WRAPS + 1):
            rolled = miles + round_miles * (wraps - told.falls)
            if not is_possible(rolled, days=days):
                break
            here = _ROLLED + cost(rolled, days=days, usual=self._usual, is_bounded=False)
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
        from_nothing = cost(miles, days=days, usual=self._usual, is_bounded=False) + log(2)
        return min(any_figure, from_nothing)

    def _mistake(
        self, place: int, before: int | None, after: int | None
    ) -> tuple[float, Slip | None]:
        """Give what a mistaken mark between two sound ones costs, and the slip behind it."""
        key = (place, before, after)
        if key not in self._mistakes:
            found, slip = self._explain_mistake(place, before, after)
            if after is None and place == len(self.course.marks) - 1:
                found -= _NEWEST
            self._mistakes[key] = found, slip
        return self._mistakes[key]

    def _explain_mistake(
        self, place: int, before: int | None, after: int | None
    ) -> tuple[float, Slip | None]:
        mark = self.course.marks[place]
        if mark.place is None:
            return self._misread, None
        without = 0.0 if before is None or after is None else self._step(before, after).cost
        least, best = self._misread, None
        low, high = self._room(before, after)
        for figure, slip in self._slips_of(place):
            here = slip.cost - without
            if here >= least or not low <= figure <= high:
                continue
            here += self._between(before, place, after, slip.shown)
            if here < least:
                least, best = here, slip
        for slip in other_days(mark.shown, mark.on):
            here = slip.cost + self._on_another_day(place, slip)
            if here < least:
                least, best = here, slip
        return least, best

    def _slips_of(self, place: int) -> Sequence[tuple[float, Slip]]:
        if place not in self._slips:
            mark = self.course.marks[place]
            self._slips[place] = [
                (float(slip.shown), slip) for slip in slips(mark.shown, mark.on, self._dial)
            ]
        return self._slips[place]

    def _room(self, before: int | None, after: int | None) -> tuple[float, float]:
        """Give the figures between two sound marks; any, if the dial was changed or passed its end.

        Beside one sound mark alone no rollover is read into a slip.
        """
        low, high = 0.0, float(self.course.capacity)
        marks, counts = self.course.marks, self.course.counts
        if before is not None and after is not None:
            step = self._step(before, after)
            if step.join is not Join.AS_TOLD or counts[before] != counts[after]:
                return low, high
        if before is not None:
            low = float(marks[before].shown) - _ROUNDED
        if after is not None:
            high = float(marks[after].shown) + _ROUNDED
        return low, high

    def _between(self, before: int | None, place: int, after: int | None, shown: Shown) -> float:
        """Give what the ways to a figure and on from it cost."""
        if before is None and after is None:
            return self._misread
        found = 0.0
        if before is not None:
            found += self._link(before, place, self.course.marks[before].shown, shown)
        if after is not None:
            found += self._link(place, after, shown, self.course.marks[after].shown)
        return found

    def _link(self, first: int, second: int, begin: Shown, end: Shown) -> float:
        """Give what the way between two figures costs; most lie on one round of one dial."""
        course = self.course
        if course.counts[first] == course.counts[second] and end - begin > -_ROUNDED:
            days = (course.marks[second].on - course.marks[first].on).days
            miles = float(end - begin) * self._mile_a_figure[first]
            return cost(miles, days=days, usual=self._usual, is_bounded=True)
        return self._cheapest(first, second, begin, end, may_be_new=False).cost

    def _on_another_day(self, place: int, slip: Slip) -> float:
        """Give what a figure costs on another day, between the marks around that day.

        It must lie among other readings there: at an end nearly anything would fit.
        """
        marks = self.course.marks
        others = [each for each in range(len(marks)) if each != place]
        after = next((each for each in others if marks[each].on > slip.on), None)
        before = next((each for each in reversed(others) if marks[each].on <= slip.on), None)
        if (
            before is None
            or after is None
            or self.course.counts[before] != self.course.counts[after]
        ):
            return inf
        first, last = marks[before], marks[after]
        if not first.shown <= slip.shown <= last.shown:
            return inf
        factor = float(self.course.factors[before])
        total = -self._step(before, after).cost
        for one, other in ((first.shown, slip.shown), (slip.shown, last.shown)):
            days = (slip.on - first.on).days if one == first.shown else (last.on - slip.on).days
            miles = in_miles(float(other - one) * factor, self.course.unit)
            total += cost(miles, days=days, usual=self._usual, is_bounded=True)
        return total


def named(slip: Slip | None) -> Cause:
    """Give the cause a slip stands for."""
    return Cause.MISREAD if slip is None else slip.cause
