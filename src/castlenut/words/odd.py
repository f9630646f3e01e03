"""Odd readings in words: what is wrong with a reading, and what to do about it."""

from castlenut.domain.dial import Dial
from castlenut.domain.oddity import (
    BeyondDial,
    HigherThanNext,
    LowerThanBefore,
    Neighbor,
    Oddity,
    RolloverCounted,
    TooFast,
)
from castlenut.domain.odometer import Placed
from castlenut.words import figures

_LEFT_OUT = "kept, and left out until somebody says what it was"


def reading(placed: Placed, dial: Dial) -> str:
    """Give an odd reading as one sentence, with what is done about it."""
    read = placed.reading
    told = f"{figures.shown(read.figure, dial)} {read.unit.value} on {read.on.isoformat()}"
    return told if placed.oddity is None else f"{told} {_because(placed.oddity, dial)}"


def cause(oddity: Oddity) -> str:
    """Give an oddity in a word or two."""
    match oddity:
        case LowerThanBefore():
            return "lower than the one before"
        case HigherThanNext():
            return "higher than the next"
        case TooFast():
            return "too far for the time"
        case BeyondDial():
            return "more than the dial can show"
        case RolloverCounted():
            return "rolled over"


def _because(oddity: Oddity, dial: Dial) -> str:
    match oddity:
        case LowerThanBefore(neighbor=neighbor):
            return (
                f"is lower than {_at(neighbor, dial)}: rolled over, replaced, another unit, digits"
                f" swapped? {_LEFT_OUT}"
            )
        case HigherThanNext(neighbor=neighbor):
            return (
                f"is higher than {_at(neighbor, dial)}, which came after it: another unit, digits"
                f" swapped? {_LEFT_OUT}"
            )
        case TooFast(neighbor=neighbor):
            return (
                f"is further from {_at(neighbor, dial)} than a car is driven in that time: another"
                f" unit, digits swapped? {_LEFT_OUT}"
            )
        case BeyondDial(digits=digits):
            return f"is more than a dial of {digits} digits can show; {_LEFT_OUT}"
        case RolloverCounted(neighbor=neighbor, distance=distance):
            return (
                f"is lower than {_at(neighbor, dial)}: counted as rolled over, true distance"
                f" {figures.with_unit(distance, dial)}; confirm it"
            )


def _at(neighbor: Neighbor, dial: Dial) -> str:
    return f"{figures.shown(neighbor.shown, dial)} on {neighbor.on.isoformat()}"
