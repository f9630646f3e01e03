"""One car's odometer: its readings in their places, and the true distance at every figure."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from itertools import pairwise, takewhile
from math import floor, inf

from castlenut.domain.course import Course, Mark, course
from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading, Replaced, RolledOver
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.oddity import (
    BeyondDial,
    HigherThanNext,
    LowerThanBefore,
    Neighbor,
    Oddity,
    RolloverCounted,
    TooFast,
    Verdict,
    sound_chain,
)
from castlenut.domain.pieces import Note, Piece, Point, Stretch, lay
from castlenut.domain.units import Distance, Shown

__all__ = [
    "Dial",
    "DialEvent",
    "FactorFrom",
    "Odometer",
    "Placed",
    "Reading",
    "Replaced",
    "RolledOver",
    "odometer",
]

_NOISE = 1e-6  # of a distance that was computed: less than any dial shows


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

    True distance counts from where the oldest dial known showed 0. `capacity` is the first whole
    figure the dial cannot show. `points` are the days on which the true distance is known: of
    sound readings, and of a dial replaced at a known figure.
    """

    dial: Dial
    capacity: Decimal
    placed: tuple[Placed, ...] = ()
    sound: tuple[Placed, ...] = ()
    pieces: tuple[Piece, ...] = ()
    points: tuple[Point, ...] = ()
    notes: tuple[Note, ...] = ()

    def last(self) -> Placed | None:
        """Give the last sound reading."""
        return self.sound[-1] if self.sound else None

    def distance_of(self, shown: Decimal, on: date | None = None) -> Distance | None:
        """Give the true distance at a figure, in the dial's unit, that the dial showed on a day.

        Where two pieces may be in force on the day, the one counts in which the figure was read
        that day, or else the one that puts it between the points around the day, and of two such
        the later. Without a day it is the latest piece in which the figure lies at or below what
        was read; if there is none, the latest of all. None: nothing is known of the dial of that
        day.
        """
        if on is None:
            return self._undated(shown)
        if len(self.pieces) == 1 and self.pieces[0].since is None and self.pieces[0].until is None:
            return self.pieces[0].distance(shown)  # of nearly every car
        distances = [
            piece.distance(shown)
            for piece in reversed(self.pieces)
            if (piece.since is None or piece.since <= on)
            and (piece.until is None or on <= piece.until)
        ]
        if len(distances) < 2:
            return distances[0] if distances else None
        before = bisect_left(self.points, on, key=lambda point: point.on)
        after = bisect_right(self.points, on, key=lambda point: point.on)
        for distance in distances:
            if any(abs(distance - point.distance) < _NOISE for point in self.points[before:after]):
                return distance
        low = self.points[before - 1].distance if before else -inf
        high = self.points[after].distance if after < len(self.points) else inf
        return min(distances, key=lambda distance: max(low - distance, distance - high, 0.0))

    def _undated(self, shown: Decimal) -> Distance | None:
        for piece in reversed(self.pieces):
            if (piece.since is None or piece.start <= shown) and shown <= piece.end:
                return piece.distance(shown)
        return self.pieces[-1].distance(shown) if self.pieces else None

    def shown_of(self, distance: Distance) -> Shown:
        """Give what the dial showed, or will show, at a true distance.

        It starts again at its end and holds tenths only if the dial has them, both cut off and not
        rounded. With nothing known of the dial the distance is taken for what it shows.
        """
        figure: float = distance
        for piece in reversed(self.pieces):
            figure = piece.shown(distance)
            if piece.at <= distance + _NOISE:
                break
        if not self.dial.tenths:
            return Shown(Decimal(floor(figure + _NOISE) % int(self.capacity)))
        return Shown(Decimal(floor((figure + _NOISE) * 10) % int(self.capacity * 10)) / 10)


def odometer(dial: Dial, readings: Sequence[Reading], events: Sequence[DialEvent]) -> Odometer:
    """Place a car's readings. Their order does not matter, save among the readings of one day."""
    ordered = sorted(readings, key=lambda reading: reading.on)
    shown = [reading.shown(dial.unit) for reading in ordered]
    capacity = _capacity(dial, ordered, shown)
    marks = [
        Mark(
            record=reading.record,
            on=reading.on,
            shown=figure,
            judged=reading.judged_right,
            place=place,
        )
        for place, (reading, figure) in enumerate(zip(ordered, shown, strict=True))
        if figure < capacity
    ]
    beyond = BeyondDial(digits=dial.digits)
    placed = [
        Placed(reading=reading, shown=figure, distance=None, oddity=beyond)
        for reading, figure in zip(ordered, shown, strict=True)
    ]
    if not marks:
        return Odometer(dial=dial, capacity=capacity, placed=tuple(placed))
    way = course(marks, events, unit=dial.unit, capacity=capacity)
    chain = sound_chain([mark.judged for mark in way.marks], way.verdict)
    for place, oddity in _held_back(way, chain):
        placed[place] = replace(placed[place], oddity=oddity)
    if chain[0]:
        # a first reading held back must not hide what was told of the dial before the next one
        dropped = chain[0]
        way = course(marks[dropped:], events, unit=dial.unit, capacity=capacity)
        chain = tuple(place - dropped for place in chain)
        if way.origin is not None:
            chain = (0, *(place + 1 for place in chain))
    return _counted(dial, way, chain, placed)


