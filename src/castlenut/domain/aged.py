"""Sides that go by age or by a look: made long ago, a label's year, found good for a while."""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from castlenut.domain.acts import Done
from castlenut.domain.component import Component, Origin
from castlenut.domain.counted import InForce, shortened, variant_of
from castlenut.domain.interval import Interval, due_on
from castlenut.domain.months import months_after
from castlenut.domain.rules.rule import Age, AgeFrom
from castlenut.domain.sides import Side, Subject, allowance
from castlenut.domain.window import Allowance, window_around
from castlenut.domain.working import Aged, Binds, From, NotKnown, Step


def age_side(this: Subject, force: InForce | None) -> Side | None:
    """Give the side of an age.

    It runs from made, else from fitted; to a label's year; or to the age at which looking begins.
    """
    age = _age(this)
    if age is None:
        return None
    if age.counted_from is AgeFrom.LABEL:
        return _label_side(this)
    if age.inspect_from is not None:
        return None if force is None else _first_look(this, force, age.inspect_from)
    if age.months is None:
        return None
    born = _born(this) if age.counted_from is AgeFrom.MADE else this.fitted
    base = _renewed(this) or born
    if base is None or base.on is None:
        return None
    interval = Interval(months=age.months)
    interval, shortening = shortened(this, interval)
    ends = due_on(base.on, interval)
    aged = _aged(age, base, this)
    return Side(
        due_on=ends,
        window=window_around(
            ends,
            None,
            interval,
            lead=allowance(this.rule.lead, this),
            tolerance=allowance(this.rule.tolerance, this),
        ),
        binds_on=Binds.AGE,
        binds_at=Binds.AGE,
        base=base,
        steps=(base.step, *_ambiguous(base, this), aged, *shortening),
        lead_percent=this.rule.lead.percent,
    )


def _ambiguous(base: Done, this: Subject) -> Iterator[NotKnown]:
    """Say where the number of a tire leaves the year open: counted is the last it may be."""
    years = [str(day.year) for day in this.component.made_may_be]
    if base.how is From.MADE and years:
        yield NotKnown(
            what=f"the year of make: its number says {', '.join(years)}",
            remedy=f"counted from {years[-1]}, the youngest it can be",
        )


def advice(this: Subject) -> Aged | None:
    """Give the age from which renewal is advised, where the rule sets no limit to the age."""
    age, born = _age(this), _born(this)
    if age is None or age.advise is None or age.months is not None:
        return None
    return None if born is None or born.on is None else _aged(age, born, this)


def _age(this: Subject) -> Age | None:
    variant = variant_of(this)
    return this.rule.age if variant is None or variant.age is None else variant.age


def _aged(age: Age, base: Done, this: Subject) -> Aged:
    since = base.on
    return Aged(
        months=age.months,
        counted_from=base.how,
        since=since,
        advise_months=age.advise,
        is_advised=age.advise is not None
        and since is not None
        and months_after(since, age.advise) <= this.ground.today,
    )


def _renewed(this: Subject) -> Done | None:
    """Give the last renewal: the item done, or stated to be.

    A look renews nothing; and a kind stated at intake tells when the part was fitted, which the
    date of make goes before (4.46).
    """
    is_made_known = this.component.made is not None or bool(this.component.made_may_be)
    done = [
        act
        for act in this.acts
        if act.on is not None
        and (
            act.how in (From.DONE, From.INCLUDED)
            or (act.how is From.STATED and not (is_made_known and act.name == this.component.kind))
        )
    ]
    return done[-1] if done else None


def _born(this: Subject) -> Done | None:
    component, made = this.component, this.component.made
    if component.made_may_be:
        made = component.made_may_be[-1]  # too old by the youngest is too old by all
    if made is None and component.origin in (Origin.TIRE, Origin.WHEEL):
        return _first_on(component)
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


def _first_on(component: Component) -> Done | None:
    """Give when a tire came onto the car at all: off for a winter makes it no younger."""
    if component.first_on is None:
        return None
    return Done(
        how=From.FITTED,
        record=component.record,
        on=component.first_on,
        at=None,
        distance=None,
        name=component.kind,
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
            lead=allowance(this.rule.lead, this),
            tolerance=allowance(this.rule.tolerance, this),
        ),
        binds_on=Binds.AGE,
        binds_at=Binds.AGE,
        base=base,
        steps=(base.step, Aged(months=None, counted_from=From.LABEL, since=ends)),
        lead_percent=this.rule.lead.percent,
    )


def _first_look(this: Subject, force: InForce, inspect_from: int) -> Side | None:
    """The first look is due at an age; from then on every interval from the last look."""
    if this.latest is not None and this.latest.how is From.INSPECTED:
        return None
    born = _born(this)
    looks = [act for act in this.acts if act.on is not None and act.how is not From.INSPECTED]
    begins = None if born is None or born.on is None else months_after(born.on, inspect_from)
    last = looks[-1] if looks else None
    again = None if last is None or last.on is None else due_on(last.on, force.interval)
    if begins is None and again is None:
        return None
    is_again = again is not None and (begins is None or again > begins)
    base = last if is_again else born
    if base is None:
        return None
    counted: tuple[Step, ...] = force.steps
    if not is_again:
        counted = (
            *_ambiguous(base, this),
            Aged(months=inspect_from, counted_from=base.how, since=base.on),
        )
    ends = again if is_again else begins
    return Side(
        due_on=ends,
        window=window_around(
            ends,
            None,
            force.interval,
            lead=allowance(this.rule.lead, this),
            tolerance=allowance(this.rule.tolerance, this),
        ),
        binds_on=Binds.DATE if is_again else Binds.AGE,
        binds_at=Binds.AGE,
        base=base,
        steps=(base.step, *counted),
        lead_percent=this.rule.lead.percent,
    )


def look_side(this: Subject, force: InForce | None) -> Side | None:
    """Give the side of an item that was found good, at intake, until a day or a distance.

    After that nobody knows again, and there is no such side.
    """
    latest = this.latest
    if latest is None or latest.how is not From.INSPECTED:
        return None
    ground = this.ground
    at = ground.distance_of(latest.until_at, ground.today)
    length = force.interval if force is not None else Interval(months=12)
    return Side(
        due_on=latest.until,
        due_at=at,
        window=window_around(
            latest.until,
            at,
            length,
            lead=allowance(this.rule.lead, this),
            tolerance=Allowance(percent=Fraction(0)),
        ),
        binds_on=Binds.DATE,
        binds_at=Binds.DISTANCE,
        base=latest,
        steps=(latest.step,),
        lead_percent=this.rule.lead.percent,
    )
