"""Figures into words: the only place that rounds."""

from datetime import date, timedelta
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from fractions import Fraction

from castlenut.domain.dial import Dial
from castlenut.domain.units import MM_PER_IN
from castlenut.domain.use.estimate import DateBand
from castlenut.words.month_names import SHORT_MONTHS

NOT_KNOWN = "not known"
NOT_IN_TEN_YEARS = "not within ten years"
_WHOLE, _TENTH = Decimal(1), Decimal("0.1")
_FINEST = Decimal("0.0001")  # of a measured figure; what a unit was converted to has more
_SIGNS_BEFORE = frozenset("$£¥")
_SIX_WEEKS = timedelta(weeks=6)
_YEAR = timedelta(days=365)
_ELEVEN_MONTHS = timedelta(days=334)  # nearer than this, a day needs no year


def day(when: date | None) -> str:
    """Give a day as ISO date; None is not known."""
    return NOT_KNOWN if when is None else when.isoformat()


def rounded(distance: Decimal | float | Fraction, *, tenths: bool) -> Decimal:
    """Give a distance to the last place that a dial shows, a half upward."""
    if type(distance) is Decimal:  # asked first: nearly all are, and a Fraction is slow to rule out
        exact = distance
    elif isinstance(distance, Fraction):
        exact = Decimal(distance.numerator) / Decimal(distance.denominator)
    else:
        exact = Decimal(distance)
    return exact.quantize(_TENTH if tenths else _WHOLE, rounding=ROUND_HALF_UP)


def shown(distance: Decimal | float, dial: Dial) -> str:
    """Give a distance as this dial shows it, with separators and without unit: `61,530`."""
    return f"{rounded(distance, tenths=dial.tenths):,f}"


def with_unit(distance: Decimal | float, dial: Dial) -> str:
    """Give a distance as this dial shows it, with its unit: `61,530 mi`."""
    return f"{shown(distance, dial)} {dial.unit.value}"


def left(distance: Decimal | float, dial: Dial) -> Decimal:
    """Give what is left of a distance, negative if over, so that dial figures add up to it.

    A dial cuts off what it cannot show: at 61,609.7 it shows 61,609, and to 61,730 that is 121.
    """
    exact = Decimal(distance).quantize(Decimal("0.1"), rounding=ROUND_HALF_UP)
    if not dial.tenths:
        exact = exact.quantize(Decimal(1), rounding=ROUND_CEILING)
    return exact + 0  # no negative zero


def plain_number(distance: Decimal | float, dial: Dial) -> int | float:
    """Give a distance as a number for other programs: whole ones whole, others to the tenth."""
    exact = rounded(distance, tenths=dial.tenths)
    return int(exact) if exact == exact.to_integral_value() else float(exact)


def to_tenth(distance: float) -> int | float:
    """Give a computed distance as a number for other programs, to the tenth; whole ones whole."""
    return as_number(rounded(distance, tenths=True))


def number(value: Decimal | Fraction | float) -> str:
    """Give a figure as it was entered, without zeros at its end: `4.5`, `0.125`, `200`."""
    if isinstance(value, Fraction):
        value = Decimal(value.numerator) / Decimal(value.denominator)
    elif isinstance(value, float):
        value = Decimal(repr(value))
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def as_number(value: Decimal | Fraction) -> int | float:
    """Give a figure for other programs, whole ones whole."""
    exact = float(value)
    return int(exact) if exact.is_integer() else exact


def entered(value: Decimal) -> str:
    """Give a figure as it was entered, with separators: `61,600.4`."""
    return f"{Decimal(number(value)):,f}"


def quantity(value: Decimal | Fraction, unit: str) -> str:
    """Give a measured figure with its unit, to four decimals: `4.5 mm`, `5/32 in`."""
    exact = (
        Decimal(value.numerator) / Decimal(value.denominator)
        if isinstance(value, Fraction)
        else value
    )
    told = number(exact.quantize(_FINEST, rounding=ROUND_HALF_UP))
    if unit == "1/32 in":
        return f"{told}/32 in"
    return f"{told} {unit}".rstrip()


def count(how_many: int, what: str) -> str:
    """Give a count with its noun: `1 day`, `30 days`."""
    return f"{how_many:,} {what}" if abs(how_many) == 1 else f"{how_many:,} {what}s"


def span(months: int | None, days: int | None) -> str:
    """Give a length of time: `12 months`, `4 months 6 days`; empty where there is no such side."""
    parts = []
    if months:
        parts.append(count(months, "month"))
    if days:
        parts.append(count(days, "day"))
    return " ".join(parts)


def hours(length: Decimal | Fraction | float) -> str:
    """Give hours of work: `0.3 h`, to two decimals."""
    exact = (
        Decimal(length.numerator) / length.denominator
        if isinstance(length, Fraction)
        else (Decimal(length))
    )
    return f"{number(exact.quantize(Decimal('0.01'), rounding=ROUND_HALF_UP))} h"


