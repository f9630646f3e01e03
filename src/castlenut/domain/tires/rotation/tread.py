"""Wear by place, from measurements of depth: what is usual before any, and what each one teaches.

Wear is taken as linear in distance. Real wear slows or quickens with depth; that is not modeled.
"""

from collections.abc import Mapping, Sequence
from enum import Enum
from itertools import pairwise
from math import sqrt
from random import Random
from typing import TypeAlias

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.place import CORNERS, Spot
from castlenut.domain.tires.rotation.wearing import SLACK_MM
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive

USUAL_RESOLUTION_MM = 0.1
LEAST_RATE = 0.01

# From memory: 6.4 mm in 40,000 mi, and how drives share it between front and rear.
_BASE = {Unit.MI: 0.16, Unit.KM: 0.10}
_FRONT_AND_REAR = {Drive.REAR: (0.95, 1.05), Drive.FRONT: (1.35, 0.65), Drive.ALL: (1.05, 0.95)}

_LEVEL, _SPLIT = 0.5, 0.25  # shares by which the level and the split are uncertain
_HAND_MM = 0.15  # error of one reading beside the gauge's own
_GREW_MM, _STOOD_SD, _OFF_SD = -0.3, 3.0, 4.0

_Vector: TypeAlias = tuple[float, ...]
_Matrix: TypeAlias = tuple[_Vector, ...]

