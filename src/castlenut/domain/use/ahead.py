"""How far a car gets by a day, and by which day it gets so far (its first passage).

Distance never falls, so a distance is reached by a morning exactly if what was driven by then is
not less. Nothing is reached while the car is laid up: the clock of its use stands.
"""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from datetime import date
from math import cbrt, ceil, erfc, exp, floor, log
from operator import mul
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.use.almanac import Almanac
from castlenut.domain.use.posterior import DAYS_A_YEAR, Belief, together
from castlenut.domain.use.spread import spread, spreads
from castlenut.domain.use.ways import WAKES, Season, Way

_WAKES_AT = (0.04, 0.15, 0.4, 0.9, 2.0, 5.0)
_WAKES_BY = (0.0, 0.08, 0.25, 0.6, 1.3, 3.0, 8.0)
_NEGLIGIBLE = 1e-3
_SLEPT = 0.5  # of the driving ahead is left to a car that is laid up on the way
_ALIKE = 0.45  # log: rates so near each other are taken together
_SEASONS = tuple(Season)
_LONGEST_STEP = 42
_MOST_STEPS = 60
_LAST = date.max.toordinal()

_Mornings: TypeAlias = tuple[date | None, date | None, date | None]
"""By which a distance is driven with a chance of 0.1, 0.5 and 0.9."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Going:
    """One guess at the car's use: its chance, and when it begins to be driven, in driving days.

    `uneven` is the squared coefficient of variation of the rates taken together. `is_slept`: laid
    up on the way; its chance grows with the driving.
    """

    chance: float
    way: Way
    season: int
    rate: float
    uneven: float
    begins: int = 0
    is_slept: bool = False


class Ahead:
    """What may be driven after a morning. Answers are kept: the items of a car ask alike."""

    def __init__(self, beliefs: Sequence[Belief], *, since: date, almanac: Almanac) -> None:
        self._since = since
        self._almanac = almanac
        self._goings = _goings(beliefs)
        self._means = _means(self._goings)
        self._driving: dict[int, Sequence[float]] = {}
        self._woken: dict[int, Sequence[float] | None] = {}
        self._tails: dict[int, Sequence[tuple[float, float, float]]] = {}
        self._driven: dict[int, float] = {}
        self._mornings: dict[tuple[float, int], _Mornings] = {}
        self._begins = since.toordinal()
        self._clock = almanac.clock.before(since)
        self._grid = [0]
        self._last_step = 0
        ends = (
            (span.first, date.fromordinal(min(span.last.toordinal() + 1, _LAST)))
            for span in almanac.clock.spans
        )
        self._turns = sorted((day - since).days for both in ends for day in both)

    def chance(self, miles: float, days: int) -> float:
        """Give the chance that so many miles are driven by a morning so many days on."""
        if miles <= 0:
            return 1.0
        if days <= 0:
            return 0.0
        return self._at(cbrt(miles), days)

    def miles(self, quantile: float, days: int) -> float:
        """Give the distance that is not passed by a morning with a chance of `quantile`."""
        if days <= 0:
            return 0.0
        place = self._place(days)
        before, after = self._grid[place], self._grid[place + 1]
        share = self._share(before, days, after)

        def over(root: float) -> float:
            here = self._reached(root, before)
            return here + (max(self._reached(root, after), here) - here) * share - (1 - quantile)

        low, high = 1e-3, 8.0
        above = over(low)
        if above <= 0:
            return 0.0
        while (below := over(high)) > 0:
            low, above, high = high, below, high * 1.5
        return _crossing(over, low, above, high, below) ** 3

    def days_to(self, day: date) -> int:
        """Give the days from the beginning to a day, 0 for a day before it."""
        return max((day - self._since).days, 0)

    def mornings(self, miles: float, *, most: int) -> _Mornings:
        """Give the mornings by which miles are driven with a chance of 0.1, 0.5 and 0.9.

        The first at which it is as likely; for the earliest, rounded down, the last before that.
        At the least a day from the beginning. None: not within `most` days.
        """
        if (miles, most) not in self._mornings:
            root = cbrt(max(miles, 1e-9))
            reached: dict[int, float] = {}
            p10, p50, p90 = (self._morning(root, part, most, reached) for part in (0.1, 0.5, 0.9))
            self._mornings[miles, most] = p10, p50, p90
        return self._mornings[miles, most]

    def _morning(
        self, root: float, part: float, most: int, reached: dict[int, float]
    ) -> date | None:
        """Give one of them; `reached` keeps the chances found, by the day of the grid."""

        def by(days: int) -> float:
            if days not in reached:
                reached[days] = self._reached(root, days)
            return reached[days]

        if most < 1:
            return None
        place = self._place(most)
        low, high = 0, place + 1
        if by(self._grid[high]) < part:
            return None
        while high - low > 1:
            middle = (low + high) // 2
            if by(self._grid[middle]) >= part:
                high = middle
            else:
                low = middle
        begins, ends = self._grid[low], self._grid[high]
        before, after = by(begins), by(ends)
        first, last, below, chance = begins, ends, before, after
        while last - first > 1:
            share = (part - below) / (chance - below)
            middle = min(max(first + round(share * (last - first)), first + 1), last - 1)
            here = before + (after - before) * self._share(begins, middle, ends)
            if here >= part:
                last, chance = middle, here
            else:
                first, below = middle, here
        if last > most:
            return None
        days = first if part < 0.5 and chance > part else last
        return self._morning_after(max(days, 1))

    def _at(self, root: float, days: int) -> float:
        place = self._place(days)
        return self._between(root, days, self._grid[place], self._grid[place + 1])

    def _place(self, days: int) -> int:
        """Give the place in the grid at or before a day, and make sure that one follows it.

        Its steps grow with the distance; every day on which a lay-up begins or is over is in it.
        """
        while self._grid[-1] <= days:
            step = min(max(1, floor(self._last_step * 0.14)), _LONGEST_STEP)
            begins, self._last_step = self._last_step, self._last_step + step
            self._grid.extend(turn for turn in self._turns if begins < turn < self._last_step)
            self._grid.append(self._last_step)
        return bisect_right(self._grid, days) - 1

    def _between(self, root: float, days: int, low: int, high: int) -> float:
        """Give the chance between two days of the grid."""
        before = self._reached(root, low)
        if days == low:
            return before
        after = max(self._reached(root, high), before)
        return before + (after - before) * self._share(low, days, high)

    def _share(self, low: int, days: int, high: int) -> float:
        """Give how much of the expected driving between two days is done by one between them."""
        begins, here, ends = (self._expected(each) for each in (low, days, high))
        return (here - begins) / (ends - begins) if ends > begins else 0.0

    def _reached(self, root: float, days: int) -> float:
        if not days:
            return 0.0
        return sum(
            [weight * erfc(slope * root - offset) for weight, slope, offset in self._tail(days)]
        )

    def _expected(self, days: int) -> float:
        """Give the expected driving, and a little for each driving day, so that it grows."""
        found = self._driven.get(days)
        if found is None:
            driven = self._almanac.clock.before(self._morning_after(days)) - self._clock
            found = driven * 1e-6 + sum(map(mul, self._means, self._years(days)))
            self._driven[days] = found
        return found

    def _morning_after(self, days: int) -> date:
        """Give the morning so many days on, the last there is at most."""
        return date.fromordinal(min(self._begins + days, _LAST))

    def _years(self, days: int) -> Sequence[float]:
        """Give the years of driving by a morning, a season each."""
        if days not in self._driving:
            self._driving[days] = self._almanac.between(self._since, self._morning_after(days))
        return self._driving[days]

    def _years_before_waking(self, driving_days: int) -> Sequence[float] | None:
        """Give the years of driving that a car laid up misses; None: it is never woken."""
        if driving_days not in self._woken:
            clock = self._almanac.clock
            day = clock.morning(self._clock + driving_days)
            self._woken[driving_days] = (
                None if day is None else self._almanac.between(self._since, day)
            )
        return self._woken[driving_days]

    def _tail(self, days: int) -> Sequence[tuple[float, float, float]]:
        if days not in self._tails:
            self._tails[days] = self._made_tail(days)
        return self._tails[days]

    def _made_tail(self, days: int) -> Sequence[tuple[float, float, float]]:
        driving = self._years(days)
        found: list[tuple[float, float, float]] = []
        for going in self._goings:
            years = driving[going.season]
            if going.begins:
                missed = self._years_before_waking(going.begins)
                years -= years if missed is None else missed[going.season]
            if years > 0:
                found.extend(_tails(going, years))
        return found


def _crossing(
    falling: Callable[[float], float], low: float, above: float, high: float, below: float
) -> float:
    """Give where a falling function crosses 0, to a billionth: false position, Illinois variant.

    `above` and `below` are its values at `low` and `high`, over 0 and not.
    """
    found, side = high, 0
    for _ in range(_MOST_STEPS):
        last, found = found, low + (high - low) * above / (above - below)
        if abs(found - last) <= found * 1e-9:
            break
        here = falling(found)
        if here > 0:
            # an end that stays twice counts half, so that it moves as well
            below = below / 2 if side > 0 else below
            low, above, side = found, here, 1
        else:
            above = above / 2 if side < 0 else above
            high, below, side = found, here, -1
    return found


def _tails(going: Going, years: float) -> Sequence[tuple[float, float, float]]:
    """Give the tails of what one guess makes of so many years of driving."""
    way = going.way
    chance = going.chance
    if not going.begins:  # one that has been laid up already is not laid up again
        awake = exp(-way.laid_by * years)
        chance *= 1 - awake if going.is_slept else awake
    if chance < _NEGLIGIBLE / 20:
        return ()
    if going.is_slept:
        years *= _SLEPT
    wander = way.restless**2 * together(years) + way.drift**2 * years / 3 + going.uneven
    if way.tours:
        return [
            each.tail(chance * share) for share, each in spreads(way, going.rate, years, wander)
        ]
    outing = way.outing_at(going.rate)
    return (spread(going.rate * years, outing, way.unequal, wander).tail(chance),)


def _means(goings: Sequence[Going]) -> Sequence[float]:
    means = [0.0] * len(_SEASONS)
    for going in goings:
        means[going.season] += going.chance * going.rate
    return means


def _goings(beliefs: Sequence[Belief]) -> Sequence[Going]:
    """Take neighboring rates together, and for a car laid up some days on which it may wake."""
    found = []
    for belief in beliefs:
        way, season = belief.way, _SEASONS.index(belief.way.season)
        size = max(1, int(_ALIKE * way.steps / log(2)))
        for chance, rate, uneven in _grouped(belief.rates, belief.driven, size):
            found.append(Going(chance=chance, way=way, season=season, rate=rate, uneven=uneven))
        for chance, rate, uneven in _grouped(belief.rates, belief.driven, len(belief.rates)):
            going = Going(
                chance=chance, way=way, season=season, rate=rate, uneven=uneven, is_slept=True
            )
            found.append(going)
        for weights, wakes in zip((belief.resting, belief.standing), WAKES, strict=True):
            for chance, rate, uneven in _grouped(belief.rates, weights, len(belief.rates)):
                for at, begins, ends in zip(_WAKES_AT, _WAKES_BY, _WAKES_BY[1:], strict=False):
                    woken = exp(-wakes * begins) - exp(-wakes * ends)
                    if chance * woken > _NEGLIGIBLE / 4:
                        going = Going(
                            chance=chance * woken,
                            way=way,
                            season=season,
                            rate=rate,
                            uneven=uneven,
                            begins=ceil(at * DAYS_A_YEAR),
                        )
                        found.append(going)
    return found


def _grouped(
    rates: Sequence[float], weights: Sequence[float], size: int
) -> Sequence[tuple[float, float, float]]:
    """Give groups of neighboring rates worth reckoning with: chance, mean, relative variance."""
    found = []
    for begin in range(0, len(rates), size):
        some = weights[begin : begin + size]
        chance = sum(some)
        if chance > _NEGLIGIBLE:
            pairs = list(zip(rates[begin : begin + size], some, strict=True))
            mean = sum(rate * weight for rate, weight in pairs) / chance
            square = sum(rate * rate * weight for rate, weight in pairs) / chance
            found.append((chance, mean, square / (mean * mean) - 1))
    return found
