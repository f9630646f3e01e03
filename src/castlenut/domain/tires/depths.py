"""Tread measured on the tires of a car: what was found last, and the looks that wear is told by."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal

from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.happenings import Measurement
from castlenut.domain.ids import RecordId
from castlenut.domain.measures import MM, THIRTY_SECOND, in_unit
from castlenut.domain.place import Place, Spot, lies_in
from castlenut.domain.tires.rotation.tread import USUAL_RESOLUTION_MM, Look
from castlenut.domain.tires.stints import Stint, came_new
from castlenut.domain.units import Distance
from castlenut.domain.wheels import Tire

MEASURE = "tread_depth"


@dataclass(frozen=True, slots=True, kw_only=True)
class Depths:
    """What was measured of one tire: one to three grooves, outer, middle, inner.

    `values` are as entered, in `unit`. `distance` is the true one, None where it is not known.
    `is_new`: nobody measured it, it is the depth of the new tire at its fitting.
    """

    record: RecordId
    values: tuple[Decimal, ...]
    unit: str
    mm: tuple[float, ...]
    on: date | None
    at: Decimal | None
    distance: Distance | None
    resolution_mm: float
    is_new: bool = False

    @property
    def thinnest_mm(self) -> float:
        """Give the depth of the thinnest groove."""
        return min(self.mm)


def new_depth_mm(tire: Tire) -> float | None:
    """Give how deep a tire was when new; None where it is not recorded."""
    if tire.new_depth is None:
        return None
    depth = in_unit(*tire.new_depth, MM)
    return None if depth is None else float(depth)


def depths_of(tire: Tire, course: Sequence[Stint], ground: Ground) -> tuple[Depths, ...]:
    """Give all measurements of one tire, the earliest first, wherever it stood then.

    One that names a tire is of that tire; one of a place is of the tire that stood there that day.
    """
    found = [
        depths
        for each in ground.measured.get(MEASURE, ())
        if _is_of(each, tire, course) and (depths := _depths(each, ground)) is not None
    ]
    return tuple(sorted(found, key=lambda each: (each.on or date.min, each.record)))


def _is_of(measurement: Measurement, tire: Tire, course: Sequence[Stint]) -> bool:
    if measurement.item is not None:
        return measurement.item.component == tire.record
    stood: Spot | None = None
    for stint in course:
        if stint.placement.on is None or stint.placement.on <= measurement.on:
            stood = stint.spot
    return stood is not None and lies_in(Place(stood), measurement.place)


def _depths(measurement: Measurement, ground: Ground) -> Depths | None:
    unit = measurement.unit or THIRTY_SECOND
    mm = [depth for each in measurement.values if (depth := in_unit(each, unit, MM)) is not None]
    if not mm or len(mm) < len(measurement.values):
        return None
    step = measurement.resolution
    resolution = None if step is None else in_unit(step, unit, MM)
    return Depths(
        record=measurement.record,
        values=measurement.values,
        unit=unit,
        mm=tuple(map(float, mm)),
        on=measurement.on,
        at=measurement.at,
        distance=ground.distance_of(measurement.at, measurement.on),
        resolution_mm=USUAL_RESOLUTION_MM if resolution is None else float(resolution),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A tire with its course and measurements."""

    tire: Tire
    course: tuple[Stint, ...]
    depths: tuple[Depths, ...]


@dataclass(frozen=True, slots=True)
class _Measured:
    """One depth of one tire at a distance."""

    distance: float
    tire: RecordId
    mm: tuple[float, ...]
    resolution_mm: float


def looks(seen: Sequence[Seen]) -> tuple[Look, ...]:
    """Give the looks that the record holds, from all tires, the earliest first.

    There is one at every distance at which a tire was placed or measured. The new depth at the
    fitting counts as a measurement. What has no distance is left out, and a tire counts as standing
    where it stood from the first on.
    """
    measured = [each for one in seen for each in _measured(one)]
    placed = [stint.since for one in seen for stint in one.course if stint.since is not None]
    distances = sorted({round(each, 6) for each in (*placed, *(m.distance for m in measured))})
    return tuple(
        _look(at, seen, [each for each in measured if round(each.distance, 6) == at])
        for at in distances
    )


def as_new(tire: Tire, course: Sequence[Stint]) -> Depths | None:
    """Give the depth of a tire at its fitting; None for one that was found on the car."""
    new = new_depth_mm(tire)
    first = course[0] if course else None
    if new is None or tire.new_depth is None or first is None or not came_new(first):
        return None
    value, unit = tire.new_depth
    step = in_unit(Decimal(1), unit, MM) if unit == THIRTY_SECOND else None
    return Depths(
        record=tire.record,
        values=(value,),
        unit=unit,
        mm=(new,),
        on=first.placement.on,
        at=first.placement.at,
        distance=first.since,
        resolution_mm=USUAL_RESOLUTION_MM if step is None else float(step),
        is_new=True,
    )


def _measured(one: Seen) -> Iterator[_Measured]:
    new = as_new(one.tire, one.course)
    for each in (*((new,) if new is not None else ()), *one.depths):
        if each.distance is not None:
            yield _Measured(each.distance, one.tire.record, each.mm, each.resolution_mm)


def _look(at: float, seen: Sequence[Seen], measured: Sequence[_Measured]) -> Look:
    depths: Mapping[str, tuple[float, ...]] = {each.tire: each.mm for each in measured}
    return Look(
        at=at,
        places={
            one.tire.record: spot for one in seen if (spot := _stood(one.course, at)) is not None
        },
        depths_mm=depths,
        resolution_mm=max((each.resolution_mm for each in measured), default=USUAL_RESOLUTION_MM),
    )


def _stood(course: Sequence[Stint], at: float) -> Spot | None:
    """Give where a tire stood from a distance on; one of unknown distance counts from before."""
    stood: Spot | None = None
    for stint in course:
        if stint.since is None or round(stint.since, 6) <= at:
            stood = stint.spot
    return stood
