"""The use curve: true distance by day, and the first day a distance is reached."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date

_SAME = 1e-6  # of a unit of distance: what a day's arithmetic may be off


class Curve:
    """Distance by day, linear between its dates, flat before and after them."""

    def __init__(self, dates: Sequence[date], distances: Sequence[float]) -> None:
        self._days = [each.toordinal() for each in dates]
        self._distances = list(distances)

    def at(self, day: int) -> float:
        """Give the distance at a day."""
        days, distances = self._days, self._distances
        if day <= days[0]:
            return distances[0]
        if day >= days[-1]:
            return distances[-1]
        place = bisect_right(days, day)
        begin, end = days[place - 1], days[place]
        share = (day - begin) / (end - begin)
        return distances[place - 1] + share * (distances[place] - distances[place - 1])

    def reached(self, distance: float) -> int | None:
        """Give the first day at which a distance is reached; None where it never is."""
        days, distances = self._days, self._distances
        if distance <= distances[0] + _SAME:
            return days[0]
        if distance > distances[-1] + _SAME:
            return None
        place = min(bisect_left(distances, distance - _SAME), len(days) - 1)
        begin, end = days[place - 1], days[place]
        rise = distances[place] - distances[place - 1]
        day = begin + int((end - begin) * (distance - distances[place - 1]) / rise)
        day = max(begin, day - 1)
        while day < end and self.at(day) < distance - _SAME:
            day += 1
        return day
