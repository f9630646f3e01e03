"""What is known of a car's use, in words: what an estimate of its distance rests on."""

from collections.abc import Iterator
from datetime import date
from math import floor, log10

from castlenut.domain.dial import Dial
from castlenut.domain.pieces import FactorSplit, Note, StretchEstimated
from castlenut.domain.use.estimate import Outlook, UseBasis
from castlenut.words import days, figures

MAYBE = 0.2
"""From this chance on it is said that a car may be laid up."""


def is_rate_known(basis: UseBasis) -> bool:
    """Tell whether anything is known of how far the car is driven."""
    return basis.a_day is not None


def basis(use: UseBasis, dial: Dial) -> str:
    """Give what the distance today rests on, as it goes on after "from"."""
    return "; ".join(_parts(use, dial))


def _parts(use: UseBasis, dial: Dial) -> Iterator[str]:
    seen = use.outlook
    if use.last is None or seen is None:
        yield "no reading"
        return
    reading = f"the reading {figures.shown(use.last.shown, dial)} of {use.last.on.isoformat()}"
    if use.first_on is None or use.first_on == use.last_on:
        yield f"{reading} alone and how cars of this age and use are usually driven"
    else:
        yield reading
        yield f"{days.counted(use.readings, 'reading')} since {days.month(use.first_on)}"
    yield _yearly(seen, dial)
    if seen.has_changed:
        yield "its use has changed lately"
    if seen.laid_up_chance > MAYBE:
        yield "it may be laid up"
    if use.held_back:
        yield f"{figures.count(use.held_back, 'reading')} left out as odd"
    if use.unconfirmed:
        yield f"{figures.count(use.unconfirmed, 'rollover')} counted, to be confirmed"
    yield from (f"laid up {_spell(first, last)}" for first, last in use.laid_up)
    yield from (note_words(note, dial) for note in use.notes)


def _yearly(seen: Outlook, dial: Dial) -> str:
    low, middle, high = (
        two_figures(each) for each in (seen.yearly.p10, seen.yearly.p50, seen.yearly.p90)
    )
    season = f", mostly {days.months(*seen.season)}" if seen.season else ""
    return f"about {middle} {dial.unit.value} a year ({low} to {high}){season}"


def two_figures(distance: float) -> str:
    """Give a distance to two figures, as one says it: `1,900`."""
    if distance < 1:
        return "0"
    place = max(floor(log10(distance)) - 1, 0)
    return f"{floor(distance / 10**place + 0.5) * 10**place:,}"


def _spell(first: date, last: date | None) -> str:
    if last is None:
        return f"since {first.isoformat()}, no end planned"
    return f"{first.isoformat()} to {last.isoformat()}"


def note_words(note: Note, dial: Dial) -> str:
    """Give what of a true distance is itself an estimate."""
    match note:
        case FactorSplit(on=on, by_use=by_use):
            how = "by how the car is used, its season counted in" if by_use else "by days"
            return f"the factor changed between two readings, on {on.isoformat()}: split {how}"
        case StretchEstimated(since=since, until=until, distance=distance):
            return (
                f"what the old dial showed last is not known: {since.isoformat()} to"
                f" {until.isoformat()} is taken for {figures.with_unit(distance, dial)}"
            )
