"""The common slips in writing a figure down, undone: what the dial may have shown instead."""

from collections.abc import Iterator
from datetime import date
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from math import log

from castlenut.domain.dial import Dial
from castlenut.domain.frozen import dataclass
from castlenut.domain.oddity import Cause
from castlenut.domain.units import KM_PER_MI, Shown

_KM_PER_MI = Decimal(str(KM_PER_MI))

# Minus the logarithm of how often each happens, beside the number of ways it can.
_SWAPPED = 6.0
_OTHER_UNIT = 5.5
_ONE_DIGIT = 6.0
_TENTHS = 5.5
_NO_TENTHS = 4.0  # on a dial that is said to have none
_DATE = 6.5 + log(3)
_MISREAD = 8.0
REPLACED = 7.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One way a figure came about: what it should have been, or on which day it was read."""

    cause: Cause
    cost: float
    shown: Shown
    on: date


def misread(dial: Dial) -> float:
    """Give the cost of a figure that tells nothing: any the dial can show is as likely."""
    return _MISREAD + dial.digits * log(10)


def slips(shown: Shown, on: date, dial: Dial) -> Iterator[Slip]:
    """Give every common slip that may have made a figure, undone."""
    place = Decimal("0.1") if dial.tenths else Decimal(1)
    capacity = Decimal(10) ** dial.digits

    def undone(cause: Cause, cost: float, figure: Decimal) -> Iterator[Slip]:
        if 0 <= figure < capacity and figure != shown:
            yield Slip(cause=cause, cost=cost, shown=Shown(figure), on=on)

    whole, point = divmod(shown, 1)
    digits = str(int(whole)).rjust(dial.digits, "0")
    tenths = _TENTHS if dial.tenths else _TENTHS + _NO_TENTHS
    yield from undone(Cause.TENTHS, tenths, a_tenth(shown, dial))
    for factor in (_KM_PER_MI, 1 / _KM_PER_MI):
        figure = (shown * factor).quantize(place, rounding=ROUND_HALF_UP)
        yield from undone(Cause.OTHER_UNIT, _OTHER_UNIT + log(2), figure)
    many = len(digits)
    for at in range(many - 1):
        text = digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :]
        yield from undone(Cause.SWAPPED, _SWAPPED + log(max(many - 1, 1)), int(text) + point)
    for at in range(many):
        for digit in "0123456789":
            text = digits[:at] + digit + digits[at + 1 :]
            yield from undone(Cause.ONE_DIGIT, _ONE_DIGIT + log(9 * many), int(text) + point)


def a_tenth(shown: Shown, dial: Dial) -> Shown:
    """Give what the dial showed if the figure was written without its point."""
    place = Decimal("0.1") if dial.tenths else Decimal(1)
    return Shown((shown / 10).quantize(place, rounding=ROUND_FLOOR))


def other_days(shown: Shown, on: date) -> Iterator[Slip]:
    """Give the days that may have been meant: a year off, or day and month swapped."""
    for year, month, day in (
        (on.year - 1, on.month, on.day),
        (on.year + 1, on.month, on.day),
        (on.year, on.day, on.month),
    ):
        if is_day(year, month, day) and (month, day, year) != (on.month, on.day, on.year):
            yield Slip(cause=Cause.DATE, cost=_DATE, shown=shown, on=date(year, month, day))


def is_day(year: int, month: int, day: int) -> bool:
    """Tell whether the calendar has such a day."""
    if not (1 <= month <= 12 and 1 <= year <= 9998):
        return False
    days = (date(year + month // 12, month % 12 + 1, 1) - date(year, month, 1)).days
    return 1 <= day <= days
