"""A year in one row of cells: months above, and of each item its window and the day it is due."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from castlenut.words.month_names import SHORT_MONTHS

_DAYS = 364
WINDOW, DUE, BOOKED, LAID_UP, OPEN_STILL = "=", "o", "#", "~", "<"
LEGEND = (
    f"{WINDOW} window  {DUE} due  {OPEN_STILL} since before  {BOOKED} booked  {LAID_UP} laid up"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """So many cells for the year from a day on; each stands for as many days as the others."""

    first: date
    cells: int

    @property
    def last(self) -> date:
        """Give the last day shown."""
        return self.first + timedelta(days=_DAYS - 1)

    def cell(self, day: date) -> int | None:
        """Give the cell of a day; None outside the year."""
        return self._at(day) if self.first <= day <= self.last else None

    def _at(self, day: date) -> int:
        return (day - self.first).days * self.cells // _DAYS

    def months(self) -> str:
        """Give the names of the months, at its first day; where there is no room its letter."""
        row = [" "] * self.cells
        starts = [day for day in _months(self.first, self.last) if day >= self.first]
        for day in starts:
            start, after = self._at(day), self._at(_next_month(day))
            name = SHORT_MONTHS[day.month - 1]
            told = name if after - start > len(name) else name[0]
            row[start : start + len(told)] = told
        return "".join(row[: self.cells])

    def span(self, since: date, until: date, mark: str) -> str:
        """Give a row with a mark from a day to a day, both included."""
        return self._row([(since, until, mark)])

    def days(self, days: Iterable[date], mark: str) -> str:
        """Give a row with a mark on each of some days."""
        return self._row([(day, day, mark) for day in days])

    def window(self, opens: date | None, due: date | None, closes: date | None) -> str:
        """Give the row of an item: its window, in it the day it is due, `<` where it was before."""
        spans = []
        if opens is not None and closes is not None:
            spans.append((opens, closes, WINDOW))
        if due is not None:
            spans.append((due, due, DUE))
        row = self._row(spans)
        days = [day for day in (opens, due, closes) if day is not None]
        return f"{OPEN_STILL}{row[1:]}" if days and min(days) < self.first else row

    def _row(self, spans: Iterable[tuple[date, date, str]]) -> str:
        row = [" "] * self.cells
        for since, until, mark in spans:
            start = self.cell(max(since, self.first))
            end = self.cell(min(until, self.last))
            if start is not None and end is not None and start <= end:
                row[start : end + 1] = mark * (end + 1 - start)
        return "".join(row)


def _months(first: date, last: date) -> Iterable[date]:
    day = first.replace(day=1)
    while day <= last:
        yield day
        day = _next_month(day)


def _next_month(first: date) -> date:
    return (first + timedelta(days=32)).replace(day=1)
