"""Time of a rotation plan, by what may be moved; run as a script it prints the table.

Seconds of the processor, which others on the machine hardly change.
"""

from collections.abc import Callable
from random import Random
from statistics import median
from time import process_time

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.place import CORNERS
from castlenut.domain.tires.rotation.bound import bound, classes
from castlenut.domain.tires.rotation.moves import MOVES, Pattern
from castlenut.domain.tires.rotation.plan import Plan, plan
from castlenut.domain.tires.rotation.wearing import Task

CASES = 60
MEDIAN_S, P95_S = 0.1, 0.5


def task(chance: Random, *, count: int, most: float) -> Task:
    """Make a set of invented depths, rates and forbidden places, up to so many stints."""
    share = chance.choice([1.0, 0.9, 0.7, 0.5])
    rests = tuple(round(chance.uniform(1, 7), 1) for _ in range(count))
    rates = tuple(0.0 if place == 4 else chance.uniform(0.08, 0.4) / 1000 for place in range(count))
    allowed = tuple(
        tuple(tire == place or chance.random() < share for place in range(count))
        for tire in range(count)
    )
    start = tuple(range(count))
    made = Task(rests_mm=rests, rates=rates, allowed=allowed, interval=1.0, start=start)
    longest = bound(made, classes(made)).life
    return Task(
        rests_mm=rests,
        rates=rates,
        allowed=allowed,
        interval=longest / chance.uniform(2, most),
        start=start,
    )


def any_move(chance: Random) -> Plan:
    return plan(task(chance, count=chance.choice([4, 5]), most=14))


def five_alike(chance: Random) -> Plan:
    """Plan five tires that all wear a little differently and may go anywhere: the hardest."""
    front, rear = chance.uniform(0.12, 0.25), chance.uniform(0.12, 0.3)
    wear = [each * chance.uniform(0.95, 1.05) / 1000 for each in (front, front, rear, rear)]
    made = Task(
        rests_mm=tuple(round(chance.uniform(3.5, 6.5), 1) for _ in range(5)),
        rates=(*wear, 0.0),
        allowed=((True,) * 5,) * 5,
        interval=1.0,
        start=(0, 1, 2, 3, 4),
    )
    longest = bound(made, classes(made)).life
    return plan(replace(made, interval=longest / chance.uniform(3, 14)))


def patterns(chance: Random) -> Plan:
    spots = list(CORNERS)
    steps = [tuple(spots.index(MOVES[p][spot]) for spot in spots) for p in list(Pattern)[:5]]
    given = task(chance, count=4, most=14)
    may = [
        step for step in steps if all(given.allowed[tire][place] for tire, place in enumerate(step))
    ]
    return plan(given, steps=may)


MAKERS = {"any move": any_move, "five alike": five_alike, "patterns": patterns}


def timed(make: Callable[[Random], Plan]) -> tuple[list[float], int]:
    """Give the seconds of each case, sorted, and how many were not proved."""
    chance = Random(1)
    seconds, unproved = [], 0
    for _ in range(CASES):
        start = process_time()
        found = make(chance)
        seconds.append(process_time() - start)
        unproved += not found.is_proved
    return sorted(seconds), unproved


@pytest.mark.bench
@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_plan_of_up_to_14_stints_takes_no_time_to_speak_of(
    make: Callable[[Random], Plan],
) -> None:
    seconds, unproved = timed(make)

    assert unproved == 0
    assert median(seconds) <= MEDIAN_S
    assert seconds[int(0.95 * CASES)] <= P95_S


if __name__ == "__main__":
    print("what           n  median  95 %   worst  not proved")
    for name, make in MAKERS.items():
        seconds, unproved = timed(make)
        print(
            f"{name:<10} {CASES:>5}  {median(seconds):.3f}  {seconds[int(0.95 * CASES)]:.3f}"
            f"  {seconds[-1]:.3f}  {unproved}"
        )
