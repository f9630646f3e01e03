"""Readings that do not fit their car, and which readings of a series are to be believed."""

from collections.abc import Callable, Sequence
from datetime import date
from enum import Enum
from math import inf

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.units import KM_PER_MI, Distance, Shown, Unit

MI_A_DAY = 900.0  # more in one day is nearly impossible
MI_A_YEAR = 45_000.0  # more over any longer stretch is nearly impossible
MI_A_TOUR = 6_000.0  # a hurried week or two, between the one and the other

OLDER_CAR_MI_A_YEAR = 7_800.0  # cars over 9 years old: NHTS 2017, DOE Fact of the Week 1046
USUAL_TOUR_MI = 3_000.0
FASTER_THAN_USUAL = 4.0

ROLLOVER_DOUBT = 0.75
"""What an untold rollover costs, in readings.

Under 1, so that the newest reading may show one; over 1/2, so that two of them keep no reading.
"""

REACH = 8
"""How far ahead the next sound reading is looked for: seven in a row may be mistaken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbor:
    """The reading that another one disagrees with, `shown` in the dial's unit."""

    record: RecordId
    on: date
    shown: Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class LowerThanBefore:
    """Held back: lower than the sound reading before it, and no rollover is likely."""

    neighbor: Neighbor


@dataclass(frozen=True, slots=True, kw_only=True)
class HigherThanNext:
    """Held back: higher than the sound reading after it, and no rollover is likely."""

    neighbor: Neighbor


@dataclass(frozen=True, slots=True, kw_only=True)
class TooFast:
    """Held back: further from a sound reading than any car is driven in the time between."""

    neighbor: Neighbor


@dataclass(frozen=True, slots=True, kw_only=True)
class BeyondDial:
    """Held back: a dial of so many digits cannot show this figure."""

    digits: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RolloverCounted:
    """Counted and to be confirmed: the dial passed its end since the reading before."""

    neighbor: Neighbor
    distance: Distance


Oddity = LowerThanBefore | HigherThanNext | TooFast | BeyondDial | RolloverCounted


class Verdict(Enum):
    """How a reading stands to an earlier one."""

    FITS = "fits"
    ROLLS = "rolls"  # fits if the dial passed its end, which nobody has told
    FALLS = "falls"
    TOO_FAST = "too fast"


def is_possible(distance: float, *, days: int, unit: Unit) -> bool:
    """Tell whether a car can be driven so far in so many days; within one day counts as one."""
    miles = distance / KM_PER_MI if unit is Unit.KM else distance
    days = max(days, 1)
    return miles <= min(MI_A_DAY * days, max(MI_A_TOUR, MI_A_YEAR / 365 * days))


def is_usual(distance: float, *, days: int, unit: Unit, a_day: float | None) -> bool:
    """Tell whether a distance fits the habit of the car, `a_day` on the average.

    At most four times as fast, one tour besides. With no habit known (None) an older car's average
    stands in for it.
    """
    scale = KM_PER_MI if unit is Unit.KM else 1.0
    usual = OLDER_CAR_MI_A_YEAR / 365 * scale if a_day is None else a_day
    return distance <= FASTER_THAN_USUAL * usual * days + USUAL_TOUR_MI * scale


def sound_chain(judged: Sequence[bool], verdict: Callable[[int, int], Verdict]) -> tuple[int, ...]:
    """Give the places of the sound readings: the largest set in which every neighboring pair fits.

    `judged` marks, in order of time, the readings that somebody said are right: all of these are
    in the set. `verdict` compares an earlier place with a later one. Ties keep the earlier reading
    and hold back the newer. The first reading alone may be outvoted; a later run that fits none of
    two or more agreeing readings before it is held back instead, since the dial may have been
    replaced.
    """
    count = len(judged)
    if all(verdict(place, place + 1) is Verdict.FITS for place in range(count - 1)):
        return tuple(range(count))
    gain = [-inf] * count
    following: list[int | None] = [None] * count
    must: int | None = None  # the next judged place: no chain may pass it by
    for place in reversed(range(count)):
        if must is None:
            gain[place] = 1.0
        for later in _within_reach(place, count=count, must=must):
            worth = gain[later] + _worth(
                verdict(place, later), both=judged[place] and judged[later], told=judged[later]
            )
            if worth > gain[place]:
                gain[place] = worth
                following[place] = later
        if judged[place]:
            must = place
    place = max(range(min(2, count) if must is None else must + 1), key=gain.__getitem__)
    chain = [place]
    while (later_place := following[chain[-1]]) is not None:
        chain.append(later_place)
    return tuple(chain)


def _within_reach(place: int, *, count: int, must: int | None) -> Sequence[int]:
    """Give the places that may come next, in order; a judged one is always within reach."""
    last = min(place + REACH, count - 1)
    if must is None or must > last:
        near = range(place + 1, last + 1)
        return near if must is None else (*near, must)
    return range(place + 1, must + 1)


def _worth(verdict: Verdict, *, both: bool, told: bool) -> float:
    """Give what a link adds, in readings; minus infinity for one that cannot be.

    Between two readings that are both judged right any link stands.
    """
    match verdict:
        case Verdict.FITS:
            return 1.0
        case Verdict.ROLLS:
            return 1.0 if told else 1.0 - ROLLOVER_DOUBT
        case Verdict.FALLS | Verdict.TOO_FAST:
            return 1.0 if both else -inf
