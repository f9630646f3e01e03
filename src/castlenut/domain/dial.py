"""What a dial is, what was read on it, and what happened to it."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.units import KM_PER_MI, Shown, Unit

_KM_PER_MI = Decimal(str(KM_PER_MI))


@dataclass(frozen=True, slots=True, kw_only=True)
class Dial:
    """What the dial counts in, how many whole units it has digits for, and whether tenths."""

    unit: Unit
    digits: int
    tenths: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A figure as it was read and entered, in the morning before that day's driving.

    `judged_right`: somebody was asked and said it is right.
    """

    record: RecordId
    on: date
    figure: Decimal
    unit: Unit
    judged_right: bool = False
    note: str | None = None

    def shown(self, unit: Unit) -> Shown:
        """Give the figure in the dial's unit: converted for computing only, never written back."""
        if self.unit is unit:
            return Shown(self.figure)
        if unit is Unit.KM:
            return Shown(self.figure * _KM_PER_MI)
        return Shown(self.figure / _KM_PER_MI)


@dataclass(frozen=True, slots=True, kw_only=True)
class Replaced:
    """Another dial, which shows `start`; the old one ended at `last`, None if nobody knows."""

    record: RecordId
    on: date
    start: Decimal
    last: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RolledOver:
    """The dial passed its end before the reading of that day, or else before the next one."""

    record: RecordId
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorFrom:
    """True distance per shown distance from that day on; it replaces the former factor."""

    record: RecordId
    on: date
    factor: Fraction


DialEvent = Replaced | RolledOver | FactorFrom
"""A reading on the day of an event belongs to the new state."""


def in_order(event: DialEvent) -> tuple[date, int, RecordId]:
    """Give what events are sorted by: on one day an old dial ends before a new factor begins."""
    match event:
        case RolledOver():
            return event.on, 0, event.record
        case Replaced():
            return event.on, 1, event.record
        case FactorFrom():
            return event.on, 2, event.record
