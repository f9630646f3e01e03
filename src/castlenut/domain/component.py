"""What is fitted to a car, since when, and with which figures on it."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from enum import Enum

from castlenut.domain.frozen import dataclass, field
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Place


class Origin(Enum):
    """Which table a component's record stands in."""

    COMPONENT = "component"
    TIRE = "tire"
    WHEEL = "wheel"
    VEHICLE = "vehicle"
    OWN_ITEM = "own_item"
    FINDING = "finding"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stood:
    """A tire or wheel stood at a place from a day; off the car where the place is None.

    `at` is what the dial showed then; None is not known.
    """

    place: Place | None
    since: date
    at: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Component:
    """Something fitted: a part, a fluid, a tire or wheel in its present place, or the car itself.

    `on` and `at` (what the dial showed) tell since when; None is not known. `made` is the first day
    of the period stamped as its make. `stood` tells where a tire or wheel stood, by day; the latest
    of one day counts. `stamped` holds limits stamped on the part by measure, with
    their units, and its figure when new under `new`. `every` is its maker's interval, as typed.
    Of a tire or wheel, `on` and `at` tell since when it is on the car this time and `first_on` when
    it came onto it at all; `made_may_be` are the days that a tire's number may mean, the oldest
    first, where it leaves several open and `made` is None.
    """

    record: RecordId
    kind: str
    place: Place | None = None
    origin: Origin = Origin.COMPONENT
    attributes: Mapping[str, str] = field(default_factory=dict)
    part: str | None = None
    made: date | None = None
    on: date | None = None
    at: Decimal | None = None
    removed_on: date | None = None
    removed_at: Decimal | None = None
    is_on_shelf: bool = False
    why: str | None = None
    stamped: Mapping[str, str] = field(default_factory=dict)
    every: str | None = None
    job: RecordId | None = None
    stood: tuple[Stood, ...] = ()
    first_on: date | None = None
    made_may_be: tuple[date, ...] = ()

    def place_on(self, day: date) -> Place | None:
        """Give where it stood on a day: a tire or wheel by its placements, else its one place."""
        if not self.stood:
            return self.place
        passed = [each for each in self.stood if each.since <= day]
        return max(reversed(passed), key=lambda each: each.since).place if passed else None

    def is_fitted_on(self, day: date) -> bool:
        """Tell whether it is on the car on a day; on the day it is removed it no longer is."""
        return (
            not self.is_on_shelf
            and (self.on is None or self.on <= day)
            and (not self.stood or self.place_on(day) is not None)
            and (self.removed_on is None or day < self.removed_on)
        )
