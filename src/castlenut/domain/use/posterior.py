"""What the readings say of a car's use: how likely each way, each rate, and being laid up now.

A pass over the runs between readings, in order of time. Before each one the rate may have drifted,
the use may have changed for good; in it the car may have been laid up, or woken.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from math import exp, log

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
    return _scaled(beliefs)


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
    first = beliefs
    driven_at_first = _sum(belief.driven for belief in first)
    total = 1.0
    for run in runs:
        clock = almanac.clock
        days = clock.before(run.last) - clock.before(run.first)
        if days <= 0:
            continue
        years = days / DAYS_A_YEAR
        changed = 1 - exp(-CHANGES * years)
        seen = _Seen(
            miles=run.miles,
            years=years,
            driving=dict(zip(_SEASONS, almanac.between(run.first, run.last), strict=True)),
            scale=1 / total,
            kept=(1 - changed) / total,
            anew=changed / total * _sum(belief.driven for belief in beliefs) / driven_at_first,
        )
        weighed = _weighed(first, beliefs, seen, least=_UNLIKELY)
        total = _total(weighed)
        if total < _SURPRISE * _ODD * _anything(run.miles):
            weighed = _weighed(first, beliefs, seen, least=0.0)
            total = _total(weighed)
        beliefs = weighed
    return _scaled(beliefs)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """A run, and what is done to the beliefs before they are weighed by it.

    `driving` are the years of driving in it by season. `scale` makes the beliefs 1 in all; of those
    that the car is in use a part is `kept`, and what was believed at first comes in `anew`: use
    may have changed for good.
    """

    miles: float
    years: float
    driving: Mapping[Season, float]
    scale: float
    kept: float
    anew: float


def _weighed(
    first: Sequence[Belief], beliefs: Sequence[Belief], seen: _Seen, *, least: float
) -> Sequence[Belief]:
    """Weigh every way by a run; rates believed in less than `least` only as an odd one."""
    return [
        _after(before, belief, seen, least=least)
        for before, belief in zip(first, beliefs, strict=True)
    ]


def _after(first: Belief, belief: Belief, seen: _Seen, *, least: float) -> Belief:
    """Weigh one way by a run: in use throughout, half of it, or laid up throughout."""
    way, miles, years = belief.way, seen.miles, seen.years
    driving = seen.driving[way.season]
    wander = way.restless**2 * together(driving) + way.drift**2 * driving / 3
    drifted = [
        seen.kept * now + seen.anew * then
        for now, then in zip(_drifted(belief.driven, way, years), first.driven, strict=True)
    ]
    floor = least - seen.scale * (sum(belief.resting) + sum(belief.standing))
    wanted = [weight >= floor for weight in drifted]
    likely = likelihoods(way, belief.rates, miles, years=driving, wander=wander, wanted=wanted)
    odd = _ODD * _anything(miles)
    throughout = [each + odd for each in likely]
    # in use for half the time: as likely as throughout at half the rate
    in_part = [*throughout[:1] * way.steps, *throughout[: -way.steps]]
    if miles < STILL_MI:
        still = 1 - _MOVED
    else:
        still = _MOVED * exp(-miles / _MOVED_MI) / _MOVED_MI + 0.1 * odd
    laid = 1 - exp(-way.laid_by * years)
    woken, woken_late = (1 - exp(-wakes * years) for wakes in WAKES)
    kept, parted, parted_late = 1 - laid, laid * (1 - LAID_FOR_GOOD), laid * LAID_FOR_GOOD
    asleep, deep = (1 - woken) * still * seen.scale, (1 - woken_late) * still * seen.scale
    woken *= seen.scale
    woken_late *= seen.scale
    driven = [
        weight * kept * whole + (rest * woken + stand * woken_late) * part
        for weight, rest, stand, whole, part in zip(
            drifted, belief.resting, belief.standing, throughout, in_part, strict=True
        )
    ]
    resting = [
        rest * asleep + weight * parted * part
        for weight, rest, part in zip(drifted, belief.resting, in_part, strict=True)
    ]
    standing = [
        stand * deep + weight * parted_late * part
        for weight, stand, part in zip(drifted, belief.standing, in_part, strict=True)
    ]
    return Belief(way=way, rates=belief.rates, driven=driven, resting=resting, standing=standing)


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


def _drifted(weights: Sequence[float], way: Way, years: float) -> Sequence[float]:
    """Let the rate have wandered: a step up or down the grid with equal chance, some times over."""
    step = log(2) / way.steps
    variance = (way.drift / step) ** 2 * years
    times = max(1, int(variance / 0.5 + 0.999))
    aside = min(variance / times / 2, 0.25)
    for _ in range(times):
        padded = [weights[0], *weights, weights[-1]]
        weights = [
            one + aside * (before - 2 * one + after)
            for before, one, after in zip(padded, weights, padded[2:], strict=False)
        ]
    return weights


def _sum(weights: Iterable[Sequence[float]]) -> float:
    return sum(sum(each) for each in weights)


def _total(beliefs: Sequence[Belief]) -> float:
    return _sum(
        weights
        for belief in beliefs
        for weights in (belief.driven, belief.resting, belief.standing)
    )


def _scaled(beliefs: Sequence[Belief]) -> Sequence[Belief]:
    total = _total(beliefs)
    return [
        Belief(
            way=belief.way,
            rates=belief.rates,
            driven=[weight / total for weight in belief.driven],
            resting=[weight / total for weight in belief.resting],
            standing=[weight / total for weight in belief.standing],
        )
        for belief in beliefs
    ]
