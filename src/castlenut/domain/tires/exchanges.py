"""Moves asked for as a whole: `LF=RR,RR=LF`, or how dual wheels change places."""

from collections.abc import Mapping
from enum import Enum
from types import MappingProxyType

from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import CarWheels
from castlenut.domain.tires.legality import verdict
from castlenut.domain.tires.reasons import Answer, Code, NothingThere, Reason, answer_to


class Exchange(Enum):
    """How the wheels of a car with duals change places (4.12)."""

    FRONT = "front side to side"
    INSIDE_OUT = "inside to outside"


_PAIRS: Mapping[Exchange, tuple[tuple[Spot, Spot], ...]] = MappingProxyType(
    {
        Exchange.FRONT: ((Spot.LF, Spot.RF),),
        Exchange.INSIDE_OUT: ((Spot.LRO, Spot.LRI), (Spot.RRO, Spot.RRI)),
    }
)


def exchange_moves(exchange: Exchange) -> Mapping[Spot, Spot]:
    """Give where each wheel goes."""
    return {
        start: to for one, other in _PAIRS[exchange] for start, to in ((one, other), (other, one))
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class MovesVerdict:
    """Whether several moves done at once may be done, with every reason of every move."""

    moves: Mapping[Spot, Spot]
    answer: Answer
    reasons: tuple[Reason, ...]


def judged(wheels: CarWheels, moves: Mapping[Spot, Spot]) -> MovesVerdict:
    """Judge moves, from place to place, that are done at once."""
    reasons: list[Reason] = []
    for start, to in moves.items():
        assembly = wheels.at(start)
        if assembly is not None:
            reasons.extend(verdict(wheels, assembly, to).reasons)
        else:
            reasons.append(
                Reason(
                    code=Code.PLACE,
                    answer=Answer.NO,
                    tire=None,
                    start=start,
                    to=to,
                    detail=NothingThere(at=start),
                )
            )
    return MovesVerdict(moves=moves, answer=answer_to(tuple(reasons)), reasons=tuple(reasons))
