"""Branch and bound over visits in order: exact when it ends.

At each visit one item at a time is taken or left, the clearest gain first. What is spent, with each
item's cheapest chain from here under the shares of what is not open yet, is a bound of all that
may follow.
"""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from castlenut.domain.visits.chains import Chain, Charged
from castlenut.domain.visits.shares import Guide, Sharing, Users
from castlenut.domain.visits.task import FINISHED, INFINITE, Task

_SAME = 5e-8  # a plan better by less than this is not looked for
_ASKED_OF_A_GUIDE = 300  # visits under the same shares, before some are raised anew
_ROUNDS_ANEW = 40
_ASKED_EACH = 16  # steps between two questions whether to go on


class _Choice(NamedTuple):
    """An item that may be done at a visit: what it costs either way, and what it opens.

    `paid`: at once; `follows`: at the least after it; `left`: at the least when it is not done now.
    `opens`: each access with the share of it that the item bears.
    """

    number: int
    paid: float
    follows: float
    left: float
    opens: tuple[tuple[int, float], ...]


class _Visit(NamedTuple):
    """A visit to be filled: its day, the windows standing before it, the way that led there."""

    day: int
    numbers: tuple[int, ...]
    choices: tuple[_Choice, ...]
    before: "_Taken | None"
    guide: Guide


class _Taken(NamedTuple):
    """The visits so far, the last first: what came before, the day, the rows done on it."""

    before: "_Taken | None"
    day: int
    done: tuple[int, ...]


class _Open(NamedTuple):
    """A part of the tree still to be searched, none of whose plans costs less than `estimate`.

    `mask`: what is open, a bit a resource. `rest`: of what is chosen, what follows at the least.
    """

    estimate: float
    visit: _Visit
    place: int
    mask: int
    spent: float
    rest: float
    done: tuple[int, ...]


