"""The planner against the definition by plain recursion, on small random lines."""

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.visits.plan import plan_visits
from castlenut.domain.visits.together import together
from tests.domain.visits.definition import Definition, random_line

LINES = 80
LATE_LINES = 40
APART_LINES = 25


def test_no_plan_costs_less_than_the_one_found() -> None:
    wrong = [seed for seed in range(LINES) if not is_best(seed, may_be_late=False)]

    assert wrong == []


def test_no_plan_costs_less_where_items_may_be_late() -> None:
    wrong = [seed for seed in range(LATE_LINES) if not is_best(seed, may_be_late=True)]

    assert wrong == []


@pytest.mark.long
def test_no_plan_of_a_thousand_costs_less() -> None:
    wrong = [
        (seed, late)
        for late in (False, True)
        for seed in range(1000, 1500)
        if not is_best(seed, may_be_late=late)
    ]

    assert wrong == []


def is_best(seed: int, *, may_be_late: bool) -> bool:
    line = random_line(seed, may_be_late=may_be_late)
    defined = Definition(line)
    if not defined.open_days:
        return True
    plan = plan_visits(line, may_go_on=lambda: True)
    return plan.is_proved and abs(plan.cost.total - defined.total()) < 1e-4


def test_what_is_worth_doing_while_it_is_apart_is_what_the_definition_says() -> None:
    wrong = [seed for seed in range(APART_LINES) if not is_judged_right(seed)]

    assert wrong == []


def is_judged_right(seed: int) -> bool:
    line = random_line(seed)
    if not Definition(line).open_days:
        return True
    on = Definition(line).open_days[0]
    line = replace(line, calendar=replace(line.calendar, today=on))
    opened = ("wheel",)

    found = together(
        line, on=on, opened=frozenset(opened), doing=frozenset(), may_go_on=lambda: True
    )

    defined = Definition(line)
    anyway = frozenset(
        item.id for item in line.items if (days := defined.allowed(item, None)) and days[-1] == on
    )
    none = defined.total_with(anyway, opened)
    expected = {
        item.id: none - defined.total_with(anyway | {item.id}, opened)
        for item in line.items
        if item.id not in anyway
        and defined.opened((item,)) & {"wheel", "lift"}
        and on in (defined.allowed(item, None) or ())
    }
    nets = {each.item: each.net for each in found.ranked}
    best = none - min(
        defined.total_with(anyway | some, opened) for some in _subsets(sorted(expected))
    )
    return (
        found.is_proved
        and nets.keys() == expected.keys()
        and all(abs(nets[name] - expected[name]) < 1e-4 for name in nets)
        and abs(found.net - best) < 0.006
    )


def _subsets(names: list[str]) -> list[frozenset[str]]:
    found = [frozenset[str]()]
    for name in names:
        found += [each | {name} for each in found]
    return found


def test_one_item_alone_is_worth_the_same_in_company_however_little_time_there_was() -> None:
    """A plan found for one question serves the others: no gain is told that is none."""
    for seed in range(40):
        line = random_line(seed)
        if not Definition(line).open_days:
            continue
        on = Definition(line).open_days[0]
        questions = iter([True] * (seed % 8))
        found = together(
            replace(line, calendar=replace(line.calendar, today=on)),
            on=on,
            opened=frozenset({"wheel"}),
            doing=frozenset(),
            may_go_on=lambda of=questions: next(of, False),  # type: ignore[misc] # bound now
        )

        nets = {each.item: each.net for each in found.ranked}
        if len(found.items) == 1:
            assert abs(found.net - nets[found.items[0]]) < 1e-6
        assert found.net >= max([0.0, *nets.values()]) - 0.01
        assert found.items or found.net == 0
