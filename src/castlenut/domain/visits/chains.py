"""The cheapest chain of one item: on which days it is done, when each day has its charge.

One pass backward over the days; at each step the cheapest day of a range. Of equal days the later.
"""

from collections import deque
from collections.abc import Sequence

from castlenut.domain.visits.task import FINISHED, INFINITE, Row

Chain = tuple[int, ...]
"""Places among the days of the task, in order."""


class Charged:
    """An item with a charge on each day. `values[n]`: the least from window n on."""

    __slots__ = ("_best", "_known", "_paid_on", "charge", "row", "values")

    def __init__(self, row: Row, charge: Sequence[float]) -> None:
        self.row = row
        self.charge = charge
        count = len(row.windows)
        self.values = [INFINITE] * count
        self._best = [FINISHED] * count
        self._known: dict[tuple[int, int], tuple[float, int]] = {}
        # What a doing on each day costs with all that follows; of a fixed series without its rest.
        self._paid_on = (
            [row.cost + at for at in charge]
            if row.is_series
            else [row.cost + at - left for at, left in zip(charge, row.end, strict=True)]
        )
        if row.is_series:
            self._pass_series()
        else:
            self._pass_days()

    def least(self, number: int, begin: int) -> float:
        """Give the least from a window on, none of it before a place among the days."""
        return self._from(number, begin)[0]

    def chain(self, number: int = 0, begin: int = 0) -> Chain:
        """Give the days of a cheapest chain, from a window on and none before a place."""
        found: list[int] = []
        while number != FINISHED:
            day = self._from(number, begin)[1]
            found.append(day)
            number = self.row.after(number, day)
        return tuple(found)

    def _from(self, number: int, begin: int) -> tuple[float, int]:
        window = self.row.windows[number]
        if window is None:
            raise AssertionError("a chain ran into a window that is not planned")
        if begin <= window.low:
            return self.values[number], self._best[number]
        if begin > window.high:
            return INFINITE, FINISHED
        key = (number, begin)
        if key not in self._known:
            value, day = self._least(number, begin, window.high)
            self._known[key] = (value + self._rest(number), day)
        return self._known[key]

    def _rest(self, number: int) -> float:
        """Give what follows a doing of this window, in a fixed series."""
        if not self.row.is_series:
            return 0.0
        if number + 1 == len(self.row.windows):
            return -self.row.end[number]
        return self.values[number + 1]

    def _least(self, number: int, low: int, high: int) -> tuple[float, int]:
        """Give the cheapest day of a range, the latest of equal ones."""
        paid_on = self._paid_on[low : high + 1]
        window = self.row.windows[number]
        if window is not None and window.late:
            paid_on = [
                paid + more
                for paid, more in zip(paid_on, window.late[low - window.low :], strict=True)
            ]
        least = min(paid_on)
        paid_on.reverse()
        return least, high - paid_on.index(least)

    def _pass_series(self) -> None:
        for number in range(len(self.row.windows) - 1, -1, -1):
            window = self.row.windows[number]
            if window is not None:
                value, self._best[number] = self._least(number, window.low, window.high)
                self.values[number] = value + self._rest(number)

    def _pass_days(self) -> None:
        row, paid_on = self.row, self._paid_on
        ahead: deque[int] = deque()  # places whose cost falls to the right; the last is the least
        put = len(paid_on)
        for number in range(row.live, -1, -1):
            window = row.windows[number]
            if window is None:
                continue
            if window.late or number == 0:
                self.values[number], self._best[number] = self._least(
                    number, window.low, window.high
                )
            else:
                while put > window.low:
                    put -= 1
                    while ahead and paid_on[ahead[0]] > paid_on[put]:
                        ahead.popleft()
                    ahead.appendleft(put)
                while ahead[-1] > window.high:
                    ahead.pop()
                self._best[number] = ahead[-1]
                self.values[number] = paid_on[ahead[-1]]
            if number:
                day = number - 1
                paid_on[day] = row.cost + self.charge[day] + self.values[number]
