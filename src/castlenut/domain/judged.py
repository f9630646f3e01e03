"""Measurements held against their limits: what passes, what fails, when wear will reach one."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from math import pi

from castlenut.domain import limits
from castlenut.domain.acts import Done, is_of
from castlenut.domain.component import Component, Origin
from castlenut.domain.figures import RIM, STEERING_WHEEL
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ground import Ground
from castlenut.domain.happenings import Grade, Measurement
from castlenut.domain.matching import holds
from castlenut.domain.measures import IN, MEASURES, in_unit, quantity
from castlenut.domain.place import touches
from castlenut.domain.rolled import began_at, reached_at, run_at
from castlenut.domain.rules.rule import Bound, Figure, Limit
from castlenut.domain.sides import Side, Subject, shown
from castlenut.domain.specs import specified
from castlenut.domain.units import Shown
from castlenut.domain.wear import wear
from castlenut.domain.window import Window
from castlenut.domain.working import Beats, Binds, Checked, From, Judged, Step

NEW = "new"
"""Under this name a part's stamped figures hold what it measured when new."""

_INCHES_PER_TREAD_INCH = 2 * pi
"""A tire's circumference changes by this for each unit of tread (4.31)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgment:
    """One limit held against what was measured last; `side` is where wear will reach it.

    `failed`: the measurement that does not pass, while nothing was done since.
    """

    step: Step
    failed: Done | None = None
    side: Side | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Value:
    """A limit in force for a component: its figure and whose it is."""

    limit: Limit
    value: Fraction
    whose: Beats | None
    is_stand_in: bool = False


def judgments(this: Subject) -> tuple[Judgment, ...]:
    """Hold every limit and the check of a rule against what was found last."""
    found: list[Judgment] = []
    if not this.rule.limits:
        return tuple(_checked(this))
    for measure in dict.fromkeys(limit.measure for limit in this.rule.limits):
        holding = [
            limit
            for limit in this.rule.limits
            if limit.measure == measure
            and holds(limit.where, this.component, this.ground.around, this.at) is not None
        ]
        taken = _taken(measure, this)
        for bound in Bound:
            of_bound = [limit for limit in holding if limit.bound is bound]
            if of_bound:
                found.append(_judged(of_bound, taken, this))
    found.extend(_checked(this))
    return tuple(found)


def _taken(measure: str, this: Subject) -> tuple[Measurement, ...]:
    """Give the measurements of a component, the earliest first.

    The spread of a set of tires is reckoned from their tread.
    """
    ground = this.ground
    taken = [
        each
        for each in ground.measured.get(measure, ())
        if is_of(each, this.component) and not _is_of_the_part_before(each, this.component)
    ]
    if measure == "circumference_spread":
        spread = _spread(ground)
        if spread is not None:
            taken.append(spread)
    return tuple(sorted(taken, key=lambda each: (each.on, each.record)))


def _is_of_the_part_before(measurement: Measurement, component: Component) -> bool:
    """Tell whether a measurement of the day of fitting was entered before the new part was.

    Then the old part was measured. Ids rise with the time of entry.
    """
    return (
        component.on == measurement.on
        and component.origin is not Origin.TIRE
        and measurement.job != component.job
        and measurement.record < component.record
    )


def _spread(ground: Ground) -> Measurement | None:
    """Give the spread of circumference over the tires on the road, from the least groove each."""
    depths: list[tuple[Fraction, Measurement]] = []
    for part in ground.car.fitted(ground.today):
        place = part.place_on(ground.today)
        if part.kind != "tire" or place is None or str(place) == "SP":
            continue
        own = [each for each in ground.measured.get("tread_depth", ()) if is_of(each, part)]
        if not own:
            return None
        last = max(own, key=lambda each: (each.on, each.record))
        depth = in_unit(min(last.values), last.unit or "", IN)
        if depth is None:
            return None
        depths.append((depth, last))
    if len(depths) < 4:
        return None
    values = [depth for depth, _ in depths]
    newest = max((each for _, each in depths), key=lambda each: (each.on, each.record))
    spread = float(max(values) - min(values)) * _INCHES_PER_TREAD_INCH
    return replace(
        newest,
        measure="circumference_spread",
        values=(Decimal(f"{spread:.4f}"),),
        unit=IN,
        resolution=None,
        place=None,
    )


def _judged(in_force: Sequence[Limit], taken: Sequence[Measurement], this: Subject) -> Judgment:
    limit = in_force[0]
    values = [value for each in in_force if (value := _value(each, this)) is not None]
    last = taken[-1] if taken else None
    if not values:
        return Judgment(step=_judged_step(limit, None, last))
    # several limits hold: the strictest counts
    strictest = (max if limit.bound is Bound.AT_LEAST else min)(values, key=lambda each: each.value)
    step = _judged_step(strictest.limit, strictest, last)
    if last is None or step.passes is None:
        return Judgment(step=step)
    if not step.passes:
        return Judgment(
            step=step, failed=None if _was_dealt_with(last, this) else _done(last, this)
        )
    return _worn(step, strictest, taken, this)


def _value(limit: Limit, this: Subject) -> _Value | None:
    """Give the figure of a limit: stamped on the part, else the rule's, or the car's own."""
    stamped = _stamped(limit.measure, limit, this)
    if stamped is not None:
        return _Value(limit=limit, value=stamped * limit.times, whose=Beats.STAMPED)
    if limit.share_of_new is not None:
        new = _stamped(NEW, limit, this)
        if new is None:
            return None
        return _Value(limit=limit, value=new * limit.share_of_new, whose=None)
    if limit.value is None:
        return None
    if isinstance(limit.value, Figure):
        return _looked_up(limit, limit.value, this)
    origins = {"garage": Beats.GARAGE, "this car": Beats.THIS_CAR}
    return _Value(limit=limit, value=limit.value, whose=origins.get(this.rule.origin))


def _looked_up(limit: Limit, figure: Figure, this: Subject) -> _Value | None:
    """Give a figure the rule does not hold itself, or what stands in for it until it is entered.

    Where nothing is stamped on the part, as on drums before 1971, the car's own figure counts.
    """
    if figure in {Figure.SPEC, Figure.STAMPED}:
        spec = _own_figure(limit.measure, limit.unit, this)
        if spec is not None:
            return _Value(limit=limit, value=spec * limit.times, whose=Beats.THIS_CAR)
    if figure is Figure.TABLE:
        row = _from_table(limit, this)
        if row is not None:
            return _Value(limit=limit, value=row, whose=None)
    if limit.if_unknown is None:
        return None
    return _Value(limit=limit, value=limit.if_unknown, whose=None, is_stand_in=True)


def _own_figure(name: str, unit: str, this: Subject) -> Fraction | None:
    """Give one of the car's own figures in a unit, or None where it was never entered.

    One entered for a place goes before one of the whole car; of two alike the later counts.
    """
    found = [
        (figure.place is not None, figure.record, value)
        for figure in this.ground.car.figures
        if figure.name == name
        and isinstance(figure.value, Decimal)
        and touches(figure.place, this.at)
        and (value := in_unit(figure.value, figure.unit, unit)) is not None
    ]
    return max(found)[2] if found else None


def _from_table(limit: Limit, this: Subject) -> Fraction | None:
    """Give the published limit that goes by another figure of the car.

    The lash goes by the diameter of the steering wheel (1.01), the linkage's play on a heavy car by
    its rims (1.03, 1.04).
    """
    if limit.measure == "wheel_lash":
        wheel = _own_figure(STEERING_WHEEL, IN, this)
        row = None if wheel is None else limits.steering_lash(float(wheel))
    else:
        weight = this.ground.car.vehicle.weight_lb
        rim = _own_figure(RIM, IN, this)
        if rim is None and limits.is_heavy(weight):
            return None
        row = limits.steering_linkage(gvwr_lb=weight, rim_in=None if rim is None else float(rim))
    return None if row is None else in_unit(Fraction(row.allowed), IN, limit.unit)


def _stamped(name: str, limit: Limit, this: Subject) -> Fraction | None:
    text = this.component.stamped.get(name)
    if text is None:
        return None
    read = quantity(text, MEASURES[limit.measure])
    if not read.values or read.unit is None:
        return None
    return in_unit(read.values[0], read.unit, limit.unit)


def _least(measurement: Measurement, limit: Limit) -> Fraction | None:
    """Give the figure of a measurement that counts, in the limit's unit: the one nearest to it."""
    taken = _worst(measurement, limit)
    return None if taken is None else in_unit(taken, measurement.unit or limit.unit, limit.unit)


