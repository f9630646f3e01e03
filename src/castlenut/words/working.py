"""The working of an item in words, a line a step: the one place, for all faces.

Each step first becomes the row of a sum (label, distance, date, remark), as the screen shows it in
columns; the sentence of the command line and of JSON is made from the same row.
"""

from collections.abc import Callable
from functools import lru_cache

from castlenut.domain.dial import Dial
from castlenut.domain.item import Item
from castlenut.domain.working import (
    Aged,
    Anchored,
    Assumed,
    BeforeItRolls,
    Cautioned,
    Checked,
    Counted,
    DialRead,
    Expected,
    Judged,
    KeptToSchedule,
    NoRotation,
    NotKnown,
    NotShortened,
    PlainStep,
    Pointed,
    Reached,
    Refused,
    Result,
    Seasoned,
    Shortened,
    Sourced,
    Step,
    StepOfItem,
    WindowSet,
)
from castlenut.words import cautions, figures, steps
from castlenut.words.sum_row import SumRow, Tie, sentence

__all__ = ["SumRow", "lines", "rows", "sentence", "sum_rows"]


def sum_rows(item: Item, dial: Dial) -> tuple[SumRow, ...]:
    """Give the working of an item as the rows of a sum, in the order it was reckoned."""
    return (
        *(row for step in item.working for row in rows(step, item, dial)),
        SumRow(label="", remark=cautions.DEFERRING_LINE),
    )


def lines(item: Item, dial: Dial) -> tuple[str, ...]:
    """Give the working of an item line by line; the deferring line is the last."""
    tell = _teller(dial)
    told: list[str] = []
    for step in item.working:
        if isinstance(step, Anchored | Pointed | NoRotation):
            told.append(sentence(_row_of_item(step, item, dial)))
        else:
            told.extend(tell(step))
    told.append(cautions.DEFERRING_LINE)
    return tuple(told)


@lru_cache(maxsize=16)
def _teller(dial: Dial) -> Callable[[PlainStep], tuple[str, ...]]:
    """Give what tells a step of cars with such a dial, and keeps it: items share most of theirs."""

    @lru_cache(maxsize=4096)
    def tell(step: PlainStep) -> tuple[str, ...]:
        return tuple(map(sentence, _plain_rows(step, dial)))

    return tell


def rows(step: Step, item: Item, dial: Dial) -> tuple[SumRow, ...]:
    """Give the row or rows of one step of an item's working."""
    if isinstance(step, Anchored | Pointed | NoRotation):
        return (_row_of_item(step, item, dial),)
    return _plain_rows(step, dial)


def _row_of_item(step: StepOfItem, item: Item, dial: Dial) -> SumRow:
    match step:
        case Anchored():
            return steps.anchored(step, item.place, dial)
        case Pointed(rule=rule, number=number, of=of, distance=distance, after=after):
            return SumRow(
                label=steps.point(number, of, distance, after),
                distance=figures.with_unit(distance, dial),
                has_colon=True,
                remark=steps.rule(rule, item),
                tie=Tie.BRACKETS,
            )
        case NoRotation():
            return _no_rotation(item)


def _plain_rows(step: PlainStep, dial: Dial) -> tuple[SumRow, ...]:
    match step:
        case KeptToSchedule():
            return (steps.kept_to_schedule(step, dial),)
        case NotKnown(what=what, remedy=remedy):
            return (SumRow(label="not known", remark=f"{what}; {remedy}"),)
        case Assumed(attribute=attribute, taken_as=taken_as):
            return (
                SumRow(
                    label=f"{attribute} taken as {taken_as}",
                    remark="nobody recorded it, so the strictest rule that may apply is used",
                ),
            )
        case Counted():
            return (steps.counted(step, dial),)
        case Aged():
            return (steps.aged(step),)
        case Seasoned(first_day=first_day, last_day=last_day):
            return (
                SumRow(
                    label="season",
                    date=f"{first_day.isoformat()} to {last_day.isoformat()}",
                    remark="the first that ends half an interval or more after the last time",
                ),
            )
        case Shortened():
            return (steps.shortened(step, dial),)
        case NotShortened(would=would):
            return (steps.not_shortened(would),)
        case Judged():
            return (steps.judged(step, dial),)
        case Checked():
            return (steps.checked(step),)
        case Reached():
            return (steps.reached(step, dial),)
        case WindowSet():
            return (steps.window(step, dial),)
        case DialRead():
            return (steps.today(step, dial),)
        case Expected():
            return (steps.expected(step),)
        case Refused():
            return (steps.refused(step),)
        case BeforeItRolls(since=since):
            return (
                SumRow(
                    label="in work since",
                    date=since.isoformat(),
                    remark="due before it rolls, and not overdue until then",
                ),
            )
        case Result():
            return (SumRow(label="result", remark=steps.result(step, dial)),)
        case Sourced():
            return steps.sourced(step)
        case Cautioned(keys=keys):
            return tuple(
                SumRow(label="caution", remark=caution) for caution in cautions.sentences(keys)
            )


def _no_rotation(item: Item) -> SumRow:
    # Imported here: it loads all that judges tires, which most workings have no use for.
    from castlenut.words.reasons import none_possible

    return SumRow(label="rotation", remark=none_possible(item.against).removeprefix("rotation: "))
