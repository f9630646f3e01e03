"""A vehicle as it stands in the record, and what it is exposed to."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from enum import Enum

from castlenut.domain.frozen import dataclass, field
from castlenut.domain.ids import ItemId, RecordId
from castlenut.domain.odometer import Dial

LAID_UP = "laid up"
EXPOSURES = (
    "wet",
    "salt",
    "dust",
    "towing",
    "stop-start",
    "stored outdoors",
    LAID_UP,
)


class Drive(Enum):
    """Which wheels are driven."""

    FRONT = "front"
    REAR = "rear"
    ALL = "all"


class Use(Enum):
    """How the owner says the car is used. Often right, never certain."""

    DAILY = "daily"
    SEASONAL = "seasonal"
    OCCASIONAL = "occasional"
    STORED = "stored"


class KeptAt(Enum):
    """Where the car stands."""

    GARAGE = "garage"
    OWNER = "owner"


@dataclass(frozen=True, slots=True, kw_only=True)
class Vehicle:
    """One car. What is not known is None.

    `weight_lb` is the gross weight rating. `calibrated_size` is the tire size the speedometer was
    calibrated for. `ticks`: how it is built, as ticked at intake, by the names of the ticks.
    """

    record: RecordId
    slug: str
    description: str
    dial: Dial
    dual: bool = False
    year: int | None = None
    drive: Drive | None = None
    weight_lb: int | None = None
    use: Use | None = None
    kept_at: KeptAt | None = None
    owner: str | None = None
    phone: str | None = None
    plate: str | None = None
    vin: str | None = None
    calibrated_size: str | None = None
    sold_on: date | None = None
    note: str | None = None
    ticks: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """What the car is exposed to, first and last day included; an end of None is not known yet."""

    record: RecordId
    name: str
    since: date
    until: date | None = None

    def holds_on(self, day: date) -> bool:
        """Tell whether the exposure is in force on a day."""
        return self.since <= day and (self.until is None or day <= self.until)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """The car is in work from a day, until it is over (that day it may roll again)."""

    record: RecordId
    since: date
    over: date | None = None

    def holds_on(self, day: date) -> bool:
        """Tell whether the car is in work on a day."""
        return self.since <= day and (self.over is None or day < self.over)


class VisitState(Enum):
    """How it stands with a visit on record."""

    BOOKED = "booked"
    REFUSED = "refused"
    DONE = "done"


@dataclass(frozen=True, slots=True, kw_only=True)
class VisitRecord:
    """A day agreed for a car to come in, or refused by its owner.

    No items: it is for whatever may be done then. `hours` None: none were agreed.
    """

    record: RecordId
    on: date
    state: VisitState
    items: tuple[ItemId, ...] = ()
    hours: Decimal | None = None

    @property
    def is_booked(self) -> bool:
        """Tell whether it is agreed and not done yet."""
        return self.state is VisitState.BOOKED

    @property
    def is_refused(self) -> bool:
        """Tell whether the owner will not come on that day."""
        return self.state is VisitState.REFUSED
