"""Points after fitting and after events: due at a distance, done one by one."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.acts import Done
from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import EventHere, reaches
from castlenut.domain.interval import Interval, due_at
from castlenut.domain.matching import holds
from castlenut.domain.rules.rule import Act, Rule
from castlenut.domain.sides import Side, Subject, allowance
from castlenut.domain.window import Allowance, Window, window_around
from castlenut.domain.working import Binds, From, NotKnown, Pointed

HALF_WAY = Fraction(50)  # common practice: the window of a point opens half its distance before it


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """A run of points counted from one anchor; `event` None is the fitting."""

    base: Done
    points: tuple[float, ...]
    event: str | None


def point_sides(this: Subject) -> tuple[Side, ...]:
    """Give the open points: after the fitting, and after each event that concerns the component.

    A point is closed by a job done from half its distance on, one by one (4.24); a later point
    done closes the earlier ones. A point at 0 is closed by any later job, and not opened by the job
    that raised its event and did the item as well. Where the distance at the anchor is not known, a
    job on a later day closes them all.
    """
    sides = [side for run in _runs(this) for side in _open_point(this, run)]
    return tuple(sides)


def has_open_first(this: Subject) -> bool:
    """Tell whether points after the fitting are open: the interval's distance waits for them."""
    run = _fitting_run(this)
    return run is not None and _next_point(this, run) is not None


def _fitting_run(this: Subject) -> _Run | None:
    rule, ground = this.rule, this.ground
    if not rule.first or this.fitted is None:
        return None
    points = tuple(float(ground.length(point, rule)) for point in rule.first)
    return _Run(base=this.fitted, points=points, event=None)


def _runs(this: Subject) -> Iterator[_Run]:
    first = _fitting_run(this)
    if first is not None:
        yield first
    rule, ground = this.rule, this.ground
    for name in dict.fromkeys(point.event for point in rule.also_after):
        events = ground.events.get(name)
        if not events:
            continue
        points = tuple(
            sorted(
                float(ground.length(point.at, rule))
                for point in rule.also_after
                if point.event == name
                and holds(point.where, this.component, ground.around, this.at) is not None
            )
        )
        if not points:
            continue
        for event in events:
            if not reaches(event, this.component):
                continue
            here = points
            if event.record == this.component.job and _is_service(rule):
                here = tuple(point for point in points if point)
            if here:
                yield _Run(base=_event_base(event), points=here, event=name)


def _is_service(rule: Rule) -> bool:
    """Tell whether a rule asks for work and not for a look.

    A new part needs no service at once for what the job that fitted it opened: a new bearing is
    not packed again because its hub was off. It is still looked at.
    """
    return rule.intake is not None and rule.intake.act is Act.RENEW


def _event_base(event: EventHere) -> Done:
    return Done(
        how=From.EVENT,
        record=event.record,
        on=event.on,
        at=event.at,
        distance=event.distance,
        name=event.name,
    )


def _next_point(this: Subject, run: _Run) -> int | None:
    """Give the number, from 0, of the first open point of a run; None when all are closed."""
    number = 0
    for act in this.acts:
        number = _after(act, run, number)
    return number if number < len(run.points) else None


def _after(act: Done, run: _Run, number: int) -> int:
    """Give the first point still open after an act, from the first that was open before.

    One job closes one point: it counts for a later one where it is nearer to that (of 500 and
    1,000, the look at 600 is that of 500), and closes the earlier ones with it.
    """
    closed: float | None = None
    for point in run.points[number:]:
        if not _closes(act, run, point):
            break
        if closed is not None and not _is_nearer(act, run, point, closed):
            break
        closed, number = point, number + 1
    return number


def _is_nearer(act: Done, run: _Run, point: float, before: float) -> bool:
    if act.distance is None or run.base.distance is None or point == before:
        return True
    run_since = act.distance - run.base.distance
    return run_since - before > point - run_since


def _closes(act: Done, run: _Run, point: float) -> bool:
    base = run.base
    if act.how is From.LAID_UP:
        return False  # the day a car is put away is where counting starts, nothing is done by it
    if point == 0:
        if act.record == base.record:
            return True
        if act.on is None or base.on is None:
            return False
        return act.on > base.on or (act.on == base.on and not _is_before(act, base))
    if base.distance is None:
        return act.on is not None and base.on is not None and act.on > base.on
    if act.distance is None:
        return False
    if act.on is not None and base.on is not None and act.on < base.on:
        return False
    return act.distance >= base.distance + point * (1 - float(HALF_WAY) / 100) - 1e-6


def _is_before(act: Done, base: Done) -> bool:
    return (
        act.distance is not None
        and base.distance is not None
        and act.distance < base.distance - 1e-6
    )


def _open_point(this: Subject, run: _Run) -> Iterator[Side]:
    number = _next_point(this, run)
    if number is None:
        return
    point = run.points[number]
    base = run.base
    pointed = Pointed(
        rule=this.rule.id,
        number=number + 1,
        of=len(run.points),
        distance=Decimal(repr(point)),
        after=run.event,
    )
    binds_at = Binds.DISTANCE if run.event is None else Binds.EVENT
    if point == 0:
        if base.on is None:
            return
        yield Side(
            due_on=base.on,
            due_at=base.distance,
            window=Window(
                opens_on=base.on,
                closes_on=base.on,
                opens_at=base.distance,
                closes_at=base.distance,
            ),
            binds_on=Binds.EVENT,
            binds_at=Binds.EVENT,
            base=base,
            steps=(base.step, pointed),
            waits=True,
        )
        return
    if base.distance is None:
        yield Side(
            window=Window(),
            binds_on=binds_at,
            binds_at=binds_at,
            base=base,
            steps=(
                base.step,
                pointed,
                NotKnown(
                    what="the distance at that day",
                    remedy=f"correct the record {base.record[-8:]}: at=FIGURE",
                ),
            ),
        )
        return
    interval = Interval(distance=point)
    due = due_at(base.distance, interval)
    yield Side(
        due_at=due,
        window=window_around(
            None,
            due,
            interval,
            lead=Allowance(percent=HALF_WAY),
            tolerance=allowance(this.rule.tolerance, this),
        ),
        binds_on=binds_at,
        binds_at=binds_at,
        base=base,
        steps=(base.step, pointed),
    )
