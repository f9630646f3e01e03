"""What the readings say of a car's use: how likely each way, each rate, and being laid up now.

A pass over the runs between readings, in order of time. Before each one the rate may have drifted,
the use may have changed for good; in it the car may have been laid up, or woken.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from math import exp, log
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.use.almanac import Almanac
from castlenut.domain.use.spread import STILL_MI, likelihoods
from castlenut.domain.use.ways import (
    CHANGES,
    LAID_FOR_GOOD,
    WAKES,
    WAYS,
    Season,
    Way,
    grid,
    laid_now,
    shares,
)
from castlenut.domain.vehicle import Use

DAYS_A_YEAR = 365.25
_ODD = 0.006  # of every run: that it tells of something no way foresees
_UNLIKELY = 3e-5  # less believed than this, a rate is looked at only after a surprise
_SURPRISE = 10.0  # a run hardly more likely than an odd one
_MOVED = 0.05  # of a lay-up: that the car was moved about
_MOVED_MI = 6.0
_DIAL_SPREAD = 0.6  # log, of the rate since new about the rate now
_SEASONS = tuple(Season)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The miles between two mornings, the second at least a day after the first."""

    first: date
    last: date
    miles: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """How likely it is that the car is used in one way.

    `rates` are the yearly rates reckoned with. `driven`, `resting` and `standing` have the chance
    of each: that the car is in use, laid up for a while, laid up for long. All ways together make
    1.
    """

    way: Way
    rates: Sequence[float]
    driven: Sequence[float]
    resting: Sequence[float]
    standing: Sequence[float]


def prior(declared: Use | None, *, age: int | None, a_year: float | None) -> Sequence[Belief]:
    """Give what is believed of a car with one reading.

    `a_year` is what its dial shows by its age, in miles, None where that tells nothing. It speaks
    of cars in daily and light use only: the dial of a restored car tells of a former life.
    """
    beliefs = []
    for way, share in zip(WAYS, shares(declared, age), strict=True):
        laid = laid_now(way, declared)
        points = grid(way, age)
        weights = [share * weight for _, weight in points]
        if a_year is not None:
            weights = [
                weight * _by_dial(way, rate, a_year)
                for weight, (rate, _) in zip(weights, points, strict=True)
            ]
        beliefs.append(
            Belief(
                way=way,
                rates=[rate for rate, _ in points],
                driven=[weight * (1 - laid) for weight in weights],
                resting=[weight * laid * (1 - LAID_FOR_GOOD) for weight in weights],
                standing=[weight * laid * LAID_FOR_GOOD for weight in weights],
            )
        )
    return _scaled(beliefs, [(each.driven, each.resting, each.standing) for each in beliefs])


def _by_dial(way: Way, rate: float, a_year: float) -> float:
    broad = exp(-0.5 * (log(max(a_year, 1.0) / 7_000) / 1.2) ** 2) / 1.2
    if not way.is_everyday:
        return broad
    near = exp(-0.5 * (log(max(a_year, 1.0) / rate) / _DIAL_SPREAD) ** 2) / _DIAL_SPREAD
    return near + 0.2 * broad


def posterior(beliefs: Sequence[Belief], runs: Sequence[Run], almanac: Almanac) -> Sequence[Belief]:
    """Give what is believed after runs in order of time.

    A run wholly in a lay-up that was told says nothing: its distance is believed, not its pace.
    """
    now: Sequence[_Chances] = [(each.driven, each.resting, each.standing) for each in beliefs]
    driven_at_first = _sum(each.driven for each in beliefs)
    total = 1.0
    clock = almanac.clock
    for run in runs:
        days = clock.before(run.last) - clock.before(run.first)
        if days <= 0:
            continue
        years = days / DAYS_A_YEAR
        changed = 1 - exp(-CHANGES * years)
        woken, woken_late = (1 - exp(-wakes * years) for wakes in WAKES)
        seen = _Seen(
            miles=run.miles,
            years=years,
            driving=almanac.between(run.first, run.last),
            scale=1 / total,
            kept=(1 - changed) / total,
            anew=changed / total * _sum(driven for driven, _, _ in now) / driven_at_first,
            woken=woken,
            woken_late=woken_late,
            odd=_ODD * _anything(run.miles),
            still=_still(run.miles),
        )
        weighed = _weighed(beliefs, now, seen, least=_UNLIKELY)
        total = _total(weighed)
        if total < _SURPRISE * seen.odd:
            weighed = _weighed(beliefs, now, seen, least=0.0)
            total = _total(weighed)
        now = weighed
    return _scaled(beliefs, now)


