"""What counts as having dealt with an item: fitted, done, measured, checked, or stated."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from castlenut.domain.component import Component, Origin
from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.happenings import Answer, Grade, Measurement, Statement
from castlenut.domain.ids import ItemId, RecordId
from castlenut.domain.matching import speaks_of
from castlenut.domain.place import Place, lies_in
from castlenut.domain.rules.rule import Act as IntakeAct
from castlenut.domain.rules.rule import AgeFrom, Rule
from castlenut.domain.units import Distance, Shown
from castlenut.domain.working import Anchored, From


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """One thing that a counting may start from. None: that side is not known.

    `until` and `until_at` are set only where it was inspected and found good for a while.
    """

    how: From
    record: RecordId
    on: date | None
    at: Decimal | None
    distance: Distance | None
    name: str = ""
    by: str | None = None
    is_estimated: bool = False
    until: date | None = None
    until_at: Decimal | None = None

    @property
    def step(self) -> Anchored:
        """Give the step of a working that starts here."""
        return Anchored(
            how=self.how,
            record=self.record,
            on=self.on,
            at=None if self.at is None else Shown(self.at),
            name=self.name,
            by=self.by,
            is_estimated=self.is_estimated,
            until=self.until,
            until_at=None if self.until_at is None else Shown(self.until_at),
        )


def fitting(component: Component, ground: Ground) -> Done | None:
    """Give the fitting of a component, or None where nobody knows when it was fitted.

    A used part brings no known history with it, so its fitting counts for nothing.
    """
    if component.on is None and component.at is None:
        return None
    if component.attributes.get("condition") == "used":
        return None
    return Done(
        how=_BEGINS.get(component.origin, From.FITTED),
        record=component.record,
        on=component.on,
        at=component.at,
        distance=ground.distance_of(component.at, component.on),
        name=component.kind if component.origin not in _BEGINS else "",
    )


_BEGINS = {Origin.OWN_ITEM: From.NOTED, Origin.FINDING: From.FOUND}


def counts_fitting(rule: Rule) -> bool:
    """Tell whether the fitting of the part is a start for a rule's interval.

    Not for a look that begins at an age, for a label's year, and for what is counted from a lay-up.
    """
    if rule.counted_from_layup:
        return False
    return rule.age is None or (
        rule.age.inspect_from is None and rule.age.counted_from is not AgeFrom.LABEL
    )


def dealt_with(
    id_: ItemId, rule: Rule, component: Component, at: Place | None, ground: Ground
) -> tuple[Done, ...]:
    """Give all that was done on an item since its part was fitted, the earliest first."""
    found = [
        *_jobs(id_, ground),
        *_visits(rule, ground),
        *_measurements(id_, rule, component, ground),
        *_statements(rule, component, at, ground),
    ]
    if not found:
        return ()
    began = component.on
    if began is not None:
        found = [act for act in found if act.on is None or act.on >= began]
    found.sort(key=lambda act: (act.on or date.min, act.distance or 0.0, act.record))
    return tuple(found)


def _jobs(id_: ItemId, ground: Ground) -> Iterator[Done]:
    for job, is_included in ground.done.get(id_, ()):
        yield Done(
            how=From.INCLUDED if is_included else From.DONE,
            record=job.record,
            on=job.on,
            at=job.at,
            distance=ground.run_at[job.record],
            by=job.by,
            is_estimated=job.estimated,
        )


def _visits(rule: Rule, ground: Ground) -> Iterator[Done]:
    """Any visit to the garage counts as the owner's own checks done."""
    if not rule.is_own_check:
        return
    for job in ground.visits:
        yield Done(
            how=From.VISIT,
            record=job.record,
            on=job.on,
            at=job.at,
            distance=ground.run_at[job.record],
            is_estimated=job.estimated,
        )


def _measurements(id_: ItemId, rule: Rule, component: Component, ground: Ground) -> Iterator[Done]:
    if not ground.measured and not ground.checked:
        return
    taken = [
        each
        for measure in {limit.measure for limit in rule.limits}
        for each in ground.measured.get(measure, ())
        if is_of(each, component)
    ]
    checks = [each for each in ground.checked.get(id_, ()) if each.grade is Grade.GOOD]
    for each in (*taken, *checks):
        yield Done(
            how=From.CHECKED if each.measure is None else From.MEASURED,
            record=each.record,
            on=each.on,
            at=each.at,
            distance=ground.distance_of(each.at, each.on),
            name=each.measure or "",
            by=None if each.job is None else ground.done_by.get(each.job),
        )


def is_of(measurement: Measurement, component: Component) -> bool:
    """Tell whether a measurement was taken on a component: there, and since it was fitted.

    One that names an item is of that item's component alone; of a tire it stays, though the tire
    was off the car since.
    """
    is_named = measurement.item is not None and measurement.item.component == component.record
    if component.origin is Origin.TIRE and is_named:
        return True
    if component.on is not None and measurement.on < component.on:
        return False
    if measurement.item is not None:
        return is_named
    stood = component.place_on(measurement.on)
    if component.stood and stood is None:
        return False
    return measurement.place is None or stood is None or lies_in(stood, measurement.place)


def _statements(
    rule: Rule, component: Component, at: Place | None, ground: Ground
) -> Iterator[Done]:
    about = (
        *ground.stated.get((rule.id, None), ()),
        *ground.stated.get((None, component.kind), ()),
    )
    for each in about:
        if not _tells(each, rule) or not speaks_of(each, rule, component, at):
            continue
        is_stated = each.answer is Answer.STATED
        yield Done(
            how=From.STATED if is_stated else From.INSPECTED,
            record=each.record,
            on=each.on,
            at=each.at,
            distance=ground.distance_of(each.at, each.on),
            name=each.kind or each.item or "",
            until=None if is_stated else each.until,
            until_at=None if is_stated else each.until_at,
        )


def _tells(statement: Statement, rule: Rule) -> bool:
    """Tell whether an answer ends "no record" of a rule.

    A look that finds it fine does so only where a look is what the rule asks for.
    """
    match statement.answer:
        case Answer.STATED:
            return statement.on is not None or statement.at is not None
        case Answer.INSPECTED:
            return rule.intake is not None and rule.intake.act is IntakeAct.LOOK
        case Answer.UNKNOWN | Answer.NOT_APPLICABLE:
            return False
