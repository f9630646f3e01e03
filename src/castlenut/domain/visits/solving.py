"""A task solved: the best plan found, what no plan costs less than, and whether that is the same.

First plans come from the chains of the bound's rounds, improved; then the tree is searched.
"""

from collections.abc import Callable, Iterator, Sequence

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.chains import Chain, Charged
from castlenut.domain.visits.improvement import Improvement, total
from castlenut.domain.visits.search import Search
from castlenut.domain.visits.shares import MANY, Guide, Paid, Sharing, users
from castlenut.domain.visits.task import FINISHED, INFINITE, Task

_ROUNDS, _FEW, _FEWEST, _AGAIN, _AT_ONCE = 1000, 150, 60, 20, 30
_EACH_OF_MANY = 30
_WORTH = 1.01  # how far a plan may be off for it to be worth more time
_STEPS_AT_ONCE = 8192
_VARIED, _VARIED_BETWEEN = 8, 2  # plans looked at near the best, after and between rounds
_EACH_IMPROVED = 8  # rounds between two plans made from chains
_FIRST_ROUNDS = 2  # these are done even when there is no time


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is known of a task of the same days and rows: a plan of it, and its shares."""

    plan: Sequence[Chain]
    paid: Sequence[Paid]


class Solver:
    """Solves one task, in parts that may be run on."""

    def __init__(
        self,
        task: Task,
        may_go_on: Callable[[], bool],
        *,
        like: Known | None = None,
        is_first_of_many: bool = False,
    ) -> None:
        """Find a first plan and its bound. `like`: what a task much like it came to.

        `is_first_of_many`: others wait for their turn, so that it begins with few rounds.
        With that and no time left the plan is made from the other's, and nothing is known below it.
        """
        self.task = task
        self._improvement = Improvement(task, may_go_on)
        is_many = is_first_of_many or len(task.rows) * len(task.days) > MANY
        self.plan: Sequence[Chain] = _first_plan(task, like)
        self.total = total(task, self.plan)
        self.is_proved = False
        self._search: Search | None = None
        self._rounds: Iterator[Sequence[Chain]] | None = None
        if like is not None and not may_go_on():
            self.paid: Sequence[Paid] = like.paid
            self.bound = -INFINITE
            return
        self._keep_descended(self.plan)
        using = users(task)
        numbers = tuple(0 if row.windows[0] is not None else FINISHED for row in task.rows)
        self._using = using
        self._sharing = Sharing(
            task, using, numbers=numbers, paid=None if like is None else like.paid
        )
        rounds = self._sharing.rounds(lambda: self.total, _AGAIN if like is not None else _ROUNDS)
        for count, chains in enumerate(rounds):
            if is_many and count % _EACH_OF_MANY == 0:
                self._keep_descended(chains)
            elif not is_many and like is None and count % _EACH_IMPROVED == 0:
                self._try(chains)
            if count >= _FIRST_ROUNDS and not may_go_on():
                break
            if is_many and count >= (_FEWEST if is_first_of_many else _FEW):
                self._keep(*self._improvement.improve(self.plan, visits_only=True))
                self._take_bound()
                self._rounds = rounds
                return
        self._take_bound()
        self._begin_search()

    def _take_bound(self) -> None:
        self.paid = self._sharing.best
        self.bound = min(self._sharing.true_bound(), self.total)

    def _begin_search(self) -> None:
        self._search = Search(
            self.task,
            self._using,
            Guide(self.task, self._sharing.best),
            best_total=self.total,
            best=self.plan,
        )
        self.is_proved = self._search.is_at_end

    def _raise_bound(
        self, rounds: Iterator[Sequence[Chain]], may_go_on: Callable[[], bool]
    ) -> None:
        """Go on with the rounds, some at a time; the search begins when they have ended."""
        for count, chains in enumerate(rounds):
            if count % _EACH_OF_MANY == 0:
                self._keep_descended(chains)
            if count >= _AT_ONCE or not may_go_on():
                self._take_bound()
                return
        self._rounds = None
        self._take_bound()
        self._begin_search()

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
        """Go on, some steps at the most, and look for better plans near the best in between."""
        while steps > 0 and not self.is_proved and may_go_on():
            steps -= _STEPS_AT_ONCE
            if self._rounds is not None:
                self._raise_bound(self._rounds, may_go_on)
            elif self._search is not None:
                self._search.run(may_go_on, steps=_STEPS_AT_ONCE)
                self._keep(self._search.best_total, self._search.best)
                self.is_proved = self._search.is_at_end
            else:
                return
            if not self.is_proved:
                has_bound = self._rounds is None
                for _ in range(_VARIED if has_bound else _VARIED_BETWEEN):
                    self._keep(*self._improvement.vary(self.plan, is_thorough=has_bound))
                if self._search is not None:
                    self._search.better(self.total, self.plan)

    def take(self, plan: Sequence[Chain]) -> None:
        """Take a plan found elsewhere, improved, if it is better."""
        self._keep_descended(plan)
        if self._search is not None:
            self._search.better(self.total, self.plan)

    def take_like(self, known: Known) -> None:
        """Take the plan of a task much like this one, as far as it can be done here."""
        self.take(_first_plan(self.task, known))

    @property
    def known(self) -> Known:
        """Give what is known of the task, for one much like it."""
        return Known(plan=self.plan, paid=self.paid)

    def _keep(self, value: float, plan: Sequence[Chain]) -> None:
        if value < self.total:
            self.total, self.plan = value, plan


def _first_plan(task: Task, like: Known | None) -> list[Chain]:
    """Give each item its own cheapest days, or those it has in a plan of a task like this one.

    What the plan of the other task opens is not paid again.
    """
    used: set[tuple[int, int]] = set()
    if like is not None:
        for row in task.rows:
            used.update((need, day) for day in like.plan[row.number] for need in row.needs)
    found: list[Chain] = []
    for row in task.rows:
        window = row.windows[0]
        known = () if like is None else like.plan[row.number]
        if window is None:
            found.append(())
        elif known and window.low <= known[0] <= window.high:
            found.append(known)
        else:
            charge = [
                sum(
                    task.prices[need][day]
                    for need in row.needs
                    if like is not None and (need, day) not in used
                )
                for day, _ in enumerate(task.days)
            ]
            found.append(Charged(row, charge).chain())
    return found
