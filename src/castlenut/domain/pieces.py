"""True distance piece by piece: over each piece it grows with the dial by one factor."""

from collections.abc import Callable, Sequence
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

    def figure_at(self, distance: Distance) -> Shown:
        """Give the figure at a true distance to a thousandth, as if the dial had no end."""
        return Shown(Decimal(str(round(self.shown(distance), 3))))

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


Expected = Callable[[date, date], float]
"""How far a car is thought to be driven between two mornings; only ratios mean anything."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorSplit:
    """The factor changed between two readings: the distance shown was split at that day.

    `by_use`: by how the car is used, its season counted in; else by days.
    """

    record: RecordId
    on: date
    by_use: bool = False


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


def lay(
    first: Sequence[Piece],
    stretches: Sequence[Stretch],
    capacity: Decimal,
    expected: Expected | None = None,
) -> Laid:
    """Lay stretches end to end after the `first` pieces, of which the last ends where they begin.

    What the dial did not tell is counted at the mean of what it told, by expected use; None, or
    where no use is expected: by days.
    """
    by = _Share(expected=expected)
    known = _laid(first, stretches, capacity, by, rate=0.0)
    if all(stretch.end is not None for stretch in stretches):
        return known
    told = sum(by.driving(each.begins, each.ends) for each in stretches if each.end is not None)
    run = known.ends[-1] - known.pieces[len(first) - 1].distance(first[-1].end)
    if told <= 0:
        by = _Share(expected=None)
        told = sum(by.driving(each.begins, each.ends) for each in stretches if each.end is not None)
    return _laid(first, stretches, capacity, by, rate=run / told if told > 0 else 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Share:
    """How a distance is shared out over days: by expected use, or evenly."""

    expected: Expected | None

    @property
    def by_use(self) -> bool:
        return self.expected is not None

    def driving(self, first: date, last: date) -> float:
        if self.expected is None:
            return float((last - first).days)
        return self.expected(first, last)

    def of(self, first: date, day: date, last: date) -> Fraction:
        """Give the share of the driving between two mornings that is done by a third."""
        if first == last:
            return Fraction(0)
        whole = self.driving(first, last)
        if self.expected is None or whole <= 0:
            return Fraction((day - first).days, (last - first).days)
        return Fraction(self.driving(first, day) / whole).limit_denominator(10**9)


def _laid(
    first: Sequence[Piece],
    stretches: Sequence[Stretch],
    capacity: Decimal,
    by: _Share,
    *,
    rate: float,
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
            estimate = Distance(rate * by.driving(stretch.begins, stretch.ends))
            notes.append(
                StretchEstimated(since=stretch.begins, until=stretch.ends, distance=estimate)
            )
            for cut in stretch.cuts:
                _cut(pieces, cut)
            distance = Distance(distance + estimate)
        else:
            notes.extend(_follow(pieces, stretch, run=run, capacity=capacity, by=by))
            distance = pieces[-1].distance(pieces[-1].end)
        ends.append(distance)
    return Laid(pieces=tuple(pieces), ends=tuple(ends), notes=tuple(notes))


def _follow(
    pieces: list[Piece], stretch: Stretch, *, run: Decimal, capacity: Decimal, by: _Share
) -> Sequence[Note]:
    """Follow the dial over a stretch whose end is known, and give what is to be said of it."""
    notes: list[Note] = []
    covered = max(run, Decimal(0))
    turns: list[tuple[Decimal, Cut | None]] = []
    for cut in stretch.cuts:
        share = by.of(stretch.begins, cut.on, stretch.ends)
        turns.append((covered * share.numerator / share.denominator, cut))
        if covered and stretch.begins < cut.on < stretch.ends:
            notes.append(FactorSplit(record=cut.record, on=cut.on, by_use=by.by_use))
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
