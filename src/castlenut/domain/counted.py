"""The repeating interval: whose it is, how exposure shortens it, and what it counts from."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.acts import Done, counts_fitting
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.interval import Interval, Point, due_at, due_on, exact, scaled
from castlenut.domain.matching import holds
from castlenut.domain.points import has_open_first
from castlenut.domain.rules.precedence import every_from_text
from castlenut.domain.rules.rule import Act, Counting, Rule, Variant
from castlenut.domain.season import Season, next_season, shifted
from castlenut.domain.sides import Side, Subject, allowance, shown
from castlenut.domain.window import Window, inside_at, inside_on, window_around
from castlenut.domain.working import (
    Beats,
    Binds,
    Counted,
    From,
    KeptToSchedule,
    NotKnown,
    NotShortened,
    Seasoned,
    Shortened,
    Step,
)

SOUTH = 6  # months by which the seasons of a garage in the south are shifted


@dataclass(frozen=True, slots=True, kw_only=True)
class InForce:
    """The interval that holds for an item, in the car's unit, and how it came about."""

    interval: Interval
    steps: tuple[Step, ...]


def interval_in_force(this: Subject) -> InForce | None:
    """Give the interval of an item: its part maker's before the rule's, shortened by exposure."""
    rule, ground = this.rule, this.ground
    variant = variant_of(this)
    every = rule.every if variant is None else variant.every
    whose = _whose(rule)
    unit = rule.unit
    if this.component.every is not None and _is_makers(this):
        every, unit, whose = (
            every_from_text(this.component.every, ground.unit),
            ground.unit,
            (Beats.MAKER),
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


def variant_of(this: Subject) -> Variant | None:
    """Give the first variant of the rule whose condition the component meets."""
    around = this.ground.around
    for variant in this.rule.variants:
        if holds(variant.where, this.component, around, this.at) is not None:
            return variant
    return None


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
    factors = sorted((factor, name) for name, factor in rule.exposure.items() if name in holding)
    if not factors:
        would = tuple(sorted(rule.exposure.items(), key=_by_factor))
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


def _by_factor(pair: tuple[str, Fraction]) -> tuple[float, str]:
    # fractions compare ten times as slowly, and this is asked for nearly every item
    name, factor = pair
    return factor.numerator / factor.denominator, name


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
    waits_for_points = has_open_first(this)
    if waits_for_points:
        if not force.interval.has_time:
            return None
        force = _months_alone(force)
    interval = force.interval
    base, grid = (
        _running_months(this, interval) if waits_for_points else _counted_from(this, interval)
    )
    due = grid.next(interval)
    on, at = due.on, due.at
    steps: list[Step] = [base.step, *_kept(grid, this), *force.steps]
    steps.extend(_missing(base, interval, on, at))
    window = window_around(
        on,
        at,
        interval,
        lead=allowance(this.rule.lead, this),
        tolerance=allowance(this.rule.tolerance, this),
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


def _months_alone(force: InForce) -> InForce:
    return InForce(
        interval=replace(force.interval, distance=None),
        steps=tuple(
            replace(step, distance=None) if isinstance(step, Counted | Shortened) else step
            for step in force.steps
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """What is counted from, and which interval from there is the next, each side by itself.

    Months are counted from the anchor whatever the number: 31 January plus two is 31 March (7.31).
    """

    anchor: Point
    turn_on: int = 1
    turn_at: int = 1

    def next(self, interval: Interval) -> Point:
        """Give the next due point."""
        anchor = self.anchor
        return Point(
            on=None if anchor.on is None else due_on(anchor.on, _times(interval, self.turn_on)),
            at=None if anchor.at is None else due_at(anchor.at, _times(interval, self.turn_at)),
        )


def _times(interval: Interval, turn: int) -> Interval:
    if turn == 1:
        return interval
    return Interval(
        months=None if interval.months is None else interval.months * turn,
        days=None if interval.days is None else interval.days * turn,
        distance=None if interval.distance is None else exact(interval.distance * turn),
    )


def _kept(grid: _Grid, this: Subject) -> Iterator[KeptToSchedule]:
    """Give the step that says so where a side is counted on from the schedule."""
    if grid.turn_on == 1 and grid.turn_at == 1:
        return
    yield KeptToSchedule(
        on=grid.anchor.on,
        at=shown(grid.anchor.at, this.ground),
        turn_on=grid.turn_on,
        turn_at=grid.turn_at,
    )


def _missing(
    base: Done, interval: Interval, on: date | None, at: float | None
) -> Iterator[NotKnown]:
    remedy = f"correct the record {base.record[-8:]}"
    if interval.distance is not None and at is None and base.how is not From.LAID_UP:
        yield NotKnown(what="the distance then", remedy=f"{remedy}: at=FIGURE")
    if interval.has_time and on is None:
        yield NotKnown(what="the day", remedy=f"{remedy}: on=DATE")


def _running_months(this: Subject, interval: Interval) -> tuple[Done, _Grid]:
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
            lead=allowance(this.rule.lead, this),
            tolerance=allowance(this.rule.tolerance, this),
        )
        if window.opens_on is not None and act.on >= window.opens_on:
            base = act
    return base, _Grid(anchor=Point(on=base.on))


def _counted_from(this: Subject, interval: Interval) -> tuple[Done, _Grid]:
    """Give the latest job, and what is counted from: the job, or the schedule it left alone."""
    starts = list(this.acts)
    if this.fitted is not None and counts_fitting(this.rule):
        starts.insert(0, this.fitted)
    base = starts[-1]
    if this.rule.counting is not Counting.SCHEDULE:
        return base, _Grid(anchor=Point(on=base.on, at=base.distance))
    grid = _Grid(anchor=Point(on=starts[0].on, at=starts[0].distance))
    for act in starts[1:]:
        grid = _after(act, grid, interval, this)
    return base, grid


def _after(act: Done, grid: _Grid, interval: Interval, this: Subject) -> _Grid:
    """Give the grid after a job: it stands where the job fell inside its window (7.02, 7.03)."""
    due = grid.next(interval)
    window = window_around(
        due.on,
        due.at,
        interval,
        lead=allowance(this.rule.lead, this),
        tolerance=allowance(this.rule.tolerance, this),
    )
    keeps_on, keeps_at = inside_on(window, act.on), inside_at(window, act.distance)
    return _Grid(
        anchor=Point(
            on=grid.anchor.on if keeps_on else act.on,
            at=grid.anchor.at if keeps_at else act.distance,
        ),
        turn_on=grid.turn_on + 1 if keeps_on else 1,
        turn_at=grid.turn_at + 1 if keeps_at else 1,
    )


def season_side(this: Subject, force: InForce) -> Side | None:
    """Give the side of a rule that falls due in a part of the year.

    It opens on the first day of the part, and is due and closes on its last.
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