def _worst(measurement: Measurement, limit: Limit) -> Decimal | None:
    if not measurement.values:
        return None
    return (min if limit.bound is Bound.AT_LEAST else max)(measurement.values)


def _judged_step(limit: Limit, value: _Value | None, last: Measurement | None) -> Judged:
    is_at_least = limit.bound is Bound.AT_LEAST
    measured = None if last is None else _least(last, limit)
    passes = None if value is None or measured is None else _passes(measured, value)
    advise = limit.advise
    taken = None if last is None else _worst(last, limit)
    return Judged(
        measure=limit.measure,
        record=None if last is None else last.record,
        on=None if last is None else last.on,
        at=None if last is None or last.at is None else Shown(last.at),
        value=_decimal(measured),
        limit=None if value is None else _decimal(value.value),
        is_at_least=is_at_least,
        unit=limit.unit,
        passes=passes,
        entered=None if taken is None or last is None else (taken, last.unit or limit.unit),
        whose=None if value is None else value.whose,
        is_stand_in=value is not None and value.is_stand_in,
        advise=_decimal(advise),
        is_advised=advise is not None
        and measured is not None
        and (measured <= advise if is_at_least else measured >= advise),
    )


def _passes(measured: Fraction, value: _Value) -> bool | None:
    """Hold a figure against its limit; exactly at the limit it passes.

    Toe is held in or out alike (1.05). What has to lie near the car's own figure, nobody telling
    how near (camber, caster), is shown beside it and not judged: None.
    """
    limit = value.limit
    if MEASURES[limit.measure].falls is None and limit.value is Figure.SPEC:
        return abs(measured) <= abs(value.value) if limit.times != 1 else None
    return measured >= value.value if limit.bound is Bound.AT_LEAST else measured <= value.value


