"""Why a wheel may not go to a place, or why that is not known: values, put into words elsewhere."""

from enum import Enum
from typing import TypeAlias

from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Spot
from castlenut.domain.tires.axle import Axle, Side


class Answer(Enum):
    """May it? What is not known never passes."""

    YES = "yes"
    NO = "no"
    NOT_KNOWN = "not known"


class Code(Enum):
    """What a reason is about."""

    TEMPORARY = "temporary"
    SIZE = "size"
    CONSTRUCTION = "construction"
    RIM_WIDTH = "rim width"
    RIM_DIAMETER = "rim diameter"
    OFFSET = "offset"
    DIRECTION = "direction"
    WORN_IN = "worn-in direction"
    LOAD = "load"
    SPEED = "speed"
    WORN = "worn"
    AGE = "age"
    TREAD_DIFFERENCE = "tread difference"
    SPARE = "spare"
    PAIR = "pair"
    FRONT_TREAD = "front tread"
    PLACE = "place"


@dataclass(frozen=True, slots=True, kw_only=True)
class IsTemporary:
    """A temporary spare may not join."""

    at: Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Differs:
    """The axle takes another size, construction, rim, offset, tread or service than it has."""

    axle: Axle
    has: str | float
    takes: str | float


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnNotKnown:
    """The tire's or wheel's own figure is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleNotKnown:
    """What the axle takes is not known: of these there is no figure, or else they differ."""

    axle: Axle
    missing: tuple[str, ...]
    differing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnsOtherWay:
    """A directional tire whose arrow would point backward."""

    turns: Side


@dataclass(frozen=True, slots=True, kw_only=True)
class RanOtherSide:
    """A studded tire has run on the other side."""

    ran: Side


@dataclass(frozen=True, slots=True, kw_only=True)
class TooLittle:
    """It carries less, or is good to less speed, than the axle is known to need."""

    axle: Axle
    has: float
    mark: str
    need: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LessThanNow:
    """The need is not known, and it carries less, or is slower, than the least now on the axle."""

    axle: Axle
    has: float
    mark: str
    least: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WornOut:
    """Its thinnest groove is at the limit or under it."""

    depth_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TooOld:
    """The spare is older than asked for."""

    years: float
    limit_years: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TooDeepOrThin:
    """The spare is deeper (above 0) or thinner (below) than a road tire, by too much."""

    other: str
    deeper_by_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthNotKnown:
    """These are not measured, so what depends on comparing them is not known."""

    tires: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpareStays:
    """The spare has no place on the road, so nothing goes into its well."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairDiffers:
    """Beside the other dual wheel it differs in size or construction."""

    other: str
    code: Code
    has: str
    others: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PairUneven:
    """Beside the other dual wheel its diameter differs by too much."""

    other: str
    difference_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NothingThere:
    """The pattern needs a wheel at a place that has none."""

    at: Spot


Detail: TypeAlias = (
    IsTemporary
    | Differs
    | OwnNotKnown
    | AxleNotKnown
    | TurnsOtherWay
    | RanOtherSide
    | TooLittle
    | LessThanNow
    | WornOut
    | TooOld
    | TooDeepOrThin
    | DepthNotKnown
    | SpareStays
    | PairDiffers
    | PairUneven
    | NothingThere
)

Found: TypeAlias = tuple[Code, Answer, Detail]
"""What a rule finds against a move, before it is said of which."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One thing against a move: never `yes`. `tire` is None where no wheel stands at `start`."""

    code: Code
    answer: Answer
    tire: str | None
    start: Spot
    to: Spot
    detail: Detail


def answer_to(reasons: tuple[Reason, ...]) -> Answer:
    """Give the answer that reasons leave: no beats not known, none is yes."""
    answers = {reason.answer for reason in reasons}
    if Answer.NO in answers:
        return Answer.NO
    return Answer.NOT_KNOWN if answers else Answer.YES
