"""Time and gap of a plan of visits by size; run as a script it prints the table.

Seconds of the processor, which others on the machine hardly change. All items are invented.
"""

from collections.abc import Callable
from datetime import date, timedelta
from random import Random
from statistics import median
from time import process_time

import pytest

from castlenut.domain.frozen import dataclass
from castlenut.domain.visits.line import AccessPrice, Calendar, Every, Line, PlannedItem, Span, Use
from castlenut.domain.visits.plan import Plan, plan_visits

SECONDS = 10.0
TODAY = date(2031, 1, 6)
CORNERS = ("LF", "RF", "LR", "RR")


def line(seed: int, *, count: int, months: int) -> Line:
    """Make the items of a car: a third by distance too, some on the hubs, some behind trim."""
    chance = Random(seed)
    until = TODAY + timedelta(days=round(30.44 * months))
    access = {"lift": AccessPrice(hours=0.3), "splash shield": AccessPrice(hours=0.5)}
    for corner in CORNERS:
        access[f"wheel {corner}"] = AccessPrice(hours=0.3, under=("lift",))
        access[f"hub {corner}"] = AccessPrice(hours=0.8, under=(f"wheel {corner}",))
    for side in ("L", "R"):
        access[f"trim {side}"] = AccessPrice(hours=1.0)
    needs = [(), ("lift",), *((name,) for name in access)]
    return Line(
        calendar=Calendar(today=TODAY, until=until),
        visit_cost=chance.choice((40, 60, 90)),
        hourly_rate=70,
        use=_use(chance, until),
        access=access,
        items=tuple(_item(chance, number, needs) for number in range(count)),
    )


def _use(chance: Random, until: date) -> Use:
    days = (until - TODAY).days + 31
    dates = tuple(TODAY + timedelta(days=number) for number in range(0, days, 30))
    expected, fast = [40_000.0], [40_000.0]
    for _ in dates[1:]:
        driven = chance.uniform(200, 900)
        expected.append(expected[-1] + driven)
        fast.append(fast[-1] + 1.2 * driven)
    return Use(dates=dates, expected=tuple(expected), fast=tuple(fast))


def _item(chance: Random, number: int, needs: list[tuple[str, ...]]) -> PlannedItem:
    months = chance.choice((6, 12, 12, 24, 24, 36, 48))
    by_distance = chance.random() < 1 / 3
    return PlannedItem(
        id=f"item {number}",
        hours=chance.choice((0.3, 0.5, 0.8, 1.0, 1.5, 2.0)),
        parts=chance.choice((0, 10, 25, 60)),
        access=chance.choice(needs),
        due_on=TODAY + timedelta(days=chance.randrange(-10, round(30.44 * months))),
        due_at=40_000 + chance.uniform(100, months * 600) if by_distance else None,
        every=Every(months=months, distance=months * 500.0 if by_distance else None),
        window=Span(before_days=15, after_days=chance.choice((0, 0, 10, 20))),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A class of lines: how many, and what is asked of each."""

    count: int
    months: int
    lines: int
    holds: Callable[[Plan], bool]

    @property
    def name(self) -> str:
        return f"{self.count} items, {self.months} months"


SIZES = (
    Size(count=20, months=12, lines=12, holds=lambda plan: plan.is_proved),
    Size(count=40, months=12, lines=6, holds=lambda plan: plan.gap <= 0.05),
    Size(count=60, months=12, lines=3, holds=lambda plan: plan.gap < 1),
    Size(count=40, months=36, lines=2, holds=lambda plan: plan.gap < 1),
)


def timed(size: Size) -> tuple[list[float], list[Plan]]:
    """Give the seconds of each line, and its plan."""
    seconds, plans = [], []
    for seed in range(size.lines):
        start = process_time()
        end = start + SECONDS
        plans.append(
            plan_visits(
                line(seed, count=size.count, months=size.months),
                may_go_on=lambda end=end: process_time() < end,  # type: ignore[misc] # bound now
            )
        )
        seconds.append(process_time() - start)
    return seconds, plans


@pytest.mark.bench
@pytest.mark.long
@pytest.mark.parametrize("size", SIZES, ids=[each.name for each in SIZES])
def test_a_plan_is_found_in_its_time_and_as_good_as_asked(size: Size) -> None:
    seconds, plans = timed(size)

    assert max(seconds) < SECONDS + 1
    assert [size.holds(plan) for plan in plans] == [True] * size.lines


if __name__ == "__main__":
    print("| lines | n | proved | seconds, median | most | gap, median | most |")
    print("|---|---|---|---|---|---|---|")
    for size in SIZES:
        seconds, plans = timed(size)
        gaps = sorted(0.0 if plan.is_proved else plan.gap for plan in plans)
        print(
            f"| {size.name} | {size.lines} | {sum(plan.is_proved for plan in plans)} "
            f"| {median(seconds):.1f} | {max(seconds):.1f} "
            f"| {100 * median(gaps):.1f} % | {100 * gaps[-1]:.1f} % |",
            flush=True,
        )