def money(amount: Decimal) -> str:
    """Give an amount of money with two decimals and separators."""
    return f"{amount.quantize(Decimal('0.01'), rounding=ROUND_HALF_UP):,f}"


def in_currency(amount: Decimal, currency: str) -> str:
    """Give money with its currency, a sign before it, a word behind it: `$39.00`, `39.00 EUR`."""
    if currency in _SIGNS_BEFORE:
        return f"{currency}{money(amount)}"
    return f"{money(amount)} {currency}".rstrip()


def percent(share: Fraction | Decimal) -> str:
    """Give a figure that is in percent already: `10 %`."""
    return f"{number(share)} %"


def rate(per_day: float, unit: str) -> str:
    """Give a use rate: `10 mi a day`; by the year where a day has less than one."""
    if per_day < 1:
        return f"{rounded(per_day * 365.25, tenths=False):,f} {unit} a year"
    return f"{number(rounded(per_day, tenths=per_day < 10))} {unit} a day"


def to_places(value: float | None, places: int) -> float | None:
    """Round a computed figure for other programs; None stays not known."""
    return None if value is None else round(value, places)


def decimals(value: float, places: int = 0) -> str:
    """Give a computed figure to so many decimals, with separators, a half upward: `1,234.5`."""
    step = Decimal(1).scaleb(-places)
    return f"{Decimal(repr(value)).quantize(step, rounding=ROUND_HALF_UP) + 0:,f}"


def to_nearest(distance: float, step: int) -> str:
    """Give a distance that is known no better than to such a step: `17,500`, `29,000`."""
    steps = (Decimal(repr(distance)) / step).quantize(_WHOLE, rounding=ROUND_HALF_UP)
    return f"{steps * step + 0:,f}"


def length(length_mm: float) -> str:
    """Give a length to the millimeter and the tenth of an inch: `627 mm (24.7 in)`."""
    return f"{decimals(length_mm)} mm ({decimals(length_mm / MM_PER_IN, 1)} in)"


def wear(rate_per_1000: float, unit: str) -> str:
    """Give a wear rate, to two figures: `0.32 mm`."""
    return quantity(Decimal(f"{rate_per_1000:.2g}"), unit)


def dates(band: DateBand) -> str:
    """Give a band of dates in full: `2026-11-17 (2026-11-15 to 2026-11-19)`."""
    if band.p50 is None:
        earliest = "" if band.p10 is None else f", at the earliest {band.p10.isoformat()}"
        return NOT_IN_TEN_YEARS + earliest
    if band.p10 == band.p50 == band.p90:
        return band.p50.isoformat()
    first = NOT_KNOWN if band.p10 is None else band.p10.isoformat()
    last = NOT_IN_TEN_YEARS if band.p90 is None else band.p90.isoformat()
    return f"{band.p50.isoformat()} ({first} to {last})"


def about(band: DateBand, *, today: date) -> str:
    """Give a band of dates as one says it: `about 12 Jun (late Apr to mid Sep)`.

    The ends are days where the band is under six weeks, parts of a month under a year, months
    beyond that. The year is left out where the day is within eleven months of today.
    """
    if band.p50 is None:
        earliest = "" if band.p10 is None else f", at the earliest {_month(band.p10)}"
        return NOT_IN_TEN_YEARS + earliest
    if band.p10 == band.p50 == band.p90:
        return _on_day(band.p50, today)
    if band.p10 is None:
        return f"about {_on_day(band.p50, today)}"
    if band.p90 is None:
        return f"about {_month(band.p50)} ({_month(band.p10)}, or {NOT_IN_TEN_YEARS})"
    wide = band.p90 - band.p10
    if wide < _SIX_WEEKS:
        ends = (_on_day(band.p10, today), _on_day(band.p90, today))
    elif wide < _YEAR:
        ends = (_part_of_month(band.p10, today), _part_of_month(band.p90, today))
    else:
        return f"about {_month(band.p50)} ({_month(band.p10)} to {_month(band.p90)})"
    return f"about {_on_day(band.p50, today)} ({ends[0]} to {ends[1]})"


def _month(when: date) -> str:
    return f"{SHORT_MONTHS[when.month - 1]} {when.year}"


def _year_if_far(when: date, today: date) -> str:
    return f" {when.year}" if abs(when - today) > _ELEVEN_MONTHS else ""


def _on_day(when: date, today: date) -> str:
    return f"{when.day} {SHORT_MONTHS[when.month - 1]}{_year_if_far(when, today)}"


def _part_of_month(when: date, today: date) -> str:
    part = "early" if when.day <= 10 else "mid" if when.day <= 20 else "late"
    return f"{part} {SHORT_MONTHS[when.month - 1]}{_year_if_far(when, today)}"