class Search:
    """The search, with the best plan found so far."""

    def __init__(
        self, task: Task, users: Users, guide: Guide, *, best_total: float, best: Sequence[Chain]
    ) -> None:
        self._task = task
        self._rows = task.rows
        self._users = users
        self.best_total = best_total
        self.best = list(best)
        self._reached: dict[tuple[int, tuple[int, ...]], float] = {}
        self._ahead: list[_Open] = []
        numbers = tuple(0 if row.windows[0] is not None else FINISHED for row in task.rows)
        if task.begins_on_first:
            self._visit_on(0, numbers, 0.0, None, guide)
        else:
            self._go_on(numbers, 0.0, -1, None, guide)

    @property
    def is_at_end(self) -> bool:
        """Tell whether all is searched: then the best is the best there is."""
        return not self._ahead

    def run(self, may_go_on: Callable[[], bool], *, steps: int) -> None:
        """Search on, some steps at the most."""
        ahead = self._ahead
        for step in range(1, steps + 1):
            if not ahead or (step % _ASKED_EACH == 0 and not may_go_on()):
                return
            part = ahead.pop()
            if part.estimate >= self.best_total - _SAME:
                continue
            if part.place < len(part.visit.choices):
                self._choose(part)
            else:
                self._leave(part)

    def better(self, best_total: float, best: Sequence[Chain]) -> None:
        """Take a plan found elsewhere, if it is better."""
        if best_total < self.best_total:
            self.best_total, self.best = best_total, list(best)

    def _choose(self, part: _Open) -> None:
        """Take the next item into the visit, or leave it; the likelier way is searched first."""
        visit, mask = part.visit, part.mask
        choice = visit.choices[part.place]
        doing = _doing(choice, mask)
        settled = part.estimate - min(doing, choice.left)
        leave = part._replace(
            estimate=settled + choice.left, place=part.place + 1, rest=part.rest + choice.left
        )
        spent, opened = part.spent + choice.paid, mask
        for need, _ in choice.opens:
            if not opened >> need & 1:
                opened |= 1 << need
                spent += self._task.prices[need][visit.day]
        rest = part.rest + choice.follows
        take = part._replace(
            estimate=settled + doing
            if opened == mask
            else spent + rest + _least(visit.choices[part.place + 1 :], opened),
            place=part.place + 1,
            mask=opened,
            spent=spent,
            rest=rest,
            done=(*part.done, choice.number),
        )
        self._ahead.extend((leave, take) if take.estimate <= leave.estimate else (take, leave))

    def _leave(self, part: _Open) -> None:
        """Go from a visit whose items are all chosen to those that may come next."""
        visit = part.visit
        if not part.done and not (self._task.begins_on_first and visit.day == 0):
            return
        numbers = list(visit.numbers)
        for number in part.done:
            numbers[number] = self._rows[number].after(numbers[number], visit.day)
        guide = visit.guide
        guide.asked += 1
        is_tired = guide.asked > _ASKED_OF_A_GUIDE
        if is_tired and any(each != FINISHED for each in numbers):
            guide.asked = 0
            sharing = Sharing(
                self._task, self._users, numbers=numbers, begin=visit.day + 1, paid=guide.paid
            )
            for _ in sharing.rounds(lambda: self.best_total - part.spent, _ROUNDS_ANEW):
                if part.spent + sharing.bound >= self.best_total - _SAME:
                    return
            guide = Guide(self._task, sharing.best)
        taken = _Taken(visit.before, visit.day, part.done)
        self._go_on(tuple(numbers), part.spent, visit.day, taken, guide)

    def _go_on(
        self,
        numbers: tuple[int, ...],
        spent: float,
        day: int,
        before: _Taken | None,
        guide: Guide,
    ) -> None:
        """Put the visits ahead that may come next, unless as much was reached for no more."""
        key = (day if self._task.has_late else 0, numbers)
        if self._reached.get(key, INFINITE) <= spent + 1e-9:
            return
        self._reached[key] = spent
        standing = [
            window
            for row, number in zip(self._rows, numbers, strict=True)
            if number != FINISHED and (window := row.windows[number]) is not None
        ]
        if not standing:
            if spent < self.best_total - _SAME:
                self.best_total = spent
                self.best = self._chains(before)
            return
        last = min(window.high for window in standing)
        first = max(day + 1, min(window.timely for window in standing))
        for on in range(min(first, last), last + 1):
            self._visit_on(on, numbers, spent, before, guide)

    def _visit_on(
        self,
        day: int,
        numbers: tuple[int, ...],
        spent: float,
        before: _Taken | None,
        guide: Guide,
    ) -> None:
        """Put a visit ahead with what must be done on it, unless it costs too much."""
        mask, rest = 1, 0.0
        must: list[int] = []
        choices: list[_Choice] = []
        for row, number in zip(self._rows, numbers, strict=True):
            window = None if number == FINISHED else row.windows[number]
            if window is None:
                continue
            charged = guide.of(row)
            if window.low > day:
                rest += charged.least(number, day + 1)
                continue
            paid, follows = _done(charged, number, day)
            if window.high == day:
                must.append(row.number)
                spent += paid
                rest += follows
                mask |= row.mask
            else:
                shares = guide.paid[row.number]
                choices.append(
                    _Choice(
                        number=row.number,
                        paid=paid,
                        follows=follows,
                        left=charged.least(number, day + 1),
                        opens=tuple(
                            (need, shares[place][day])
                            for place, need in enumerate(row.needs)
                            if need
                        ),
                    )
                )
        prices = self._task.prices
        spent += sum(each[day] for need, each in enumerate(prices) if mask >> need & 1)
        choices.sort(key=lambda each: -abs(each.left - _doing(each, mask)))
        estimate = spent + rest + _least(choices, mask)
        if estimate < self.best_total - _SAME:
            visit = _Visit(day, numbers, tuple(choices), before, guide)
            self._ahead.append(_Open(estimate, visit, 0, mask, spent, rest, tuple(must)))

    def _chains(self, taken: _Taken | None) -> list[Chain]:
        found: list[list[int]] = [[] for _ in self._rows]
        while taken is not None:
            for number in taken.done:
                found[number].append(taken.day)
            taken = taken.before
        return [tuple(reversed(each)) for each in found]


def _done(charged: Charged, number: int, day: int) -> tuple[float, float]:
    """Give what a doing costs at once, and at the least after it."""
    row = charged.row
    window = row.windows[number]
    paid = row.cost + (window.lateness(day) if window is not None else 0.0)
    following = row.after(number, day)
    if following == FINISHED:
        return paid - row.credit(number, day), 0.0
    return paid, charged.values[following]


def _doing(choice: _Choice, mask: int) -> float:
    """Give what doing it now costs at the least, by its shares of what is not open yet."""
    cost = choice.paid + choice.follows
    for need, share in choice.opens:
        if not mask >> need & 1:
            cost += share
    return cost


def _least(choices: Sequence[_Choice], mask: int) -> float:
    return sum(min(each.left, _doing(each, mask)) for each in choices)
