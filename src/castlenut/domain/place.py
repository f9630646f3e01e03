"""Where on the car: a corner, a side or an end, and which of two or more parts standing there."""

from enum import Enum
from functools import lru_cache

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass


class Spot(Enum):
    """A corner, a side, an end, or the spare."""

    LF = "LF"
    RF = "RF"
    LR = "LR"
    RR = "RR"
    SP = "SP"
    LRO = "LRO"
    LRI = "LRI"
    RRI = "RRI"
    RRO = "RRO"
    L = "L"
    R = "R"
    FRONT = "front"
    REAR = "rear"


class Which(Enum):
    """Which of two parts at one spot."""

    UPPER = "upper"
    LOWER = "lower"
    INNER = "inner"
    OUTER = "outer"


_AT_LR = frozenset({Spot.LR, Spot.LRO, Spot.LRI})
_AT_RR = frozenset({Spot.RR, Spot.RRI, Spot.RRO})
_COVERS: dict[Spot, frozenset[Spot]] = {
    Spot.LR: _AT_LR,
    Spot.RR: _AT_RR,
    Spot.L: frozenset({Spot.L, Spot.LF}) | _AT_LR,
    Spot.R: frozenset({Spot.R, Spot.RF}) | _AT_RR,
    Spot.FRONT: frozenset({Spot.FRONT, Spot.LF, Spot.RF}),
    Spot.REAR: frozenset({Spot.REAR}) | _AT_LR | _AT_RR,
}

CORNERS = (Spot.LF, Spot.RF, Spot.LR, Spot.RR)
DUAL_CORNERS = (Spot.LF, Spot.RF, Spot.LRO, Spot.LRI, Spot.RRI, Spot.RRO)
_DUAL_ONLY = frozenset(DUAL_CORNERS) - frozenset(CORNERS)
_PARTS: dict[Spot, frozenset[Spot]] = {spot: _COVERS.get(spot, frozenset({spot})) for spot in Spot}
_ORDER = {spot: number for number, spot in enumerate(Spot)}


@dataclass(frozen=True, slots=True)
class Place:
    """A spot, and at most one of upper, lower, inner, outer or a number (seats, shafts, coils).

    A place with neither is no place: a kind that a car has once is fitted at None.
    """

    spot: Spot | None = None
    which: Which | int | None = None

    def __str__(self) -> str:
        """Give the place as it is written and read: `LF upper`, `rear`, `L 2`."""
        spot = "" if self.spot is None else self.spot.value
        if self.which is None:
            return spot
        which = self.which.value if isinstance(self.which, Which) else str(self.which)
        return f"{spot} {which}" if spot else which

    @property
    def order(self) -> tuple[int, str]:
        """Give a sorting key: front before rear, left before right."""
        return (-1 if self.spot is None else _ORDER[self.spot], str(self))


@lru_cache(maxsize=256)  # a record names the same few corners over and over
def place(text: str) -> Place | None:
    """Read a place as it is written; an empty text or `-` is no place.

    Raises:
        BadInput: the text names no place of a car.
    """
    spot: Spot | None = None
    which: Which | int | None = None
    for word in text.split():
        if word == "-":
            continue
        found = _spot(word)
        if found is not None and spot is None and which is None:
            spot = found
        elif which is None and word.lower() in {each.value for each in Which}:
            which = Which(word.lower())
        elif which is None and word.isdigit() and len(word) <= 2 and int(word) > 0:
            which = int(word)
        else:
            raise BadInput(
                Fault(
                    f"{text!r} is not a place",
                    "place",
                    "write LF, RF, LR, RR, SP, L, R, front or rear, then upper, lower, inner, outer"
                    " or a number if need be",
                )
            )
    return None if spot is None and which is None else Place(spot, which)


def _spot(word: str) -> Spot | None:
    return next((spot for spot in Spot if spot.value.lower() == word.lower()), None)


def spots(spot: Spot) -> frozenset[Spot]:
    """Give every spot that a spot covers, itself among them: `rear` covers LR and RR."""
    return _PARTS[spot]


def touches(one: Place | None, other: Place | None) -> bool:
    """Tell whether two places share a part of the car. No place stands for the whole car."""
    if one is None or other is None:
        return True
    if one.which is not None and other.which is not None and one.which != other.which:
        return False
    if one.spot is None or other.spot is None or one.spot is other.spot:
        return True
    return not _PARTS[one.spot].isdisjoint(_PARTS[other.spot])


def lies_in(inside: Place | None, outside: Place | None) -> bool:
    """Tell whether the first place lies wholly in the second: LF lies in front, front not in LF."""
    if outside is None:
        return True
    if inside is None:
        return False
    if outside.which is not None and inside.which != outside.which:
        return False
    if outside.spot is None:
        return True
    return inside.spot is not None and spots(inside.spot) <= spots(outside.spot)


def places(text: str, *, dual: bool = False) -> tuple[Place | None, ...]:
    """Read several places: `LF,RF`; `all` is every road corner.

    An end or a side stays one place here; `corners_of` gives its corners.

    Raises:
        BadInput: one of them names no place of this car, or one stands twice.
    """
    found: list[Place | None] = []
    for part in text.split(","):
        if part.strip().lower() == "all":
            found.extend(Place(spot) for spot in (DUAL_CORNERS if dual else CORNERS))
        else:
            found.append(on_car(place(part.strip()), dual=dual))
    if len(set(found)) < len(found):
        raise BadInput(Fault(f"{text!r} names a place twice", "place", "name each place once"))
    return tuple(found)


def on_car(at: Place | None, *, dual: bool) -> Place | None:
    """Give a place back, once it is known that the car has it.

    Raises:
        BadInput: an outer or inner rear wheel on a car without dual rear wheels.
    """
    if at is not None and at.spot in _DUAL_ONLY and not dual:
        raise BadInput(
            Fault(
                f"the car has no {at.spot.value}: its rear wheels are single",
                "place",
                "give LR or RR, or correct the vehicle: dual=yes",
            )
        )
    return at


def corners_of(where: Place | None, *, dual: bool = False) -> tuple[Place, ...]:
    """Give the single corners that a place stands for; no place stands for every road corner."""
    all_corners = DUAL_CORNERS if dual else CORNERS
    if where is None or where.spot is None:
        return tuple(Place(spot, where.which if where else None) for spot in all_corners)
    if where.spot in all_corners or where.spot is Spot.SP:
        return (where,)
    covered = spots(where.spot)
    return tuple(Place(spot, where.which) for spot in all_corners if spot in covered)
