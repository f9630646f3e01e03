"""Calendar months and days counted from an anchor."""

from calendar import monthrange
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache
from math import floor

from dateutil.relativedelta import relativedelta

from castlenut.domain.errors import BadInput, Fault

DAYS_IN_MONTH = 30  # of a part of a month and of a tolerance (7.04, 7.06); never of a due date


def months_after(anchor: date, months: int) -> date:
    """Give the day `months` calendar months after `anchor`, always counted from the anchor itself.

    A day the month does not have becomes its last day (check value 7.27). Steps must not start
    from an earlier result: 31 January plus 2 is 31 March, plus 1 plus 1 is 28 March (7.31).

    Raises:
        BadInput: the calendar ends before that day.
    """
    return after_span(anchor, months, 0)


def end_of_month_after(anchor: date, months: int) -> date:
    """Give the last day of the month that lies `months` calendar months on (7.26).

    Raises:
        BadInput: the calendar ends before that day.
    """
    return last_of_month(months_after(anchor, months))


def last_of_month(day: date) -> date:
    """Give the last day of the month that `day` lies in."""
    return day.replace(day=monthrange(day.year, day.month)[1])


@lru_cache(maxsize=4096)  # the parts of one job run alike: many items ask for the same day
def after_span(anchor: date, months: int, days: int) -> date:
    """Give the day some calendar months, then some days after `anchor`; both may be negative.

    Raises:
        BadInput: the day would lie outside the years 1 to 9999.
    """
    try:
        begun = anchor + relativedelta(months=months) if months else anchor
        return begun + timedelta(days=days)
    except (ValueError, OverflowError) as passed:
        raise BadInput(
            Fault(
                f"{months} months and {days} days from {anchor.isoformat()} leave the calendar",
                "date",
                "give a shorter interval or another day; years run from 1 to 9999",
            )
        ) from passed


def scaled_months(months: int, factor: Fraction) -> tuple[int, int]:
    """Give months times a factor as whole calendar months and days.

    What is left over is counted in 30-day months and rounded to the day, half a day upward:
    6 months times 0.7 are 4 months and 6 days.
    """
    scaled = months * factor
    whole = floor(scaled)
    return whole, rounded_days((scaled - whole) * DAYS_IN_MONTH)


def rounded_days(days: Fraction) -> int:
    """Give days rounded to the nearest day; half a day goes upward."""
    return floor(days + Fraction(1, 2))
