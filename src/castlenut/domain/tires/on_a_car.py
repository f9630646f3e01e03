"""Ways to shoe a car held against what it carries now, with the room measured round its wheels."""

from collections.abc import Collection, Sequence
from random import Random

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import RuleId
from castlenut.domain.place import Spot
from castlenut.domain.tires.after import fitment_of
from castlenut.domain.tires.axle import Axle, axle_of
from castlenut.domain.tires.comparison import USUAL_NEW_MM, Way, side_by_side
from castlenut.domain.tires.fitment import AxleFitment, Fitment
from castlenut.domain.tires.rim import section_width_mm
from castlenut.domain.tires.room import Gaps, Stance, widest
from castlenut.domain.tires.rooms import LeftHere, RoomHere, left_on, rooms_here
from castlenut.domain.tires.size import Size, read_size
from castlenut.domain.tires.today import TiresToday

NOW = "now"


@dataclass(frozen=True, slots=True, kw_only=True)
class OnACar:
    """Ways to shoe a car, the first being what it carries now.

    `widest` are the sizes that would fit all round on the wheels it has, the widest first; None
    where it does not stand on one size and one rim width all round. `is_new_depth_assumed`: that of
    the tires now on is not recorded.
    """

    tires: TiresToday
    ways: tuple[Way, ...]
    rooms: tuple[RoomHere, ...]
    widest: tuple[Size, ...] | None
    is_new_depth_assumed: bool


def present(tires: TiresToday) -> Fitment:
    """Give how a car is shod now.

    Raises:
        BadInput: a road tire is missing, a size is not read, or the two of an axle differ in it.
    """
    now = fitment_of(tires)
    if now is not None:
        return now
    faults = [
        Fault(f"no tire is recorded at {spot.value}", "fitment", "fit it, or ask without the car")
        for spot in tires.missing
    ]
    unread = [
        each.spot.value
        for each in tires.standing
        if each.tire is not None and each.spot is not Spot.SP and each.size is None
    ]
    faults.extend(
        Fault(f"the size at {spot} cannot be read", "fitment", "correct it, or ask without the car")
        for spot in unread
    )
    if not faults:
        faults.append(
            Fault(
                "the two tires of an axle differ in size: what the car carries is not one fitment",
                "fitment",
                "ask without the car",
            )
        )
    raise BadInput(*faults)


def like_now(axle: AxleFitment, now: AxleFitment, *, is_depth_given: bool) -> AxleFitment:
    """Give an axle as asked for; what was not asked for is as it is now: the same wheels.

    A size of another rim diameter takes other wheels: of those only what was given is known.
    """
    if axle.size.rim_in != now.size.rim_in:
        return replace(axle, new_depth_mm=axle.new_depth_mm if is_depth_given else now.new_depth_mm)
    return replace(
        axle,
        rim_width_in=now.rim_width_in if axle.rim_width_in is None else axle.rim_width_in,
        offset_mm=now.offset_mm if axle.offset_mm is None else axle.offset_mm,
        new_depth_mm=axle.new_depth_mm if is_depth_given else now.new_depth_mm,
    )


def on_a_car(
    tires: TiresToday,
    ways: Sequence[tuple[str, Fitment]],
    *,
    alignment_rules: Collection[RuleId],
) -> OnACar:
    """Hold ways to shoe a car against what it carries.

    A new depth that is not known is the usual one, for all alike. The band of lives comes from
    draws seeded by the car's id.

    Raises:
        BadInput: what it carries is not known, or not one fitment.
    """
    now = present(tires)
    rooms = rooms_here(tires.car, alignment_rules=alignment_rules)
    found = side_by_side(
        [(NOW, _deep(now)), *((name, _deep(way)) for name, way in ways)],
        now=now,
        drive=tires.driven,
        wear=tires.wear,
        chance=Random(str(tires.car.id)),  # noqa: S311 - draws of wear, no secret
        limit_mm=tires.rules.limit_mm,
        calibrated=_calibrated(tires),
    )
    return OnACar(
        tires=tires,
        ways=tuple(
            replace(
                way,
                front_left=_left(Axle.FRONT, way, rooms),
                rear_left=_left(Axle.REAR, way, rooms),
            )
            for way in found
        ),
        rooms=rooms,
        widest=_widest(now, rooms),
        is_new_depth_assumed=None in {now.front.new_depth_mm, now.rear.new_depth_mm},
    )


def _deep(way: Fitment) -> Fitment:
    front, rear = (
        replace(axle, new_depth_mm=USUAL_NEW_MM) if axle.new_depth_mm is None else axle
        for axle in (way.front, way.rear)
    )
    return replace(way, front=front, rear=rear)


def _left(axle: Axle, way: Way, rooms: Sequence[RoomHere]) -> tuple[LeftHere, ...]:
    compared = way.compared.front if axle is Axle.FRONT else way.compared.rear
    return () if compared.change is None else left_on(axle, rooms, compared.change)


def _calibrated(tires: TiresToday) -> Size | None:
    text = tires.car.vehicle.calibrated_size
    try:
        return None if text is None else read_size(text)
    except BadInput:
        # told where the vehicle is; the factor is then against what it carries
        return None


def _widest(now: Fitment, rooms: Sequence[RoomHere]) -> tuple[Size, ...] | None:
    rim = now.front.rim_width_in
    if rim is None or rim != now.rear.rim_width_in or now.front.size.key != now.rear.size.key:
        return None
    width = section_width_mm(now.front.size, rim_width_in=rim)
    if width is None:
        return None
    places: list[tuple[Stance, Gaps]] = []
    for each in rooms:
        if not each.is_of_this_set or each.room.spot is Spot.SP:
            continue
        axle = now.front if axle_of(each.room.spot) is Axle.FRONT else now.rear
        stance = Stance(section_width_mm=width, offset_mm=axle.offset_mm or 0.0)
        places.append((stance, each.gaps))
    return widest(now.front.size, rim_width_in=rim, places=places)