def _capacity(dial: Dial, readings: Sequence[Reading], shown: Sequence[Shown]) -> Decimal:
    """Give 10 to the number of digits; a higher figure judged right proves that there are more."""
    capacity = Decimal(10) ** dial.digits
    for reading, figure in zip(readings, shown, strict=True):
        while reading.judged_right and figure >= capacity:
            capacity *= 10
    return capacity


def _held_back(way: Course, chain: Sequence[int]) -> Sequence[tuple[int, Oddity]]:
    """Give the places of the readings outside the chain, each with what is wrong with it."""
    sound = set(chain)
    return [
        (mark.place, _oddity(way, chain, number))
        for number, mark in enumerate(way.marks)
        if number not in sound and mark.place is not None
    ]


def _oddity(way: Course, chain: Sequence[int], number: int) -> Oddity:
    """Tell what is wrong with a mark outside the chain, by its neighbors in the chain."""
    position = bisect_left(chain, number)
    before = way.verdict(chain[position - 1], number) if position else None
    after = way.verdict(number, chain[position]) if position < len(chain) else None
    if before in {Verdict.FALLS, Verdict.ROLLS}:
        return LowerThanBefore(neighbor=_neighbor(way.marks[chain[position - 1]]))
    if after in {Verdict.FALLS, Verdict.ROLLS}:
        return HigherThanNext(neighbor=_neighbor(way.marks[chain[position]]))
    if before is Verdict.TOO_FAST or after is None:
        return TooFast(neighbor=_neighbor(way.marks[chain[position - 1]]))
    return TooFast(neighbor=_neighbor(way.marks[chain[position]]))


def _neighbor(mark: Mark) -> Neighbor:
    return Neighbor(record=mark.record, on=mark.on, shown=mark.shown)


def _counted(dial: Dial, way: Course, chain: Sequence[int], placed: Sequence[Placed]) -> Odometer:
    """Count the true distance along the chain."""
    stretches: list[Stretch] = []
    if way.origin is not None and way.origin.last is not None:
        on, start = way.origin.on, way.origin.start
        stretches.append(Stretch(begins=on, ends=on, start=start, end=start, fresh=True))
    arrivals = [len(stretches)]
    verdicts = [Verdict.FITS]
    for one, other in pairwise(chain):
        link = way.link(one, other)
        stretches.extend(link.stretches)
        arrivals.append(len(stretches))
        verdicts.append(link.verdict)
    known = len(stretches)
    after = way.after(chain[-1])
    known += len(tuple(takewhile(lambda stretch: stretch.end is not None, after[:-1])))
    stretches.extend(after)
    beginning = way.beginning()
    laid = lay(beginning, stretches, way.capacity)
    distances = (beginning[-1].distance(beginning[-1].end), *laid.ends)

    points = [Point(on=way.marks[chain[0]].on, distance=distances[0])]
    for stretch, distance in zip(stretches[:known], laid.ends, strict=False):
        point = Point(on=stretch.ends, distance=distance)
        if stretch.end is not None and point != points[-1]:
            points.append(point)
    complete = list(placed)
    for link_number, (number, arrival) in enumerate(zip(chain, arrivals, strict=True)):
        mark = way.marks[number]
        if mark.place is None:
            continue
        oddity = None
        if verdicts[link_number] is Verdict.ROLLS and not mark.judged:
            oddity = RolloverCounted(
                neighbor=_neighbor(way.marks[chain[link_number - 1]]),
                distance=Distance(distances[arrival] - distances[arrivals[link_number - 1]]),
            )
        held = complete[mark.place]
        complete[mark.place] = Placed(
            reading=held.reading, shown=held.shown, distance=distances[arrival], oddity=oddity
        )
    return Odometer(
        dial=dial,
        capacity=way.capacity,
        placed=tuple(complete),
        sound=tuple(each for each in complete if each.distance is not None),
        pieces=laid.pieces,
        points=tuple(points),
        notes=laid.notes,
    )
