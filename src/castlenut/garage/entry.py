"""What a user types, read into values: days, dial figures, hours, money, and `FIELD=VALUE`."""

import re
from calendar import monthrange
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from decimal import Decimal

from castlenut.domain.dial import Dial
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.months import after_span
from castlenut.domain.units import Unit, convert
from castlenut.words.month_names import MONTHS

_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_MONTH_DAY = re.compile(r"(\d{1,2})-(\d{1,2})")
_MONTH = re.compile(r"(\d{4})-(\d{1,2})")
_YEAR = re.compile(r"\d{4}")
_SLASHES = re.compile(r"(\d{1,4})[/.](\d{1,2})[/.](\d{2}|\d{4})")
_STEP = re.compile(r"([+-]?)\s*(\d{1,4})\s*(d|w|m|y|days?|weeks?|months?|years?)(\s+ago)?")
_FIRST_YEAR = 1885
_WAYS = "write it as 2026-11-25, 11-25, 25, today, yesterday, 3d ago or mon"
_SHORTEST_WEEKDAY = 2
_CENTURY = 100

_GROUPED = re.compile(r"\d{1,3}([, ]\d{3})+(\.\d+)?")
_PLAIN = re.compile(r"\d+(\.\d*)?|\.\d+")
_FIGURE = re.compile(r"(?P<sign>[+-]?)\s*(?P<number>[\d., ]*\d\.?)\s*(?P<unit>[a-z]*)")
_HOURS = re.compile(r"(\d+):([0-5]\d)")
_MINUTES = re.compile(r"(\d+)\s*(m|min|minutes)")
_WHOLE_HOURS = re.compile(r"(\d+(?:\.\d+)?|\.\d+)\s*(h|hours?)?")
_HOURS_MINUTES = re.compile(r"(\d+)\s*h\s*([0-5]?\d)\s*(m|min)?")
_UNITS = {
    "mi": Unit.MI,
    "mile": Unit.MI,
    "miles": Unit.MI,
    "km": Unit.KM,
    "kms": Unit.KM,
    "kilometers": Unit.KM,
    "kilometres": Unit.KM,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DialFigure:
    """What the dial showed, as entered, with the unit it was entered in."""

    figure: Decimal
    unit: Unit


def day(text: str, *, today: date, past: bool, field: str) -> date:
    """Read a day as typed.

    A month and day, a day of the month, or a weekday is the last one where the day lies in the
    `past`, else this year's, this month's, and the next.

    Raises:
        BadInput: no day is meant, it does not exist, or it is not past and should be.
    """
    plain = " ".join(text.lower().split())
    found = (
        _iso(plain, field)
        or _month_and_day(plain, today=today, past=past, field=field)
        or _day_of_month(plain, today=today, past=past, field=field)
        or _word(plain, today=today, past=past)
        or _step(plain, today=today)
    )
    if found is None:
        raise _no_day(text, plain, field)
    if past and found > today:
        raise BadInput(
            Fault(
                f"{found.isoformat()} is after today, {today.isoformat()}", field, "give a day past"
            )
        )
    if found.year < _FIRST_YEAR:
        raise BadInput(Fault(f"{found.isoformat()} is before there were cars", field, _WAYS))
    return found


def period(text: str, *, today: date, field: str) -> date:
    """Read when something was made, perhaps only to the year or month: its first day.

    Raises:
        BadInput: as for a past day.
    """
    plain = text.strip()
    if _YEAR.fullmatch(plain):
        return day(f"{plain}-01-01", today=today, past=True, field=field)
    if found := _MONTH.fullmatch(plain):
        return day(f"{found[1]}-{found[2]}-01", today=today, past=True, field=field)
    return day(text, today=today, past=True, field=field)


def _on_calendar(year: int, month: int, number: int, text: str, field: str) -> date:
    if not 1 <= year <= 9999 or not 1 <= month <= len(MONTHS):
        raise BadInput(Fault(f"{text!r} is no day: there is no month {month}", field, _WAYS))
    last = monthrange(year, month)[1]
    if not 1 <= number <= last:
        raise BadInput(
            Fault(
                f"{text!r} is no day: {MONTHS[month - 1]} {year} has {last} days",
                field,
                f"give a day from 1 to {last}",
            )
        )
    return date(year, month, number)


def _iso(plain: str, field: str) -> date | None:
    found = _ISO.fullmatch(plain)
    if found is None:
        return None
    return _on_calendar(int(found[1]), int(found[2]), int(found[3]), plain, field)


def _month_and_day(plain: str, *, today: date, past: bool, field: str) -> date | None:
    found = _MONTH_DAY.fullmatch(plain)
    if found is None:
        return None
    month, number = int(found[1]), int(found[2])
    if past and (month, number) > (today.month, today.day):
        return _on_calendar(today.year - 1, month, number, plain, field)
    return _on_calendar(today.year, month, number, plain, field)


def _day_of_month(plain: str, *, today: date, past: bool, field: str) -> date | None:
    if not (plain.isdigit() and len(plain) <= 2):
        return None
    number = int(plain)
    month = today.replace(day=1)
    if past and number > today.day:
        month = (month - timedelta(days=1)).replace(day=1)
    return _on_calendar(month.year, month.month, number, plain, field)


def _word(plain: str, *, today: date, past: bool) -> date | None:
    named = {"today": 0, "yesterday": -1, "tomorrow": 1}
    if plain in named:
        return today + timedelta(days=named[plain])
    if len(plain) < _SHORTEST_WEEKDAY:
        return None
    weekday = next((n for n, name in enumerate(_WEEKDAYS) if name.startswith(plain)), None)
    if weekday is None:
        return None
    if past:
        return today - timedelta(days=(today.weekday() - weekday - 1) % 7 + 1)
    return today + timedelta(days=(weekday - today.weekday() - 1) % 7 + 1)


def _step(plain: str, *, today: date) -> date | None:
    found = _STEP.fullmatch(plain)
    if found is None or bool(found[1]) == bool(found[4]):
        return None
    number = int(found[2]) * (1 if found[1] == "+" else -1)
    days = {"d": number, "w": 7 * number}.get(found[3][0], 0)
    months = {"m": number, "y": 12 * number}.get(found[3][0], 0)
    return after_span(today, months, days)


def _no_day(text: str, plain: str, field: str) -> BadInput:
    slashes = _SLASHES.fullmatch(plain)
    if slashes is None:
        return BadInput(Fault(f"{text!r} is no day", field, _WAYS))
    first, second, year = int(slashes[1]), int(slashes[2]), int(slashes[3])
    if year < _CENTURY:
        year += 2000
    may_be = sorted(
        {
            date(year, month, number).isoformat()
            for month, number in ((first, second), (second, first))
            if 1 <= month <= len(MONTHS) and 1 <= number <= monthrange(year, month)[1]
        }
    )
    if not may_be:
        return BadInput(Fault(f"{text!r} is no day", field, _WAYS))
    return BadInput(Fault(f"{text!r}: which is the month?", field, f"write {' or '.join(may_be)}"))


def number(text: str, *, field: str) -> Decimal:
    """Read a number of 0 or more: `61600`, `61,600`, `61 705`, `.5`.

    Raises:
        BadInput: it is none, is negative, or has more digits than a record holds.
    """
    plain = text.strip()
    if plain.startswith("-") and _PLAIN.fullmatch(plain[1:]):
        raise BadInput(Fault(f"{text!r} is negative", field, "give a figure of 0 or more"))
    if _GROUPED.fullmatch(plain):
        plain = plain.replace(",", "").replace(" ", "")
    if not (plain.isascii() and _PLAIN.fullmatch(plain)):
        raise BadInput(
            Fault(f"{text!r} is no number", field, "write digits, as 61600, 61,600 or 61 600")
        )
    found = Decimal(plain)
    if len(found.as_tuple().digits) > 15:  # what a record holds exactly
        raise BadInput(Fault(f"{text!r} is too long", field, "give at most 15 digits"))
    return found


def distance(
    text: str,
    dial: Dial,
    *,
    field: str,
    unit: str | None = None,
    last: Decimal | None = None,
) -> DialFigure:
    """Read what a dial showed: `61600`, `61,600`, `61 705`, `61600 km`, or `+120` since last read.

    No unit means the dial's. `last` is what the last sound reading showed, in the dial's unit.

    Raises:
        BadInput: no number, a negative one, one that the dial has too few digits to show, a unit
            that measures no distance, or `+120` with no reading before it.
    """
    found = _FIGURE.fullmatch(text.strip().lower())
    if found is None:
        raise BadInput(
            Fault(f"{text!r} is no dial figure", field, "write digits, as 61600 or 61,600 km")
        )
    if found["sign"] == "-":
        raise BadInput(Fault(f"{text!r} is negative", field, "give what the dial shows"))
    given = _unit(found["unit"] or (unit or ""), dial, text, field)
    figure = number(found["number"], field=field)
    if found["sign"] == "+":
        if last is None:
            raise BadInput(
                Fault(
                    f"{text!r} counts from the last reading, there is none", field, "give all of it"
                )
            )
        run = Decimal(str(convert(float(figure), given=given, wanted=dial.unit)))
        figure, given = last + run.quantize(Decimal("0.1")), dial.unit
        figure = _plain(figure)
    on_dial = convert(float(figure), given=given, wanted=dial.unit)
    if on_dial >= 10**dial.digits:
        raise BadInput(
            Fault(
                f"{text!r} has more digits than the dial, which shows {dial.digits}",
                field,
                "give what the dial shows, or correct the vehicle's digits",
            )
        )
    return DialFigure(figure=_plain(figure), unit=given)


def on_dial(found: DialFigure, dial: Dial) -> Decimal:
    """Give an entered figure in the dial's unit, to a tenth where it had to be converted."""
    if found.unit is dial.unit:
        return found.figure
    shown = convert(float(found.figure), given=found.unit, wanted=dial.unit)
    return _plain(Decimal(str(shown)).quantize(Decimal("0.1")))


def _plain(figure: Decimal) -> Decimal:
    return figure.to_integral_value() if figure == figure.to_integral_value() else figure


def _unit(text: str, dial: Dial, whole: str, field: str) -> Unit:
    if not text:
        return dial.unit
    found = _UNITS.get(text.strip().lower())
    if found is None:
        more = "write the figure out in full" if text == "k" else "use mi or km"
        raise BadInput(Fault(f"{whole!r}: {text!r} is no unit of distance", field, more))
    return found


def hours(text: str, *, field: str = "hours") -> Decimal:
    """Read hours of work: `1.5`, `1:30`, `90m`, to a hundredth.

    Raises:
        BadInput: the text tells no such time, or more than a thousand hours.
    """
    plain = text.strip().lower()
    if found := _HOURS.fullmatch(plain) or _HOURS_MINUTES.fullmatch(plain):
        told = Decimal(found[1]) + Decimal(found[2]) / 60
    elif found := _MINUTES.fullmatch(plain):
        told = Decimal(found[1]) / 60
    elif found := _WHOLE_HOURS.fullmatch(plain):
        told = Decimal(found[1])
    else:
        raise BadInput(Fault(f"{text!r} is no time worked", field, "write 1.5, 1:30 or 90m"))
    if told > 1000:
        raise BadInput(Fault(f"{text!r} is more than 1,000 hours", field, "write 1.5, 1:30 or 90m"))
    return _plain(told.quantize(Decimal("0.01")).normalize())


def money(text: str, *, field: str) -> str:
    """Read an amount of money: the text with two decimals that a record holds.

    Raises:
        BadInput: no number, a negative one, or parts of a cent.
    """
    amount = number(text.strip().lstrip("$€£").strip(), field=field)
    cents = amount.quantize(Decimal("0.01"))
    if cents != amount:
        raise BadInput(Fault(f"{text!r} has parts of a cent", field, "give two decimals at most"))
    return f"{cents}"


def pairs(texts: Iterable[str]) -> Mapping[str, str]:
    """Read `FIELD=VALUE` arguments, in their order.

    Raises:
        BadInput: one has no `=`, or a field stands twice.
    """
    found: dict[str, str] = {}
    faults: list[Fault] = []
    for text in texts:
        name, mark, value = text.partition("=")
        if not (mark and name.strip()):
            faults.append(Fault(f"{text!r} is no FIELD=VALUE", "fields", "write as year=1971"))
        elif name.strip() in found:
            faults.append(Fault(f"{name.strip()} stands twice", "fields", "give each field once"))
        else:
            found[name.strip()] = value.strip()
    if faults:
        raise BadInput(*faults)
    return found
