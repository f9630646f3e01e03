"""A reading that is asked about: what it may turn out to be, and what each answer would give."""

from datetime import date
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.domain.oddity import Oddity
from castlenut.domain.odometer import Placed
from castlenut.domain.units import Distance


class How(Enum):
    """What an odd reading may turn out to be, in the order in which it is asked."""

    ROLLED_OVER = "rolled-over"
    REPLACED = "replaced"
    OTHER_UNIT = "unit"
    CORRECTED = "correct"
    STRUCK = "strike"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What an answer would give, with the value it was tried with: the unit, the figure, or 0.

    `on`: the day on which the figure would fit. `distance` is the true distance at the reading,
    `run` that since the sound one before it. `is_estimated`: part of it is. `left_out` counts the
    other readings not counted then. `fault`: the answer cannot be, or needs to be told more.
    """

    how: How
    value: str | None = None
    on: date | None = None
    distance: Distance | None = None
    run: Distance | None = None
    is_estimated: bool = False
    left_out: int = 0
    fault: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A reading that is asked about, and what each answer would give."""

    placed: Placed
    oddity: Oddity
    outcomes: tuple[Outcome, ...]
