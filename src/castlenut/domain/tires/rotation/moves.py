"""The patterns of rotation as moves: which place each wheel goes to."""

from collections.abc import Mapping
from enum import Enum
from types import MappingProxyType

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.place import Spot
from castlenut.domain.vehicle import Drive


class Pattern(Enum):
    """The seven patterns, by the names of the trade."""

    FORWARD_CROSS = "forward cross"
    REARWARD_CROSS = "rearward cross"
    X = "X"
    FRONT_TO_REAR = "front to rear"
    SIDE_TO_SIDE = "side to side"
    FIVE_REARWARD_CROSS = "five-tire rearward cross"
    FIVE_FORWARD_CROSS = "five-tire forward cross"


_LF, _RF, _LR, _RR, _SP = Spot.LF, Spot.RF, Spot.LR, Spot.RR, Spot.SP

MOVES: Mapping[Pattern, Mapping[Spot, Spot]] = MappingProxyType(
    {
        # 4.01
        Pattern.FORWARD_CROSS: MappingProxyType({_LF: _LR, _RF: _RR, _LR: _RF, _RR: _LF}),
        # 4.02
        Pattern.REARWARD_CROSS: MappingProxyType({_LF: _RR, _RF: _LR, _LR: _LF, _RR: _RF}),
        # 4.03
        Pattern.X: MappingProxyType({_LF: _RR, _RF: _LR, _LR: _RF, _RR: _LF}),
        # 4.05
        Pattern.FRONT_TO_REAR: MappingProxyType({_LF: _LR, _RF: _RR, _LR: _LF, _RR: _RF}),
        # 4.06
        Pattern.SIDE_TO_SIDE: MappingProxyType({_LF: _RF, _RF: _LF, _LR: _RR, _RR: _LR}),
        # 4.08
        Pattern.FIVE_REARWARD_CROSS: MappingProxyType(
            {_LF: _SP, _RF: _LR, _LR: _LF, _RR: _RF, _SP: _RR}
        ),
        # 4.09
        Pattern.FIVE_FORWARD_CROSS: MappingProxyType(
            {_LF: _LR, _RF: _SP, _LR: _RF, _RR: _LF, _SP: _RR}
        ),
    }
)
"""Where the wheel of each place goes, by pattern."""


def usual(drive: Drive, *, with_spare: bool) -> Pattern:
    """Give the pattern that the trade uses for a drive; the drive makes none illegal."""
    if drive is Drive.FRONT:
        return Pattern.FIVE_FORWARD_CROSS if with_spare else Pattern.FORWARD_CROSS
    return Pattern.FIVE_REARWARD_CROSS if with_spare else Pattern.REARWARD_CROSS


def needs_spare(pattern: Pattern) -> bool:
    """Tell whether a pattern moves the spare."""
    return Spot.SP in MOVES[pattern]


def rotated(
    positions: Mapping[Spot, str], pattern: Pattern, *, times: int = 1
) -> Mapping[Spot, str]:
    """Give what stands where after a pattern was done so many times; other places keep theirs.

    Raises:
        BadInput: a place that the pattern needs has no wheel.
    """
    moves = MOVES[pattern]
    faults = [
        Fault(f"there is no wheel at {spot.value}", "positions", f"{pattern.value} needs one there")
        for spot in moves
        if spot not in positions
    ]
    if faults:
        raise BadInput(*faults)
    for _ in range(times):
        positions = {
            **positions,
            **{to: positions[start] for start, to in moves.items()},
        }
    return positions


def pattern_of(moves: Mapping[Spot, Spot]) -> Pattern | None:
    """Name the pattern that makes exactly these moves, or None; staying is not among the moves."""
    return next((pattern for pattern, made in MOVES.items() if dict(made) == dict(moves)), None)
