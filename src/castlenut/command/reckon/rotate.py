"""reckon rotate: a pattern done once or more."""

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Spot
from castlenut.domain.tires.rotation.moves import Pattern, rotated

_MOST_TIMES = 1000
WHEEL_PLACES = (*CORNERS, Spot.SP, *DUAL_CORNERS[2:])


def _answer(fields: Fields) -> Answer:
    positions = placed(fields, "positions")
    pattern = fields.need_choice("pattern", Pattern)
    times = fields.whole("times", least=0, most=_MOST_TIMES)
    fields.check()
    after = rotated(positions, pattern, times=1 if times is None else times)
    return {"positions": {spot.value: wheel for spot, wheel in after.items()}}


def placed(fields: Fields, name: str) -> dict[Spot, str]:
    """Read an object of places and what stands there, each wheel at one place."""
    found: dict[Spot, str] = {}
    given = fields.members(name)
    if given is None:
        return found
    places = {spot.value: spot for spot in WHEEL_PLACES}
    for place in given.names:
        spot = places.get(place)
        wheel = given.text(place)
        if spot is None:
            given.fault(place, "is not a place of a wheel", f"it may be {', '.join(places)}")
        elif wheel is None and given.has(place):
            continue  # no text, and said so already
        elif wheel is None or not wheel.strip():
            given.fault(place, "names no wheel", "name what stands there, or leave the place out")
        elif wheel in found.values():
            given.fault(place, f"{wheel!a} stands at two places", "name each wheel once")
        else:
            found[spot] = wheel
    return found


KIND = Kind(
    name="rotate",
    summary="what stands where after a pattern of rotation",
    fields=(
        Field("positions", "an object of places and the wheel at each"),
        Field("pattern", f"one of {', '.join(pattern.value for pattern in Pattern)}"),
        Field("times", "how often it is done, 1 without it", optional=True),
    ),
    answers=(Field("positions", "an object of places and the wheel at each, as given"),),
    answer=_answer,
)
