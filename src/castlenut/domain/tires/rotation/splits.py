"""How often each kind of arrangement is stood in: every split of full stints that lasts so long.

There are few kinds, but very many splits. What a schedule lies below the limit is what its tires
have left and what its kinds cost, at the prices of the limit. So a split that lasts long leaves
every tire nearly worn, and is found by looking up, for one half of the kinds, the other half that
wears one tire down to just that.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.tables import COST_SLACK, Budget
from castlenut.domain.tires.rotation.wearing import SLACK_MM, Arrangement, Task

Counts: TypeAlias = tuple[int, ...]
"""By kind, full stints."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Full stints by kind and the kind of the last stint, with what they come to."""

    life: float
    spread_mm: float
    counts: Counts
    last: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """All that can be walked: what may follow what, of which kind it is, and how each kind wears.

    `price` is what a mm of each tire is worth in distance, at `limit`, the distance that no walk
    can pass.
    """

    following: Mapping[Arrangement, tuple[Arrangement, ...]]
    kind_of: Mapping[Arrangement, int]
    rates: tuple[tuple[float, ...], ...]
    limit: float
    price: tuple[float, ...]


_Part: TypeAlias = tuple[tuple[float, ...], Counts]
"""What stints wear off every tire, and the stints by kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Halves:
    """All ways to spend up to `full` stints on each half of the kinds, by how many they take.

    In rising order of what they wear off the tire `by`, the one that is worth most; `worn` has
    that of the second half.
    """

    full: int
    by: int
    first: tuple[tuple[_Part, ...], ...]
    second: tuple[tuple[_Part, ...], ...]
    worn: tuple[tuple[float, ...], ...]


def halves(task: Task, ground: Ground, full: int, budget: Budget) -> Halves:
    """Spend stints on each half of the kinds in every way that wears no tire down."""
    by = ground.price.index(max(ground.price))
    middle = len(ground.rates) // 2
    first, second = (
        tuple(tuple(sorted(each, key=lambda part: part[0][by])) for each in parts)
        for parts in (
            _parts(task, ground.rates[:middle], full, budget),
            _parts(task, ground.rates[middle:], full, budget),
        )
    )
    return Halves(
        full=full,
        by=by,
        first=first,
        second=second,
        worn=tuple(tuple(wear[by] for wear, _ in each) for each in second),
    )


def _parts(
    task: Task, kinds: Sequence[Sequence[float]], full: int, budget: Budget
) -> list[list[_Part]]:
    found: list[list[_Part]] = [[] for _ in range(full + 1)]

    def spend(counts: Counts, used: int, wear: tuple[float, ...]) -> None:
        if not budget.spend():
            return
        if len(counts) == len(kinds):
            found[used].append((wear, counts))
            return
        for stints in range(full - used + 1):
            run = stints * task.interval
            after = tuple(
                worn + run * rate for worn, rate in zip(wear, kinds[len(counts)], strict=True)
            )
            if any(worn >= rest for worn, rest in zip(after, task.rests_mm, strict=True)):
                return
            spend((*counts, stints), used + stints, after)

    spend((), 0, (0.0,) * task.count)
    return found


def choices(
    task: Task, ground: Ground, split: Halves, least: float, budget: Budget
) -> Iterator[Choice]:
    """Give every split of the full stints that lives at least so long, with its last kind.

    Each tire must be left with what it wears in the last stint and little more.
    """
    by, driven = split.by, split.full * task.interval
    shortest = max(0.0, least - COST_SLACK - driven)
    longest = min(task.interval, ground.limit - driven + COST_SLACK)
    may_leave = (ground.limit - least + COST_SLACK) / ground.price[by]
    for kind, rates in enumerate(ground.rates):
        fewest = max(SLACK_MM, shortest * rates[by]) - SLACK_MM
        most = longest * rates[by] + may_leave + SLACK_MM
        for used, parts in enumerate(split.first):
            others, worn = split.second[split.full - used], split.worn[split.full - used]
            for wear, counts in parts:
                rest = task.rests_mm[by] - wear[by]
                start = bisect_left(worn, rest - most)
                end = bisect_right(worn, rest - fewest)
                if not budget.spend(1 + end - start):
                    return
                for other, other_counts in others[start:end]:
                    rests = tuple(
                        own - one - two
                        for own, one, two in zip(task.rests_mm, wear, other, strict=True)
                    )
                    if min(rests) <= SLACK_MM:
                        continue
                    last = _last_stint(task, rests, rates)
                    if driven + last < least - COST_SLACK:
                        continue
                    ends = [left - last * rate for left, rate in zip(rests, rates, strict=True)]
                    yield Choice(
                        driven + last, max(ends) - min(ends), (*counts, *other_counts), kind
                    )


def _last_stint(task: Task, rests: Sequence[float], rates: Sequence[float]) -> float:
    return min(
        task.interval,
        *(rest / rate for rest, rate in zip(rests, rates, strict=True) if rate > 0),
    )
