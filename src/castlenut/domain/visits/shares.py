"""The bound: each day's cost shared among the items that could use it, so that none pays too much.

Each item alone then takes its cheapest chain, and the sum is a bound that no plan can beat. It is
raised by rounds that add to the shares of the items using a day and project back onto its cost.
"""

from collections.abc import Callable, Iterator, Sequence

from castlenut.domain.visits.chains import Chain, Charged
from castlenut.domain.visits.task import FINISHED, Row, Task

# Long first steps end nearest; where there is time for few rounds only, shorter ones come further.
_FIRST_STEP, _PATIENCE = 4.0, 12
_FIRST_STEP_OF_MANY, _PATIENCE_OF_MANY = 1.5, 6
MANY = 10_000  # items times days
_SHORTER = 0.6
_LEAST_STEP = 1e-3
_NEAR = 1e-3

Paid = list[list[float]]
"""What one item pays, by its needs and by day."""


class Guide:
    """Shares, and what each item pays at the least under them, from any of its windows on."""

    __slots__ = ("asked", "charged", "paid")

    def __init__(self, task: Task, paid: Sequence[Paid]) -> None:
        self.paid = paid
        self.charged = tuple(
            Charged(row, _summed(each)) if each else None
            for row, each in zip(task.rows, paid, strict=True)
        )
        self.asked = 0

    def of(self, row: Row) -> Charged:
        """Give a row with its charges."""
        found = self.charged[row.number]
        if found is None:
            raise AssertionError("a row that is finished was asked for")
        return found


class Sharing:
    """The rounds that raise the bound, from some windows on and a place among the days."""

    def __init__(
        self,
        task: Task,
        users: "Users",
        *,
        numbers: Sequence[int],
        begin: int = 0,
        paid: Sequence[Paid] | None = None,
    ) -> None:
        self._task = task
        self._begin = begin
        self._numbers = numbers
        self._rows = [row for row in task.rows if numbers[row.number] != FINISHED]
        active = {row.number for row in self._rows}
        count = len(task.days)
        self._paid: list[Paid] = []
        for row in task.rows:
            if row.number not in active:
                self._paid.append([])
            elif paid is None:
                self._paid.append([[0.0] * count for _ in row.needs])
            else:
                self._paid.append([each[:] for each in paid[row.number]])
        self._charge = [_summed(each) if each else [] for each in self._paid]
        self._place = [{need: place for place, need in enumerate(row.needs)} for row in task.rows]
        self._users = {
            key: tuple(number for number in using if number in active)
            for key, using in users.items()
            if key[1] >= begin
        }
        for key, using in self._users.items():
            if using:
                self._project(key, (), 0.0)
        is_many = len(self._rows) * count > MANY
        self._step = _FIRST_STEP_OF_MANY if is_many else _FIRST_STEP
        self._patience = _PATIENCE_OF_MANY if is_many else _PATIENCE
        self._waited = 0
        self.bound = -float("inf")
        self.best: list[Paid] = self._paid

    def rounds(self, best_total: Callable[[], float], count: int) -> Iterator[Sequence[Chain]]:
        """Raise the bound, and give the chains of each round by row; `best_total` of any plan."""
        for _ in range(count):
            chains, total = self._chains()
            if total > self.bound + 1e-9:
                gained = total - self.bound
                self.bound = total
                self.best = [[each[:] for each in paid] for paid in self._paid]
                self._waited = 0 if gained > 1e-4 * abs(total) else self._waited + 1
            else:
                self._waited += 1
            yield chains
            if best_total() - self.bound < _NEAR or self._step < _LEAST_STEP:
                return
            if self._waited >= self._patience:
                self._step *= _SHORTER
                self._waited = 0
            if not self._move(chains, best_total() - total):
                return

    def true_bound(self) -> float:
        """Give the best bound without what decides between plans that cost the same."""
        task, total = self._task, 0.0
        for row in self._rows:
            visit, *others = self.best[row.number]
            charge = [
                paid * task.visit_cost / price if price else 0.0
                for paid, price in zip(visit, task.prices[0], strict=True)
            ]
            total += Charged(row, _summed([charge, *others])).values[0]
        return total

    def _chains(self) -> tuple[list[Chain], float]:
        chains: list[Chain] = [() for _ in self._task.rows]
        total = 0.0
        for row in self._rows:
            charged = Charged(row, self._charge[row.number])
            number = self._numbers[row.number]
            total += charged.least(number, self._begin)
            chains[row.number] = charged.chain(number, self._begin)
        return chains, total

    def _move(self, chains: Sequence[Chain], short: float) -> bool:
        """Add to the shares of those that use a day; tell whether anything could be moved."""
        uses: dict[tuple[int, int], list[int]] = {}
        for row in self._rows:
            for day in chains[row.number]:
                for resource in row.needs:
                    uses.setdefault((resource, day), []).append(row.number)
        length = 0.0
        for key, users in uses.items():
            length += len(users) * (1 - len(users) / len(self._users[key]))
        if length < 1e-9:
            return False
        step = self._step * max(short, _NEAR) / length
        for key, users in uses.items():
            if len(users) < len(self._users[key]):
                self._project(key, users, step)
        return True

    def _project(self, key: tuple[int, int], using: Sequence[int], step: float) -> None:
        """Add a step to those using a day, and take as much from all alike, none below 0."""
        resource, day = key
        wanted = {
            number: self._paid[number][self._place[number][resource]][day]
            for number in self._users[key]
        }
        for number in using:
            wanted[number] += step
        over = sum(wanted.values()) - self._task.prices[resource][day]
        less = 0.0
        left = len(wanted)
        for paid in sorted(wanted.values()):
            less = over / left
            if paid >= less:
                break
            over -= paid
            left -= 1
        for number, paid in wanted.items():
            shares = self._paid[number][self._place[number][resource]]
            after = paid - less if paid > less else 0.0
            self._charge[number][day] += after - shares[day]
            shares[day] = after


Users = dict[tuple[int, int], tuple[int, ...]]
"""Which rows could use each resource on each day."""


def users(task: Task) -> Users:
    """Give who could use each resource on each day."""
    found: dict[tuple[int, int], list[int]] = {}
    for row in task.rows:
        days: set[int] = set()
        for window in row.windows:
            if window is not None:
                days.update(range(window.low, window.high + 1))
        for day in days:
            for resource in row.needs:
                found.setdefault((resource, day), []).append(row.number)
    return {key: tuple(each) for key, each in found.items()}


def _summed(paid: Sequence[Sequence[float]]) -> list[float]:
    return [sum(each) for each in zip(*paid, strict=True)]
