"""The course of a dial: readings and events in one order, and what lies between two readings."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import accumulate, pairwise

from castlenut.domain.dial import DialEvent, FactorFrom, Replaced, RolledOver, in_order
from castlenut.domain.frozen import dataclass, field, replace
from castlenut.domain.ids import RecordId
from castlenut.domain.oddity import Verdict, is_possible, is_usual
from castlenut.domain.pieces import Begins, Cut, Piece, Stretch
from castlenut.domain.units import Distance, Shown, Unit

_LAST_FIFTH = Decimal("0.8")


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """What lies between two marks, and whether they fit each other."""

    verdict: Verdict
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Marks in order of time, and the events between them.

    `events` has those before each mark, and at its end those after the last one. `counts` is how
    many events come before each mark, `factors` what is in force at it. `origin` is the
    replacement that gave the first mark, if one did. `a_day` is the car's habit, None if unknown.
    `links` keeps those asked for: most are, once to tell whether they fit, and again to count.
    """

    unit: Unit
    capacity: Decimal
    origin: Replaced | None
    marks: tuple[Mark, ...]
    events: tuple[tuple[DialEvent, ...], ...]
    counts: tuple[int, ...]
    factors: tuple[Fraction, ...]
    a_day: float | None
    links: dict[tuple[int, int], Link] = field(default_factory=dict)

    def verdict(self, first: int, second: int) -> Verdict:
        """Tell whether two marks fit each other, whatever was read between them."""
        return self.link(first, second).verdict

    def link(self, first: int, second: int) -> Link:
        """Give what lies between two marks, whatever was read between them.

        A rollover that nobody told is counted where the former figure lies in the last fifth of
        the dial and the distance fits the car's habit. Where the later figure does not fit, its
        dial is taken for a new one whose predecessor's end nobody knows.
        """
        found = self.links.get((first, second))
        if found is None:
            found = self.links[first, second] = self._linked(first, second)
        return found

    def _linked(self, first: int, second: int) -> Link:
        begin, end = self.marks[first], self.marks[second]
        days = (end.on - begin.on).days
        factor = float(self.factors[first])
        verdict = Verdict.FITS
        stretches = self._told(first, second)
        run = 0.0
        for index, stretch in enumerate(stretches):
            shown = stretch.run(self.capacity)
            if shown is None:
                continue
            if shown <= -1:
                shown += self.capacity
                if stretch.start < _LAST_FIFTH * self.capacity or not is_usual(
                    float(shown), days=days, unit=self.unit, a_day=self.a_day
                ):
                    return Link(verdict=Verdict.FALLS, stretches=_as_new_dial(begin, end))
                verdict = Verdict.ROLLS
                stretches[index] = replace(stretch, wraps=1)
            run += max(float(shown), 0.0) * factor
        is_told = any(stretch.wraps for stretch in stretches) and verdict is Verdict.FITS
        if not is_told and not is_possible(run, days=days, unit=self.unit):
            if verdict is Verdict.ROLLS:
                return Link(verdict=Verdict.FALLS, stretches=_as_new_dial(begin, end))
            verdict = Verdict.TOO_FAST
        return Link(verdict=verdict, stretches=tuple(stretches))

    def _told(self, first: int, second: int) -> list[Stretch]:
        """Give the stretches between two marks as the record tells them."""
        begin, end = self.marks[first], self.marks[second]
        if self.counts[first] == self.counts[second]:
            return [Stretch(begins=begin.on, ends=end.on, start=begin.shown, end=end.shown)]
        between = [event for each in self.events[first + 1 : second + 1] for event in each]
        return _stretches(begin, sorted(between, key=in_order), end=end)

    def beginning(self) -> tuple[Piece, ...]:
        """Give the pieces up to the first mark; in the oldest, distance is what the dial showed."""
        first = self.marks[0]
        factor = self.factors[0]
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
        a_day=_habit(marks, before, unit=unit),
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


def _habit(
    marks: Sequence[Mark], before: Sequence[Sequence[DialEvent]], *, unit: Unit
) -> float | None:
    """Give the mean distance a day over neighbors that fit as they stand."""
    run, days = 0.0, 0
    for place, (one, other) in enumerate(pairwise(marks), start=1):
        shown = float(other.shown - one.shown)
        between = (other.on - one.on).days
        if not before[place] and shown >= 0 and is_possible(shown, days=between, unit=unit):
            run += shown
            days += between
    return run / days if days else None


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


def _as_new_dial(begin: Mark, end: Mark) -> tuple[Stretch, ...]:
    return (
        Stretch(begins=begin.on, ends=end.on, start=begin.shown, end=None),
        Stretch(begins=end.on, ends=end.on, start=end.shown, end=end.shown, fresh=True),
    )


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