_Chances: TypeAlias = tuple[Sequence[float], Sequence[float], Sequence[float]]
"""Of one way, what is `driven`, `resting` and `standing` in a belief; not scaled to 1 in all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """A run, and what is done to the beliefs before they are weighed by it.

    `driving` are the years of driving in it, a season each. `scale` makes the beliefs 1 in all; of
    those that the car is in use a part is `kept`, and what was believed at first comes in `anew`:
    use may have changed for good. `woken` and `woken_late` are the chances that a car is that was
    laid up for a while, for long; `odd` and `still` how likely the miles are of a run that tells of
    something else, of a car laid up.
    """

    miles: float
    years: float
    driving: Sequence[float]
    scale: float
    kept: float
    anew: float
    woken: float
    woken_late: float
    odd: float
    still: float


def _weighed(
    first: Sequence[Belief], now: Sequence[_Chances], seen: _Seen, *, least: float
) -> Sequence[_Chances]:
    """Weigh every way by a run; rates believed in less than `least` only as an odd one."""
    return [
        _after(before, chances, seen, least=least)
        for before, chances in zip(first, now, strict=True)
    ]


def _after(first: Belief, now: _Chances, seen: _Seen, *, least: float) -> _Chances:
    """Weigh one way by a run: in use throughout, half of it, or laid up throughout.

    It is reckoned for every rate of every way at every run: so each list is gone through once.
    """
    driven, resting, standing = now
    way, miles, years, scale = first.way, seen.miles, seen.years, seen.scale
    driving = seen.driving[_SEASONS.index(way.season)]
    wander = way.restless**2 * together(driving) + way.drift**2 * driving / 3
    drifted = _drifted(driven, first, seen)
    odd = seen.odd
    throughout = likelihoods(
        way,
        first.rates,
        miles,
        years=driving,
        wander=wander,
        weights=drifted,
        least=least - scale * (sum(resting) + sum(standing)),
        odd=odd,
    )
    # in use for half the time: as likely as throughout at half the rate
    in_part = [*throughout[:1] * way.steps, *throughout[: -way.steps]]
    laid = 1 - exp(-way.laid_by * years)
    kept, parted, parted_late = 1 - laid, laid * (1 - LAID_FOR_GOOD), laid * LAID_FOR_GOOD
    asleep, deep = (
        (1 - seen.woken) * seen.still * scale,
        (1 - seen.woken_late) * seen.still * scale,
    )
    woken, woken_late = seen.woken * scale, seen.woken_late * scale
    return (
        [
            weight * kept * whole + (rest * woken + stand * woken_late) * part
            for weight, rest, stand, whole, part in zip(
                drifted, resting, standing, throughout, in_part, strict=True
            )
        ],
        [
            rest * asleep + weight * parted * part
            for weight, rest, part in zip(drifted, resting, in_part, strict=True)
        ],
        [
            stand * deep + weight * parted_late * part
            for weight, stand, part in zip(drifted, standing, in_part, strict=True)
        ],
    )


def _still(miles: float) -> float:
    """Give how likely it is of a car laid up all the while that so far is driven."""
    if miles < STILL_MI:
        return 1 - _MOVED
    return _MOVED * exp(-miles / _MOVED_MI) / _MOVED_MI + 0.1 * (_ODD * _anything(miles))


def _anything(miles: float) -> float:
    """Give the density of a distance of which nothing is known."""
    return 0.25 if miles < STILL_MI else 0.75 / (9 * (miles + 5))


def together(years: float) -> float:
    """Give how far a restless pace goes one way over a stretch: 1 short, falling as it evens out.

    The variance of the mean of a process whose correlation falls off in four months.
    """
    turns = years / 0.33
    if turns < 1e-3:
        return 1.0
    return 2 / turns * (1 - (1 - exp(-turns)) / turns)


def _drifted(driven: Sequence[float], first: Belief, seen: _Seen) -> Sequence[float]:
    """Give the chances of each rate before a run: some kept, some anew.

    Those kept may have wandered: a step up or down the grid with equal chance, some times over.
    """
    way, kept, anew = first.way, seen.kept, seen.anew
    step = log(2) / way.steps
    variance = (way.drift / step) ** 2 * seen.years
    times = max(1, int(variance / 0.5 + 0.999))
    aside = min(variance / times / 2, 0.25)
    for _ in range(times - 1):
        padded = [driven[0], *driven, driven[-1]]
        driven = [
            one + aside * (before - 2 * one + after)
            for before, one, after in zip(padded, driven, padded[2:], strict=False)
        ]
    padded = [driven[0], *driven, driven[-1]]
    return [
        kept * (one + aside * (before - 2 * one + after)) + anew * then
        for before, one, after, then in zip(padded, driven, padded[2:], first.driven, strict=False)
    ]


def _sum(weights: Iterable[Sequence[float]]) -> float:
    return sum(map(sum, weights))


def _total(now: Sequence[_Chances]) -> float:
    return _sum(weights for chances in now for weights in chances)


def _scaled(beliefs: Sequence[Belief], now: Sequence[_Chances]) -> Sequence[Belief]:
    """Give the beliefs as they are now, 1 in all."""
    total = _total(now)
    return [
        Belief(
            way=belief.way,
            rates=belief.rates,
            driven=[weight / total for weight in driven],
            resting=[weight / total for weight in resting],
            standing=[weight / total for weight in standing],
        )
        for belief, (driven, resting, standing) in zip(beliefs, now, strict=True)
    ]
