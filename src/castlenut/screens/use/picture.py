"""What the chart of a car's use shows: its readings, its distance ahead, its lay-ups."""

from collections.abc import Iterator
from datetime import date, timedelta

from castlenut.domain.dial import Replaced
from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.vehicle import LAID_UP
from castlenut.domain.working import Shortened
from castlenut.screens.widgets.use_chart import Fan, Picture
from castlenut.words import figures

_LONGEST_PAST = timedelta(days=3 * 365)
_LEAST_AHEAD, _MOST_AHEAD = timedelta(days=183), timedelta(days=730)
_STEPS = 30  # days of the fan that are reckoned
_TWO = 2  # readings, from which on a fan is drawn


def picture_of(today: CarToday, item: Item | None) -> Picture | None:
    """Give what is drawn; None where nothing was read. `item`: whose due distance is a level."""
    found, points = today.odometer, today.odometer.points
    if not points:
        return None
    first = max(points[0].on, min(today.today - _LONGEST_PAST, points[-1].on))
    if len(points) >= _TWO:
        first = min(first, points[-2].on)
    ahead = min(max((today.today - first) * 6 // 10, _LEAST_AHEAD), _MOST_AHEAD)
    last = _day_after(today.today, ahead)
    return Picture(
        read=tuple(
            (each.reading.on, each.distance) for each in found.sound if each.distance is not None
        ),
        flagged=tuple(_flagged(today)),
        replaced=tuple(_replaced(today)),
        fan=_fan(today, last) if len(found.sound) >= _TWO else None,
        level=_level(item),
        laid_up=tuple((since, until or date.max) for since, until in today.car.laid_up()),
        first=first,
        today=today.today,
        last=last,
        unit=found.dial.unit.value,
    )


def _flagged(today: CarToday) -> Iterator[tuple[date, float]]:
    """Give the readings left out, each where its figure would stand."""
    for each in today.odometer.placed:
        if each.oddity is not None and each.distance is None:
            there = today.odometer.distance_of(each.shown, each.reading.on)
            yield each.reading.on, float(each.shown) if there is None else there


def _replaced(today: CarToday) -> Iterator[tuple[date, float, str]]:
    dial = today.odometer.dial
    for event in today.car.dial_events:
        if isinstance(event, Replaced) and event.on <= today.today:
            there = today.use.distance_on(event.on)
            if there is not None:
                end = "?" if event.last is None else figures.shown(event.last, dial)
                yield event.on, there.p50, f"{end} to {figures.shown(event.start, dial)}"


def _level(item: Item | None) -> tuple[float, str] | None:
    if item is None or item.due_at is None:
        return None
    return item.due_at, f"{item.rule.title} due"


def _fan(today: CarToday, last: date) -> Fan:
    begin = today.odometer.points[-1].on
    span = (last - begin).days
    days = sorted({begin + timedelta(days=span * step // _STEPS) for step in range(_STEPS + 1)})
    bands = [(day, band) for day in days if (band := today.use.distance_on(day)) is not None]
    return Fan(
        low=tuple((day, band.p10) for day, band in bands),
        middle=tuple((day, band.p50) for day, band in bands),
        high=tuple((day, band.p90) for day, band in bands),
    )


def _day_after(day: date, span: timedelta) -> date:
    return min(day, date.max - span) + span


def spans(today: CarToday) -> str:
    """Give lay-ups and the exposures in force in a line, the newest first, with what each moves."""
    told = []
    for each in sorted(today.car.exposures, key=lambda each: (each.since, each.name), reverse=True):
        until = "" if each.until is None else f" to {each.until}"
        moves = "no distance runs in it"
        if each.name != LAID_UP:
            if not each.holds_on(today.today):
                continue
            count = sum(
                any(
                    isinstance(step, Shortened) and step.exposure == each.name
                    for step in item.working
                )
                for item in today.items
            )
            moves = f"shortens {figures.count(count, 'item')}"
        told.append(f"{each.name} {each.since}{until or ' on'}: {moves}")
    return "; ".join(told)
