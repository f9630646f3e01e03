"""A set of tires wearing down place by place: the task of a plan, and what a schedule comes to."""

from collections.abc import Sequence
from typing import TypeAlias

from castlenut.domain.frozen import dataclass

SLACK_MM = 1e-6
EQUAL_LIFE = 0.5
EQUAL_SPREAD_MM = 0.02

Arrangement: TypeAlias = tuple[int, ...]
"""By tire, the number of its place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A set to be worn out evenly. `start` is where each tire stands now.

    `rests_mm` is what each tire has above the limit, always over 0. `rates` are mm per unit of
    distance by place, 0 where a tire only lies. `allowed[i][p]` tells whether tire i may stand at
    place p; at its own it always may.
    """

    rests_mm: tuple[float, ...]
    rates: tuple[float, ...]
    allowed: tuple[tuple[bool, ...], ...]
    interval: float
    start: Arrangement

    @property
    def count(self) -> int:
        """Give the number of tires, which is that of the places."""
        return len(self.rests_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """What a sequence of arrangements comes to: full stints of one interval and a last one.

    `rests_mm` is what is left above the limit at the end.
    """

    stints: tuple[Arrangement, ...]
    last: float
    life: float
    rests_mm: tuple[float, ...]

    @property
    def spread_mm(self) -> float:
        """Give the deepest less the thinnest at the end."""
        return max(self.rests_mm) - min(self.rests_mm)


def run(task: Task, stints: Sequence[Arrangement]) -> Course:
    """Drive through the arrangements until a tire reaches the limit, in the last at the latest.

    Ends at the end of a full stint too, where a tire is at the limit there within 1e-6 mm.
    """
    rests = list(task.rests_mm)
    for number, arrangement in enumerate(stints):
        wear = [task.rates[place] for place in arrangement]
        last = min(
            (rest / rate for rest, rate in zip(rests, wear, strict=True) if rate > 0),
            default=task.interval,
        )
        after = [rest - task.interval * rate for rest, rate in zip(rests, wear, strict=True)]
        if min(after) <= SLACK_MM or number == len(stints) - 1:
            last = min(last, task.interval)
            return Course(
                stints=tuple(stints[: number + 1]),
                last=last,
                life=number * task.interval + last,
                rests_mm=tuple(
                    max(0.0, rest - last * rate) for rest, rate in zip(rests, wear, strict=True)
                ),
            )
        rests = after
    return Course(stints=(), last=0.0, life=0.0, rests_mm=task.rests_mm)


def kept_up(task: Task, step: Arrangement) -> Course | None:
    """Drive with the same step at every rotation from now; None once it may not be done.

    A step gives, by place, the place its wheel goes to.
    """
    stints: list[Arrangement] = []
    rests = task.rests_mm
    now = task.start
    while not stints or min(rests) > SLACK_MM:
        now = tuple(step[place] for place in now)
        if not all(task.allowed[tire][place] for tire, place in enumerate(now)):
            return None
        stints.append(now)
        rests = tuple(
            rest - task.interval * task.rates[place] for rest, place in zip(rests, now, strict=True)
        )
    return run(task, stints)


def moved(before: Arrangement, after: Arrangement) -> int:
    """Count the wheels that change their place."""
    return sum(one != other for one, other in zip(before, after, strict=True))


def all_moves(task: Task, stints: Sequence[Arrangement]) -> int:
    """Count the wheel moves of a schedule, those of its first rotation among them."""
    return sum(
        moved(before, after)
        for before, after in zip((task.start, *stints[:-1]), stints, strict=True)
    )


def held_life(task: Task, stints: Sequence[Arrangement]) -> float:
    """Give the life under a schedule that is held to its end, and then stayed in.

    For rates other than those the schedule was made with.
    """
    rests = list(task.rests_mm)
    life = 0.0
    for number, arrangement in enumerate(stints):
        wear = [task.rates[place] for place in arrangement]
        lasts = min(rest / rate for rest, rate in zip(rests, wear, strict=True) if rate > 0)
        if lasts <= task.interval or number == len(stints) - 1:
            return life + lasts
        rests = [rest - task.interval * rate for rest, rate in zip(rests, wear, strict=True)]
        life += task.interval
    return life
