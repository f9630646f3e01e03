"""The week a tire was made, as its identification number tells it, with what it leaves open."""

import re
from datetime import date, timedelta
from enum import Enum

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass

_WEEK = timedelta(days=7)
_SUNDAY = 6

_FIRST_TINS = date(1971, 5, 22)  # the numbers became law then: from memory
_LAST_THREE_DIGITS = date(2000, 7, 31)  # 2.03: three digits were allowed until about July 2000
_LAST_DAY_CODES = 1980  # 2.08 is of 1973; how long days were marked is not known
_NO_FOUR_DIGIT_YEARS = range(70, 99)  # 2070 to 2098: no tire yet, but old day, week and year codes
_TRIANGLES = "◄◀◁◅△▲▴▵▶►▷▸▹◂◃"  # 2.07: some tires of the 1990s carry one
_LONGEST = 40


class TinNote(Enum):
    """What must be said beside the weeks."""

    NO_DATE = "The number ends in no date code: look for the full number on the other side."
    NO_SUCH_WEEK = "The number ends in a week or a year that there is not."
    DECADE_NOT_TOLD = (
        "A three-digit code tells the last digit of the year, not the decade:"
        " ask what else is known of the tire."
    )
    OLD_FORM_POSSIBLE = (
        "On a tire of the 1970s four digits can be a day, a week and a year;"
        " read as week and year here."
    )
    NO_SUCH_WEEK_NOW = (
        "There is no such week. On a tire of the 1970s four digits can be a day, a week and a year:"
        " if it may be that old, give the years in which it can have been made."
    )
    READ_AS_OLD_FORM = (
        "Read as the week and year of a three-digit code with another character before it:"
        " as week and two-digit year it does not fit what is known."
    )
    NOT_IN_KNOWN_YEARS = "What it says does not fit the years or the day given."
    TRIANGLE = "A triangle beside the code is taken as a mark of the 1990s."
    RETREAD = "A retread: the date is that of the retreading, and the casing is older."


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Week:
    """A week of make, Sunday to Saturday; 1 is the first full week of its year (2.05, 2.06)."""

    year: int
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """Every week the number may mean, oldest first; none when it holds no date that can be."""

    weeks: tuple[Week, ...]
    is_retread: bool
    notes: tuple[TinNote, ...]


def first_day(week: Week) -> date:
    """Give the Sunday a week of make begins on."""
    new_year = date(week.year, 1, 1)
    first_sunday = new_year + timedelta(days=(_SUNDAY - new_year.weekday()) % 7)
    return first_sunday + (week.number - 1) * _WEEK


def last_day(week: Week) -> date:
    """Give the Saturday a week of make ends on, up to 6 days into the next year (2.06)."""
    return first_day(week) + _WEEK - timedelta(days=1)


def made(tin: str, *, looked_at: date | None = None, years: tuple[int, int] | None = None) -> Made:
    """Read the week of make from a tire's identification number, whole or only its end.

    Four digits at the end are week and year, three are week and last digit of the year (2.04).
    The length of the whole number proves nothing (2.01). What is known narrows the choice: no
    week after `looked_at`, the day the tire was seen, and only weeks in `years`, the first and
    the last in which it can have been made. Four digits that fit neither are read as the old form
    of day, week and year (2.08); so are they for a year from 70 to 98. Week 00 or 54 alone makes no
    old tire: that takes `years`, or a day in the past.

    Raises:
        BadInput: a text that is no such number, or years that run backward.
    """
    end = _end(tin)
    if years is not None and years[0] > years[1]:
        raise BadInput(
            Fault("runs backward", "vehicle_years", "give the first year, then the last")
        )
    notes: list[TinNote] = []
    if end.has_triangle:
        notes.append(TinNote.TRIANGLE)
        years = (max(1990, years[0]), min(1999, years[1])) if years else (1990, 1999)
    new = _four_digits(end.code) if len(end.code) == 4 else ()
    old = _three_digits(end.code[-3:]) if len(end.code) >= 3 else ()
    fitting_new = _fitting(new, looked_at, years)
    fitting_old = _fitting(old, looked_at, years)
    if fitting_old and not new and _must_be_new(end, looked_at, years):
        return Made(weeks=(), is_retread=end.is_retread, notes=(TinNote.NO_SUCH_WEEK_NOW,))
    if fitting_new and years is None and any(week.year < _LAST_DAY_CODES for week in fitting_old):
        notes.append(TinNote.OLD_FORM_POSSIBLE)
    elif fitting_old and not fitting_new:
        if len(end.code) == 4:
            notes.append(TinNote.READ_AS_OLD_FORM)
        if len(fitting_old) > 1:
            notes.append(TinNote.DECADE_NOT_TOLD)
    elif len(end.code) < 3:
        notes.append(TinNote.NO_DATE)
    elif not fitting_new:
        notes.append(TinNote.NOT_IN_KNOWN_YEARS if old or new else TinNote.NO_SUCH_WEEK)
    # 2.01: a new tire's number has more than seven symbols once its date has four digits.
    is_retread = end.is_retread or (bool(fitting_new) and end.symbols == 7)
    if is_retread:
        notes.append(TinNote.RETREAD)
    return Made(weeks=fitting_new or fitting_old, is_retread=is_retread, notes=tuple(notes))


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    """What stands at the end of a number, and what is told beside it."""

    code: str
    """The digits at the end, at most the last four."""
    symbols: int
    is_own_group: bool
    """Whether the digits stand apart from what is before them, or nothing is."""
    is_retread: bool
    has_triangle: bool


