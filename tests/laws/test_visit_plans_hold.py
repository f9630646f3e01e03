"""Every plan holds: its days, windows, openings and costs worked out anew, with time or without.

The lines are larger than those that plain recursion can solve; what is checked is that a plan is
one at all, and costs what it says.
"""

from dataclasses import replace as with_fields
from datetime import date
from itertools import count, pairwise

from castlenut.domain.frozen import replace
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.moving import Moving
from castlenut.domain.visits.plan import Plan, plan_visits
from tests.bench import bench_visits
from tests.domain.visits.definition import Definition, random_line

SEEDS = range(20_000, 20_024)
MERGED = 3


def merged(seed: int) -> Line:
    """Give a line with the items of several: schedules, distances, lateness, closed days."""
    lines = [random_line(seed + 1000 * part, may_be_late=True) for part in range(MERGED)]
    first = next((each for each in lines if each.use is not None), lines[0])
    items = tuple(
        with_fields(item, id=f"{part} {item.id}")
        for part, each in enumerate(lines)
        for item in each.items
        if each is first or (item.due_at is None and (not item.every or not item.every.distance))
    )
    return replace(first, items=items)


def test_every_plan_holds() -> None:
    wrong = []
    for seed in SEEDS:
        line = merged(seed)
        if Definition(line).open_days:
            questions = count(30 * (seed % 2), -1)  # every other line is without any time
            plan = plan_visits(line, may_go_on=lambda of=questions: next(of) > 0)  # type: ignore[misc] # bound now
            wrong += [(seed, each) for each in faults_of(line, plan)]

    assert wrong == []


def faults_of(line: Line, plan: Plan) -> list[str]:
    """Give what does not hold, worked out from the definition alone."""
    defined, found, life, late = Definition(line), [], 0.0, 0.0
    days = [visit.on for visit in plan.visits]
    if any(one >= other for one, other in pairwise(days)):
        found.append("days do not rise")
    if not set(days) <= set(defined.open_days):
        found.append("a visit on a closed day")
    cannot: list[tuple[str, date | None]] = []
    for item in line.items:
        base, done, price = None, plan.done_on(item.id), defined.cost(item)
        for doing in done:
            allowed = defined.allowed(item, base)
            if doing.on not in (allowed or ()):
                found.append(f"{item.id} on {doing.on}")
                break
            late += defined.price_late(item, base, doing.on)
            if not defined.is_kept(item, base, doing.on):
                cannot.append((item.id, doing.on))
            base = defined.next_base(item, base, doing.on)
        else:
            ahead = defined.allowed(item, base)
            if ahead:
                found.append(f"{item.id} is not planned to the end")
            elif ahead is not None:
                cannot.append((item.id, None))
        if done:
            used = len(done) - defined.left(item, base)
            life += price * (used - defined.least_used(item))
    if sorted(map(str, cannot)) != sorted(str((e.item, e.planned_on)) for e in plan.cannot):
        found.append(f"cannot: {cannot}")
    opening, opened = defined.opening(), 0.0
    by_name = {item.id: item for item in line.items}
    for visit in plan.visits:
        names = defined.opened(tuple(by_name[each.item] for each in visit.doings))
        opened += sum(opening[name] for name in names)
        if names != set(visit.access):
            found.append(f"{visit.on} opens {visit.access}")
    cost = plan.cost
    for name, one, other in (
        ("visits", cost.visits, line.visit_cost * len(days)),
        ("access", cost.access, opened),
        ("life", cost.life, life),
        ("late", cost.late, late),
    ):
        if abs(one - other) > 1e-6:
            found.append(f"{name}: {one} and not {other}")
    if plan.bound > cost.total + 1e-9:
        found.append("the bound is above the plan")
    return found


def test_opening_up_never_costs_more_for_an_item_added_to_an_open_visit() -> None:
    """Opening up costs never rise when an item is added to an open visit."""
    line = bench_visits.line(3, count=14, months=12)
    plan = plan_visits(line, may_go_on=lambda: False)
    moving, tried = Moving(line, plan), 0
    for visit in plan.visits:
        for doing in visit.doings:
            needs = line.closure(next(i.access for i in line.items if i.id == doing.item))
            for there in plan.visits:
                if there.on in moving.days_for(doing.item, visit.on) and needs <= {*there.access}:
                    found = moving.moved(doing.item, visit.on, there.on).plan
                    after = next(each for each in found.visits if each.on == there.on)
                    tried += 1
                    assert after.access == there.access
                    assert after.access_cost == there.access_cost

    assert tried > 0
