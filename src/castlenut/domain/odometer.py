"""One car's odometer: its readings in their places, and the true distance at every figure."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from itertools import pairwise, takewhile
from math import floor, inf

from castlenut.domain.causes.search import Explanation, explain, named
from castlenut.domain.causes.slips import Slip, a_tenth
from castlenut.domain.causes.ways import Step
from castlenut.domain.course import Course, Join, Mark, course
from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading, Replaced, RolledOver
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.oddity import Cause, Neighbor, Oddity
from castlenut.domain.pieces import Driven, Expected, Note, Piece, Point, Stretch, lay
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
    """A reading in its place, `shown` in the dial's unit.

    No distance: it is held back. If nothing is odd about it then, it waits for what a reading
    before it turns out to be: it was read on a dial that nobody has told of.
    """

    reading: Reading
    shown: Shown
    distance: Distance | None
    oddity: Oddity | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Odometer:
    """One car's dial history: built once a car, asked many times.

    True distance counts from where the oldest dial known showed 0. `capacity` is the first whole
    figure the dial cannot show. `points` are the days on which the true distance is known: of
    sound readings, and of a dial replaced at a known figure. `driven` has the distances that were
    read, also on a dial nobody has told of.
    """

    dial: Dial
    capacity: Decimal
    placed: tuple[Placed, ...] = ()
    sound: tuple[Placed, ...] = ()
    pieces: tuple[Piece, ...] = ()
    points: tuple[Point, ...] = ()
    driven: tuple[Driven, ...] = ()
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
        figure = self._counted(distance)
        if not self.dial.tenths:
            return Shown(Decimal(floor(figure + _NOISE) % int(self.capacity)))
        return Shown(Decimal(floor((figure + _NOISE) * 10) % int(self.capacity * 10)) / 10)

    def starts_again(self, first: Distance, then: Distance) -> bool:
        """Tell whether the dial passes its end between two true distances."""
        end = int(self.capacity)
        turns = [floor((self._counted(each) + _NOISE) / end) for each in (first, then)]
        return turns[0] < turns[1]

    def _counted(self, distance: Distance) -> float:
        """Give what the dial would show if it had no end."""
        figure: float = distance
        for piece in reversed(self.pieces):
            figure = piece.shown(distance)
            if piece.at <= distance + _NOISE:
                break
        return figure


def odometer(
    dial: Dial,
    readings: Sequence[Reading],
    events: Sequence[DialEvent],
    expected: Expected | None = None,
) -> Odometer:
    """Place a car's readings. Their order does not matter, save among the readings of one day.

    What no reading tells, where in a stretch the factor changed and how far an old dial went on,
    is shared out by `expected` use; None: evenly over the days.
    """
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
    placed = [
        Placed(reading=reading, shown=figure, distance=None, oddity=_beyond(figure, dial, capacity))
        for reading, figure in zip(ordered, shown, strict=True)
    ]
    if not marks:
        return Odometer(dial=dial, capacity=capacity, placed=tuple(placed))
    way = course(marks, events, unit=dial.unit, capacity=capacity)
    found = explain(way, dial)
    for number, slip in found.mistaken.items():
        _flag(placed, way.marks[number], _mistaken(way, found.chain, number, slip))
    chain, steps = found.chain, found.steps
    if chain[0]:
        # a first reading held back must not hide what was told of the dial before the next one
        dropped = chain[0]
        # of the marks left out, an origin is none of the readings
        readings_dropped = dropped - (way.origin is not None)
        way = course(marks[readings_dropped:], events, unit=dial.unit, capacity=capacity)
        chain = tuple(place - dropped for place in chain)
        if way.origin is not None:
            chain = (0, *(place + 1 for place in chain))
            steps = (Step(join=Join.AS_TOLD, wraps=0, cost=0.0), *steps)
    counted = _counted(dial, way, chain, steps, placed, expected)
    return _with_doubts(counted, found, course(marks, events, unit=dial.unit, capacity=capacity))


def _capacity(dial: Dial, readings: Sequence[Reading], shown: Sequence[Shown]) -> Decimal:
    """Give 10 to the number of digits; a higher figure judged right proves that there are more."""
    capacity = Decimal(10) ** dial.digits
    for reading, figure in zip(readings, shown, strict=True):
        while reading.judged_right and figure >= capacity:
            capacity *= 10
    return capacity


def _beyond(figure: Shown, dial: Dial, capacity: Decimal) -> Oddity | None:
    """Tell of a figure that the dial cannot show: it holds tenths, or else nothing fits."""
    if figure < capacity:
        return None
    tenth = a_tenth(figure, dial)
    return Oddity(
        cause=Cause.TENTHS,
        held=True,
        would_fit=tenth if tenth < capacity else None,
        digits=dial.digits,
    )


def _flag(placed: list[Placed], mark: Mark, oddity: Oddity) -> None:
    if mark.place is not None:
        placed[mark.place] = replace(placed[mark.place], oddity=oddity)


def _mistaken(way: Course, chain: Sequence[int], number: int, slip: Slip | None) -> Oddity:
    """Tell what is wrong with a mark outside the chain, by its neighbors in the chain."""
    position = bisect_left(chain, number)
    return Oddity(
        cause=named(slip),
        held=True,
        would_fit=None if slip is None or slip.cause is Cause.DATE else slip.shown,
        would_fit_on=slip.on if slip is not None and slip.cause is Cause.DATE else None,
        before=_neighbor(way.marks[chain[position - 1]]) if position else None,
        after=_neighbor(way.marks[chain[position]]) if position < len(chain) else None,
    )


def _neighbor(mark: Mark) -> Neighbor:
    return Neighbor(record=mark.record, on=mark.on, shown=mark.shown)


def _with_doubts(counted: Odometer, found: Explanation, way: Course) -> Odometer:
    """Flag the readings that may as well be the mistaken ones; they are counted all the same."""
    if not found.as_likely:
        return counted
    placed = list(counted.placed)
    for number, (instead, slip) in found.as_likely.items():
        place = way.marks[number].place
        if place is None or placed[place].oddity is not None:
            continue
        others = [each for each in found.chain if each != number]
        oddity = _mistaken(way, others, number, slip)
        placed[place] = replace(
            placed[place],
            oddity=replace(oddity, held=False, instead=_neighbor(way.marks[instead])),
        )
    return replace(
        counted,
        placed=tuple(placed),
        sound=tuple(each for each in placed if each.distance is not None),
    )


def _counted(
    dial: Dial,
    way: Course,
    chain: Sequence[int],
    steps: Sequence[Step],
    placed: Sequence[Placed],
    expected: Expected | None,
) -> Odometer:
    """Count the true distance along the chain, up to where a dial was replaced and nobody told."""
    complete = list(placed)
    replaced = [
        number
        for number, step in enumerate(steps, start=1)
        if step.join is Join.REPLACED and not way.marks[chain[number]].judged
    ]
    # a figure of the new dial that was judged right says that there is one
    untold = [
        number for number in replaced if not any(way.marks[each].judged for each in chain[number:])
    ]
    begins = [0, *untold]
    counts = [
        _count(
            way,
            chain[begin:end],
            steps[begin : end - 1],
            expected,
            is_last=end == len(chain),
        )
        for begin, end in zip(begins, [*untold, len(chain)], strict=True)
    ]
    known = counts[0]
    for number, distance in enumerate(known.distances):
        mark = way.marks[chain[number]]
        if mark.place is None:
            continue
        rolled: Oddity | None = None
        if number and steps[number - 1].join is Join.ROLLED and not mark.judged:
            rolled = Oddity(
                cause=Cause.ROLLED_OVER,
                held=False,
                before=_neighbor(way.marks[chain[number - 1]]),
                distance=Distance(distance - known.distances[number - 1]),
            )
        complete[mark.place] = replace(complete[mark.place], distance=distance, oddity=rolled)
    for number in replaced:
        oddity = Oddity(
            cause=Cause.REPLACED,
            held=number in untold,
            before=_neighbor(way.marks[chain[number - 1]]),
            after=_neighbor(way.marks[chain[number + 1]]) if number + 1 < len(chain) else None,
        )
        _flag(complete, way.marks[chain[number]], oddity)
    return Odometer(
        dial=dial,
        capacity=way.capacity,
        placed=tuple(complete),
        sound=tuple(each for each in complete if each.distance is not None),
        pieces=known.pieces,
        points=known.points,
        driven=tuple(each for count in counts for each in count.driven),
        notes=known.notes,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Count:
    """The true distance along a chain: at each of its marks, and what lies between."""

    distances: tuple[Distance, ...]
    pieces: tuple[Piece, ...]
    points: tuple[Point, ...]
    driven: tuple[Driven, ...]
    notes: tuple[Note, ...]


def _count(
    way: Course,
    chain: Sequence[int],
    steps: Sequence[Step],
    expected: Expected | None,
    *,
    is_last: bool,
) -> _Count:
    stretches: list[Stretch] = []
    if way.origin is not None and way.origin.last is not None and chain[0] == 0:
        on, start = way.origin.on, way.origin.start
        stretches.append(Stretch(begins=on, ends=on, start=start, end=start, fresh=True))
    arrivals = [len(stretches)]
    for (one, other), step in zip(pairwise(chain), steps, strict=True):
        stretches.extend(way.way(one, other, step.join, step.wraps))
        arrivals.append(len(stretches))
    known = len(stretches)
    if is_last:
        after = way.after(chain[-1])
        known += len(tuple(takewhile(lambda stretch: stretch.end is not None, after[:-1])))
        stretches.extend(after)
    beginning = way.beginning(chain[0])
    laid = lay(beginning, stretches, way.capacity, expected)
    distances = (beginning[-1].distance(beginning[-1].end), *laid.ends)
    points = [Point(on=way.marks[chain[0]].on, distance=distances[0])]
    driven: list[Driven] = []
    for stretch, before, distance in zip(stretches[:known], distances, laid.ends, strict=False):
        if stretch.end is None:
            continue
        point = Point(on=stretch.ends, distance=distance)
        if point != points[-1]:
            points.append(point)
        if stretch.begins < stretch.ends:
            run = Distance(distance - before)
            driven.append(Driven(first=stretch.begins, last=stretch.ends, distance=run))
    return _Count(
        distances=tuple(distances[arrival] for arrival in arrivals),
        pieces=laid.pieces,
        points=tuple(points),
        driven=tuple(driven),
        notes=laid.notes,
    )
