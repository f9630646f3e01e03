"""What a change of tire size does to the dial: a factor offered, never applied by itself."""

from collections.abc import Sequence
from datetime import date

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
    spots = _driving(car)
    now = [_last_at(car, spot, len(car.placements)) for spot in spots]
    sizes = {car_size.key for each in now if each is not None and (car_size := _size(car, each[1]))}
    if None in now or len(sizes) != 1:
        return None
    here = [each for each in now if each is not None]
    size = _size(car, here[0][1])
    first = min(_since(car, here, sizes))
    since = car.placements[first].on
    was = _calibrated(car)
    is_calibrated = was is not None
    if was is None:
        before = [_last_at(car, spot, first) for spot in spots]
        was = next((_size(car, each[1]) for each in before if each is not None), None)
    across, before_across = _across(size), _across(was)
    if size is None or was is None or across is None or before_across is None:
        return None
    factor = across / before_across
    if abs(factor - 1) < _SAME or _is_recorded(car, factor, since):
        return None
    return FactorOffered(
        factor=factor, was=was, size=size, since=since, is_calibrated=is_calibrated
    )


def _driving(car: Car) -> Sequence[Spot]:
    if car.vehicle.drive is Drive.FRONT:
        return (Spot.LF, Spot.RF)
    return (Spot.LRO, Spot.RRO) if car.vehicle.dual else (Spot.LR, Spot.RR)


def _last_at(car: Car, spot: Spot, count: int) -> tuple[int, RecordId] | None:
    """Give the tire at a place after so many placements, with the number of the one that put it."""
    stands: dict[RecordId, tuple[int, Spot | None]] = {}
    for number, each in enumerate(car.placements[:count]):
        if each.tire is not None:
            stands[each.tire] = (number, each.spot)
    found = [(number, tire) for tire, (number, at) in stands.items() if at is spot]
    return max(found, default=None)


def _since(car: Car, here: Sequence[tuple[int, RecordId]], sizes: set[str]) -> Sequence[int]:
    """Give the numbers of the placements since which each place carries this size."""
    found = []
    for number, _ in here:
        spot = car.placements[number].spot
        begun = number
        while spot is not None and (before := _last_at(car, spot, begun)) is not None:
            size = _size(car, before[1])
            if size is None or size.key not in sizes:
                break
            begun = before[0]
        found.append(begun)
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
