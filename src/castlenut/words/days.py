"""Days and lengths of time as one says them."""

from datetime import date

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_NUMBERS = {4: "four", 5: "five", 6: "six", 7: "seven"}
_MONTH_DAYS = 30.4


def spelled(when: date) -> str:
    """Give a day with its month in words: `3 March 2026`."""
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}"


def length(days: int) -> str:
    """Give a length of time in days, months or years, whichever one would say."""
    if days < 60:
        return _counted(days, "day")
    months = round(days / _MONTH_DAYS)
    return _counted(months, "month") if months < 36 else _counted(round(days / 365.25), "year")


def digits(how_many: int) -> str:
    """Give a number of digits as a word: `five-digit`."""
    return f"{_NUMBERS.get(how_many, str(how_many))}-digit"


def _counted(how_many: int, what: str) -> str:
    return f"{how_many} {what}" if how_many == 1 else f"{how_many} {what}s"
