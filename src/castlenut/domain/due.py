"""What is due on a car on a day, and why: every rule on every component, with its working."""

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from decimal import Decimal

from castlenut.domain.acts import Done, dealt_with
from castlenut.domain.aged import advice, age_side, look_side
from castlenut.domain.car import Car, as_of
from castlenut.domain.counted import interval_in_force, interval_side, season_side
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ground import Ground, ground
from castlenut.domain.happenings import Decline
from castlenut.domain.ids import ROTATE, ItemId, short
from castlenut.domain.item import Baseline, Item, ShownWindow
from castlenut.domain.judged import Judgment, failed_side, judgments
from castlenut.domain.matching import Match, matches
from castlenut.domain.odometer import Odometer
from castlenut.domain.order import sort_key
from castlenut.domain.own import own_matches
from castlenut.domain.points import point_sides
from castlenut.domain.rules.precedence import THIS_CAR
from castlenut.domain.rules.rule import Act, Rule, RuleBook
from castlenut.domain.sides import Side, Subject, known_starts, shown, subject
from castlenut.domain.together import (
    Stands,
    first_day_side,
    first_distance_side,
    how_it_stands,
    point_of,
)
from castlenut.domain.units import Distance, Shown
from castlenut.domain.use.estimate import NO_DAY, Use
from castlenut.domain.window import Window
from castlenut.domain.working import (
    Anchored,
    Assumed,
    BeforeItRolls,
    Binds,
    Cautioned,
    Expected,
    From,
    NoRotation,
    NotKnown,
    NotShortened,
    Reached,
    Refused,
    Result,
    Sourced,
    State,
    Step,
    WindowSet,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CarToday:
    """One car on a day: its items worst first, and what they rest on."""

    car: Car
    today: date
    odometer: Odometer
    use: Use
    items: tuple[Item, ...]


def items_today(
    car: Car,
    book: RuleBook,
    *,
    today: date,
    south: bool = False,
    kinds: Collection[str] | None = None,
) -> CarToday:
    """Give every item of a car on a day, the worst first; with `kinds` only those of such parts.

    Records dated later than the day are left out. `south`: seasons are half a year later.
    """
    seen = as_of(car, today)
    rests_on = ground(seen, today=today, south=south)
    items = [
        item
        for match in (
            *matches(seen, book, today=today, kinds=kinds),
            *(own_matches(rests_on) if kinds is None else ()),
        )
        if not _ends_by_low_use(match, rests_on)
        and (item := _item_today(match, rests_on)) is not None
    ]
    items = [_if_it_can(item, rests_on, book) for item in items]
    return CarToday(
        car=seen,
        today=today,
        odometer=rests_on.odometer,
        use=rests_on.use,
        items=tuple(sorted(items, key=sort_key)),
    )


def _ends_by_low_use(match: Match, rests_on: Ground) -> bool:
    least, yearly = match.rule.ends_under_yearly, rests_on.use.yearly
    return least is not None and yearly is not None and yearly < rests_on.length(least, match.rule)


def _item_today(match: Match, rests_on: Ground) -> Item | None:
    """Reckon one item; None where there is nothing to count, as when its event has not come."""
    rule, component = match.rule, match.component
    at = component.place_on(rests_on.today)
    id_ = ItemId(rule=rule.id, component=component.record)
    acts = dealt_with(id_, rule, component, at, rests_on)
    this = subject(id_, rule, component, at, acts, rests_on)
    judged = judgments(this)
    sides = list(_sides(this))
    fails = [side for each in judged if (side := failed_side(each)) is not None]
    if sides or fails:
        sides.extend(each.side for each in judged if each.side is not None)
    sides.extend(fails)
    if not known_starts(sides):
        if rule.intake is None or (this.latest is not None and not sides and _is_once(rule)):
            return None
        return _no_record(this, match.assumed, judged, sides)
    standing = how_it_stands(sides, rests_on, is_own_check=rule.is_own_check)
    if _is_unknown(this, sides, standing):
        return _no_record(this, match.assumed, judged, sides)
    return _reckoned(this, match.assumed, judged, sides, standing)


def _if_it_can(item: Item, rests_on: Ground, book: RuleBook) -> Item:
    """Say of the rotation of tires where none is possible: the item stays, and says why."""
    if item.id.rule != ROTATE:
        return item
    # Imported here: it loads all that judges tires, which most single items have no use for.
    from castlenut.domain.tires.today import against_any_rotation

    against = against_any_rotation(rests_on, book)
    if not against:
        return item
    steps = item.working
    end = next(number for number, step in enumerate(steps) if isinstance(step, Result))
    return replace(item, against=against, working=(*steps[:end], NoRotation(), *steps[end:]))


def _is_once(rule: Rule) -> bool:
    """Tell whether a rule asks for its points alone, and for nothing when they are done."""
    return rule.every is None and (rule.age is None or rule.age.months is None)


def _sides(this: Subject) -> tuple[Side, ...]:
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


def _is_unknown(this: Subject, sides: Sequence[Side], standing: Stands) -> bool:
    """Tell whether only points after an event are known, and none of them is reached.

    Then nobody knows when the item was last done, and that is what has to be told.
    """
    return (
        this.rule.intake is not None
        and this.rule.every is not None
        and standing.state is State.AHEAD
        and all(side.base.how is From.EVENT for side in sides)
    )


def _reckoned(
    this: Subject,
    assumed: tuple[Assumed, ...],
    judged: Sequence[Judgment],
    sides: Sequence[Side],
    standing: Stands,
) -> Item:
    rests_on = this.ground
    point = point_of(sides, rests_on)
    now = rests_on.distance_today
    days_left = None if point.on is None else (point.on - rests_on.today).days
    distance_left = None if point.at is None or now is None else Distance(point.at - now.p50)
    decline = _decline(this)
    state = standing.state
    told = State.DECLINED if decline is not None else state
    steps: list[Step] = [*assumed]
    for side in _worth_telling(sides, point.side):
        steps.extend(_untold(side, steps))
    advised = advice(this)
    if advised is not None:
        steps.append(advised)
    steps.extend(_judged_steps(judged, steps))
    dial = ShownWindow(
        due_at=shown(point.at, rests_on),
        opens_at=shown(point.window.opens_at, rests_on),
        closes_at=shown(point.window.closes_at, rests_on),
    )
    steps.append(Reached(on=point.on, at=dial.due_at, binds=point.binds))
    steps.append(
        WindowSet(
            opens_on=point.window.opens_on,
            closes_on=point.window.closes_on,
            opens_at=dial.opens_at,
            closes_at=dial.closes_at,
            lead_percent=point.side.lead_percent,
            late_percent=this.rule.tolerance.percent,
            is_of_season=bool(this.rule.season),
        )
    )
    if point.at is not None:
        steps.append(rests_on.dial_read)
    expected = point.expected
    steps.append(
        Expected(
            p10=expected.p10,
            p50=expected.p50,
            p90=expected.p90,
            is_use_known=rests_on.use.basis.a_day is not None,
        )
    )
    if standing.waits and rests_on.in_work_since is not None:
        steps.append(BeforeItRolls(since=rests_on.in_work_since))
    if decline is not None:
        steps.append(_refused_step(decline, state))
    may_be = standing.may_be if decline is None else None
    steps.append(
        Result(
            state=told,
            may_be=may_be,
            today=rests_on.today,
            days_left=days_left,
            distance_left=None if distance_left is None else Decimal(f"{distance_left:.1f}"),
            before_it_rolls=standing.waits,
        )
    )
    steps.extend(_closing(this))
    return Item(
        id=this.id,
        rule=this.rule,
        component=this.component,
        place=this.at,
        state=told,
        may_be=may_be,
        due_on=point.on,
        due_at=None if point.at is None else Distance(point.at),
        window=point.window,
        shown=dial,
        binds=point.binds,
        expected=expected,
        baseline=_baseline(this, point.side),
        days_left=days_left,
        distance_left=distance_left,
        rank=None,
        before_it_rolls=standing.waits,
        declined=decline,
        reckoned=state,
        has_open_point_at_0=any(side.waits for side in sides),
        working=tuple(steps),
    )


def _worth_telling(sides: Sequence[Side], deciding: Side) -> Iterator[Side]:
    """Give the sides that belong in the working.

    Those are the interval and the age, the nearest point, the first by day and the first by
    distance, and always the one that decides; and the points after a fitting of which the distance
    is not known, which is why none of them is counted.
    """
    if len(sides) == 1:
        yield sides[0]
        return
    points = [side for side in sides if side.lead_percent is None]
    unknown = next((side for side in points if side.due_at is None and side.due_on is None), None)
    told = (
        deciding,
        first_day_side(sides),
        first_distance_side(points),
        first_distance_side(sides),
        unknown if unknown is not None and unknown.base.how is From.FITTED else None,
    )
    for side in sides:
        if side.lead_percent is not None or any(side is each for each in told):
            yield side


def _untold(side: Side, told: Sequence[Step]) -> tuple[Step, ...]:
    """Give the steps of a side that have to be told still.

    Its anchor is, unless the step before is of the same one: what is added is added to the last.
    """
    if not told:
        return side.steps
    last = next((step for step in reversed(told) if isinstance(step, Anchored)), None)
    return tuple(
        step
        for step in side.steps
        if not (step == last or (isinstance(step, NotShortened | NotKnown) and step in told))
    )


def _judged_steps(judged: Sequence[Judgment], told: Sequence[Step]) -> list[Step]:
    """Give the steps of the judgments that no side has told already."""
    return [each.step for each in judged if not any(step is each.step for step in told)]


def _baseline(this: Subject, side: Side) -> Baseline:
    """Give what the deciding side is counted from; for a measurement, what was done last."""
    base: Done = side.base
    if side.binds_at is Binds.MEASUREMENT and this.latest is not None:
        base = this.latest
    return Baseline(
        record=base.record,
        how=base.how,
        on=base.on,
        at=None if base.at is None else Shown(base.at),
        by=base.by,
    )


def _no_record(
    this: Subject,
    assumed: tuple[Assumed, ...],
    judged: Sequence[Judgment],
    sides: Sequence[Side],
) -> Item:
    """Give the item of which nobody knows when it was last done: the sum stops there."""
    intake = this.rule.intake
    latest = this.latest
    steps: list[Step] = [*assumed]
    for side in sides:
        steps.extend(_untold(side, steps))
    if latest is None:
        what = "when it was last done"
        remedy = _REMEDIES[intake.act] if intake else _REMEDIES[Act.RENEW]
        steps.append(NotKnown(what=what, remedy=remedy))
    elif not sides:
        steps.append(latest.step)
        missing = (
            ("the day", "on=DATE") if latest.on is None else ("the distance then", "at=FIGURE")
        )
        what, field = missing
        steps.append(
            NotKnown(what=what, remedy=f"correct the record {short(latest.record)}: {field}")
        )
    steps.extend(_judged_steps(judged, steps))
    decline = _decline(this)
    if decline is not None:
        steps.append(_refused_step(decline, State.NO_RECORD))
    state = State.DECLINED if decline is not None else State.NO_RECORD
    rank = intake.rank if intake and decline is None else None
    steps.append(
        Result(
            state=state,
            may_be=None,
            today=this.ground.today,
            days_left=None,
            distance_left=None,
            rank=rank,
        )
    )
    steps.extend(_closing(this))
    return Item(
        id=this.id,
        rule=this.rule,
        component=this.component,
        place=this.at,
        state=state,
        may_be=None,
        due_on=None,
        due_at=None,
        window=Window(),
        shown=ShownWindow(due_at=None, opens_at=None, closes_at=None),
        binds=None,
        expected=NO_DAY,
        baseline=None,
        days_left=None,
        distance_left=None,
        rank=rank,
        before_it_rolls=False,
        declined=decline,
        reckoned=State.NO_RECORD,
        working=tuple(steps),
    )


_REMEDIES = {
    Act.RENEW: "do or renew it, or state when it was done",
    Act.LOOK: "look at it or measure it, or state when it was done",
    Act.ASK: "ask for its papers or the previous keeper, or state when it was done",
}


def _decline(this: Subject) -> Decline | None:
    """Give the owner's last refusal, if nothing was done since and it has not run out."""
    rests_on = this.ground
    if not rests_on.car.declines:
        return None
    refusals = [each for each in rests_on.car.declines if each.item == this.id]
    last = max(refusals, key=lambda each: (each.on, each.record), default=None)
    if last is None or (last.until is not None and rests_on.today > last.until):
        return None
    return None if any(_ends(act, last) for act in this.acts) else last


def _ends(act: Done, refusal: Decline) -> bool:
    """Tell whether what was done ends a refusal: a job from its day on, a look only later.

    What was measured that day is what the owner was told when he refused.
    """
    if act.on is None:
        return False
    is_job = act.how in {From.DONE, From.INCLUDED}
    return act.on > refusal.on or (is_job and act.on == refusal.on)


def _refused_step(decline: Decline, reckoned: State) -> Refused:
    return Refused(
        record=decline.record,
        on=decline.on,
        who=decline.who,
        why=decline.why,
        until=decline.until,
        reckoned=reckoned,
    )


def _closing(this: Subject) -> Iterator[Step]:
    rule = this.rule
    yield Sourced(
        source=rule.source,
        basis=rule.basis.value,
        note=rule.note,
        is_this_cars=rule.origin == THIS_CAR,
    )
    if rule.cautions:
        yield Cautioned(keys=rule.cautions)