def _decimal(value: Fraction | None) -> Decimal | None:
    return None if value is None else Decimal(f"{float(value):.6g}")


def _done(measurement: Measurement, this: Subject) -> Done:
    return Done(
        how=From.MEASURED if measurement.measure else From.CHECKED,
        record=measurement.record,
        on=measurement.on,
        at=measurement.at,
        distance=this.ground.distance_of(measurement.at, measurement.on),
        name=measurement.measure or "",
    )


def _was_dealt_with(measurement: Measurement, this: Subject) -> bool:
    """Tell whether the item was done after the measurement: the figure no longer speaks then."""
    return any(
        act.how is From.DONE
        and act.record != measurement.job
        and act.on is not None
        and (act.on, act.record) > (measurement.on, measurement.record)
        for act in this.acts
    )


def _worn(step: Judged, value: _Value, taken: Sequence[Measurement], this: Subject) -> Judgment:
    """Carry the wear between measurements on to the limit."""
    points = sorted(_points(value.limit, taken, this))
    last = taken[-1]
    if len(points) < 2:
        return Judgment(step=step)
    resolution = (
        None
        if last.resolution is None
        else in_unit(last.resolution, last.unit or "", value.limit.unit)
    )
    run = wear(
        points,
        float(value.value),
        resolution=None if resolution is None else float(resolution),
        at_most=value.limit.bound is Bound.AT_MOST,
    )
    if run.left is None or run.rate_per_1000 is None:
        return Judgment(step=step)
    due_at = reached_at(points[-1][0] + run.left, this)
    if due_at is None:
        return Judgment(step=replace(step, rate_per_1000=run.rate_per_1000))
    worn = replace(step, rate_per_1000=run.rate_per_1000, reached_at=shown(due_at, this.ground))
    base = _done(last, this)
    side = Side(
        due_at=due_at,
        window=Window(opens_at=due_at - _lead(run.left), closes_at=due_at),
        binds_on=Binds.MEASUREMENT,
        binds_at=Binds.MEASUREMENT,
        base=base,
        steps=(worn,),
        lead_percent=this.rule.lead.percent,
    )
    return Judgment(step=worn, side=side)


def _lead(left: float) -> float:
    """A limit that wear will reach is told in time: a tenth of what was left, at most 500."""
    return min(left / 10, 500.0)


def _points(
    limit: Limit, taken: Sequence[Measurement], this: Subject
) -> Iterator[tuple[float, float]]:
    """Give what was measured over the distance; of a tire over the distance that it rolled."""
    new, began = _stamped(NEW, limit, this), began_at(this)
    if new is not None and began is not None:
        yield run_at(began, this), float(new)
    for each in taken:
        distance = this.ground.distance_of(each.at, each.on)
        value = _least(each, limit)
        if distance is not None and value is not None:
            yield run_at(distance, this), float(value)


def _checked(this: Subject) -> Iterator[Judgment]:
    """Give the check that no figure measures, as it was found last."""
    graded = [
        each
        for each in this.ground.checked.get(this.id, ())
        if each.grade is not None and is_of(each, this.component)
    ]
    known, missing = specified(this)
    if not graded:
        if this.rule.check is not None:
            yield Judgment(step=Checked(what=this.rule.check, known=known, missing=missing))
        return
    last = max(graded, key=lambda each: (each.on, each.record))
    is_good = last.grade is Grade.GOOD
    fails = not is_good and not _was_dealt_with(last, this)
    yield Judgment(
        step=Checked(
            what=this.rule.check or this.rule.title,
            record=last.record,
            on=last.on,
            is_good=is_good,
            known=known,
            missing=missing,
        ),
        failed=_done(last, this) if fails else None,
    )


def failed_side(judgment: Judgment) -> Side | None:
    """Give the side of a measurement that fails its limit: due the day it was found, closed before.

    Below the limit is overdue, with no window left.
    """
    failed = judgment.failed
    if failed is None:
        return None
    return Side(
        due_on=failed.on,
        due_at=failed.distance,
        window=Window(
            opens_on=failed.on,
            closes_on=failed.on,
            opens_at=failed.distance,
            closes_at=failed.distance,
        ),
        binds_on=Binds.MEASUREMENT,
        binds_at=Binds.MEASUREMENT,
        base=failed,
        steps=(judgment.step,),
    )
