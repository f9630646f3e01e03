"""How far a part had run when it was measured: a car's part as far as the car, a tire as it rolled.

A tire that lay in the trunk or in the shed did not wear.
"""

from castlenut.domain.component import Origin
from castlenut.domain.place import Spot
from castlenut.domain.sides import Subject
from castlenut.domain.tires.stints import Stint, came_new, placements_of, run, stints
from castlenut.domain.units import Distance


def began_at(this: Subject) -> Distance | None:
    """Give the car's true distance at which the part was new; None is not known."""
    if this.component.origin is not Origin.TIRE:
        return None if this.fitted is None else this.fitted.distance
    course = _course(this)
    return course[0].since if course and came_new(course[0]) else None


def run_at(distance: Distance, this: Subject) -> float:
    """Give how far the part had run when the car had run so far."""
    if this.component.origin is not Origin.TIRE:
        return distance
    return run(_course(this), until=distance).on_road


def reached_at(ran: float, this: Subject) -> float | None:
    """Give the car's true distance at which the part will have run so far.

    None for a tire that does not roll now.
    """
    if this.component.origin is not Origin.TIRE:
        return ran
    now = this.ground.distance_today
    if now is None or this.at is None or this.at.spot is Spot.SP:
        return None
    return now.p50 + ran - run_at(now.p50, this)


def _course(this: Subject) -> tuple[Stint, ...]:
    record, ground = this.component.record, this.ground
    return stints(placements_of(record, ground.car.placements), ground)
