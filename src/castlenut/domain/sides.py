"""The sides on which an item may fall due: points, interval, age, season, look, each with its working."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.acts import Done, counts_fitting, fitting
from castlenut.domain.component import Component
from castlenut.domain.ground import EventHere, Ground, reaches
from castlenut.domain.interval import Interval, Point, due_at, due_on, scaled
from castlenut.domain.months import months_after
from castlenut.domain.place import Place
from castlenut.domain.rules.matching import holds
from castlenut.domain.rules.precedence import every_from_text
from castlenut.domain.rules.rule import Act, AgeFrom, Counting, Margin, Rule
from castlenut.domain.season import Season, next_season, shifted
from castlenut.domain.units import Distance, Shown
from castlenut.domain.window import Allowance, NextFrom, Window, next_base, window_around
from castlenut.domain.working import (
    Aged,
    Anchored,
    Beats,
    Binds,
    Counted,
    From,
    NotKnown,
    NotShortened,
    Pointed,
    Seasoned,
    Shortened,
    Step,
)

HALF_WAY = Fraction(50)  # trade B1: the window of a point opens half its distance before it
SOUTH = 6  # months by which the seasons of a garage in the south are shifted


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One item, made ready: the rule on the component, where it stands, and what was done."""

    rule: Rule
    component: Component
    at: Place | None
    acts: tuple[Done, ...]
    fitted: Done | None
    ground: Ground

    @property
    def latest(self) -> Done | None:
        """Give what the next interval is counted from when it is counted from the job."""
        starts = [*self.acts]
        if self.fitted is not None and counts_fitting(self.rule):
            starts.insert(0, self.fitted)
        return starts[-1] if starts else None


def subject(
    rule: Rule, component: Component, at: Place | None, acts: tuple[Done, ...], ground: Ground
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
    return Subject(
        rule=rule,
        component=component,
        at=at,
        acts=acts,
        fitted=fitting(component, ground),
        ground=ground,
    )


def _has_run_out(act: Done, ground: Ground) -> bool:
    """Tell whether a look at intake no longer counts: it found the item good for a while only."""
    if act.how is not From.INSPECTED:
        return False
    at = ground.distance_of(act.until_at, None)
    now = ground.distance_today
    return (act.until is not None and ground.today > act.until) or (
        at is not None and now is not None and now.p50 > at
    )


# points after fitting and after events


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """A run of points counted from one anchor; `event` None is the fitting."""

    base: Done
    points: tuple[float, ...]
    event: str | None


def point_sides(this: Subject) -> tuple[Side, ...]:
    """Give the open points: after the fitting, and after each event that concerns the component.

    A point is closed by a job done from half its distance on; a later point done closes the earlier
    ones. A point at 0 is closed by any later job, and never opened by the job that did the same item.
    """
    sides = [
        side
        for run in _runs(this)
        for side in _open_point(this, run)
    ]
    return tuple(sides)


def has_open_first(this: Subject) -> bool:
    """Tell whether points after the fitting are still open: the interval's distance waits for them."""
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
        for event in ground.events.get(name, ()):
            if reaches(event, this.component):
                yield _Run(base=_event_base(event), points=points, event=name)


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
    closed = -1
    for act in this.acts:
        for number, point in enumerate(run.points):
            if number > closed and _closes(act, run, point):
                closed = number
    return closed + 1 if closed + 1 < len(run.points) else None


def _closes(act: Done, run: _Run, point: float) -> bool:
    base = run.base
    if point == 0:
        if act.record == base.record:
            return True
        if act.on is None or base.on is None:
            return False
        return act.on > base.on or (act.on == base.on and not _is_before(act, base))
    if act.distance is None or base.distance is None:
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
            window=Window(opens_on=base.on, closes_on=base.on),
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
            tolerance=_allowance(this.rule.tolerance, this),
        ),
        binds_on=binds_at,
        binds_at=binds_at,
        base=base,
        steps=(base.step, pointed),
    )


# the interval


@dataclass(frozen=True, slots=True, kw_only=True)
class InForce:
    """The interval that holds for an item in the car's unit, exposures taken, and how it came about."""

    interval: Interval
    steps: tuple[Step, ...]


