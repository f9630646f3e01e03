"""The room measured round a car's wheels: which of it holds for what is on now, what is left."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import TypeAlias

from castlenut.domain.car import Car
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId, RuleId
from castlenut.domain.place import Place, Spot, lies_in
from castlenut.domain.tires.axle import Axle, axle_of
from castlenut.domain.tires.room import EdgeChange, Gaps, RoomLeft, When, room_left
from castlenut.domain.tires.size import read_size
from castlenut.domain.wheels import Room

ALIGNMENT = "alignment"
SPACER = "spacer"

Set: TypeAlias = tuple[str, Decimal | None, Decimal | None, Decimal | None]
"""What room is measured for: the size, rim width, rim diameter and offset at a place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomHere:
    """Room measured at a place.

    `is_of_this_set`: what stands there now is of the size and on a wheel of the figures that stood
    there then. `aligned_since`: the day of an alignment after it was measured. `gaps` are less or
    more than what was measured where spacers came or went since.
    """

    room: Room
    gaps: Gaps
    is_of_this_set: bool
    aligned_since: date | None

    @property
    def is_to_measure_again(self) -> bool:
        """Tell whether it is asked for again: another set, or an alignment to come or since."""
        return (
            not self.is_of_this_set
            or self.aligned_since is not None
            or self.room.is_aligned is False
        )


def rooms_here(car: Car, *, alignment_rules: Collection[RuleId]) -> tuple[RoomHere, ...]:
    """Give the latest room measured at each place in each stance of the wheel.

    `alignment_rules` are those whose being done is an alignment.
    """
    latest: dict[tuple[Spot, str], Room] = {}
    for room in sorted(car.rooms, key=lambda each: (each.on, each.record)):
        latest[room.spot, room.when] = room
    aligned = _alignments(car, alignment_rules)
    found = []
    for room in latest.values():
        after = [day for day in aligned if day > room.on]
        then = set_at(car, room.spot, on=room.on, entered=room.record)
        # a spacer moves the tire outward
        spacer = spacer_at(car, room.spot) - spacer_at(
            car, room.spot, on=room.on, entered=room.record
        )
        found.append(
            RoomHere(
                room=room,
                gaps=Gaps(
                    inner_mm=float(room.inner_mm) + spacer,
                    outer_mm=None if room.outer_mm is None else float(room.outer_mm) - spacer,
                    when=When(room.when),
                ),
                is_of_this_set=then is not None and then == set_at(car, room.spot),
                aligned_since=min(after, default=None),
            )
        )
    return tuple(found)


def set_at(
    car: Car, spot: Spot, *, on: date | None = None, entered: RecordId | None = None
) -> Set | None:
    """Give what stood at a place on a day, or stands there now; None without a tire.

    Of what was put there that very day counts what was entered before the record `entered`.
    """
    tires: dict[RecordId, Spot | None] = {}
    wheels: dict[RecordId, Spot | None] = {}
    for each in car.placements:
        if not _was_there(each.on, each.record, on, entered):
            continue
        for record, stands in ((each.tire, tires), (each.wheel, wheels)):
            if record is not None:
                stands.pop(record, None)
                stands[record] = each.spot
    tire = _last_at(tires, spot)
    wheel = _last_at(wheels, spot)
    size = next((each.size for each in car.tires if each.record == tire), None)
    if size is None:
        return None
    here = next((each for each in car.wheels if each.record == wheel), None)
    if here is None:
        return _key(size), None, None, None
    return _key(size), here.rim_width_in, here.rim_diameter_in, here.offset_mm


def _last_at(stands: Mapping[RecordId, Spot | None], spot: Spot) -> RecordId | None:
    there = [record for record, at in stands.items() if at is spot]
    return there[-1] if there else None


def _key(size: str) -> str:
    try:
        return read_size(size).key
    except BadInput:
        # compared as it stands; that it cannot be read is told where the tire is
        return size.casefold().replace(" ", "")


def _was_there(
    since: date | None, record: RecordId, on: date | None, entered: RecordId | None
) -> bool:
    if on is None or since is None or since < on:
        return True
    return since == on and (entered is None or record < entered)


def spacer_at(
    car: Car, spot: Spot, *, on: date | None = None, entered: RecordId | None = None
) -> float:
    """Give how thick the spacers are at a place on a day, or now; one of no thickness counts 0."""
    total = 0.0
    for part in car.components:
        if part.kind != SPACER or part.is_on_shelf or not lies_in(Place(spot), part.place):
            continue
        has_come = _was_there(part.on, part.record, on, entered)
        has_gone = part.removed_on is not None and (on is None or part.removed_on <= on)
        if has_come and not has_gone:
            total += _thickness(part.attributes.get("thickness", ""))
    return total


def _thickness(text: str) -> float:
    try:
        figure = Decimal(text.strip().lower().removesuffix("mm").strip())
    except InvalidOperation:
        return 0.0
    return float(figure) if figure.is_finite() else 0.0


def _alignments(car: Car, rules: Collection[RuleId]) -> Sequence[date]:
    done = [job.on for job in car.jobs if any(item.rule in rules for item in job.items)]
    fitted = [part.on for part in car.components if part.kind == ALIGNMENT and part.on is not None]
    return sorted({*done, *fitted})


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftHere:
    """What is left of the room at a place if an axle is shod otherwise."""

    here: RoomHere
    left: RoomLeft


def left_on(axle: Axle, rooms: Sequence[RoomHere], change: EdgeChange) -> tuple[LeftHere, ...]:
    """Give what is left at each place of an axle, in each stance that was measured.

    Room of another set than is on now tells nothing and is left out.
    """
    return tuple(
        LeftHere(here=each, left=room_left(each.gaps, change))
        for each in rooms
        if each.is_of_this_set and each.room.spot is not Spot.SP and axle_of(each.room.spot) is axle
    )


def tightest(found: Sequence[LeftHere]) -> tuple[float, float | None] | None:
    """Give the least that is left inside and outside; None where nothing was measured."""
    if not found:
        return None
    outer = [each.left.outer_mm for each in found if each.left.outer_mm is not None]
    return min(each.left.inner_mm for each in found), min(outer, default=None)


def not_at_full_lock(found: Sequence[LeftHere]) -> Iterator[Spot]:
    """Give the front places at which room was measured, but not at full lock."""
    locked = {each.here.room.spot for each in found if each.left.is_full_lock}
    seen: set[Spot] = set()
    for each in found:
        spot = each.here.room.spot
        if axle_of(spot) is Axle.FRONT and spot not in locked and spot not in seen:
            seen.add(spot)
            yield spot
