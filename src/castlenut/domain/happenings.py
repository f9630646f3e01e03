"""What happened to a car and what was done on it: jobs, events, measurements, statements."""

from datetime import date
from decimal import Decimal
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId, RecordId
from castlenut.domain.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Raised:
    """An event at a place; no place is the whole car."""

    event: str
    place: Place | None = None

    def __str__(self) -> str:
        """Give the form kept in records: `wheel-off LF`."""
        return f"{self.event} {self.place}" if self.place else self.event


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Work done. `at` is what the dial showed; `by` None is this garage.

    `items` were done, `includes` are satisfied by them; `events` were raised by the work.
    """

    record: RecordId
    on: date
    at: Decimal | None = None
    estimated: bool = False
    by: str | None = None
    items: tuple[ItemId, ...] = ()
    includes: tuple[ItemId, ...] = ()
    events: tuple[Raised, ...] = ()
    hours: Decimal | None = None
    cost: Decimal | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening:
    """Something that happened to the car. `job`: what was saved with it in one entry."""

    record: RecordId
    event: str
    on: date
    at: Decimal | None = None
    place: Place | None = None
    job: RecordId | None = None


class Grade(Enum):
    """The result of a check that no figure measures."""

    GOOD = "good"
    NOT_GOOD = "not good"


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """What was measured on a component, or found by a check.

    `values` has one to three figures (grooves); the least counts. `item` names the item where the
    measurement is of that item alone; `measure` the quantity.
    """

    record: RecordId
    on: date
    at: Decimal | None = None
    measure: str | None = None
    item: ItemId | None = None
    place: Place | None = None
    values: tuple[Decimal, ...] = ()
    grade: Grade | None = None
    unit: str | None = None
    resolution: Decimal | None = None
    job: RecordId | None = None


class Answer(Enum):
    """What was known of a kind or an item when the car was taken on."""

    STATED = "stated"
    INSPECTED = "inspected"
    UNKNOWN = "unknown"
    NOT_APPLICABLE = "n/a"


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """An answer at intake, for a kind at a place or for one item.

    Stated: done or fitted `on`, `at`. Inspected: seen `on`, good `until` a day or `until_at` a dial
    figure. Not applicable: with `why`.
    """

    record: RecordId
    answer: Answer
    kind: str | None = None
    item: str | None = None
    place: Place | None = None
    on: date | None = None
    at: Decimal | None = None
    until: date | None = None
    until_at: Decimal | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Decline:
    """The owner said no to an item; it stays counted. `until`: when to ask again."""

    record: RecordId
    item: ItemId
    on: date
    who: str | None = None
    why: str | None = None
    until: date | None = None