_COLUMN = {
    Spot.LF: 0,
    Spot.RF: 1,
    Spot.LR: 2,
    Spot.RR: 3,
    Spot.LRO: 2,
    Spot.LRI: 2,
    Spot.RRI: 3,
    Spot.RRO: 3,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One time of measuring: where the tires stood from then on, and what was measured."""

    at: float
    places: Mapping[str, Spot]
    depths_mm: Mapping[str, tuple[float, ...]]
    resolution_mm: float = USUAL_RESOLUTION_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two neighboring measurements of one tire. `run` is thousands of distance by corner."""

    tire: str
    since: float
    until: float
    drop_mm: float
    run: _Vector
    error_mm: float


class Odd(Enum):
    """Why a pair is set aside."""

    GREW = "grew"
    WORE_STANDING = "wore standing"
    OFF = "off"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A pair that does not fit, left out until somebody says it is right."""

    pair: Pair
    why: Odd


@dataclass(frozen=True, slots=True, kw_only=True)
class WearRates:
    """Wear by corner (LF RF LR RR), mm per 1,000 of distance, with how uncertain it is.

    `learned_from` counts the pairs used: with none it is what is usual, not measured on this car.
    """

    rates: _Vector
    covariance: _Matrix
    learned_from: int
    set_aside: tuple[SetAside, ...]

    @property
    def deviations(self) -> _Vector:
        """Give the standard deviation of each rate."""
        return tuple(sqrt(row[place]) for place, row in enumerate(self.covariance))

    def draw(self, chance: Random) -> _Vector:
        """Draw rates that may as well be the true ones, none under 0.01."""
        root = _root(self.covariance)
        steps = [chance.gauss(0.0, 1.0) for _ in root]
        return tuple(
            max(LEAST_RATE, rate + sum(by * step for by, step in zip(row, steps, strict=True)))
            for rate, row in zip(self.rates, root, strict=True)
        )


def rate_at(rates: _Vector, spot: Spot) -> float:
    """Give the rate of a place: none for a spare, that of its side for dual wheels."""
    return 0.0 if spot is Spot.SP else rates[_COLUMN[spot]]


def usual_rates(drive: Drive, unit: Unit) -> _Vector:
    """Give wear by corner before anything was measured (from memory)."""
    front, rear = _FRONT_AND_REAR[drive]
    base = _BASE[unit]
    return (base * front, base * front, base * rear, base * rear)


def pairs(looks: Sequence[Look]) -> tuple[Pair, ...]:
    """Pair neighboring measurements of each tire; looks without it are skipped, their run counted.

    Raises:
        BadInput: looks whose distances do not rise.
    """
    if any(later.at <= earlier.at for earlier, later in pairwise(looks)):
        raise BadInput(
            Fault("does not rise in at", "history", "give the oldest first, each distance once")
        )
    tires = dict.fromkeys(tire for look in looks for tire in look.depths_mm)
    found: list[Pair] = []
    for tire in tires:
        measured = [number for number, look in enumerate(looks) if look.depths_mm.get(tire)]
        for first, second in pairwise(measured):
            earlier, later = looks[first], looks[second]
            run = [0.0] * len(CORNERS)
            for here, after in pairwise(looks[first : second + 1]):
                spot = here.places.get(tire, Spot.SP)
                if spot is not Spot.SP:
                    run[_COLUMN[spot]] += (after.at - here.at) / 1000
            found.append(
                Pair(
                    tire=tire,
                    since=earlier.at,
                    until=later.at,
                    drop_mm=min(earlier.depths_mm[tire]) - min(later.depths_mm[tire]),
                    run=tuple(run),
                    error_mm=sqrt(_error(earlier) ** 2 + _error(later) ** 2),
                )
            )
    return tuple(found)


def learned(usual: _Vector, measured: Sequence[Pair]) -> WearRates:
    """Give wear by corner as measurements correct what is usual.

    A pair that cannot be is set aside first: tread that grew, or wore without running. Then, worst
    first and one at a time, those that the fit of all others without them says are far off.
    """
    aside: list[SetAside] = []
    kept: list[Pair] = []
    for pair in measured:
        if pair.drop_mm < _GREW_MM - SLACK_MM:
            aside.append(SetAside(pair=pair, why=Odd.GREW))
        elif any(pair.run):
            kept.append(pair)
        elif abs(pair.drop_mm) > _STOOD_SD * pair.error_mm:
            aside.append(SetAside(pair=pair, why=Odd.WORE_STANDING))
    weighed = _weighed(usual, kept)
    while kept:
        off = [_off_by(weighed, pair) for pair in kept]
        if max(off) <= _OFF_SD:
            break
        worst = kept.pop(off.index(max(off)))
        aside.append(SetAside(pair=worst, why=Odd.OFF))
        weighed = _weighed(usual, kept)
    rates, covariance = _fit(*weighed)
    return WearRates(
        rates=tuple(max(LEAST_RATE, rate) for rate in rates),
        covariance=covariance,
        learned_from=len(kept),
        set_aside=tuple(aside),
    )


def _error(look: Look) -> float:
    return look.resolution_mm / sqrt(12) + _HAND_MM


def _off_by(weighed: tuple[_Matrix, _Vector], pair: Pair) -> float:
    """Give by how many deviations a pair is off what all others say."""
    rates, covariance = _fit(*_with(weighed, pair, weight=-1.0))
    expected = _product(pair.run, rates)
    spread = sum(
        one * _product(row, pair.run) for one, row in zip(pair.run, covariance, strict=True)
    )
    return abs(pair.drop_mm - expected) / sqrt(pair.error_mm**2 + spread)


def _weighed(usual: _Vector, kept: Sequence[Pair]) -> tuple[_Matrix, _Vector]:
    """Give what is usual and what was measured, each as heavy as it is certain."""
    places = range(len(usual))
    before = _inverse(
        tuple(
            tuple(
                usual[row] * usual[column] * (_LEVEL**2 + (row == column) * _SPLIT**2)
                for column in places
            )
            for row in places
        )
    )
    weighed = before, tuple(_product(row, usual) for row in before)
    for pair in kept:
        weighed = _with(weighed, pair)
    return weighed


def _with(
    weighed: tuple[_Matrix, _Vector], pair: Pair, *, weight: float = 1.0
) -> tuple[_Matrix, _Vector]:
    """Add a pair to what is known, or with a weight of -1 take it away again."""
    precision, sums = weighed
    weight /= pair.error_mm**2
    return (
        tuple(
            tuple(each + weight * one * other for each, other in zip(row, pair.run, strict=True))
            for row, one in zip(precision, pair.run, strict=True)
        ),
        tuple(each + weight * one * pair.drop_mm for each, one in zip(sums, pair.run, strict=True)),
    )


def _fit(precision: _Matrix, sums: _Vector) -> tuple[_Vector, _Matrix]:
    """Give the rates and their covariance."""
    covariance = _inverse(precision)
    return tuple(_product(row, sums) for row in covariance), covariance


def _product(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def _inverse(matrix: _Matrix) -> _Matrix:
    """Invert a symmetric matrix that is positive definite, so that no pivot is 0."""
    size = len(matrix)
    rows = [
        [*row, *(float(number == other) for other in range(size))]
        for number, row in enumerate(matrix)
    ]
    for number in range(size):
        pivot = rows[number][number]
        rows[number] = [each / pivot for each in rows[number]]
        for other in range(size):
            if other != number:
                factor = rows[other][number]
                rows[other] = [
                    each - factor * by for each, by in zip(rows[other], rows[number], strict=True)
                ]
    return tuple(tuple(row[size:]) for row in rows)


def _root(matrix: _Matrix) -> _Matrix:
    """Give the lower triangle whose square is the matrix (Cholesky)."""
    size = len(matrix)
    root = [[0.0] * size for _ in range(size)]
    for row in range(size):
        for column in range(row + 1):
            rest = matrix[row][column] - _product(root[row][:column], root[column][:column])
            root[row][column] = (
                sqrt(max(0.0, rest)) if row == column else rest / root[column][column]
            )
    return tuple(map(tuple, root))
