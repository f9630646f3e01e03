"""What the text of an item's event tells, line by line; a line without content is left out."""

from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction

from castlenut.domain.ids import OWN, RecordId
from castlenut.domain.item import Item
from castlenut.domain.odometer import Dial
from castlenut.domain.place import Spot, spots
from castlenut.domain.rules.rule import Per
from castlenut.domain.working import (
    Aged,
    Anchored,
    Binds,
    Counted,
    From,
    Judged,
    Pointed,
    Shortened,
)
from castlenut.words import figures, states
from castlenut.words.cautions import sentences
from castlenut.words.month_names import SHORT_MONTHS

DEFERRING = "The vehicle's own service manual comes first."
_BY = {Binds.DISTANCE: "by distance", Binds.MEASUREMENT: "by wear", Binds.EVENT: "by distance"}
_HALF = Fraction(1, 2)


def day(when: date) -> str:
    """Give a day with its month in words, `12 Jun 2027`: 03/05 reads two ways."""
    return f"{_short(when)} {when.year}"


def _short(when: date) -> str:
    return f"{when.day} {SHORT_MONTHS[when.month - 1]}"


def _span(first: date, last: date) -> str:
    """Give two days as `1 May to 30 Jul 2027`: the year once where it is the same."""
    return f"{_short(first) if first.year == last.year else day(first)} to {day(last)}"


def due_lines(item: Item, dial: Dial) -> Iterator[str]:
    """Give the due point: each side in its own unit."""
    sides = []
    if item.due_on is not None:
        sides.append(day(item.due_on))
    if item.shown.due_at is not None and not _is_due_at_once(item):
        sides.append(f"at {figures.with_unit(item.shown.due_at, dial)}")
    if len(sides) == 2:
        yield f"Due {sides[0]} or {sides[1]}, whichever comes first."
    elif sides:
        yield f"Due {sides[0]}."


def _is_due_at_once(item: Item) -> bool:
    """Tell whether an event or a failed measurement made it due, whatever the dial showed."""
    is_of_that_day = item.due_on is not None and item.due_on == item.expected.p50
    return is_of_that_day and item.binds in {Binds.EVENT, Binds.MEASUREMENT}


def expected_line(item: Item) -> str:
    """Give the band in which the item is expected to fall due; empty where the day is exact."""
    band = item.expected
    if item.binds not in _BY or band.p50 is None or band.p50 == item.due_on:
        return ""
    by = _BY[item.binds]
    if band.p10 is None or band.p90 is None or band.p10 == band.p90:
        return f"Expected {day(band.p50)}, {by}."
    ends = [_short(end) if end.year == band.p50.year else day(end) for end in (band.p10, band.p90)]
    return f"Expected {day(band.p50)} ({ends[0]} to {ends[1]}), {by}."


def window_lines(item: Item, dial: Dial) -> Iterator[str]:
    """Give the window, each side in its own unit, never a distance turned into a date."""
    sides = []
    window, on_dial = item.window, item.shown
    if window.opens_on and window.closes_on and window.opens_on != window.closes_on:
        sides.append(_span(window.opens_on, window.closes_on))
    if (
        on_dial.opens_at is not None
        and on_dial.closes_at is not None
        and on_dial.opens_at != on_dial.closes_at
    ):
        opens = figures.shown(on_dial.opens_at, dial)
        sides.append(f"{opens} to {figures.with_unit(on_dial.closes_at, dial)}")
    if sides:
        yield f"Window {', '.join(sides)}."


def limit_lines(item: Item) -> Iterator[str]:
    """Give each limit that is known and was measured, with the last figure."""
    for step in item.working:
        if not isinstance(step, Judged):
            continue
        if step.limit is not None and step.value is not None and step.on is not None:
            limit = figures.quantity(step.limit, step.unit)
            measured = figures.quantity(step.value, step.unit)
            yield f"Limit {limit}; measured {measured} on {day(step.on)}."


