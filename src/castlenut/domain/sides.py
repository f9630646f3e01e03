"""A side on which an item may fall due, and the item made ready to be reckoned."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from castlenut.domain.acts import Done, counts_fitting, fitting
from castlenut.domain.component import Component
from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.ids import ItemId
from castlenut.domain.place import Place
from castlenut.domain.rules.distances import as_float
from castlenut.domain.rules.rule import Margin, Rule
from castlenut.domain.units import Distance, Shown
from castlenut.domain.window import Allowance, Window
from castlenut.domain.working import Binds, From, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side on which an item falls due, with the window around it and how it was found.

    `waits` marks a point at distance 0: while the car is in work it is due and not overdue.
    `lead_percent` None: half way, or a season's first day.
    """

    due_on: date | None = None
    due_at: float | None = None
    window: Window
    binds_on: Binds
    binds_at: Binds
    base: Done
    steps: tuple[Step, ...]
    waits: bool = False
    lead_percent: Fraction | None = None

    @property
    def is_at_once(self) -> bool:
        """Tell whether it fell due at once: by an event at 0, or by a measurement that fails.

        Its distance tells where that was; the day alone decides.
        """
        return self.due_on is not None and self.binds_on in (Binds.EVENT, Binds.MEASUREMENT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One item, made ready: the rule on the component, where it stands, and what was done.

    `latest` is what the next interval is counted from when it is counted from the job.
    """

    id: ItemId
    rule: Rule
    component: Component
    at: Place | None
    acts: tuple[Done, ...]
    fitted: Done | None
    latest: Done | None
    ground: Ground


def subject(
    id_: ItemId,
    rule: Rule,
    component: Component,
    at: Place | None,
    acts: tuple[Done, ...],
    ground: Ground,
) -> Subject:
    """Make an item ready to be reckoned."""
    if rule.counted_from_layup and ground.layup is not None:
        since = ground.layup.since
        acts = (
            Done(
                how=From.LAID_UP,
                record=ground.layup.record,
                on=since,
                at=None,
                distance=None,
            ),
            *(act for act in acts if act.on is not None and act.on >= since),
        )
    acts = tuple(act for act in acts if not _has_run_out(act, ground))
    fitted = fitting(component, ground)
    return Subject(
        id=id_,
        rule=rule,
        component=component,
        at=at,
        acts=acts,
        fitted=fitted,
        latest=acts[-1] if acts else fitted if counts_fitting(rule) else None,
        ground=ground,
    )


def _has_run_out(act: Done, ground: Ground) -> bool:
    """Tell whether a look at intake no longer counts: it found the item good for a while only."""
    if act.how is not From.INSPECTED:
        return False
    at = ground.distance_of(act.until_at, ground.today)
    now = ground.distance_today
    return (act.until is not None and ground.today > act.until) or (
        at is not None and now is not None and now.p50 > at
    )


def allowance(margin: Margin, this: Subject) -> Allowance:
    """Give a rule's margin as what a window is allowed, in the car's unit."""
    cap = margin.cap_distance
    return Allowance(
        percent=margin.percent,
        cap_days=margin.cap_days,
        cap_distance=None if cap is None else as_float(this.ground.length(cap, this.rule)),
    )


def known_starts(sides: Sequence[Side]) -> bool:
    """Tell whether any side is counted from something known, and can be reckoned."""
    return any(side.due_on is not None or side.due_at is not None for side in sides)


def shown(distance: float | None, ground: Ground) -> Shown | None:
    """Give what the dial will show at a true distance."""
    return None if distance is None else ground.odometer.shown_of(Distance(distance))
