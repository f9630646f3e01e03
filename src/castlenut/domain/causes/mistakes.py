"""What a mistaken mark costs: how likely its slip is, and how well the figure meant fits."""

from collections.abc import Sequence
from math import inf

from castlenut.domain.causes.haste import cost, in_miles
from castlenut.domain.causes.slips import Slip, misread, other_days, slips
from castlenut.domain.causes.ways import Ways
from castlenut.domain.dial import Dial
from castlenut.domain.units import Shown

_NEWEST = 0.5  # in doubt it is the newest reading that is held back: it moves no date then


class Mistakes:
    """The marks of one course taken for mistaken, each between two sound ones."""

    def __init__(self, ways: Ways, dial: Dial) -> None:
        self._ways = ways
        self._dial = dial
        self._misread = misread(dial)
        self._slips: dict[int, Sequence[tuple[float, Slip]]] = {}
        self._known: dict[tuple[int, int | None, int | None], tuple[float, Slip | None]] = {}

    def mistake(
        self, place: int, before: int | None, after: int | None
    ) -> tuple[float, Slip | None]:
        """Give what a mistaken mark between two sound ones costs, and the slip behind it."""
        key = (place, before, after)
        if key not in self._known:
            found, slip = self._explain_mistake(place, before, after)
            if after is None and place == len(self._ways.course.marks) - 1:
                found -= _NEWEST
            self._known[key] = found, slip
        return self._known[key]

    def _explain_mistake(
        self, place: int, before: int | None, after: int | None
    ) -> tuple[float, Slip | None]:
        mark = self._ways.course.marks[place]
        if mark.place is None:
            return self._misread, None
        without = 0.0 if before is None or after is None else self._ways.step(before, after).cost
        least, best = self._misread, None
        low, high = self._ways.room(before, after)
        for figure, slip in self._slips_of(place):
            here = slip.cost - without
            if here >= least or not low <= figure <= high:
                continue
            here += self._between(before, place, after, slip.shown, enough=least - here)
            if here < least:
                least, best = here, slip
        for slip in other_days(mark.shown, mark.on):
            here = slip.cost + self._on_another_day(place, slip)
            if here < least:
                least, best = here, slip
        return least, best

    def _slips_of(self, place: int) -> Sequence[tuple[float, Slip]]:
        if place not in self._slips:
            mark = self._ways.course.marks[place]
            self._slips[place] = [
                (float(slip.shown), slip) for slip in slips(mark.shown, mark.on, self._dial)
            ]
        return self._slips[place]

    def _between(
        self, before: int | None, place: int, after: int | None, shown: Shown, *, enough: float
    ) -> float:
        """Give what the ways to a figure and on from it cost; of the first alone if it is enough.

        No way costs less than nothing, so both are dearer still.
        """
        if before is None and after is None:
            return self._misread
        found = 0.0
        if before is not None:
            found += self._ways.link(before, place, self._ways.course.marks[before].shown, shown)
        if after is not None and found <= enough:
            found += self._ways.link(place, after, shown, self._ways.course.marks[after].shown)
        return found

    def _on_another_day(self, place: int, slip: Slip) -> float:
        """Give what a figure costs on another day, between the marks around that day.

        It must lie among other readings there: at an end nearly anything would fit.
        """
        marks = self._ways.course.marks
        others = [each for each in range(len(marks)) if each != place]
        after = next((each for each in others if marks[each].on > slip.on), None)
        before = next((each for each in reversed(others) if marks[each].on <= slip.on), None)
        if (
            before is None
            or after is None
            or self._ways.course.counts[before] != self._ways.course.counts[after]
        ):
            return inf
        first, last = marks[before], marks[after]
        if not first.shown <= slip.shown <= last.shown:
            return inf
        factor = float(self._ways.course.factors[before])
        total = -self._ways.step(before, after).cost
        for one, other in ((first.shown, slip.shown), (slip.shown, last.shown)):
            days = (slip.on - first.on).days if one == first.shown else (last.on - slip.on).days
            miles = in_miles(float(other - one) * factor, self._ways.course.unit)
            total += cost(miles, days=days, usual=self._ways.usual, is_bounded=True)
        return total
