"""What is said beside verdicts and never blocks."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.assembly import SLACK_MM, CarWheels
from castlenut.domain.tires.axle import Axle
from castlenut.domain.tires.legality import PatternVerdict
from castlenut.domain.tires.reasons import Code, Differs
from castlenut.domain.tires.rim import RimRange, rim_range
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleUneven:
    """The tires of an axle differ in this."""

    axle: Axle
    code: Code


@dataclass(frozen=True, slots=True, kw_only=True)
class NotAsStated:
    """An axle carries another size than is stated for it."""

    axle: Axle
    carries: tuple[str, ...]
    stated: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RoadTireOld:
    """A road tire is older than asked for: advice, no limit (4.40-4.44)."""

    tire: str
    years: float
    limit_years: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TreadsApart:
    """The road tires of an all-wheel drive differ by more than the limit now."""

    difference_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OffItsRims:
    """Taken off its rim a tire would stand on a rim outside what its size goes on."""

    tire: str
    rim_width_in: float
    takes: RimRange


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthOld:
    """Tires were measured long ago, at one time: more than 1,000 mi of driving."""

    tires: tuple[str, ...]
    ago: float
    unit: Unit
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckTube:
    """A radial on a spoked rim, which needs a tube: both must be marked for it (from memory)."""

    tire: str


Advice: TypeAlias = (
    AxleUneven | NotAsStated | RoadTireOld | TreadsApart | OffItsRims | DepthOld | CheckTube
)


def advice(wheels: CarWheels, patterns: Sequence[PatternVerdict]) -> tuple[Advice, ...]:
    """Give all that is to be said of a car's wheels beside the verdicts."""
    return tuple(
        dict.fromkeys([*_axles(wheels), *_ages(wheels), *_treads(wheels), *_rims(wheels, patterns)])
    )


def _axles(wheels: CarWheels) -> Iterator[Advice]:
    for axle in Axle:
        now = wheels.on(axle)
        sizes = {each.size.key for each in now if each.size is not None}
        traits = (
            (Code.SIZE, sizes),
            (Code.CONSTRUCTION, {each.construction for each in now} - {None}),
            (Code.RIM_WIDTH, {each.rim_width_in for each in now} - {None}),
            (Code.RIM_DIAMETER, {each.rim_diameter_in for each in now} - {None}),
            (Code.OFFSET, {each.offset_mm for each in now} - {None}),
        )
        for code, values in traits:
            if len(values) > 1:
                yield AxleUneven(axle=axle, code=code)
        stated = wheels.needs(axle).size
        if stated is not None and sizes - {stated.key}:
            yield NotAsStated(
                axle=axle, carries=tuple(sorted(sizes - {stated.key})), stated=stated.key
            )


def _ages(wheels: CarWheels) -> Iterator[Advice]:
    limit = wheels.max_age_years
    for each in wheels.road:
        if limit is not None and each.age_years is not None and each.age_years > limit:
            yield RoadTireOld(tire=each.id, years=each.age_years, limit_years=limit)


def _treads(wheels: CarWheels) -> Iterator[Advice]:
    depths = [each.thinnest_mm for each in wheels.road if each.thinnest_mm is not None]
    if wheels.drive is Drive.ALL and depths:
        difference = max(depths) - min(depths)
        if difference > wheels.max_difference_mm + SLACK_MM:
            yield TreadsApart(difference_mm=difference, limit_mm=wheels.max_difference_mm)


def _rims(wheels: CarWheels, patterns: Sequence[PatternVerdict]) -> Iterator[Advice]:
    by_id = {each.id: each for each in wheels.assemblies}
    for pattern in patterns:
        for reason in pattern.reasons if pattern.off_rim else ():
            size = by_id[reason.tire].size if reason.tire is not None else None
            takes = None if size is None else rim_range(size)
            if (
                reason.code is Code.RIM_WIDTH
                and isinstance(reason.detail, Differs)
                and isinstance(reason.detail.takes, float)
                and reason.tire is not None
                and takes is not None
                and not takes.holds(reason.detail.takes)
            ):
                yield OffItsRims(tire=reason.tire, rim_width_in=reason.detail.takes, takes=takes)
