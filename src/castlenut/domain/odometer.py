"""One car's dial history: what was read, what happened to the dial, and the true distance."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import inf

from castlenut.domain.ids import RecordId
from castlenut.domain.oddity import (
    Oddity,
)
from castlenut.domain.pieces import Note, Piece, Point
from castlenut.domain.units import KM_PER_MI, Distance, Shown, Unit

_KM_PER_MI = Decimal(str(KM_PER_MI))
_LAST_FIFTH = Decimal("0.8")
_NOISE = 1e-6  # of a distance that was computed: less than any dial shows


@dataclass(frozen=True, slots=True, kw_only=True)
class Dial:
    """What the dial counts in, how many whole units it has digits for, and whether tenths."""

    unit: Unit
    digits: int
    tenths: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A figure as it was read and entered, in the morning before that day's driving.

    `judged_right`: somebody was asked and said it is right.
    """

    record: RecordId
    on: date
    figure: Decimal
    unit: Unit
    judged_right: bool = False
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Replaced:
    """Another dial, which shows `start`; the old one ended at `last`, None if nobody knows."""

    record: RecordId
    on: date
    start: Decimal
    last: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RolledOver:
    """The dial passed its end before the reading of that day, or else before the next one."""

    record: RecordId
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorFrom:
    """True distance per shown distance from that day on; it replaces the former factor."""

    record: RecordId
    on: date
    factor: Fraction


DialEvent = Replaced | RolledOver | FactorFrom
"""A reading on the day of an event belongs to the new state."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A reading in its place. `shown` is in the dial's unit; no distance: it is held back."""

    reading: Reading
    shown: Shown
    distance: Distance | None
    oddity: Oddity | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Odometer:
    """One car's dial history: built once a car, asked many times.

    The true distance counts from where the oldest known dial showed 0. `points` are the days on
    which it is known: of sound readings, and of a dial replaced at a known figure.
    """

    dial: Dial
    capacity: Decimal
    placed: tuple[Placed, ...]
    sound: tuple[Placed, ...]
    pieces: tuple[Piece, ...]
    points: tuple[Point, ...]
    notes: tuple[Note, ...]

    def last(self) -> Placed | None:
        """Give the last sound reading."""
        return self.sound[-1] if self.sound else None

    def distance_of(self, shown: Decimal, on: date | None = None) -> Distance | None:
        """Give the true distance at a figure, in the dial's unit, that the dial showed on a day.

        Where two pieces may be in force on the day, the one that lies between the readings around
        it counts, and of two such the later. Without a day it is the latest piece in which the
        figure lies at or below what was read; if there is none, the latest of all. None: there is
        no sound reading, or nothing ties the dial of that day to them.
        """
        if on is None:
            return self._undated(shown)
        places = [
            piece.distance(shown)
            for piece in reversed(self.pieces)
            if (piece.since is None or piece.since <= on)
            and (piece.until is None or on <= piece.until)
        ]
        if len(places) < 2:
            return places[0] if places else None
        before = bisect_left(self.points, on, key=lambda point: point.on) - 1
        after = bisect_right(self.points, on, key=lambda point: point.on)
        low = self.points[before].distance if before >= 0 else -inf
        high = self.points[after].distance if after < len(self.points) else inf
        return min(places, key=lambda place: max(low - place, place - high, 0.0))

    def _undated(self, shown: Decimal) -> Distance | None:
        for piece in reversed(self.pieces):
            if (piece.since is None or piece.start <= shown) and shown <= piece.end:
                return piece.distance(shown)
        return self.pieces[-1].distance(shown) if self.pieces else None

    def shown_of(self, distance: Distance) -> Shown:
        """Give what the dial showed, or will show, at a true distance.

        It starts again at its end, and holds tenths only if the dial has them. Without a sound
        reading the distance itself is taken for what the dial shows.
        """
        figure: float = distance
        for piece in reversed(self.pieces):
            if piece.at <= distance + _NOISE or piece is self.pieces[0]:
                figure = piece.shown(distance)
                break
        step = Decimal("0.1") if self.dial.tenths else Decimal(1)
        whole = Decimal(repr(figure + _NOISE)) // step * step
        return Shown(whole % self.capacity if whole >= 0 else whole % self.capacity + self.capacity)


def odometer(
    dial: Dial, readings: Sequence[Reading], events: Sequence[DialEvent]
) -> Odometer:
    """Place a car's readings. Their order does not matter, save among the readings of one day."""
    ordered = sorted(readings, key=lambda reading: reading.on)
    shown = [_in_dial_unit(reading, dial.unit) for reading in ordered]
    capacity = Decimal(10) ** dial.digits
    while any(
        figure >= capacity and reading.judged_right
        for figure, reading in zip(shown, ordered, strict=True)
    ):
        capacity *= 10  # a figure judged right proves that the dial has more digits
    beyond = [figure >= capacity for figure in shown]
    course = _course(
        dial.unit,
        capacity,
        [
            _Mark(on=reading.on, shown=figure, reading=reading)
            for reading, figure, out in zip(ordered, shown, beyond, strict=True)
            if not out
        ],
        sorted(events, key=lambda event: (event.on, _rank(event), event.record)),
    )
