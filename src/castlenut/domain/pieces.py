"""True distance piece by piece: over each piece it grows with the dial by one factor."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import RecordId
from castlenut.domain.units import Distance, Shown


class Begins(Enum):
    """Why a piece begins."""

    FIRST = "first"
    ROLLED_OVER = "rolled over"
    REPLACED = "replaced"
    FACTOR = "factor"
    READ_LOWER = "read lower"  # by less than one: tenths lost, or rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A run of the dial with one factor, true distance per shown distance.

    `since` and `until` are the first and last day on which it may be in force (None: from the
    beginning, still); around an unseen rollover two pieces share their days. At the figure `start`
    the true distance is `at`; the first piece goes on below it. `end` is the figure it ends with,
    in the last piece the one read last.
    """

    since: date | None
    until: date | None
    start: Shown
    end: Shown
    at: Distance
    factor: Fraction
    begins: Begins

    def distance(self, shown: Decimal) -> Distance:
        """Give the true distance at a figure, also outside the piece."""
        return Distance(self.at + float(shown - self.start) * self._factor)

    def shown(self, distance: Distance) -> float:
        """Give the figure at a true distance, as if the dial had no end."""
        return float(self.start) + (distance - self.at) / self._factor

    @property
    def _factor(self) -> float:
        # float() of a fraction takes four times as long, and this is asked some ten times an item
        return self.factor.numerator / self.factor.denominator


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """Another factor from a day on."""

    record: RecordId
    on: date
    factor: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One dial between two figures known of it; `end` None: nobody knows what it showed last.

    `fresh`: it begins with a new dial. `wraps`: how often the dial passed its end. `cuts` are in
    order of their days.
    """

    begins: date
    ends: date
    start: Decimal
    end: Decimal | None
    fresh: bool = False
    wraps: int = 0
    cuts: tuple[Cut, ...] = ()

    def run(self, capacity: Decimal) -> Decimal | None:
        """Give the distance shown over the stretch, less than 0 where the dial was read lower."""
        return None if self.end is None else self.end - self.start + self.wraps * capacity


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorSplit:
    """The factor changed between two readings: the distance shown was split by days."""

    record: RecordId
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class StretchEstimated:
    """Nobody knows what a dial showed last: the distance since the last reading is an estimate.

    It is the mean of the stretches that are known, and 0 where none is.
    """

    since: date
    until: date
    distance: Distance


Note = FactorSplit | StretchEstimated


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A day, in the morning, on which the true distance is known."""

    on: date
    distance: Distance


@dataclass(frozen=True, slots=True, kw_only=True)
class Driven:
    """A true distance that was read, between two mornings, the second at least a day later."""

    first: date
    last: date
    distance: Distance


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Stretches laid end to end; `ends` has the true distance at the end of each."""

    pieces: tuple[Piece, ...]
    ends: tuple[Distance, ...]
    notes: tuple[Note, ...]


def lay(first: Sequence[Piece], stretches: Sequence[Stretch], capacity: Decimal) -> Laid:
    """Lay stretches end to end after the `first` pieces, of which the last ends where they begin.

    What the dial did not tell is counted at the mean of what it told.
    """
    if all(stretch.end is not None for stretch in stretches):
        return _laid(first, stretches, capacity, a_day=0.0)
    known = _laid(first, stretches, capacity, a_day=0.0)
    days = sum((each.ends - each.begins).days for each in stretches if each.end is not None)
    run = known.ends[-1] - known.pieces[len(first) - 1].distance(first[-1].end)
    return _laid(first, stretches, capacity, a_day=run / days if days else 0.0)


def _laid(
    first: Sequence[Piece], stretches: Sequence[Stretch], capacity: Decimal, *, a_day: float
) -> Laid:
    pieces = list(first)
    ends: list[Distance] = []
    notes: list[Note] = []
    distance = pieces[-1].distance(pieces[-1].end)
    for stretch in stretches:
        if stretch.fresh:
            _begin(pieces, Begins.REPLACED, since=stretch.begins, start=stretch.start, at=distance)
        run = stretch.run(capacity)
        if run is None:
            days = (stretch.ends - stretch.begins).days
            estimate = Distance(a_day * days)
            notes.append(
                StretchEstimated(since=stretch.begins, until=stretch.ends, distance=estimate)
            )
            for cut in stretch.cuts:
                _cut(pieces, cut)
            distance = Distance(distance + estimate)
        else:
            notes.extend(_follow(pieces, stretch, run=run, capacity=capacity))
            distance = pieces[-1].distance(pieces[-1].end)
        ends.append(distance)
    return Laid(pieces=tuple(pieces), ends=tuple(ends), notes=tuple(notes))


def _follow(
    pieces: list[Piece], stretch: Stretch, *, run: Decimal, capacity: Decimal
) -> Sequence[Note]:
    """Follow the dial over a stretch whose end is known, and give what is to be said of it."""
    notes: list[Note] = []
    covered = max(run, Decimal(0))
    days = (stretch.ends - stretch.begins).days
    turns: list[tuple[Decimal, Cut | None]] = []
    for cut in stretch.cuts:
        passed = (cut.on - stretch.begins).days
        turns.append((covered * passed / days if days else Decimal(0), cut))
        if covered and 0 < passed < days:
            notes.append(FactorSplit(record=cut.record, on=cut.on))
    turns.extend((capacity * (wrap + 1) - stretch.start, None) for wrap in range(stretch.wraps))
    wrapped = 0
    for covered_there, turn in sorted(turns, key=lambda each: each[0]):
        figure = stretch.start + covered_there - wrapped * capacity
        pieces[-1] = replace(pieces[-1], end=Shown(figure))
        if turn is not None:
            _cut(pieces, turn)
            continue
        wrapped += 1
        at = pieces[-1].distance(figure)
        _begin(pieces, Begins.ROLLED_OVER, since=stretch.begins, start=Decimal(0), at=at)
        # the day of the rollover is not known: either piece may be in force until the next reading
        pieces[-2] = replace(pieces[-2], until=stretch.ends)
    end = Shown(stretch.start + run - stretch.wraps * capacity)
    if run < 0:
        at = pieces[-1].distance(pieces[-1].end)
        _begin(pieces, Begins.READ_LOWER, since=stretch.ends, start=end, at=at)
    else:
        pieces[-1] = replace(pieces[-1], end=end)
    return notes


def _cut(pieces: list[Piece], cut: Cut) -> None:
    """Begin a piece with another factor where the last one ends."""
    last = pieces[-1]
    at = last.distance(last.end)
    _begin(pieces, Begins.FACTOR, since=cut.on, start=last.end, at=at)
    pieces[-1] = replace(pieces[-1], factor=cut.factor)


def _begin(
    pieces: list[Piece], begins: Begins, *, since: date, start: Decimal, at: Distance
) -> None:
    """End the last piece and begin another one, with the same factor."""
    pieces[-1] = replace(pieces[-1], until=since)
    pieces.append(
        Piece(
            since=since,
            until=None,
            start=Shown(start),
            end=Shown(start),
            at=at,
            factor=pieces[-1].factor,
            begins=begins,
        )
    )
