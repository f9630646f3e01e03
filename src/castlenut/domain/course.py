"""The course of a dial: readings and events in one order, and what lies between two readings."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from itertools import accumulate

from castlenut.domain.dial import DialEvent, FactorFrom, Replaced, RolledOver, in_order
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import RecordId
from castlenut.domain.pieces import Begins, Cut, Piece, Stretch
from castlenut.domain.units import Distance, Shown, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A figure the dial is said to have shown. `place` is its place among the readings.

    No place: the first figure of a new dial, told by the record of its replacement.
    """

    record: RecordId
    on: date
    shown: Shown
    judged: bool
    place: int | None


class Join(Enum):
    """How two marks of a dial belong together."""

    AS_TOLD = "as told"
    ROLLED = "rolled over"  # the dial passed its end, which nobody has told
    REPLACED = "replaced"  # another dial, which nobody has told: the old one's end is unknown


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the record tells of the true distance between two figures.

    `run` is None where the record says that nobody knows. `falls`: a dial shows less at the end of
    its stretch than at its beginning; `run` then has it passing its end once. `is_wrapped`: a
    rollover was told.
    """

    run: float | None
    falls: bool
    is_wrapped: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Marks in order of time, and the events between them.

    `events` has those before each mark, and at its end those after the last one. `counts` is how
    many events come before each mark, `factors` what is in force at it. `origin` is the
    replacement that gave the first mark, if one did.
    """

    unit: Unit
    capacity: Decimal
    origin: Replaced | None
    marks: tuple[Mark, ...]
    events: tuple[tuple[DialEvent, ...], ...]
    counts: tuple[int, ...]
    factors: tuple[Fraction, ...]

    def told(self, first: int, second: int, *, begin: Shown, end: Shown) -> Told:
        """Give what the record tells of the way between two marks, had they shown these figures."""
        factor = float(self.factors[first])
        if self.counts[first] == self.counts[second]:
            run = float(end - begin)
            if run <= -1:
                run += float(self.capacity)
                return Told(run=run * factor, falls=True, is_wrapped=False)
            return Told(run=max(run, 0.0) * factor, falls=False, is_wrapped=False)
        stretches = self._stretches(
            replace(self.marks[first], shown=begin),
            replace(self.marks[second], shown=end),
            first,
            second,
        )
        total = 0.0
        falls = False
        for stretch in stretches:
            shown = stretch.run(self.capacity)
            if shown is None:
                return Told(run=None, falls=False, is_wrapped=False)
            if shown <= -1:
                falls = True
                shown += self.capacity
            total += max(float(shown), 0.0) * factor
        return Told(run=total, falls=falls, is_wrapped=any(stretch.wraps for stretch in stretches))

    def has_other_dial(self, first: int, second: int) -> bool:
        """Tell whether the record tells of another dial between two marks."""
        return self.counts[first] != self.counts[second] and any(
            isinstance(event, Replaced)
            for each in self.events[first + 1 : second + 1]
            for event in each
        )

    def way(self, first: int, second: int, join: Join, wraps: int) -> tuple[Stretch, ...]:
        """Give what lies between two marks, whatever was read between them.

        `wraps` is how often the dial passed its end beside what was told.
        """
        begin, end = self.marks[first], self.marks[second]
        if join is Join.REPLACED:
            return (
                Stretch(begins=begin.on, ends=end.on, start=begin.shown, end=None),
                Stretch(begins=end.on, ends=end.on, start=end.shown, end=end.shown, fresh=True),
            )
        stretches = self._stretches(begin, end, first, second)
        if join is Join.ROLLED:
            falling = (
                place
                for place, stretch in enumerate(stretches)
                if (shown := stretch.run(self.capacity)) is not None and shown <= -1
            )
            place = next(falling, len(stretches) - 1)
            stretches[place] = replace(stretches[place], wraps=stretches[place].wraps + wraps)
        return tuple(stretches)

    def _stretches(self, begin: Mark, end: Mark, first: int, second: int) -> list[Stretch]:
        if self.counts[first] == self.counts[second]:
            return [Stretch(begins=begin.on, ends=end.on, start=begin.shown, end=end.shown)]
        between = [event for each in self.events[first + 1 : second + 1] for event in each]
        return _stretches(begin, sorted(between, key=in_order), end=end)

    def beginning(self, place: int = 0) -> tuple[Piece, ...]:
        """Give the pieces up to a mark; in the oldest, distance is what the dial showed."""
        first = self.marks[place]
        factor = self.factors[place]
        if place:
            return (_piece(first.on, first.shown, factor, begins=Begins.REPLACED),)
        if self.origin is not None and self.origin.last is None:
            return (_piece(first.on, first.shown, factor, begins=Begins.REPLACED),)
        told = first.shown if self.origin is None else Shown(self.origin.last or Decimal(0))
        rolled = [event for event in self.events[0] if isinstance(event, RolledOver)]
        if not rolled:
            return (_piece(None, told, factor, begins=Begins.FIRST),)
        oldest = _piece(None, Shown(self.capacity), factor, begins=Begins.FIRST)
        pieces = [replace(oldest, until=first.on)]
        for event in rolled:
            at = pieces[-1].distance(self.capacity)
            piece = _piece(event.on, Shown(Decimal(0)), factor, begins=Begins.ROLLED_OVER)
            pieces.append(replace(piece, until=first.on, end=Shown(self.capacity), at=at))
        pieces[-1] = replace(pieces[-1], until=None, end=told)
        return tuple(pieces)

    def after(self, last: int) -> Sequence[Stretch]:
        """Give what the record tells of the dial since a mark after which no reading is sound.

        The last stretch has no length: where the dial in force begins, or another factor. A
        rollover told is counted once a reading shows it.
        """
        events = [
            event
            for each in self.events[last + 1 :]
            for event in each
            if not isinstance(event, RolledOver)
        ]
        if not events:
            return ()
        stretches = _stretches(self.marks[last], sorted(events, key=in_order), end=None)
        return [
            replace(stretch, end=None)
            if stretch.end is not None and stretch.end - stretch.start <= -1
            else stretch
            for stretch in stretches
        ]


