"""Fields for what is measured on items: one each, with the last value and the limit beside it."""

from collections.abc import Iterator, Sequence

from castlenut.domain.item import Item
from castlenut.domain.measures import MEASURES
from castlenut.domain.working import Checked, Judged
from castlenut.screens.widgets.field import Field
from castlenut.words import figures


def value_fields(items: Sequence[Item], row: int) -> Iterator[Field]:
    """Give a field for each item; the first is named as faults name it."""
    for number, item in enumerate(items):
        place = f" {item.place}" if item.place else ""
        yield Field(
            f"{row}-value" + (f"-{number}" if number else ""),
            f"  value{place}",
            width=12,
            remark=what_holds(item),
        )


def what_holds(item: Item) -> str:
    """Give what must hold, and the last value: `at least 0.125 in, last 4.5 mm on 2026-09-03`."""
    told = [
        _limit(step) if isinstance(step, Judged) else _check(step)
        for step in item.working
        if isinstance(step, Judged | Checked)
    ]
    return "; ".join(told) or "good or not good"


def _limit(step: Judged) -> str:
    words = MEASURES[step.measure].words if step.measure in MEASURES else step.measure
    side = "at least" if step.is_at_least else "at most"
    limit = (
        "no limit known"
        if step.limit is None
        else (f"{side} {figures.quantity(step.limit, step.unit)}")
    )
    last = (
        ""
        if step.value is None or step.on is None
        else (f", last {figures.quantity(step.value, step.unit)} on {step.on}")
    )
    return f"{words} {limit}{last}"


def _check(step: Checked) -> str:
    last = "" if step.on is None else f", last {'good' if step.is_good else 'not good'} {step.on}"
    return f"good or not good{last}: {step.what}"


def is_measured(item: Item) -> bool:
    """Tell whether the rule of an item asks for a measurement or a check."""
    return bool(item.rule.limits) or item.rule.check is not None
