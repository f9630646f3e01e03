"""The room round a car's wheels: what is left of it, what to mind, what is asked for again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from castlenut.domain.place import Spot
from castlenut.domain.tires.comparison import Way
from castlenut.domain.tires.room import LEAST_LEFT_MM
from castlenut.domain.tires.rooms import LeftHere, RoomHere, not_at_full_lock
from castlenut.domain.tires.size import Size
from castlenut.words import figures

if TYPE_CHECKING:
    from castlenut.words.answers import Answer

SPACER_ON_STUDS = (
    "a spacer takes its thickness from the studs: check that the nuts still engage as far as the"
    " car's own manual asks, and torque them again after 50 mi"
)
"""What is said of every spacer."""

_MOST_SIZES = 4


def tight(way: Way) -> Iterator[str]:
    """Say at which places a way to shoe a car leaves less than 3 mm, or nothing."""
    for each in (*way.front_left, *way.rear_left):
        for side, left in (("inside", each.left.inner_mm), ("outside", each.left.outer_mm)):
            if left is None or left >= LEAST_LEFT_MM:
                continue
            where = f"{each.here.room.spot.value}, {each.here.room.when}, {side}"
            told = figures.decimals(left, 1)
            if left <= 0:
                yield f"{where}: it does not clear, {told} mm left."
            else:
                yield f"{where}: {told} mm left, less than {LEAST_LEFT_MM:g} mm."


def to_mind(rooms: Sequence[RoomHere], front: Sequence[LeftHere]) -> Iterator[str]:
    """Say which room is asked for again and why, and what was never measured."""
    if not rooms:
        yield (
            "No room is measured: only the change is told. castlenut room records the gaps at each"
            " wheel."
        )
        return
    for each in rooms:
        where = f"{each.room.spot.value}, {each.room.when}"
        if not each.is_of_this_set:
            yield (
                f"Room at {where} was measured on {each.room.on.isoformat()} for a set that is no"
                " longer on: measure again."
            )
        elif each.aligned_since is not None:
            yield (
                f"Room at {where} was measured on {each.room.on.isoformat()}, before the alignment"
                f" of {each.aligned_since.isoformat()}: measure again."
            )
        elif each.room.is_aligned is False:
            yield f"Room at {where} was measured on a car not aligned: measure again after it is."
    for spot in not_at_full_lock(front):
        yield f"Room at {spot.value} was not measured at full lock."
    missing = _not_measured(rooms)
    if missing:
        names = " ".join(spot.value for spot in missing)
        yield f"No room is measured at {names} for the set now on."
    for each in rooms:
        if each.room.caliper_mm is not None and each.is_of_this_set:
            yield (
                f"Caliper at {each.room.spot.value}: {figures.number(each.room.caliper_mm)} mm now;"
                " on other wheels try one before tires are bought."
            )


def _not_measured(rooms: Sequence[RoomHere]) -> list[Spot]:
    """Give an end at which nothing holds, by both its places."""
    held = {each.room.spot for each in rooms if each.is_of_this_set}
    ends = (
        (Spot.LF, Spot.RF),
        (Spot.LR, Spot.RR, Spot.LRO, Spot.LRI, Spot.RRI, Spot.RRO),
    )
    return [spot for end in ends if not held & set(end) for spot in end[:2]]


def widest_words(found: Sequence[Size] | None, rooms: Sequence[RoomHere]) -> str:
    """Say which is the widest size that fits all round on the wheels now on."""
    if found is None:
        return "widest that fits: not told, it takes one metric size and one rim width all round"
    held = list(dict.fromkeys(each.room.spot.value for each in rooms if each.is_of_this_set))
    by = f"by the room at {' '.join(held)}" if held else "by the rims alone, no room is measured"
    if not found:
        return f"widest that fits: none within 3 % of the diameter, {by}"
    names = ", ".join(size.designation for size in found[:_MOST_SIZES])
    return f"widest that fits: {names} ({by})"


def room_answer(here: RoomHere) -> dict[str, Answer]:
    """Give measured room as JSON."""
    room = here.room
    return {
        "place": room.spot.value,
        "when": room.when,
        "inner_mm": figures.as_number(room.inner_mm),
        "outer_mm": None if room.outer_mm is None else figures.as_number(room.outer_mm),
        "caliper_mm": None if room.caliper_mm is None else figures.as_number(room.caliper_mm),
        "aligned": room.is_aligned,
        "on": room.on.isoformat(),
        "of_this_set": here.is_of_this_set,
        "aligned_since": None if here.aligned_since is None else here.aligned_since.isoformat(),
        "measure_again": here.is_to_measure_again,
        "record": room.record,
    }


def left_answer(each: LeftHere) -> dict[str, Answer]:
    """Give what is left of measured room at one place as JSON."""
    return {
        "place": each.here.room.spot.value,
        "when": each.here.room.when,
        "inner_mm": figures.to_places(each.left.inner_mm, 2),
        "outer_mm": figures.to_places(each.left.outer_mm, 2),
        "tight": each.left.is_tight,
        "measure_again": each.here.is_to_measure_again,
    }