def course(
    marks: Sequence[Mark], events: Sequence[DialEvent], *, unit: Unit, capacity: Decimal
) -> Course:
    """Put at least one mark of readings, in order of time, and events into their order.

    A dial replaced before the first of them gives a mark of its own.
    """
    told = sorted(events, key=in_order)
    origin = next(
        (event for event in told if isinstance(event, Replaced) and event.on <= marks[0].on), None
    )
    if origin is not None:
        first = Mark(
            record=origin.record,
            on=origin.on,
            shown=Shown(origin.start),
            judged=True,
            place=None,
        )
        marks = (first, *marks)
    days = [mark.on for mark in marks]
    before: list[list[DialEvent]] = [[] for _ in range(len(marks) + 1)]
    for event in told:
        if event is not origin:
            before[_place(event, marks, days, has_origin=origin is not None)].append(event)
    factors: list[Fraction] = []
    factor = Fraction(1)
    for each in before[:-1]:
        for event in each:
            if isinstance(event, FactorFrom):
                factor = event.factor
        factors.append(factor)
    return Course(
        unit=unit,
        capacity=capacity,
        origin=origin,
        marks=tuple(marks),
        events=tuple(tuple(each) for each in before),
        counts=tuple(accumulate(len(each) for each in before[:-1])),
        factors=tuple(factors),
    )


def _place(
    event: DialEvent, marks: Sequence[Mark], days: Sequence[date], *, has_origin: bool
) -> int:
    """Give the place of the mark that an event comes before."""
    place = bisect_left(days, event.on)
    if isinstance(event, FactorFrom):
        return place
    if isinstance(event, RolledOver):
        last = min(bisect_right(days, event.on), len(marks) - 1)
        for later in range(max(place, 1), last + 1):
            if marks[later].shown - marks[later - 1].shown <= -1:
                return later
    if place == 0 and has_origin and event.on == days[0]:
        return 1  # the origin itself comes first on its day
    return place


def _stretches(begin: Mark, events: Sequence[DialEvent], *, end: Mark | None) -> list[Stretch]:
    """Divide what lies after a mark at each replacement of the dial."""
    stretches: list[Stretch] = []
    day, shown, fresh, wraps = begin.on, Decimal(begin.shown), False, 0
    cuts: list[Cut] = []
    for event in events:
        match event:
            case RolledOver():
                wraps += 1
            case FactorFrom(record=record, on=on, factor=factor):
                cuts.append(Cut(record=record, on=on, factor=factor))
            case Replaced(on=on, start=start, last=last):
                stretches.append(
                    Stretch(
                        begins=day,
                        ends=on,
                        start=shown,
                        end=last,
                        fresh=fresh,
                        wraps=wraps,
                        cuts=tuple(cuts),
                    )
                )
                day, shown, fresh, wraps, cuts = on, start, True, 0, []
    stretches.append(
        Stretch(
            begins=day,
            ends=day if end is None else end.on,
            start=shown,
            end=shown if end is None else end.shown,
            fresh=fresh,
            wraps=wraps,
            cuts=tuple(cuts),
        )
    )
    return stretches


def _piece(since: date | None, shown: Shown, factor: Fraction, *, begins: Begins) -> Piece:
    """Begin to count: here distance is what the dial shows."""
    return Piece(
        since=since,
        until=None,
        start=shown,
        end=shown,
        at=Distance(float(shown)),
        factor=factor,
        begins=begins,
    )
