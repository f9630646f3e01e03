"""How much of a year's driving lies between two days, by the season of each way of use."""

from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from operator import sub

from castlenut.domain.frozen import dataclass
from castlenut.domain.use.habit import DrivingDays
from castlenut.domain.use.ways import PASSED, Season

_BEFORE_MONTH = (0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335)
_HALF_A_YEAR = 183
_PASSED = tuple(PASSED[season] for season in Season)


@dataclass(frozen=True, slots=True, kw_only=True)
class Almanac:
    """The seasons of one car: the clock stands while it is laid up, and the south is turned."""

    clock: DrivingDays
    south: bool

    def between(self, first: date, last: date) -> Sequence[float]:
        """Give how many years of driving lie between two mornings, a season each.

        One in which each season passes once holds one of each. What lies in a lay-up is left out.
        """
        years = list(map(sub, _passed(last, self.south), _passed(first, self.south)))
        for span in self.clock.spans:
            begins, ends = max(span.first, first), min(_morning_after(span.last), last)
            if begins < ends:
                for place, (begin, end) in enumerate(
                    zip(_passed(begins, self.south), _passed(ends, self.south), strict=True)
                ):
                    years[place] = max(years[place] - (end - begin), 0.0)
        return years


@lru_cache(maxsize=1_000)
def _passed(day: date, south: bool) -> Sequence[float]:  # noqa: FBT001 - a cache key
    """Give how many years of driving, a season each, lie before a morning; kept: many ask alike."""
    of_year = _BEFORE_MONTH[day.month - 1] + day.day - 1
    year = day.year
    if south:
        year, of_year = divmod(year * 366 + of_year + _HALF_A_YEAR, 366)
    return tuple([year + passed[of_year] for passed in _PASSED])


def _morning_after(day: date) -> date:
    return day if day == date.max else date.fromordinal(day.toordinal() + 1)