def interval_in_force(this: Subject) -> InForce | None:
    """Give the interval of an item: its part maker's before the rule's, shortened by exposure."""
    rule, ground = this.rule, this.ground
    every = rule.every
    for variant in rule.variants:
        if holds(variant.where, this.component, ground.around, this.at) is not None:
            every = variant.every
            break
    whose = _whose(rule)
    unit = rule.unit
    if this.component.every is not None and _is_makers(this):
        every, unit, whose = every_from_text(this.component.every, ground.unit), ground.unit, (
            Beats.MAKER
        )
    if every is None:
        return None
    distance = every.distance
    if distance is not None and unit is not ground.unit:
        distance = ground.length(distance, rule)
    interval = Interval(
        months=every.months,
        days=every.days,
        distance=None if distance is None else float(distance),
    )
    counted = Counted(
        rule=rule.id,
        distance=_decimal(interval.distance),
        months=interval.months,
        days=interval.days,
        whose=whose,
    )
    interval, shortening = shortened(this, interval)
    return InForce(interval=interval, steps=(counted, *shortening))


def _whose(rule: Rule) -> Beats | None:
    origins = {"garage": Beats.GARAGE, "this car": Beats.THIS_CAR}
    return origins.get(rule.origin)


def _is_makers(this: Subject) -> bool:
    """Tell whether the maker's interval on a part is about this rule: about its renewal or service.

    A look at a part keeps the rule's interval: the maker says how long the part lasts.
    """
    intake = this.rule.intake
    return this.rule.every is not None and (intake is None or intake.act is not Act.LOOK)


def shortened(this: Subject, interval: Interval) -> tuple[Interval, tuple[Step, ...]]:
    """Give an interval after the strongest exposure in force; they are never multiplied."""
    rule = this.rule
    if not rule.exposure:
        return interval, ()
    holding = this.ground.around.facts["exposure"]
    factors = sorted(
        (factor, name) for name, factor in rule.exposure.items() if name in holding
    )
    if not factors:
        would = tuple(sorted(rule.exposure.items(), key=lambda pair: (pair[1], pair[0])))
        return interval, (NotShortened(would=would),)
    factor, name = factors[0]
    short = scaled(interval, factor)
    return short, (
        Shortened(
            exposure=name,
            factor=factor,
            distance=_decimal(short.distance),
            months=short.months,
            days=short.days,
        ),
    )


def _decimal(figure: float | None) -> Decimal | None:
    return None if figure is None else Decimal(repr(figure))


def interval_side(this: Subject, force: InForce) -> Side | None:
    """Give the side of the repeating interval, or None where nothing is known to count from.

    While points after the fitting are open, the distance waits for them and the months run from the
    fitting, or from a job done once their window had opened.
    """
    latest = this.latest
    if latest is None or latest.how is From.INSPECTED:
        return None
    interval = force.interval
    waits_for_points = has_open_first(this)
    if waits_for_points:
        interval = replace(interval, distance=None) if interval.has_time else interval
        if not interval.has_time:
            return None
    base, point = (
        _running_months(this, interval) if waits_for_points else _counted_from(this, interval)
    )
    on = None if point.on is None else due_on(point.on, interval)
    at = None if point.at is None else due_at(point.at, interval)
    steps: list[Step] = [_anchor(base, point, this), *force.steps]
    steps.extend(_missing(base, interval, on, at))
    window = window_around(
        on,
        at,
        interval,
        lead=_allowance(this.rule.lead, this),
        tolerance=_allowance(this.rule.tolerance, this),
    )
    return Side(
        due_on=on,
        due_at=at,
        window=window,
        binds_on=Binds.DATE,
        binds_at=Binds.DISTANCE,
        base=base,
        steps=tuple(steps),
        lead_percent=this.rule.lead.percent,
    )


def _anchor(base: Done, point: Point, this: Subject) -> Anchored:
    """Give the step of the anchor: by schedule the counting starts from the due point instead."""
    step = base.step
    if point.on != base.on:
        step = replace(step, on=point.on)
    if point.at is not None and point.at != base.distance:
        step = replace(step, at=this.ground.odometer.shown_of(Distance(point.at)))
    return step


def _missing(
    base: Done, interval: Interval, on: date | None, at: float | None
) -> Iterator[NotKnown]:
    remedy = f"correct the record {base.record[-8:]}"
    if interval.distance is not None and at is None and base.how is not From.LAID_UP:
        yield NotKnown(what="the distance then", remedy=f"{remedy}: at=FIGURE")
    if interval.has_time and on is None:
        yield NotKnown(what="the day", remedy=f"{remedy}: on=DATE")


