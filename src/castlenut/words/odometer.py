"""A car's odometer in words: its readings, the true distance line by line, the distance ahead."""

from collections.abc import Iterator, Sequence
from datetime import date

from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Replaced, RolledOver
from castlenut.domain.dial_history import DialToday
from castlenut.domain.ids import short
from castlenut.domain.legs import Leg, legs
from castlenut.domain.months import months_after
from castlenut.domain.odometer import Odometer, Placed
from castlenut.domain.pieces import Begins
from castlenut.domain.settling import Question
from castlenut.domain.use.estimate import DistanceBand, Use
from castlenut.words import days, figures, forecast, odd, settling

GAP = "  "
_AHEAD_MONTHS = (1, 3, 6, 12, 24)


def page_lines(slug: str, page: DialToday, questions: Sequence[Question]) -> Iterator[str]:
    """Give the whole page: readings newest first, what is asked, the true distance, the use."""
    found, dial = page.odometer, page.odometer.dial
    yield f"{page.car.vehicle.description}: {dial_words(dial)}"
    if not found.placed:
        yield "no reading yet: castlenut reading records one"
        return
    yield "readings, the newest first:"
    yield from (reading_line(each, dial) for each in reversed(found.placed))
    events = sorted(page.car.dial_events, key=lambda each: (each.on, each.record), reverse=True)
    if events:
        yield "what happened to the dial:"
        yield from (event_line(each, dial) for each in events)
    if questions:
        yield "asked:"
        for each in questions:
            yield from question_lines(each, slug, dial)
    yield "true distance, line by line:"
    yield from true_lines(found)
    yield "true distance today and ahead:"
    yield from ahead_lines(page.use, dial, page.today)


def dial_words(dial: Dial) -> str:
    """Give what kind of dial it is: `five-digit dial, mi, with tenths`."""
    return f"{days.digits(dial.digits)} dial, {dial.unit.value}{', with tenths' * dial.tenths}"


def entered(placed: Placed) -> str:
    """Give the figure as it was entered, with its unit: `61,600 mi`."""
    return f"{figures.entered(placed.reading.figure)} {placed.reading.unit.value}"


def true_distance(placed: Placed, dial: Dial) -> str:
    """Give the true distance at a reading, or that it is left out."""
    if placed.distance is None:
        return "left out"
    return figures.with_unit(placed.distance, dial)


def remark(placed: Placed) -> str:
    """Give what there is to say of a reading: its likely cause, or that it was settled."""
    if placed.oddity is not None:
        return odd.cause(placed.oddity)
    if placed.distance is None:
        return "waits for a reading before it"
    return "settled" if placed.reading.judged_right else ""


def reading_line(placed: Placed, dial: Dial) -> str:
    """Give a reading: mark, day, figure as entered, true distance, record, remark."""
    parts = (
        "  " if placed.oddity is None else "??",
        placed.reading.on.isoformat(),
        entered(placed),
        f"true {figures.with_unit(placed.distance, dial)}"
        if placed.distance is not None
        else "left out",
        short(placed.reading.record),
        remark(placed),
    )
    return GAP.join(part for part in parts if part)


def event_line(event: DialEvent, dial: Dial) -> str:
    """Give what happened to the dial: day, what, record."""
    return GAP.join(("  ", event.on.isoformat(), event_words(event, dial), short(event.record)))


def event_words(event: DialEvent, dial: Dial) -> str:
    """Give what happened to the dial."""
    match event:
        case RolledOver():
            return "rolled over"
        case Replaced(start=start, last=last):
            end = (
                "the old one's end not known"
                if last is None
                else f"the old one ended at {figures.shown(last, dial)}"
            )
            return f"new dial from {figures.shown(start, dial)}, {end}"
        case FactorFrom(factor=factor):
            return f"each {dial.unit.value} shown stands for {figures.number(factor)} true"


def true_lines(odometer: Odometer) -> Iterator[str]:
    """Give the true distance reading by reading, each with how it comes about."""
    dial = odometer.dial
    for placed, way in legs(odometer):
        told = " + ".join(leg_words(leg, dial) for leg in way)
        line = f"    {placed.reading.on.isoformat()}  {true_distance(placed, dial)}"
        yield f"{line}  + {told}" if told else line


def leg_words(leg: Leg, dial: Dial) -> str:
    """Give a part of the way: `430 (0 to 430, past the end of the dial)`."""
    distance = figures.shown(leg.distance, dial)
    if leg.begin is None or leg.end is None:
        return f"{distance} (an estimate: the old dial's end is not known)"
    parts = [f"{figures.shown(leg.begin, dial)} to {figures.shown(leg.end, dial)}"]
    if leg.factor != 1:
        parts.append(f"x {figures.number(leg.factor)}")
    since = "" if leg.since is None else leg.since.isoformat()
    match leg.begins:
        case Begins.ROLLED_OVER:
            parts.append("past the end of the dial")
        case Begins.REPLACED:
            parts.append(f"on the new dial of {since}")
        case Begins.FACTOR:
            parts.append(f"from {since} on")
        case Begins.FIRST | Begins.READ_LOWER | None:
            pass
    return f"{distance} ({', '.join(parts)})"


def days_ahead(today: date) -> Iterator[date]:
    """Give the days for which the distance is told ahead."""
    return (months_after(today, months) for months in _AHEAD_MONTHS)


def band_words(band: DistanceBand, dial: Dial) -> str:
    """Give a true distance with its band: `about 61,610 mi (61,600 to 61,625)`."""
    low, middle, high = (figures.shown(each, dial) for each in (band.p10, band.p50, band.p90))
    if low == high:
        return f"{middle} {dial.unit.value}"
    return f"about {middle} {dial.unit.value} ({low} to {high})"


def ahead_lines(use: Use, dial: Dial, today: date) -> Iterator[str]:
    """Give the true distance today and ahead, and what it rests on."""
    for day in (today, *days_ahead(today)):
        there = use.distance_on(day)
        if there is not None:
            yield f"    {day.isoformat()}  {band_words(there, dial)}"
    yield from (f"    {line}" for line in forecast.rests_on(use.basis, dial))


def question_lines(question: Question, slug: str, dial: Dial) -> Iterator[str]:
    """Give what is asked about a reading: what is odd, then each answer and what it would give."""
    record = short(question.placed.reading.record)
    yield f"?? {odd.reading(question.placed, dial)}"
    for tried in question.outcomes:
        told = f"    {settling.name(tried)}: {settling.outcome(tried, dial)}"
        yield f"{told}  [{settling.command(tried, slug, record)}]"
