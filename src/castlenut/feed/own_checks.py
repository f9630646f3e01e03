"""What the owner checks himself: one event a month in his feed, on the first Saturday."""

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction

from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.months import DAYS_IN_MONTH, months_after
from castlenut.domain.rules.rule import Bound
from castlenut.domain.vehicle import LAID_UP
from castlenut.domain.working import Counted, Shortened
from castlenut.feed.candidate import Candidate
from castlenut.feed.event import GarageFacts, cleaned, contact_lines, summary
from castlenut.feed.text import UNTITLED, listed, one_line
from castlenut.feed.uid import Audience, own_checks_uid
from castlenut.feed.week import OWN_CHECKS_BACK
from castlenut.words import figures

CATEGORY = "Own checks"
_SATURDAY = 5


def first_saturday(month: date) -> date:
    """Give the first Saturday of the month that holds a day."""
    first = month.replace(day=1)
    return first + timedelta(days=(_SATURDAY - first.weekday()) % 7)


def own_check_candidates(
    car: CarToday, facts: GarageFacts, *, monday: date, until: date
) -> Iterator[Candidate]:
    """Give the own checks of a car month by month, a month without any left out.

    Readings move none of them: a check has its turn every so many months, counted from the month it
    was last done; one with no record has it each month.
    """
    if car.car.vehicle.sold_on is not None:
        return
    checks = [
        (item, every)
        for item in car.items
        if item.rule.is_own_check and (every := months_between(item)) is not None
    ]
    month = (monday - OWN_CHECKS_BACK).replace(day=1)
    while month <= until:
        on = first_saturday(month)
        is_laid_up = any(each.name == LAID_UP and each.holds_on(on) for each in car.car.exposures)
        told = [
            item
            for item, every in checks
            if item.rule.counted_from_layup == is_laid_up and _has_turn(item, every, month)
        ]
        if told:
            yield _candidate(car, told, on, facts)
        month = months_after(month, 1)


def months_between(item: Item) -> int | None:
    """Give how many months lie between two turns of a check, at least 1; None: no time side."""
    every: int | None = None
    for step in item.working:
        if isinstance(step, Counted | Shortened) and (step.months or step.days):
            every = max(1, (step.months or 0) + (step.days or 0) // DAYS_IN_MONTH)
    if every is None and item.rule.every is not None:
        months, days = item.rule.every.months, item.rule.every.days
        every = max(1, (months or 0) + (days or 0) // DAYS_IN_MONTH) if months or days else None
    return every


def _has_turn(item: Item, every: int, month: date) -> bool:
    base = item.baseline.on if item.baseline is not None else None
    if base is None:
        return True
    return ((month.year - base.year) * 12 + month.month - base.month) % every == 0


def _candidate(car: CarToday, told: list[Item], on: date, facts: GarageFacts) -> Candidate:
    worst_first = sorted(told, key=lambda item: (item.rule.danger, item.rule.title))
    lines = tuple(dict.fromkeys(_line(item) for item in worst_first))
    return Candidate(
        uid=own_checks_uid(facts.id, Audience.OWNER, car.car.id, on),
        on=on,
        is_exact=True,
        summary=summary(car.car.vehicle, f"own checks, {len(lines)}"),
        category=CATEGORY,
        before=cleaned((*listed(lines), *contact_lines(facts))),
        is_frozen_once_past=True,
    )


def _line(item: Item) -> str:
    """Give a check as it is listed, `Tire pressure, cold, spare too: placard`."""
    title = one_line(item.rule.title) or UNTITLED
    held = item.rule.check or "; ".join(_limits(item))
    line = f"{title[0].upper()}{title[1:]}"
    return f"{line}: {one_line(held)}" if held else line


def _limits(item: Item) -> Iterator[str]:
    for limit in item.rule.limits:
        if isinstance(limit.value, Fraction):
            bound = "at least" if limit.bound is Bound.AT_LEAST else "at most"
            yield f"{bound} {figures.quantity(limit.value, limit.unit)}"