def interval_lines(item: Item, dial: Dial) -> Iterator[str]:
    """Give the interval, or the point after fitting or an event, and what shortens it.

    An own note waits once, and what was found is seen to before the car rolls.
    """
    is_own = item.id.rule == OWN
    told: list[str] = []
    shortened = ""
    for step in item.working:
        match step:
            case Counted():
                sides = [figures.span(step.months, step.days)] if step.months or step.days else []
                if step.distance is not None:
                    sides.append(figures.with_unit(step.distance, dial))
                told.append(f"{'after' if is_own else 'every'} {' or '.join(sides)}")
            case Pointed() if is_own:
                told.append(states.BEFORE_IT_ROLLS)
            case Pointed(distance=distance, after=after):
                since = f"after {after}" if after else "after fitting"
                run = figures.with_unit(distance, dial)
                told.append(f"{run} {since}" if distance else f"at once {since}")
            case Aged(months=months) if months is not None:
                told.append(f"at {figures.span(months, None)} of age")
            case Shortened(exposure=exposure, factor=factor):
                by = "halved" if factor == _HALF else f"times {figures.number(factor)}"
                shortened = f"; {by}: {exposure}"
            case _:
                pass
    if told:
        text = "; ".join(dict.fromkeys(told))
        yield f"{text[0].upper()}{text[1:]}{shortened}."


_LAST = {
    From.FITTED: "Fitted",
    From.DONE: "Last done",
    From.INCLUDED: "Last done",
    From.MEASURED: "Last measured",
    From.CHECKED: "Last checked",
    From.STATED: "Last done, as stated,",
    From.INSPECTED: "Found good",
    From.VISIT: "Last done",
    From.MADE: "Made",
    From.LABEL: "Label",
    From.LAID_UP: "Laid up",
    From.NOTED: "Noted",
    From.FOUND: "Found",
}


def last_done_lines(item: Item, dial: Dial) -> Iterator[str]:
    """Give what the counting starts from, with day and dial figure; never who did it."""
    base = item.baseline
    if base is None or (base.on is None and base.at is None):
        return
    if base.how is From.EVENT:
        name = _name_of(base.record, item)
        what = f"After {name}" if name else "Since"
    else:
        what = _LAST[base.how]
    on = f" {day(base.on)}" if base.on is not None else ""
    at = f" at {figures.with_unit(base.at, dial)}" if base.at is not None else ""
    yield f"{what}{on}{at}."


def _name_of(record: RecordId, item: Item) -> str:
    return next(
        (
            step.name
            for step in item.working
            if isinstance(step, Anchored) and step.record == record and step.name
        ),
        "",
    )


def part_lines(items: Sequence[Item]) -> Iterator[str]:
    """Give part numbers and hours, for the garage alone."""
    told = []
    numbers = sorted({item.component.part for item in items if item.component.part})
    if numbers:
        told.append(f"Part {', '.join(numbers)}")
    length = hours(items)
    if length:
        told.append(figures.hours(length))
    if told:
        yield f"{'; '.join(told)}."


def hours(items: Sequence[Item]) -> Fraction:
    """Give the hours of work on items of one rule, as the rule counts them."""
    rule = items[0].rule
    match rule.per:
        case Per.CAR:
            return rule.hours
        case Per.WHEEL:
            return rule.hours * len(items)
        case Per.AXLE:
            return rule.hours * len({_is_front(item) for item in items})
        case Per.SIDE:
            return rule.hours * len({_is_left(item) for item in items})


def _is_front(item: Item) -> bool:
    spot = item.place.spot if item.place else None
    return spot is not None and (spot is Spot.FRONT or spot in spots(Spot.FRONT))


def _is_left(item: Item) -> bool:
    spot = item.place.spot if item.place else None
    return spot is not None and spot in spots(Spot.L)


def closing_lines(item: Item) -> Iterator[str]:
    """Give cautions, source, and what comes before all of it."""
    yield from sentences(item.rule.cautions)
    yield f"Source: {item.rule.source}" + ("" if item.rule.source.endswith(".") else ".")
    yield DEFERRING
