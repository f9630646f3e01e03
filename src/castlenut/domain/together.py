"""The sides of an item put together: the due point, which side decides, and how it stands today."""

from collections.abc import Sequence
from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.sides import Side
from castlenut.domain.units import Distance
from castlenut.domain.use.estimate import NO_DAY, DateBand
from castlenut.domain.window import Window
from castlenut.domain.working import Binds, State


@dataclass(frozen=True, slots=True, kw_only=True)
class Stands:
    """How an item stands: the state, and what it may already be by the far end of the band."""

    state: State
    may_be: State | None
    waits: bool


def how_it_stands(sides: Sequence[Side], rests_on: Ground, *, is_own_check: bool) -> Stands:
    """Hold today and the distance today against each side; the side furthest along decides.

    The owner's own checks are never overdue: the garage does not call him in for them.
    """
    in_work = rests_on.in_work_since is not None
    now = rests_on.distance_today
    state, far = State.AHEAD, State.AHEAD
    waits = False
    for side in sides:
        near_state = _side_state(side, rests_on.today, None if now is None else now.p50)
        far_state = _side_state(side, rests_on.today, None if now is None else now.p90)
        if side.waits and in_work and near_state is State.OVERDUE:
            near_state = far_state = State.DUE
        if side.waits and in_work:
            waits = True
        state = max(state, near_state, key=_FURTHER.index)
        far = max(far, far_state, key=_FURTHER.index)
    if is_own_check:
        state = min(state, State.DUE, key=_FURTHER.index)
        far = min(far, State.DUE, key=_FURTHER.index)
    may_be = far if _FURTHER.index(far) > _FURTHER.index(state) else None
    return Stands(state=state, may_be=may_be, waits=waits and state is State.DUE)


_FURTHER = (State.AHEAD, State.DUE, State.OVERDUE)


def _side_state(side: Side, today: date, distance: float | None) -> State:
    """Give the state of one side. On the day, and at the distance, it closes it still is due."""
    window = side.window
    state = State.AHEAD
    if window.opens_on is not None and window.closes_on is not None:
        is_failed = side.binds_on is Binds.MEASUREMENT
        if today > window.closes_on or (is_failed and today >= window.opens_on):
            state = State.OVERDUE
        elif today >= window.opens_on:
            state = State.DUE
    if side.is_at_once or distance is None:
        return state
    if window.opens_at is not None and window.closes_at is not None:
        if distance > window.closes_at + 1e-6:
            state = State.OVERDUE
        elif distance >= window.opens_at - 1e-6:
            state = max(state, State.DUE, key=_FURTHER.index)
    return state


@dataclass(frozen=True, slots=True, kw_only=True)
class DuePoint:
    """The due point of an item: each side the earliest over all, and which one decides."""

    on: date | None
    at: float | None
    window: Window
    binds: Binds
    side: Side
    expected: DateBand


def point_of(sides: Sequence[Side], rests_on: Ground) -> DuePoint:
    """Give the due point: each side the earliest, and the one expected first decides (7.07)."""
    first_day = first_day_side(sides)
    first_distance = first_distance_side([side for side in sides if not side.is_at_once])
    on = first_day.due_on if first_day else None
    reached = (
        rests_on.use.reached(Distance(first_distance.due_at))
        if first_distance is not None and first_distance.due_at is not None
        else NO_DAY
    )
    by_date = first_distance is None or (
        on is not None and (reached.p50 is None or on <= reached.p50)
    )
    deciding = first_day if by_date and first_day is not None else first_distance
    if deciding is None:
        raise AssertionError("an item without a due point was sent to be reckoned")
    return DuePoint(
        on=on,
        at=min((side.due_at for side in sides if side.due_at is not None), default=None),
        window=_window(sides),
        binds=deciding.binds_on if deciding is first_day and by_date else deciding.binds_at,
        side=deciding,
        expected=DateBand(
            p10=_earlier(on, reached.p10),
            p50=_earlier(on, reached.p50),
            p90=_earlier(on, reached.p90),
        ),
    )


def _window(sides: Sequence[Side]) -> Window:
    """Give the window of an item: opens and closes are each the earliest over its sides (7.07)."""
    if len(sides) == 1:
        return sides[0].window
    windows = [side.window for side in sides]
    return Window(
        opens_on=min((each.opens_on for each in windows if each.opens_on), default=None),
        closes_on=min((each.closes_on for each in windows if each.closes_on), default=None),
        opens_at=min(
            (each.opens_at for each in windows if each.opens_at is not None), default=None
        ),
        closes_at=min(
            (each.closes_at for each in windows if each.closes_at is not None), default=None
        ),
    )


def _earlier(one: date | None, other: date | None) -> date | None:
    if one is None or other is None:
        return one or other
    return min(one, other)


def first_day_side(sides: Sequence[Side]) -> Side | None:
    """Give the side that falls due on the earliest day."""
    known = [side for side in sides if side.due_on is not None]
    return min(known, key=lambda side: side.due_on or date.max, default=None)


def first_distance_side(sides: Sequence[Side]) -> Side | None:
    """Give the side that falls due at the least distance."""
    known = [side for side in sides if side.due_at is not None]
    return min(known, key=lambda side: side.due_at or 0.0, default=None)
