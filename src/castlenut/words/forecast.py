"""A forecast in words: what it rests on, when it will be, and what widens it."""

from collections.abc import Iterator
from datetime import date
from math import floor

from castlenut.domain.dial import Dial
from castlenut.domain.frozen import dataclass
from castlenut.domain.units import Shown, Unit
from castlenut.domain.use.estimate import DateBand, LastReading, Outlook, UseBasis
from castlenut.words import days, figures, use

_WAITED = 60  # days without a reading that are worth a word
_FEW = 3
_LONG = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """What was forecast: `to_go` from the last reading, by which days, and how likely by `asof`.

    `due_at` is what the dial will show there.
    """

    asof: date
    due_at: Shown
    to_go: float
    dates: DateBand
    chance_due: float


def why(ahead: Ahead, basis: UseBasis, dial: Dial) -> list[str]:
    """Give what a forecast rests on and what it says, a line each."""
    return [*_begins(ahead, basis.last, dial), *rests_on(basis, dial), *_dates(ahead, basis)]


def rests_on(basis: UseBasis, dial: Dial) -> Iterator[str]:
    """Give how the car is used as far as is known, and what makes that unsure."""
    seen = basis.outlook
    if seen is None:
        yield "No reading: nothing is known of how the car is driven."
        return
    yield _habit(basis, seen, dial)
    yield from _widened(basis, seen, dial)


def _begins(ahead: Ahead, last: LastReading | None, dial: Dial) -> Iterator[str]:
    if last is None:
        return
    yield (
        f"Last reading {figures.shown(last.shown, dial)} on {days.spelled(last.on)}; due at"
        f" {figures.shown(ahead.due_at, dial)}: {figures.shown(ahead.to_go, dial)} {_unit(dial)} to"
        " go."
    )


def _habit(basis: UseBasis, seen: Outlook, dial: Dial) -> str:
    if basis.first_on is None or basis.last_on is None or basis.first_on == basis.last_on:
        return (
            "Only one reading: this rests on how cars of this age and use are usually driven. A"
            " second reading will sharpen it."
        )
    span = days.length((basis.last_on - basis.first_on).days)
    told = f"Known from {figures.count(basis.readings, 'reading')} over {span}"
    yearly = seen.yearly
    unit = _unit(dial)
    if yearly.p90 < 1:
        return f"{told}: the car stands still."
    low, middle, high = (use.two_figures(each) for each in (yearly.p10, yearly.p50, yearly.p90))
    season = f"; nearly all of it {days.months(*seen.season)}" if seen.season else ""
    if yearly.p50 < 1:
        return f"{told}: the car may stand still; at most about {high} {unit} a year{season}."
    return f"{told}: about {middle} {unit} a year, likely {low} to {high}{season}."


def _dates(ahead: Ahead, basis: UseBasis) -> Iterator[str]:
    dates = ahead.dates
    parts = []
    if dates.p10 is not None:
        parts.append(f"one chance in ten before {days.spelled(dates.p10)}")
    if dates.p50 is not None:
        parts.append(f"even chance by {days.spelled(dates.p50)}")
    if dates.p90 is not None:
        parts.append(f"nine in ten by {days.spelled(dates.p90)}")
    if not parts:
        yield "Not likely within ten years."
    else:
        told = ", ".join(parts)
        later = "; it may well take longer than ten years" if dates.p90 is None else ""
        yield f"{told[0].upper()}{told[1:]}{later}."
    if basis.last is None:
        return
    waited = (ahead.asof - basis.last.on).days
    if dates.p10 is not None and dates.p10 <= ahead.asof:
        chance = f"{floor(100 * ahead.chance_due + 0.5)} %"
        reading = f"No reading for {days.length(waited)}: it" if waited >= _WAITED else "It"
        yield f"{reading} may already be due (chance {chance}). Read the odometer."


def _widened(basis: UseBasis, seen: Outlook, dial: Dial) -> Iterator[str]:
    """Give what makes the band wide, if anything does."""
    causes = []
    if 1 < basis.readings <= _FEW:
        causes.append("few readings")
    if seen.has_changed:
        causes.append("the use has changed lately")
    if seen.longest_days > _LONG:
        causes.append("long stretches without a reading")
    if seen.laid_up_chance > use.MAYBE:
        causes.append("the car may be laid up")
    if basis.held_back:
        causes.append(f"{figures.count(basis.held_back, 'reading')} left out until settled")
    if basis.unconfirmed:
        causes.append(f"{figures.count(basis.unconfirmed, 'rollover')} counted until confirmed")
    if causes:
        yield f"Less sure for: {', '.join(causes)}."
    if seen.was_run_laid_up:
        yield "The readings show distance run while the car was laid up: it is believed."
    for first, last in basis.laid_up:
        until = "until further notice" if last is None else f"to {days.spelled(last)}"
        yield f"Laid up from {days.spelled(first)} {until}: no distance is run in it."
    for note in basis.notes:
        told = use.note_words(note, dial)
        yield f"{told[0].upper()}{told[1:]}."


def _unit(dial: Dial) -> str:
    return "miles" if dial.unit is Unit.MI else "km"
