"""The cheapest explanation of a whole series: which readings are sound, and what the others are.

Each explanation has a cost, minus the logarithm of its chance: of every distance between two sound
readings under the car's own habit, of each rollover or replacement nobody told, of each slip. The
cheapest is found by dynamic programming over which readings are sound.
"""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import inf

from castlenut.domain.causes.haste import habit, in_miles, is_possible
from castlenut.domain.causes.mistakes import Mistakes
from castlenut.domain.causes.slips import Slip
from castlenut.domain.causes.ways import Step, Ways
from castlenut.domain.course import Course, Join
from castlenut.domain.dial import Dial
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.oddity import Cause

REACH = 4
"""How far ahead the next sound reading is looked for: three in a row may be mistaken."""

_ROUNDS = 2
_AS_LIKELY = 1.5


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
        self._ways = Ways(course, dial, usual)
        self._mistakes = Mistakes(self._ways, dial)
        self._worth: dict[tuple[int, ...], float] = {}

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
                total[place] = sum(
                    self._mistakes.mistake(each, None, place)[0] for each in range(place)
                )
            for before in self._befores(place, forced):
                if total[before] == inf:
                    continue
                here = total[before] + self._ways.step(before, place).cost
                if here >= total[place]:
                    continue
                here += sum(
                    self._mistakes.mistake(each, before, place)[0]
                    for each in range(before + 1, place)
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
                + sum(
                    self._mistakes.mistake(each, place, None)[0] for each in range(place + 1, count)
                ),
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
                mistaken[place] = self._mistakes.mistake(place, before, after)[1]
        return Explanation(
            chain=chain,
            steps=tuple(self._ways.step(one, other) for one, other in pairwise(chain)),
            mistaken=mistaken,
            as_likely={},
        )


def named(slip: Slip | None) -> Cause:
    """Give the cause a slip stands for."""
    return Cause.MISREAD if slip is None else slip.cause
