"""Tires, wheels, where they stood and what room they have, as recorded.

What is marked stands here as it was read off; `domain/tires/` reads it.
"""

from datetime import date
from decimal import Decimal

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Tire:
    """A tire. What is not recorded is None.

    `construction` is bias, bias belted or radial, `tread` symmetric, asymmetric or directional.
    `new_depth` has its unit, mm or 1/32 in, beside it.
    """

    record: RecordId
    size: str
    construction: str | None = None
    service: str | None = None
    tin: str | None = None
    tread: str | None = None
    new_depth: tuple[Decimal, str] | None = None
    is_temporary: bool = False
    is_studded: bool = False
    make: str | None = None
    part: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wheel:
    """A wheel without its tire. What is not recorded is None."""

    record: RecordId
    rim_width_in: Decimal | None = None
    rim_diameter_in: Decimal | None = None
    offset_mm: Decimal | None = None
    type: str | None = None
    part: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A tire, a wheel, or one on the other, stood at a place from a day; None is off the car.

    `on` None: nobody knows since when. `at` is what the dial showed. `turns` is the side, left or
    right, on which the tire's arrow points forward.
    """

    record: RecordId
    tire: RecordId | None = None
    wheel: RecordId | None = None
    spot: Spot | None = None
    turns: str | None = None
    on: date | None = None
    at: Decimal | None = None
    job: RecordId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Gaps measured at a place on a day with the set then on; None was not measured.

    `when` is how the wheel stood: straight, full lock, bump, droop.
    """

    record: RecordId
    spot: Spot
    inner_mm: Decimal
    outer_mm: Decimal | None
    caliper_mm: Decimal | None
    when: str
    is_aligned: bool | None
    on: date


def turned(placements: tuple[Placement, ...], tire: RecordId) -> str | None:
    """Give the side a tire turns for after its placements, the earliest first.

    A wheel that moves takes its tire along as it is mounted; a tire that is mounted anew without
    saying how turns nobody knows which way.
    """
    turns: str | None = None
    for each in placements:
        if each.tire != tire:
            continue
        if each.turns is not None:
            turns = each.turns
        elif each.wheel is None and each.spot is not None:
            turns = None
    return turns
