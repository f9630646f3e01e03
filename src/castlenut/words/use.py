"""What is known of a car's use, in words: what an estimate of its distance rests on."""

from collections.abc import Iterator
from datetime import date
from functools import lru_cache

from castlenut.domain.dial import Dial
from castlenut.domain.pieces import FactorSplit, Note, StretchEstimated
from castlenut.domain.use.estimate import BandFrom, UseBasis
from castlenut.words import figures


def is_rate_known(basis: UseBasis) -> bool:
    """Tell whether anything is known of how far the car is driven."""
    return basis.a_day is not None


@lru_cache(maxsize=64)  # one a car, and asked for by each of its items
def basis(use: UseBasis, dial: Dial) -> str:
    """Give what the distance today rests on, as it goes on after "from"."""
    return ", ".join(_parts(use, dial))


def _parts(use: UseBasis, dial: Dial) -> Iterator[str]:
    if use.last is None:
        yield "no reading"
        return
    reading = f"the reading {figures.shown(use.last.shown, dial)} of {use.last.on.isoformat()}"
    if use.a_day is None:
        yield f"{reading} alone: no rate of use is known"
    else:
        yield f"{reading} and the plain mean rate"
        yield figures.rate(use.a_day, dial.unit.value)
        yield f"over {figures.count(use.readings, 'reading')}"
        if use.band is BandFrom.HALF_AND_TWICE:
            yield "the band from half to twice that"
        elif use.slowest is not None and use.fastest is not None:
            slowest = figures.rate(use.slowest, dial.unit.value)
            fastest = figures.rate(use.fastest, dial.unit.value)
            if slowest != fastest:
                yield f"the band from {slowest} to {fastest}"
    if use.held_back:
        yield f"{figures.count(use.held_back, 'reading')} left out as odd"
    yield from (f"laid up {_spell(first, last)}" for first, last in use.laid_up)
    yield from (note_words(note, dial) for note in use.notes)


def _spell(first: date, last: date | None) -> str:
    if last is None:
        return f"since {first.isoformat()}, no end planned"
    return f"{first.isoformat()} to {last.isoformat()}"


def note_words(note: Note, dial: Dial) -> str:
    """Give what of a true distance is itself an estimate."""
    match note:
        case FactorSplit(on=on):
            return f"the factor changed between two readings, on {on.isoformat()}: split by days"
        case StretchEstimated(since=since, until=until, distance=distance):
            return (
                f"what the old dial showed last is not known: {since.isoformat()} to"
                f" {until.isoformat()} is taken for {figures.with_unit(distance, dial)}"
            )