def _running_months(this: Subject, interval: Interval) -> tuple[Done, Point]:
    base = this.fitted
    if base is None:
        raise AssertionError("points after the fitting are open only where it is known")
    for act in this.acts:
        if act.on is None or base.on is None:
            continue
        ends = due_on(base.on, interval)
        window = window_around(
            ends,
            None,
            interval,
            lead=_allowance(this.rule.lead, this),
            tolerance=_allowance(this.rule.tolerance, this),
        )
        if window.opens_on is not None and act.on >= window.opens_on:
            base = act
    return base, Point(on=base.on)


def _counted_from(this: Subject, interval: Interval) -> tuple[Done, Point]:
    """Give what the interval is counted from: the latest job, or by schedule the due point before it."""
    starts = list(this.acts)
    if this.fitted is not None and counts_fitting(this.rule):
        starts.insert(0, this.fitted)
    base = starts[0]
    point = Point(on=base.on, at=base.distance)
    for act in starts[1:]:
        done = Point(on=act.on, at=act.distance)
        if this.rule.counting is Counting.SCHEDULE:
            due = Point(
                on=None if point.on is None else due_on(point.on, interval),
                at=None if point.at is None else due_at(point.at, interval),
            )
            window = window_around(
                due.on,
                due.at,
                interval,
                lead=_allowance(this.rule.lead, this),
                tolerance=_allowance(this.rule.tolerance, this),
            )
            done = next_base(done, due, window, NextFrom.SCHEDULE)
        base, point = act, done
    return base, point


def _allowance(margin: Margin, this: Subject) -> Allowance:
    cap = margin.cap_distance
    return Allowance(
        percent=margin.percent,
        cap_days=margin.cap_days,
        cap_distance=None if cap is None else float(this.ground.length(cap, this.rule)),
    )


# season, age, and a look that found it fine


def season_side(this: Subject, force: InForce) -> Side | None:
    """Give the side of a rule that falls due in a part of the year: opens on its first day, due and
    closes on its last.
    """
    latest = this.latest
    if latest is None or latest.on is None or latest.how is From.INSPECTED:
        return None
    season = Season(parts=this.rule.season)
    if this.ground.south:
        season = shifted(season, SOUTH)
    interval = force.interval
    first_day, last_day = next_season(
        latest.on, interval.months or 0, season, interval_days=interval.days or 0
    )
    return Side(
        due_on=last_day,
        window=Window(opens_on=first_day, closes_on=last_day),
        binds_on=Binds.SEASON,
        binds_at=Binds.SEASON,
        base=latest,
        steps=(
            latest.step,
            *force.steps,
            Seasoned(first_day=first_day, last_day=last_day),
        ),
    )


def age_side(this: Subject, force: InForce | None) -> Side | None:
    """Give the side of an age: from made, else from fitted; to a label's year; or the age at which
    looking begins.
    """
    age = this.rule.age
    if age is None:
        return None
    if age.counted_from is AgeFrom.LABEL:
        return _label_side(this)
    if age.inspect_from is not None:
        return None if force is None else _first_look(this, force, age.inspect_from)
    if age.months is None:
        return None
    born = _born(this) if age.counted_from is AgeFrom.MADE else this.fitted
    renewed = this.acts[-1] if this.acts and this.acts[-1].how is not From.INSPECTED else None
    base = renewed if renewed is not None and renewed.on is not None else born
    if base is None or base.on is None:
        return None
    interval = Interval(months=age.months)
    interval, shortening = shortened(this, interval)
    ends = due_on(base.on, interval)
    is_advised = age.advise is not None and months_after(base.on, age.advise) <= this.ground.today
    aged = Aged(
        months=age.months,
        counted_from=base.how,
        since=base.on,
        advise_months=age.advise,
        is_advised=is_advised,
    )
    return Side(
        due_on=ends,
        window=window_around(
            ends,
            None,
            interval,
            lead=_allowance(this.rule.lead, this),
            tolerance=_allowance(this.rule.tolerance, this),
        ),
        binds_on=Binds.AGE,
        binds_at=Binds.AGE,
        base=base,
        steps=(base.step, aged, *shortening),
        lead_percent=this.rule.lead.percent,
    )


