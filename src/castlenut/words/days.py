"""Days and lengths of time as one says them."""

from datetime import date

from castlenut.words.month_names import MONTHS, SHORT_MONTHS

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_MONTH_DAYS = 30.4


def spelled(when: date) -> str:
    """Give a day with its month in words: `3 March 2026`."""
    return f"{when.day} {MONTHS[when.month - 1]} {when.year}"


def month(when: date) -> str:
    """Give a day's month and year: `March 2024`."""
    return f"{MONTHS[when.month - 1]} {when.year}"


def months(first: int, last: int) -> str:
    """Give a part of the year by its first and last month: `April to October`."""
    return f"{MONTHS[first - 1]} to {MONTHS[last - 1]}"


def length(days: int) -> str:
    """Give a length of time in days, months or years, whichever one would say."""
    if days < 60:
        return _counted(days, "day")
    how_many = round(days / _MONTH_DAYS)
    return _counted(how_many, "month") if how_many < 36 else _counted(round(days / 365.25), "year")


def digits(how_many: int) -> str:
    """Give a number of digits as a word: `five-digit`."""
    return f"{_number(how_many)}-digit"


def counted(how_many: int, what: str) -> str:
    """Give a number of things, a small one as a word: `four readings`."""
    return f"{_number(how_many)} {what}{'s' * (how_many != 1)}"


def _number(how_many: int) -> str:
    return _NUMBERS[how_many] if how_many < len(_NUMBERS) else f"{how_many:,}"


def _counted(how_many: int, what: str) -> str:
    return f"{how_many} {what}" if how_many == 1 else f"{how_many} {what}s"


def week(monday: date) -> str:
    """Give a week by its number and its Monday, always as wide: `49 Nov 30`."""
    month = SHORT_MONTHS[monday.month - 1]
    return f"{monday.isocalendar().week:>2} {month} {monday.day:>2}"
