"""The true distance between two readings, taken apart: one leg for each dial and each factor."""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from itertools import pairwise

from castlenut.domain.frozen import dataclass
from castlenut.domain.odometer import Odometer, Placed
from castlenut.domain.pieces import Begins, Piece
from castlenut.domain.units import Distance, Shown

_NOISE = 1e-6  # of a distance that was computed: less than any dial shows


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A part of the way: `distance` is what the dial showed between `begin` and `end` by `factor`.

    `begins` and `since`: why and from which day on, where the leg begins with another dial, another
    factor, or past the dial's end. Without figures nobody read the dial: an estimate.
    """

    begin: Shown | None
    end: Shown | None
    factor: Fraction
    distance: Distance
    begins: Begins | None
    since: date | None


def legs(odometer: Odometer) -> Iterator[tuple[Placed, tuple[Leg, ...]]]:
    """Give the sound readings in order, each with the legs from the one before it."""
    before: Distance | None = None
    for placed in odometer.sound:
        if placed.distance is None:
            continue
        yield placed, () if before is None else tuple(_legs(odometer, before, placed.distance))
        before = placed.distance


def _legs(odometer: Odometer, begin: Distance, end: Distance) -> Iterator[Leg]:
    pieces = odometer.pieces
    for piece, following in pairwise((*pieces, None)):
        if piece is None:
            continue
        last = piece.distance(piece.end) if following else max(end, piece.distance(piece.end))
        first, last = max(begin, piece.at if piece is not pieces[0] else begin), min(end, last)
        is_begun = piece is not pieces[0] and begin - _NOISE <= piece.at
        if last > first + _NOISE:
            yield _leg(piece, Distance(first), Distance(last), is_begun=is_begun)
        if following is not None:
            gap = min(end, following.at) - max(begin, piece.distance(piece.end))
            if gap > _NOISE:
                yield Leg(
                    begin=None,
                    end=None,
                    factor=piece.factor,
                    distance=Distance(gap),
                    begins=None,
                    since=None,
                )


def _leg(piece: Piece, first: Distance, last: Distance, *, is_begun: bool) -> Leg:
    return Leg(
        begin=piece.figure_at(first),
        end=piece.figure_at(last),
        factor=piece.factor,
        distance=Distance(last - first),
        begins=piece.begins if is_begun else None,
        since=piece.since if is_begun else None,
    )
