"""The working of an item: each kind of step is a small value, made by the computation itself.

Steps hold figures as the user meets them: days, and what the dial shows. They are put into words in
`words/working.py`, once for every face.
"""

from datetime import date
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Place
from castlenut.domain.units import Shown, Unit
from castlenut.domain.use.estimate import UseBasis


class From(Enum):
    """What a counting starts from."""

    FITTED = "fitted"
    DONE = "done"
    INCLUDED = "included in another job"
    MEASURED = "measured"
    CHECKED = "checked"
    STATED = "stated at intake"
    INSPECTED = "inspected at intake"
    VISIT = "a visit to the garage"
    EVENT = "event"
    MADE = "made"
    LABEL = "label"
    LAID_UP = "laid up"
    NOTED = "noted"
    FOUND = "found"


class Binds(Enum):
    """Which side of an item decides."""

    DATE = "date"
    DISTANCE = "distance"
    MEASUREMENT = "measurement"
    AGE = "age"
    EVENT = "event"
    SEASON = "season"


class State(Enum):
    """How an item stands: exactly these five."""

    AHEAD = "ahead"
    DUE = "due"
    OVERDUE = "overdue"
    NO_RECORD = "no record"
    DECLINED = "declined"


class Beats(Enum):
    """Whose interval or limit stands in place of the rule's."""

    STAMPED = "stamped on the part"
    MAKER = "the part's maker"
    THIS_CAR = "this car's own rule"
    GARAGE = "the garage's own rules"


@dataclass(frozen=True, slots=True, kw_only=True)
class Anchored:
    """The counting starts from this record. None: that side is not known.

    `until` and `until_at`: it was inspected, and found good until then.
    """

    how: From
    record: RecordId | None
    on: date | None
    at: Shown | None
    name: str = ""  # the part, the job's item or the event
    by: str | None = None
    is_estimated: bool = False
    until: date | None = None
    until_at: Shown | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptToSchedule:
    """The job fell inside its window, so the schedule stands: the interval is counted from here.

    `turn_on` and `turn_at`: how many intervals the next due point is away from `on` and from `at`.
    """

    on: date | None
    at: Shown | None
    turn_on: int
    turn_at: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NotKnown:
    """Here knowledge stops: what is not known."""

    what: str
    remedy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """An attribute that nobody recorded: the strictest row that may apply is used."""

    attribute: str
    taken_as: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """An interval added to the anchor; a side of None is not in the interval."""

    rule: str
    distance: Decimal | None
    months: int | None
    days: int | None
    whose: Beats | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pointed:
    """The next of the points after fitting or after an event."""

    rule: str
    number: int
    of: int
    distance: Decimal
    after: str | None = None  # the event; None: fitted


@dataclass(frozen=True, slots=True, kw_only=True)
class Aged:
    """An age counted from the day made or fitted, or to the year on a label."""

    months: int | None
    counted_from: From
    since: date | None
    advise_months: int | None = None
    is_advised: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Seasoned:
    """The part of the year in which the item falls due next."""

    first_day: date
    last_day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortened:
    """An exposure in force shortens the interval by a factor."""

    exposure: str
    factor: Fraction
    distance: Decimal | None
    months: int | None
    days: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotShortened:
    """No exposure in force; these would shorten the interval."""

    would: tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A measurement held against its limit.

    `value` and `limit` are in `unit`; `entered` is the value in the unit it was taken in.
    `limit` None: no limit is known. `is_stand_in`: the limit holds until the car's own figure is
    entered. `rate_per_1000` None: no wear rate is known. `reached_at`: what the dial will show when
    the limit is reached.
    """

    measure: str
    record: RecordId | None
    on: date | None
    at: Shown | None
    value: Decimal | None
    limit: Decimal | None
    is_at_least: bool
    unit: str
    passes: bool | None
    entered: tuple[Decimal, str] | None = None
    whose: Beats | None = None
    is_stand_in: bool = False
    advise: Decimal | None = None
    is_advised: bool = False
    rate_per_1000: float | None = None
    reached_at: Shown | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Specified:
    """One of the car's own figures that a check is held against, as it was entered."""

    name: str
    value: Decimal | str
    unit: str
    record: RecordId
    place: Place | None = None
    source: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """A check that no figure measures: what must hold, and how it was found last.

    `known`: the car's own figures it is held against; `missing`: those it needs and nobody entered.
    """

    what: str
    record: RecordId | None = None
    on: date | None = None
    is_good: bool | None = None
    known: tuple[Specified, ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """The due point: each side, and which is reached first."""

    on: date | None
    at: Shown | None
    binds: Binds


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowSet:
    """When the window opens and closes, each side on its own.

    `lead_percent` None: half way to the point, or `is_of_season`, with its first day.
    """

    opens_on: date | None
    closes_on: date | None
    opens_at: Shown | None
    closes_at: Shown | None
    lead_percent: Fraction | None
    late_percent: Fraction
    is_of_season: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DialRead:
    """The last reading, and the distance today that follows from it."""

    today: date
    p10: Shown | None
    p50: Shown | None
    p90: Shown | None
    basis: UseBasis


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """When the item is expected to fall due; None is later than ten years, or not known.

    `is_use_known` False: nothing is known of how far the car is driven.
    """

    p10: date | None
    p50: date | None
    p90: date | None
    is_use_known: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The owner said no; the item is still counted. `reckoned`: how it would stand."""

    record: RecordId
    on: date
    who: str | None
    why: str | None
    until: date | None
    reckoned: State


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeItRolls:
    """The car is in work: the point at 0 is due before it rolls, and not overdue until then."""

    since: date


@dataclass(frozen=True, slots=True, kw_only=True)
class NoRotation:
    """No rotation is possible; what stands against it is told with the item."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """How it stands today. Left of a side: below 0 is over, None is no such side or not known."""

    state: State
    may_be: State | None
    today: date
    days_left: int | None
    distance_left: Decimal | None
    rank: int | None = None
    before_it_rolls: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sourced:
    """Where the rule's figures come from, and how far to trust them.

    `is_this_cars`: they are of this car alone, and `source` says where they stand.
    """

    source: str
    basis: str
    note: str | None = None
    is_this_cars: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautioned:
    """The cautions of the job, by their keys."""

    keys: tuple[str, ...]


StepOfItem = Anchored | Pointed | NoRotation
"""Steps that are told by their item: its place, whose its rule is, what stands against it."""

PlainStep = (
    KeptToSchedule
    | NotKnown
    | Assumed
    | Counted
    | Aged
    | Seasoned
    | Shortened
    | NotShortened
    | Judged
    | Checked
    | Reached
    | WindowSet
    | DialRead
    | Expected
    | Refused
    | BeforeItRolls
    | Result
    | Sourced
    | Cautioned
)
"""Steps that tell all themselves."""

Step = StepOfItem | PlainStep


def lacks_limit(step: Step) -> bool:
    """Tell whether a step is held against a figure that nobody entered."""
    match step:
        case Judged():
            return step.limit is None
        case Checked():
            return bool(step.missing)
        case _:
            return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """A working: its steps in the order they were done, the last of the sum being a Result."""

    unit: Unit
    place: Place | None
    steps: tuple[Step, ...]
