"""Better plans near a plan: items moved one by one, whole visits or openings dropped or added."""

from collections.abc import Callable, Sequence
from operator import add
from random import Random

from castlenut.domain.visits.chains import Chain, Charged
from castlenut.domain.visits.task import FINISHED, Row, Task

Used = tuple[int, int]
"""A resource and a day on which it is opened."""

_GAIN = 1e-6
_DROPPED = 0.5
_WORTH = 1.005  # how far a plan may be off for it to be worth more time
_CLOSED = 1e9  # more than any plan costs: a day not to be used, unless there is no other


def total(task: Task, chains: Sequence[Chain]) -> float:
    """Give what a plan costs, with what is credited for the life left."""
    free = [0.0] * len(task.days)
    cost = 0.0
    used: set[tuple[int, int]] = set()
    for row in task.rows:
        chain = chains[row.number]
        cost += _cost(row, chain, free)
        used.update((resource, day) for resource in row.needs for day in chain)
    return cost + sum(task.prices[resource][day] for resource, day in used)


class Improvement:
    """Improves plans: each item's chain anew while the others stand, until nothing gains."""

    def __init__(self, task: Task, may_go_on: Callable[[], bool]) -> None:
        self._task = task
        self._may_go_on = may_go_on
        self._chance = Random(len(task.days))  # noqa: S311 - no secret: where to look
        self._rows = [row for row in task.rows if row.windows[0] is not None]

    def descend(
        self,
        chains: Sequence[Chain],
        closed: frozenset[Used] = frozenset(),
        free: frozenset[Used] | None = None,
    ) -> list[Chain]:
        """Give a plan in which no item alone can gain by other days, or as far as time allows.

        `closed`: not to be used. `free`: as if it cost nothing. With either, the plan given is one
        in which nothing gains otherwise.
        """
        task = self._task
        found = list(chains)
        users = self._users(found)
        # What a row pays for a day it would use: nothing where others are there already.
        unpaid = [
            [0.0 if count else price for count, price in zip(*each, strict=True)]
            for each in zip(users, task.prices, strict=True)
        ]
        waiting = {
            row.number
            for row in self._rows
            if not closed
            or any(need in row.needs and day in found[row.number] for need, day in closed)
        }
        while waiting:
            for row in self._rows:
                if row.number not in waiting:
                    continue
                if not self._may_go_on():
                    return found
                waiting.discard(row.number)
                before = found[row.number]
                for resource in row.needs:
                    for day in before:
                        users[resource][day] -= 1
                        if not users[resource][day]:
                            unpaid[resource][day] = task.prices[resource][day]
                charge = [0.0] * len(task.days)
                for resource in row.needs:
                    charge = list(map(add, charge, unpaid[resource]))
                for resource, day in closed:
                    if resource in row.needs:
                        charge[day] += _CLOSED
                for resource, day in free or ():
                    if resource in row.needs and not users[resource][day]:
                        charge[day] -= task.prices[resource][day]
                charged = Charged(row, charge)
                if charged.values[0] < _cost(row, before, charge) - _GAIN:
                    found[row.number] = charged.chain()
                    waiting.update(self._touched(row, before, found[row.number], users))
                for resource in row.needs:
                    for day in found[row.number]:
                        users[resource][day] += 1
                        unpaid[resource][day] = 0.0
        return found

    def improve(
        self, chains: Sequence[Chain], *, visits_only: bool = False
    ) -> tuple[float, list[Chain]]:
        """Drop whole visits, and openings too unless `visits_only`, while that gains."""
        best = self.descend(chains)
        best_total = total(self._task, best)
        gained = True
        while gained and self._may_go_on():
            gained = False
            standing = self._uses(best)
            for use in standing:
                if visits_only and use[0]:
                    break
                if not self._may_go_on():
                    break
                if gained and use not in self._uses(best):
                    continue
                tried = self.descend(self.descend(best, frozenset({use})))
                value = total(self._task, tried)
                if value < best_total - _GAIN:
                    best, best_total, gained = tried, value, True
        return best_total, best

    def vary(self, chains: Sequence[Chain], *, is_thorough: bool) -> tuple[float, list[Chain]]:
        """Give another plan near a plan: some visits dropped, or days added.

        `is_thorough`: one that is nearly as good is improved, which takes long where days are many.
        """
        chance, task = self._chance, self._task
        taken = self._uses(chains)
        used = [use for use in taken if not use[0]]
        if chance.random() < _DROPPED and used:
            away = chance.sample(used, min(len(used), chance.choice((1, 2, 3))))
            tried = self.descend(chains, frozenset(away))
        else:
            days = chance.sample(range(len(task.days)), min(len(task.days), 2))
            added = {(resource, day) for day in days for resource, _ in enumerate(task.prices)}
            tried = self.descend(chains, free=frozenset(added))
        tried = self.descend(tried)
        value = total(task, tried)
        if is_thorough and value < total(task, chains) * _WORTH:
            return self.improve(tried)
        return value, tried

    def _uses(self, chains: Sequence[Chain]) -> list[Used]:
        """Give what is opened, each with its day: whole visits first, the least used first."""
        users = self._users(chains)
        single = [
            (resource, day)
            for resource, taken in enumerate(users)
            for day, count in enumerate(taken)
            if count and self._task.prices[resource][day]
        ]
        single.sort(key=lambda each: (each[0] != 0, users[each[0]][each[1]]))
        return single

    def _touched(
        self, moved: Row, before: Chain, after: Chain, users: Sequence[Sequence[int]]
    ) -> set[int]:
        """Give whose days became dearer or cheaper, where one was and where it went."""
        changed = {
            resource
            for resource in moved.needs
            for day in set(before) ^ set(after)
            if users[resource][day] <= 1
        }
        return {
            row.number
            for row in self._rows
            if row.number != moved.number and not changed.isdisjoint(row.needs)
        }

    def _users(self, chains: Sequence[Chain]) -> list[list[int]]:
        found = [[0] * len(self._task.days) for _ in self._task.names]
        for row in self._rows:
            for resource in row.needs:
                for day in chains[row.number]:
                    found[resource][day] += 1
        return found


def _cost(row: Row, chain: Chain, charge: Sequence[float]) -> float:
    """Give what a chain costs with a charge on each day, less what is credited for life left."""
    cost = 0.0
    number = 0
    for day in chain:
        window = row.windows[number]
        if window is None:
            raise AssertionError("a plan does what is not planned")
        cost += row.cost + charge[day] + window.lateness(day)
        following = row.after(number, day)
        if following == FINISHED:
            cost -= row.credit(number, day)
        number = following
    return cost
