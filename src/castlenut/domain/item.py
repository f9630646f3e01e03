"""An item as it stands on a day: what the due computation gives, with its working."""

from datetime import date
from typing import TYPE_CHECKING

from castlenut.domain.component import Component
from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import Decline
from castlenut.domain.ids import ItemId, RecordId
from castlenut.domain.place import Place
from castlenut.domain.rules.rule import Rule
from castlenut.domain.units import Distance, Shown
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.window import Window
from castlenut.domain.working import Binds, From, State, Step

if TYPE_CHECKING:
    # of these an item holds some only where no rotation is possible
    from castlenut.domain.tires.reasons import Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class Baseline:
    """What the counting starts from: a record, its day, and what the dial showed then.

    `by` None is this garage, or nobody in particular. `record` None only where the anchor is no
    record (the first day of a lay-up has one; a date of make has its component's).
    """

    record: RecordId
    how: From
    on: date | None
    at: Shown | None
    by: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWindow:
    """The distance side of a window and of the due point, as the dial will show them."""

    due_at: Shown | None
    opens_at: Shown | None
    closes_at: Shown | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One rule on one component today.

    `due_at` and the distance side of `window` are true distances; `shown` has them as the dial will
    show them. `may_be` is DUE or OVERDUE where only the far end of the band has passed that point.
    `rank` is set for NO_RECORD alone. `has_open_point_at_0`: a point at distance 0 is not done, so
    it stands against the car's rolling. `working` ends with Result, Sourced, Cautioned. `against`
    is why a rotation cannot be done at all: the item stays, and says so.
    """

    id: ItemId
    rule: Rule
    component: Component
    place: Place | None
    state: State
    may_be: State | None
    due_on: date | None
    due_at: Distance | None
    window: Window
    shown: ShownWindow
    binds: Binds | None
    expected: DateBand
    baseline: Baseline | None
    days_left: int | None
    distance_left: Distance | None
    rank: int | None
    before_it_rolls: bool
    declined: Decline | None
    reckoned: State  # how it stands, a refusal of the owner left aside
    working: tuple[Step, ...]
    has_open_point_at_0: bool = False
    against: "tuple[Reason, ...]" = ()

    @property
    def is_open(self) -> bool:
        """Tell whether it counts as open work: not ahead, and not one of the owner's own checks."""
        return self.state is not State.AHEAD and not self.rule.is_own_check
