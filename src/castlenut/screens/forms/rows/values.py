"""Fields for what is measured on items: one each, with the last value and the limit beside it."""

from collections.abc import Iterator, Sequence

from castlenut.domain.item import Item
from castlenut.domain.measures import MEASURES
from castlenut.domain.naming import unique_name
from castlenut.domain.working import Checked, Judged
from castlenut.screens.widgets.field import Field
from castlenut.words import figures


def value_fields(items: Sequence[Item], row: int) -> Iterator[Field]:
    """Give a field for each item, or for each measure of one; the first is as faults name it."""
    for number, (label, remark) in enumerate(_asked(items)):
        name = f"{row}-value" + (f"-{number}" if number else "")
        yield Field(name, f"  {label}", width=12, remark=remark)


def values_typed(items: Sequence[Item], fields: Sequence[Field]) -> list[tuple[str, str]]:
    """Give what is typed in such fields, each with its item; one of several measures is named."""
    measures = _several_measures(items)
    if measures:
        name = unique_name(items[0])
        pairs = zip(measures, fields, strict=False)
        return [(name, f"{measure}={field.text}") for measure, field in pairs if field.text]
    return [
        (unique_name(item), field.text)
        for item, field in zip(items, fields, strict=False)
        if field.text
    ]


def _asked(items: Sequence[Item]) -> Iterator[tuple[str, str]]:
    measures = _several_measures(items)
    for measure in measures:
        step = next(
            each
            for each in items[0].working
            if isinstance(each, Judged) and each.measure == measure
        )
        yield _words(measure), _limit(step).removeprefix(f"{_words(measure)} ")
    if not measures:
        for item in items:
            yield f"value{f' {item.place}' if item.place else ''}", what_holds(item)


def _several_measures(items: Sequence[Item]) -> tuple[str, ...]:
    """Give the measures of one item that has several, as an alignment has; else none."""
    if len(items) != 1:
        return ()
    judged = [step.measure for step in items[0].working if isinstance(step, Judged)]
    found = tuple(dict.fromkeys(judged))
    return found if len(found) > 1 else ()


def what_holds(item: Item) -> str:
    """Give what must hold, and the last value: `at least 0.125 in, last 4.5 mm on 2026-09-03`."""
    told = [
        _limit(step) if isinstance(step, Judged) else _check(step)
        for step in item.working
        if isinstance(step, Judged | Checked)
    ]
    return "; ".join(told) or "good or not good"


def _limit(step: Judged) -> str:
    words = _words(step.measure)
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


def _words(measure: str) -> str:
    return MEASURES[measure].words if measure in MEASURES else measure


def _check(step: Checked) -> str:
    last = "" if step.on is None else f", last {'good' if step.is_good else 'not good'} {step.on}"
    return f"good or not good{last}: {step.what}"


def is_measured(item: Item) -> bool:
    """Tell whether the rule of an item asks for a measurement or a check."""
    return bool(item.rule.limits) or item.rule.check is not None
