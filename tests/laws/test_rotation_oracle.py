"""The plan and its bound against a general solver of linear and integer programs (HiGHS)."""

from math import ceil
from random import Random

import highspy
import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.tires.rotation.bound import bound, classes
from castlenut.domain.tires.rotation.plan import plan
from castlenut.domain.tires.rotation.wearing import Task

pytestmark = pytest.mark.long


def task(seed: int, *, most: float) -> Task:
    chance = Random(seed)
    count = chance.choice([4, 5])
    share = chance.choice([1.0, 0.9, 0.7, 0.5])
    made = Task(
        rests_mm=tuple(round(chance.uniform(1, 7), 1) for _ in range(count)),
        rates=tuple(
            0.0 if place == 4 else chance.uniform(0.08, 0.4) / 1000 for place in range(count)
        ),
        allowed=tuple(
            tuple(tire == place or chance.random() < share for place in range(count))
            for tire in range(count)
        ),
        interval=1.0,
        start=tuple(range(count)),
    )
    return replace(made, interval=bound(made, classes(made)).life / chance.uniform(1, most))


def solver() -> highspy.Highs:
    made = highspy.Highs()  # type: ignore[no-untyped-call] # the package types only some of it
    made.silent()
    made.setOptionValue("mip_rel_gap", 0.0)
    made.setOptionValue("mip_feasibility_tolerance", 1e-9)
    made.setOptionValue("primal_feasibility_tolerance", 1e-9)
    return made


def linear_bound(given: Task) -> float:
    """Give the greatest life by the linear program, in units of distance."""
    program, tires = solver(), range(given.count)
    life = program.addVariable(lb=0)
    runs = [
        [program.addVariable(lb=0, ub=1e3 if given.allowed[tire][place] else 0) for place in tires]
        for tire in tires
    ]
    for one in tires:
        program.addConstr(sum(runs[one]) - life == 0)
        program.addConstr(sum(row[one] for row in runs) - life == 0)
        worn = sum(1000 * given.rates[place] * runs[one][place] for place in tires)
        program.addConstr(worn <= given.rests_mm[one])
    program.maximize(life)
    return 1000 * program.getObjectiveValue()


def integer_best(given: Task, full: int, *, last: float | None = None) -> float | None:
    """Give the longest last stint after so many full ones, or the least spread at a given one.

    In the longest, `runs` is the last stint where a tire ends and 0 elsewhere: rows and columns of
    it sum to the last stint, which leaves little room to the relaxation. None where there is no
    such schedule.
    """
    program, tires = solver(), range(given.count)
    program.setOptionValue("mip_abs_gap", 1e-4 if last is None else 0.002)
    longest = given.interval / 1000
    counts = [
        [program.addIntegral(lb=0, ub=full if given.allowed[t][p] else 0) for p in tires]
        for t in tires
    ]
    ends = [
        [program.addBinary() if given.allowed[t][p] else program.addVariable(0, 0) for p in tires]
        for t in tires
    ]
    for one in tires:
        program.addConstr(sum(counts[one]) == full)
        program.addConstr(sum(row[one] for row in counts) == full)
        program.addConstr(sum(ends[one]) == 1)
        program.addConstr(sum(row[one] for row in ends) == 1)
    aim = program.addVariable(lb=0, ub=longest if last is None else max(given.rests_mm))
    runs = [
        [
            program.addVariable(lb=0, ub=longest) if last is None else end * (last / 1000)
            for end in row
        ]
        for row in ends
    ]
    for tire in tires:
        worn = sum(given.interval * given.rates[p] * counts[tire][p] for p in tires)
        program.addConstr(worn <= given.rests_mm[tire] - 1e-6)
        wears = worn + sum(1000 * given.rates[p] * runs[tire][p] for p in tires)
        program.addConstr(wears <= given.rests_mm[tire] + 1e-9)
        if last is not None:
            program.addConstr(given.rests_mm[tire] - wears <= aim)
            continue
        program.addConstr(sum(runs[tire]) == aim)
        program.addConstr(sum(row[tire] for row in runs) == aim)
        for place in tires:
            program.addConstr(runs[tire][place] <= longest * ends[tire][place])
    if last is None:
        program.maximize(aim)
    else:
        program.minimize(aim)
    if program.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return program.getObjectiveValue() * (1000 if last is None else 1)


@pytest.mark.parametrize("seed", range(200))
def test_bound_is_that_of_the_linear_program(seed: int) -> None:
    given = task(seed, most=14)

    assert bound(given, classes(given)).life == pytest.approx(linear_bound(given), rel=1e-7)


@pytest.mark.parametrize("seed", range(48))
def test_plan_of_up_to_14_stints_is_that_of_the_integer_program(seed: int) -> None:
    given = task(seed, most=14)

    found = plan(given)

    assert found.is_proved
    full = len(found.course.stints) - 1
    longer = integer_best(given, full + 1) if (full + 1) * given.interval < found.bound else None
    assert longer is None or longer < 0.5
    longest = integer_best(given, full)
    assert longest is not None
    assert found.course.last == pytest.approx(longest, abs=0.5)
    assert full <= ceil(found.bound / given.interval)
    least = integer_best(given, full, last=max(0.0, longest - 0.5))
    assert least is not None
    assert found.course.spread_mm <= least + 0.02
