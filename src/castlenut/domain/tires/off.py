"""Tires and wheels that are off the car: where they stood last, and how far they ran."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from castlenut.domain.car import Car
from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot
from castlenut.domain.tires.depths import Depths, Seen
from castlenut.domain.tires.stints import Run, placements_of, run
from castlenut.domain.wheels import Placement, Tire, Wheel


@dataclass(frozen=True, slots=True, kw_only=True)
class OffTheCar:
    """A tire, a wheel, or one on the other, that is not on the car.

    `stood` is where it stood last; None: it was never on. `run` is that of the tire.
    """

    tire: Tire | None
    wheel: Wheel | None
    stood: Spot | None
    off_on: date | None
    off_at: Decimal | None
    depths: Depths | None
    run: Run | None


def off_the_car(car: Car, seen: Sequence[Seen], ground: Ground) -> tuple[OffTheCar, ...]:
    """Give the tires and wheels that are off the car, those that came off together as one."""
    by_wheel = {each.record: each for each in car.wheels}
    gone: dict[RecordId, tuple[Placement, ...]] = {}
    for wheel in car.wheels:
        placed = placements_of(wheel.record, car.placements)
        if not placed or placed[-1].spot is None:
            gone[wheel.record] = placed
    found: list[OffTheCar] = []
    until = None if ground.distance_today is None else ground.distance_today.p50
    for each in seen:
        if each.course and each.course[-1].spot is not None:
            continue
        last = each.course[-1].placement if each.course else None
        on: Wheel | None = None
        if last is not None and last.wheel is not None:
            gone_with = gone.get(last.wheel)
            if gone_with and gone_with[-1].record == last.record:
                on = by_wheel[last.wheel]
                del gone[last.wheel]
        found.append(
            OffTheCar(
                tire=each.tire,
                wheel=on,
                stood=_stood_last([stint.spot for stint in each.course]),
                off_on=last.on if last else None,
                off_at=last.at if last else None,
                depths=each.depths[-1] if each.depths else None,
                run=run(each.course, until=until),
            )
        )
    for record, placed in gone.items():
        last = placed[-1] if placed else None
        found.append(
            OffTheCar(
                tire=None,
                wheel=by_wheel[record],
                stood=_stood_last([each.spot for each in placed]),
                off_on=last.on if last else None,
                off_at=last.at if last else None,
                depths=None,
                run=None,
            )
        )
    return tuple(found)


def _stood_last(spots: Sequence[Spot | None]) -> Spot | None:
    return next((spot for spot in reversed(spots) if spot is not None), None)
