"""What a change of tire size does to the dial: a factor offered, never applied by itself."""

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from castlenut.domain.car import Car
from castlenut.domain.dial import FactorFrom
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot
from castlenut.domain.tires.geometry import diameter_mm
from castlenut.domain.tires.size import Size, read_size
from castlenut.domain.vehicle import Drive

_SAME = 1e-4
"""Factors this near each other are one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorOffered:
    """True over shown distance with the tires now on, from the day they were fitted.

    `was` is the size the dial was made for (`is_calibrated`), or else the size before.
    """

    factor: float
    was: Size
    size: Size
    since: date | None
    is_calibrated: bool


def factor_offered(car: Car) -> FactorOffered | None:
    """Give the factor that follows from the size on the wheels that drive the dial.

    Those are the front ones on front-wheel drive, else the rear ones. None where the size is the
    same, a diameter is not known, both tires are not of one size, or the factor is recorded since.
    """
    days = _by_day(car)
    size = days[-1][1] if days else None
    if size is None:
        return None
    begun = len(days) - 1
    while begun and (earlier := days[begun - 1][1]) is not None and earlier.key == size.key:
        begun -= 1
    since = days[begun][0]
    was = _calibrated(car)
    is_calibrated = was is not None
    if was is None:
        was = next((each for _, each in reversed(days[:begun]) if each is not None), None)
    across, before_across = _across(size), _across(was)
    if was is None or across is None or before_across is None:
        return None
    factor = across / before_across
    if abs(factor - 1) < _SAME or _is_recorded(car, factor, since):
        return None
    return FactorOffered(
        factor=factor, was=was, size=size, since=since, is_calibrated=is_calibrated
    )


def _driving(car: Car) -> frozenset[Spot]:
    if car.vehicle.drive is Drive.FRONT:
        return frozenset({Spot.LF, Spot.RF})
    return frozenset(
        {Spot.LRO, Spot.LRI, Spot.RRI, Spot.RRO} if car.vehicle.dual else {Spot.LR, Spot.RR}
    )


def _by_day(car: Car) -> Sequence[tuple[date | None, Size | None]]:
    """Give the size on the wheels that drive the dial at the end of each day of placements.

    None where one of them has no tire, or they are not of one size.
    """
    spots, stands = _driving(car), dict[RecordId, Spot | None]()
    found: list[tuple[date | None, Size | None]] = []
    for day, placements in groupby(car.placements, key=lambda each: each.on):
        for each in placements:
            if each.tire is not None:
                stands[each.tire] = each.spot
        here = {spot: _size(car, tire) for tire, spot in stands.items() if spot in spots}
        keys = {None if size is None else size.key for size in here.values()}
        is_one = len(here) == len(spots) and len(keys) == 1
        found.append((day, next(iter(here.values())) if is_one else None))
    return found


def _size(car: Car, tire: RecordId) -> Size | None:
    text = next((each.size for each in car.tires if each.record == tire), None)
    return None if text is None else _read(text)


def _calibrated(car: Car) -> Size | None:
    text = car.vehicle.calibrated_size
    return None if text is None else _read(text)


def _read(text: str) -> Size | None:
    try:
        return read_size(text)
    except BadInput:
        # told where the size stands; here it only means that nothing follows from it
        return None


def _across(size: Size | None) -> float | None:
    return None if size is None else diameter_mm(size)


def _is_recorded(car: Car, factor: float, since: date | None) -> bool:
    """Tell whether a factor was recorded since these tires are on, or one of this very value."""
    return any(
        abs(float(each.factor) - factor) < _SAME or (since is not None and each.on >= since)
        for each in car.dial_events
        if isinstance(each, FactorFrom)
    )
