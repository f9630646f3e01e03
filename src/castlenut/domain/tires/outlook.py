"""What the tires on a car have before them: the plan from today's depths, with its band."""

from collections.abc import Mapping
from random import Random

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import SLACK_MM, CarWheels
from castlenut.domain.tires.axle import Axle, axle_of
from castlenut.domain.tires.prospect import MoveSet, Prospect, Stint, life_band, prospect
from castlenut.domain.tires.today import TiresToday


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """The plan of a set and how sure its life is: P10 and P90 with the schedule held fixed.

    `rates` are mm per 1,000 of distance by road place.
    """

    prospect: Prospect
    moves: MoveSet
    interval: float
    rates: Mapping[Spot, float]
    life_p10: float
    life_p90: float

    @property
    def next_move(self) -> Stint | None:
        """Give the first stint that begins with a move; None: the best is to leave all in place."""
        return next((stint for stint in self.prospect.stints if stint.moves), None)


def why_no_plan(tires: TiresToday) -> tuple[Fault, ...]:
    """Give what keeps a plan from being made; nothing where one can be."""
    faults = [
        Fault(f"there is no tire at {spot.value}", spot.value, "fit one first")
        for spot in tires.missing
    ]
    rules = tires.rules
    for each in tires.standing:
        if each.tire is None or each.spot is Spot.SP:
            continue
        if each.depths is None:
            faults.append(Fault("its tread is not measured", each.spot.value, "measure it first"))
        elif each.depths.thinnest_mm <= SLACK_MM + (
            rules.front_limit_mm if axle_of(each.spot) is Axle.FRONT else rules.limit_mm
        ):
            faults.append(
                Fault(
                    f"has {each.depths.thinnest_mm:.2g} mm: at the limit",
                    each.spot.value,
                    "renew it first",
                )
            )
    if tires.interval is None:
        faults.append(
            Fault(
                "no distance between rotations is in force",
                "rule tire-rotate",
                "give this car one with every=5k",
            )
        )
    return tuple(faults)


def plan_of(tires: TiresToday, *, moves: MoveSet = MoveSet.ANY, use_spare: bool = True) -> Outlook:
    """Plan the rotations of the set on the car from what was measured last.

    The band comes from draws seeded by the car's id: the same record gives the same band.

    Raises:
        BadInput: with everything that keeps a plan from being made.
    """
    faults = why_no_plan(tires)
    wheels, interval = tires.wheels, tires.interval
    if faults or wheels is None or interval is None:
        raise BadInput(*faults)
    rates = tires.rates
    wheels = _to_one_limit(wheels)
    found = prospect(wheels, rates, interval=interval, moves=moves, use_spare=use_spare)
    chance = Random(str(tires.car.id))  # noqa: S311 - draws of wear, no secret
    low, high = life_band(wheels, found, tires.wear, interval=interval, chance=chance)
    return Outlook(
        prospect=found,
        moves=moves,
        interval=interval,
        rates=rates,
        life_p10=low,
        life_p90=high,
    )


def _to_one_limit(wheels: CarWheels) -> CarWheels:
    """Give the wheels with one limit for all: the stricter of a heavy car, while all keep it.

    A plan wears a set to one depth. Where a tire of the rear is below the front's limit already it
    stays behind, and the rear's limit is planned to.
    """
    strict = max(wheels.limit_mm, wheels.front_limit_mm or 0.0)
    depths = [each.thinnest_mm for each in wheels.road if each.thinnest_mm is not None]
    if min(depths, default=0.0) <= strict + SLACK_MM:
        return wheels
    return replace(wheels, limit_mm=strict)