def _end(tin: str) -> _End:
    text = tin.upper()
    has_triangle = any(mark in text for mark in _TRIANGLES)
    text = text.translate(dict.fromkeys(map(ord, _TRIANGLES), " ")).strip()
    if not re.fullmatch(r"[A-Z0-9 -]+", text) or len(text) > _LONGEST:
        raise BadInput(
            Fault(
                f"{tin[:_LONGEST]!r} is no tire identification number",
                "tin",
                "give its letters and digits, or the last three or four digits",
            )
        )
    text, is_retread = re.subn(r"^DOT[ -]*R[ -]", "", text)
    groups = [group for group in re.split(r"[ -]+", text.removeprefix("DOT")) if group]
    if groups and all(group.isdigit() for group in groups) and len("".join(groups)) <= 4:
        groups = ["".join(groups)]  # 25 01, or 43 9, as some read it off
    digits = re.search(r"\d*$", groups[-1] if groups else "")
    code = digits.group()[-4:] if digits else ""
    return _End(
        code=code,
        symbols=len("".join(groups)),
        is_own_group=bool(groups) and groups[-1] == code,
        is_retread=bool(is_retread),
        has_triangle=has_triangle,
    )


def _must_be_new(end: _End, looked_at: date | None, years: tuple[int, int] | None) -> bool:
    """Tell whether four digits apart are week and year, since nothing tells of an old tire.

    A year from 70 to 98 would itself tell: no tire with four digits has one yet.
    """
    is_told_old = years is not None or (looked_at is not None and looked_at <= _LAST_THREE_DIGITS)
    is_four = end.is_own_group and len(end.code) == 4
    return is_four and not is_told_old and int(end.code[2:]) not in _NO_FOUR_DIGIT_YEARS


def _four_digits(code: str) -> tuple[Week, ...]:
    number, year = int(code[:2]), int(code[2:])
    if year in _NO_FOUR_DIGIT_YEARS:
        return ()
    return _existing(Week(year=1999 if year == 99 else 2000 + year, number=number))


def _three_digits(code: str) -> tuple[Week, ...]:
    number, digit = int(code[:2]), int(code[2])
    weeks = (
        week
        for year in range(_FIRST_TINS.year, _LAST_THREE_DIGITS.year + 1)
        if year % 10 == digit
        for week in _existing(Week(year=year, number=number))
    )
    return tuple(
        week
        for week in weeks
        if last_day(week) >= _FIRST_TINS and first_day(week) <= _LAST_THREE_DIGITS
    )


def _existing(week: Week) -> tuple[Week, ...]:
    exists = week.number >= 1 and first_day(week).year == week.year
    return (week,) if exists else ()


def _fitting(
    weeks: tuple[Week, ...], looked_at: date | None, years: tuple[int, int] | None
) -> tuple[Week, ...]:
    return tuple(
        week
        for week in weeks
        if (looked_at is None or first_day(week) <= looked_at)
        and (years is None or years[0] <= week.year <= years[1])
    )
