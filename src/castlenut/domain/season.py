"""Parts of the year in which a job is due."""

from calendar import monthrange
from datetime import date
from fractions import Fraction

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.months import after_span, rounded_days, scaled_months

DayOfYear = tuple[int, int]
"""Month and day."""

_LEAP_YEAR = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The parts of every year in which a job is due, first and last day of each, both included.

    A part whose last day comes before its first runs over the new year. 29 February stands for
    the last day of February in a year that has none.
    """

    parts: tuple[tuple[DayOfYear, DayOfYear], ...]

    def __post_init__(self) -> None:
        """Refuse a season without a part, or with a day no year has."""
        faults = [
            Fault(f"{month:02}-{day:02} is no day of the year", "season", "write month and day")
            for part in self.parts
            for month, day in part
            if not (1 <= month <= 12 and 1 <= day <= monthrange(_LEAP_YEAR, month)[1])
        ]
        if not self.parts:
            faults.append(Fault("has no part", "season", "give the first and the last day of one"))
        if faults:
            raise BadInput(*faults)

    def is_inside(self, day: date) -> bool:
        """Tell whether the day lies in one of the parts."""
        return any(first <= day <= last for first, last in _around(self, day))


def next_season(
    base: date, interval_months: int, season: Season, *, interval_days: int = 0
) -> tuple[date, date]:
    """Give first and last day of the first part that ends half an interval or more after the base.

    So a job done a little before its part, or early in it, is not asked for again in the same
    one: done on 1 October, yearly in September and October, the next is that of the year after.

    Raises:
        BadInput: the calendar ends before that day.
    """
    half = Fraction(1, 2)
    months, days = scaled_months(interval_months, half)
    earliest = after_span(base, months, days + rounded_days(interval_days * half))
    coming = [part for part in _around(season, earliest) if part[1] >= earliest]
    if not coming:
        raise BadInput(
            Fault(f"no season ends after {earliest.isoformat()}", "date", "give an earlier day")
        )
    return min(coming, key=lambda part: (part[1], part[0]))


def shifted(season: Season, months: int) -> Season:
    """Give the season some months later in the year: 6 for a garage in the south.

    The last day of a month stays the last day: September and October become March and April,
    and back again.
    """
    return Season(
        parts=tuple(
            (_shifted(first, months), _shifted(last, months)) for first, last in season.parts
        )
    )


def _shifted(day_of_year: DayOfYear, months: int) -> DayOfYear:
    month, day = day_of_year
    later = (month - 1 + months) % 12 + 1
    ends_month = day == monthrange(_LEAP_YEAR, month)[1] or day_of_year == (2, 28)
    longest = monthrange(_LEAP_YEAR, later)[1]
    return later, longest if ends_month else min(day, longest)


def _around(season: Season, day: date) -> tuple[tuple[date, date], ...]:
    """Give every part that begins in the year of the day, the year before or the year after."""
    parts: list[tuple[date, date]] = []
    for first, last in season.parts:
        for year in (day.year - 1, day.year, day.year + 1):
            ends = year + 1 if last < first else year
            if date.min.year <= year and ends <= date.max.year:
                parts.append((_in_year(first, year), _in_year(last, ends)))
    return tuple(parts)


def _in_year(day_of_year: DayOfYear, year: int) -> date:
    month, day = day_of_year
    return date(year, month, min(day, monthrange(year, month)[1]))
