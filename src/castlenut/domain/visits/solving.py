"""A task solved: the best plan found, what no plan costs less than, and whether that is the same.

First plans come from the chains of the bound's rounds, improved; then the tree is searched.
"""

from collections.abc import Callable, Sequence

from castlenut.domain.visits.chains import Chain, Charged
from castlenut.domain.visits.improvement import Improvement, total
from castlenut.domain.visits.search import Search
from castlenut.domain.visits.shares import MANY, Guide, Sharing, users
from castlenut.domain.visits.task import FINISHED, Task

_ROUNDS, _FEW = 1000, 150
_EACH_OF_MANY = 30
_WORTH = 1.01  # how far a plan may be off for it to be worth more time
_STEPS_AT_ONCE = 8192
_VARIED = 8
_EACH_IMPROVED = 8  # rounds between two plans made from chains
_FIRST_ROUNDS = 2  # these are done even when there is no time


class Solver:
    """Solves one task, in parts that may be run on."""

    def __init__(self, task: Task, may_go_on: Callable[[], bool]) -> None:
        self.task = task
        self._improvement = Improvement(task, may_go_on)
        free = [0.0] * len(task.days)
        self.plan: Sequence[Chain] = [
            Charged(row, free).chain() if row.windows[0] is not None else () for row in task.rows
        ]
        self.total = total(task, self.plan)
        is_many = len(task.rows) * len(task.days) > MANY
        self._keep_descended(self.plan)
        using = users(task)
        numbers = tuple(0 if row.windows[0] is not None else FINISHED for row in task.rows)
        sharing = Sharing(task, using, numbers=numbers)
        for count, chains in enumerate(
            sharing.rounds(lambda: self.total, _FEW if is_many else _ROUNDS)
        ):
            if is_many and count % _EACH_OF_MANY == 0:
                self._keep_descended(chains)
            elif not is_many and count % _EACH_IMPROVED == 0:
                self._try(chains)
            if count >= _FIRST_ROUNDS and not may_go_on():
                break
        self.bound = min(sharing.true_bound(), self.total)
        self._search = Search(
            task, using, Guide(task, sharing.best), best_total=self.total, best=self.plan
        )
        self.is_proved = self._search.is_at_end

    def _try(self, chains: Sequence[Chain]) -> None:
        """Improve a plan; one that is far from the best is not worth much time."""
        plan = self._improvement.descend(chains)
        value = total(self.task, plan)
        if value < self.total * _WORTH:
            value, plan = self._improvement.improve(plan)
        self._keep(value, plan)

    def _keep_descended(self, chains: Sequence[Chain]) -> None:
        plan = self._improvement.descend(chains)
        self._keep(total(self.task, plan), plan)

    def run(self, may_go_on: Callable[[], bool], *, steps: int) -> None:
        """Search on, some steps at the most, and look for better plans near the best in between."""
        while steps > 0 and not self.is_proved and may_go_on():
            self._search.run(may_go_on, steps=_STEPS_AT_ONCE)
            self._keep(self._search.best_total, self._search.best)
            self.is_proved = self._search.is_at_end
            steps -= _STEPS_AT_ONCE
            if not self.is_proved:
                for _ in range(_VARIED):
                    self._keep(*self._improvement.vary(self.plan))
                self._search.better(self.total, self.plan)

    def _keep(self, value: float, plan: Sequence[Chain]) -> None:
        if value < self.total:
            self.total, self.plan = value, plan
