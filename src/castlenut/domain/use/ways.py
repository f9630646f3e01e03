"""The ways of using an older car: what the forecast supposes before it has seen this one.

The yearly means lean on published figures; spreads and seasons are assumptions, to be softened by
the car's own readings. Sources: NHTS 2017 (DOE Facts of the Week 1046 and 1047), FBHVC surveys of
2019 and 2020, FIVA survey 2019, FHWA Traffic Volume Trends of March 2005, each as restated.
"""

from collections.abc import Mapping, Sequence
from enum import Enum
from itertools import accumulate
from math import exp, log

from castlenut.domain.frozen import dataclass
from castlenut.domain.vehicle import Use


class Season(Enum):
    """How a year's driving is spread over its months."""

    ALL_YEAR = "all year"
    GOOD_MONTHS = "good months"
    TOURS = "tours"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way of using a car. Distances in miles, times in years.

    `median` and `spread` are of the yearly distance, log-normal. An outing is `outing` miles at the
    median rate, more where more is driven; `unequal` is its squared coefficient of
    variation. `restless` is
    how much the pace wanders from month to month; `drift` how far the rate itself has wandered
    after a year. `laid_by` is the chance a year of being laid up, `laid_now` that it is when first
    seen. `steps` is the number of steps of the grid to a doubling of the rate. `tours`: how many
    a year, beside local driving.
    """

    name: str
    share: float
    median: float
    spread: float
    outing: float
    unequal: float
    restless: float
    drift: float
    season: Season
    laid_by: float
    laid_now: float
    steps: int
    is_regular: bool = False
    tours: float = 0.0

    @property
    def is_everyday(self) -> bool:
        """Tell whether it is one of daily or light use, all the year round."""
        return self.season is Season.ALL_YEAR and self.laid_now < 0.1

    def outing_at(self, rate: float) -> float:
        """Give the mean outing at a yearly rate: longer where one as regular drives more."""
        return self.outing * rate / self.median if self.is_regular else self.outing


# Medians: cars over 9 years old are driven 7,800 a year, the second car half of the first (NHTS
# 2017); historic vehicles 1,200 to 2,200 a year, 75 miles an outing (FBHVC, FIVA).
WAYS: tuple[Way, ...] = (
    Way(
        name="every day, at one pace",
        share=0.12,
        median=8_500.0,
        spread=0.53,
        outing=9.0,
        unequal=0.25,
        restless=0.07,
        drift=0.05,
        season=Season.ALL_YEAR,
        laid_by=0.01,
        laid_now=0.006,
        steps=6,
        is_regular=True,
    ),
    Way(
        name="every day",
        share=0.16,
        median=6_500.0,
        spread=0.62,
        outing=20.0,
        unequal=0.81,
        restless=0.19,
        drift=0.08,
        season=Season.ALL_YEAR,
        laid_by=0.015,
        laid_now=0.012,
        steps=4,
    ),
    Way(
        name="now and then",
        share=0.20,
        median=2_200.0,
        spread=0.7,
        outing=16.0,
        unequal=1.0,
        restless=0.26,
        drift=0.1,
        season=Season.ALL_YEAR,
        laid_by=0.025,
        laid_now=0.024,
        steps=3,
    ),
    Way(
        name="daily in the good months",
        share=0.13,
        median=3_000.0,
        spread=0.66,
        outing=22.0,
        unequal=0.81,
        restless=0.26,
        drift=0.17,
        season=Season.GOOD_MONTHS,
        laid_by=0.025,
        laid_now=0.024,
        steps=3,
    ),
    Way(
        name="outings in fair weather",
        share=0.22,
        median=1_100.0,
        spread=0.75,
        outing=55.0,
        unequal=0.64,
        restless=0.3,
        drift=0.19,
        season=Season.GOOD_MONTHS,
        laid_by=0.035,
        laid_now=0.036,
        steps=3,
    ),
    Way(
        name="tours",
        share=0.08,
        median=2_200.0,
        spread=0.62,
        outing=24.0,
        unequal=0.81,
        restless=0.3,
        drift=0.17,
        season=Season.TOURS,
        laid_by=0.025,
        laid_now=0.024,
        steps=3,
        tours=1.6,
    ),
    Way(
        name="hardly at all",
        share=0.09,
        median=110.0,
        spread=1.06,
        outing=9.0,
        unequal=1.0,
        restless=0.45,
        drift=0.26,
        season=Season.ALL_YEAR,
        laid_by=0.1,
        laid_now=0.21,
        steps=2,
    ),
)
TOURED = 0.6  # of a tourer's distance is run on tours

WAKES = (1.6, 0.2)  # a car laid up is woken: chance a year, for a winter or a repair; for good
LAID_FOR_GOOD = 0.25  # of those laid up when first seen, or later
CHANGES = 0.025  # chance a year of a lasting change: another owner, another work

_LEANING: Mapping[Use, Sequence[float]] = {
    Use.DAILY: (5.0, 5.0, 1.2, 0.6, 0.15, 0.3, 0.15),
    Use.SEASONAL: (0.15, 0.2, 0.5, 3.0, 3.0, 1.2, 0.5),
    Use.OCCASIONAL: (0.15, 0.25, 2.5, 0.6, 1.2, 1.8, 1.0),
    Use.STORED: (0.12, 0.12, 0.3, 0.25, 0.4, 0.25, 6.0),
}
_LAID_LEANING: Mapping[Use, float] = {
    Use.DAILY: 0.5,
    Use.SEASONAL: 1.0,
    Use.OCCASIONAL: 1.0,
    Use.STORED: 5.0,
}
OLD_YEARS = 15
YOUNG_YEARS = 10
YOUNG_PACE = 1.4  # 12,000 a year up to five years old, 7,800 over nine (NHTS 2017)
_YOUNGER = (3.0, 2.5, 1.2, 0.6, 0.3, 0.5, 0.4)


def shares(declared: Use | None, age: int | None) -> Sequence[float]:
    """Give the chance of each way; every way keeps some, whatever was declared.

    An age not known counts as old.
    """
    weights = [way.share for way in WAYS]
    if declared is not None:
        weights = [one * other for one, other in zip(weights, _LEANING[declared], strict=True)]
    if age is not None and age < OLD_YEARS:
        weights = [one * other for one, other in zip(weights, _YOUNGER, strict=True)]
    total = sum(weights)
    return [weight / total for weight in weights]


def laid_now(way: Way, declared: Use | None) -> float:
    """Give the chance that a car used that way is laid up when it is first seen."""
    odds = way.laid_now / (1 - way.laid_now)
    odds *= 1.0 if declared is None else _LAID_LEANING[declared]
    return odds / (1 + odds)


def grid(way: Way, age: int | None) -> Sequence[tuple[float, float]]:
    """Give the yearly rates that are reckoned with, each with its chance."""
    step = log(2) / way.steps
    reach = int(2.3 * way.spread / step)
    offsets = [step * place for place in range(-reach, reach + 1)]
    weights = [exp(-0.5 * (offset / way.spread) ** 2) for offset in offsets]
    total = sum(weights)
    is_young = age is not None and age < YOUNG_YEARS and way.is_everyday
    median = way.median * (YOUNG_PACE if is_young else 1.0)
    return [
        (median * exp(offset), weight / total)
        for offset, weight in zip(offsets, weights, strict=True)
    ]


# A day of each month against the mean day of the year. All year: FHWA traffic of 2004.
_MONTHS: Mapping[Season, Sequence[float]] = {
    Season.ALL_YEAR: (
        0.884,
        0.906,
        1.002,
        1.030,
        1.022,
        1.059,
        1.057,
        1.045,
        0.997,
        1.015,
        0.996,
        0.984,
    ),
    Season.GOOD_MONTHS: (0.06, 0.08, 0.35, 1.2, 1.9, 2.0, 2.0, 2.0, 1.6, 0.9, 0.18, 0.07),
    Season.TOURS: (0.08, 0.10, 0.35, 1.1, 1.8, 2.0, 2.1, 2.0, 1.6, 0.9, 0.20, 0.08),
}
GOOD_MONTHS = (4, 10)
"""First and last month of those that hold nine in ten miles of a season; in the south turned."""

_DAYS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def _passed(season: Season) -> tuple[float, ...]:
    """Give the part of a year's driving done by the morning of each day of a leap year."""
    days = [
        weight for weight, count in zip(_MONTHS[season], _DAYS, strict=True) for _ in range(count)
    ]
    total = sum(days)
    return tuple(part / total for part in accumulate(days, initial=0.0))


PASSED: Mapping[Season, tuple[float, ...]] = {season: _passed(season) for season in Season}