def _born(this: Subject) -> Done | None:
    made = this.component.made
    if made is None:
        return this.fitted
    return Done(
        how=From.MADE,
        record=this.component.record,
        on=made,
        at=None,
        distance=None,
        name=this.component.kind,
    )


def _label_side(this: Subject) -> Side | None:
    label = this.component.attributes.get("label", "")[:4]
    if not label.isdigit() or not 1900 <= int(label) <= 2200:
        return None
    ends = date(int(label), 12, 31)
    base = Done(
        how=From.LABEL,
        record=this.component.record,
        on=None,
        at=None,
        distance=None,
        name=this.component.kind,
    )
    interval = Interval(months=12)
    return Side(
        due_on=ends,
        window=window_around(
            ends,
            None,
            interval,
            lead=_allowance(this.rule.lead, this),
            tolerance=_allowance(this.rule.tolerance, this),
        ),
        binds_on=Binds.AGE,
        binds_at=Binds.AGE,
        base=base,
        steps=(base.step, Aged(months=None, counted_from=From.LABEL, since=ends)),
        lead_percent=this.rule.lead.percent,
    )


def _first_look(this: Subject, force: InForce, inspect_from: int) -> Side | None:
    """The first look is due at an age; from then on every interval from the last look."""
    born = _born(this)
    looks = [act for act in this.acts if act.on is not None and act.how is not From.INSPECTED]
    begins = None if born is None or born.on is None else months_after(born.on, inspect_from)
    last = looks[-1] if looks else None
    again = None if last is None or last.on is None else due_on(last.on, force.interval)
    if begins is None and again is None:
        return None
    steps: list[Step] = []
    if born is not None and begins is not None:
        steps += [
            born.step,
            Aged(months=inspect_from, counted_from=born.how, since=born.on),
        ]
    is_again = again is not None and (begins is None or again > begins)
    if is_again and last is not None:
        steps += [last.step, *force.steps]
    base = last if last is not None and is_again else born
    if base is None:
        return None
    ends = again if is_again else begins
    return Side(
        due_on=ends,
        window=window_around(
            ends,
            None,
            force.interval,
            lead=_allowance(this.rule.lead, this),
            tolerance=_allowance(this.rule.tolerance, this),
        ),
        binds_on=Binds.DATE if is_again else Binds.AGE,
        binds_at=Binds.AGE,
        base=base,
        steps=tuple(steps),
        lead_percent=this.rule.lead.percent,
    )


def look_side(this: Subject, force: InForce | None) -> Side | None:
    """Give the side of an item that was looked at when the car was taken on, and found good until a
    day or a distance. After that nobody knows again, and there is no such side.
    """
    latest = this.latest
    if latest is None or latest.how is not From.INSPECTED:
        return None
    ground = this.ground
    at = ground.distance_of(latest.until_at, None)
    length = force.interval if force is not None else Interval(months=12)
    return Side(
        due_on=latest.until,
        due_at=at,
        window=window_around(
            latest.until,
            at,
            length,
            lead=_allowance(this.rule.lead, this),
            tolerance=Allowance(percent=Fraction(0)),
        ),
        binds_on=Binds.DATE,
        binds_at=Binds.DISTANCE,
        base=latest,
        steps=(latest.step,),
        lead_percent=this.rule.lead.percent,
    )


def all_sides(this: Subject) -> tuple[Side, ...]:
    """Give every side of an item but those of its measurements."""
    force = interval_in_force(this)
    sides: list[Side | None] = [*point_sides(this)]
    if force is not None:
        if this.rule.season:
            sides.append(season_side(this, force))
        elif this.rule.age is None or this.rule.age.inspect_from is None:
            sides.append(interval_side(this, force))
    sides.append(age_side(this, force))
    sides.append(look_side(this, force))
    return tuple(side for side in sides if side is not None)


def known_starts(sides: Sequence[Side]) -> bool:
    """Tell whether any side is counted from something known, and can be reckoned."""
    return any(side.due_on is not None or side.due_at is not None for side in sides)


def shown(distance: float | None, ground: Ground) -> Shown | None:
    """Give what the dial will show at a true distance."""
    return None if distance is None else ground.odometer.shown_of(Distance(distance))
