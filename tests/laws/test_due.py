"""Laws of what is due, over invented cars, small rules made as values, and the shipped rules."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import floor
from typing import TypeVar

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from castlenut.domain.car import Car
from castlenut.domain.due import items_today
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Decline, Happening, Job, Raised
from castlenut.domain.ids import ItemId, RecordId
from castlenut.domain.item import Item
from castlenut.domain.months import after_span
from castlenut.domain.odometer import Dial, Reading
from castlenut.domain.rules.rule import EventPoint
from castlenut.domain.units import Distance, Unit
from castlenut.domain.working import (
    Aged,
    Anchored,
    Cautioned,
    Counted,
    From,
    Judged,
    KeptToSchedule,
    Pointed,
    Reached,
    Result,
    Seasoned,
    Shortened,
    Sourced,
    State,
    Step,
)
from tests.laws.examples import examples
from tests.laws.strategies import Case, cases, shipped_cases, small_cases, with_rules

KM_PER_MI = Decimal("1.609344")
Row = TypeVar("Row")
SOME = examples(60)  # a whole car is reckoned in each, and drawn in more time still
FAR = date.max


def items_of(case: Case, of: Car | None = None, on: date | None = None) -> tuple[Item, ...]:
    return items_today(of or case.car, case.book, today=on or case.today).items


def by_id(items: Sequence[Item]) -> dict[ItemId, Item]:
    return {item.id: item for item in items}


@dataclass(frozen=True, slots=True, kw_only=True)
class Redone:
    """A side as a reader would reckon it from the lines of a working."""

    on: date | None = None
    at: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Begun:
    """What is added to, and how many times on each side."""

    on: date | None
    at: Decimal | None
    turn_on: int = 1
    turn_at: int = 1


def redone(steps: Sequence[Step]) -> Iterator[Redone]:
    """Add up a working by hand: what is added is added to the last anchor before it."""
    begun: Begun | None = None
    side = Redone()
    for step in steps:
        if isinstance(step, Anchored | Pointed | Counted | Aged):
            yield side
            side = Redone()
        match step:
            case Anchored():
                begun = Begun(on=step.on, at=step.at)
                side = Redone(on=step.until, at=step.until_at)
            case KeptToSchedule():
                begun = Begun(on=step.on, at=step.at, turn_on=step.turn_on, turn_at=step.turn_at)
            case Pointed() if begun is not None and step.distance == 0:
                side = Redone(on=begun.on, at=begun.at)
            case Pointed() if begun is not None and begun.at is not None:
                side = Redone(at=begun.at + step.distance)
            case Counted() | Shortened() if begun is not None:
                side = _added(begun, step)
            case Aged(counted_from=From.LABEL, since=since):
                side = Redone(on=since)
            case Aged(months=int(months), since=date() as since):
                side = Redone(on=after_span(since, months, 0))
            case Seasoned(last_day=last_day):
                side = Redone(on=last_day)
            case Judged(reached_at=reached_at) if reached_at is not None:
                yield Redone(at=reached_at)
            case _:
                pass
    yield side


def _added(begun: Begun, step: Counted | Shortened) -> Redone:
    has_time = step.months is not None or step.days is not None
    months, days = (step.months or 0) * begun.turn_on, (step.days or 0) * begun.turn_on
    return Redone(
        on=after_span(begun.on, months, days) if begun.on is not None and has_time else None,
        at=begun.at + step.distance * begun.turn_at
        if begun.at is not None and step.distance is not None
        else None,
    )


@SOME
@given(cases())
def test_the_working_done_again_gives_the_due_point(case: Case) -> None:
    """design.md 6: no due date without its working; the first side reached wins (7.07)."""
    for item in items_of(case):
        for step in item.working:
            if not isinstance(step, Reached):
                continue
            sides = list(redone(item.working))
            days = [side.on for side in sides if side.on is not None]
            distances = [side.at for side in sides if side.at is not None]

            assert step.on == min(days, default=None)
            assert item.due_on == step.on
            assert (step.at is None) == (not distances)
            if step.at is not None:
                assert abs(step.at - floor(min(distances))) <= 1


@SOME
@given(cases())
def test_every_sum_ends_in_its_result(case: Case) -> None:
    """Result stands last of the sum; after it come only the source and the cautions."""
    for item in items_of(case):
        results = [step for step in item.working if isinstance(step, Result)]
        after = item.working[item.working.index(results[0]) + 1 :]

        assert len(results) == 1
        assert [type(step) for step in after] in ([Sourced], [Sourced, Cautioned])
        assert results[0].state is item.state
        assert results[0].may_be is item.may_be
        assert results[0].days_left == item.days_left
        assert results[0].rank == item.rank
        assert results[0].before_it_rolls == item.before_it_rolls
        if item.distance_left is None:
            assert results[0].distance_left is None
        else:
            assert results[0].distance_left is not None
            assert abs(float(results[0].distance_left) - item.distance_left) < 0.06


@SOME
@given(cases())
def test_a_window_holds_its_due_point(case: Case) -> None:
    """The window lies around the due point, each side on its own (7.07)."""
    for item in items_of(case):
        window = item.window
        if item.due_on is not None:
            assert window.opens_on is not None
            assert window.closes_on is not None
            assert window.opens_on <= item.due_on <= window.closes_on
        if item.due_at is not None:
            assert window.opens_at is not None
            assert window.closes_at is not None
            assert window.opens_at - 1e-6 <= item.due_at <= window.closes_at + 1e-6


@SOME
@given(cases())
def test_expected_dates_keep_their_order_and_never_pass_the_date_side(case: Case) -> None:
    """P10 is the earliest; None counts as latest; a date side is reached on its day."""
    for item in items_of(case):
        p10, p50, p90 = (
            day or FAR for day in (item.expected.p10, item.expected.p50, item.expected.p90)
        )

        assert p10 <= p50 <= p90
        assert p90 <= (item.due_on or FAR)


@SOME
@given(cases())
def test_no_record_has_a_rank_and_nothing_else_has(case: Case) -> None:
    for item in items_of(case):
        assert (item.rank is not None) == (item.state is State.NO_RECORD)
        if item.state is State.NO_RECORD:
            assert (item.due_on, item.due_at, item.binds) == (None, None, None)
        else:
            assert item.due_on is not None or item.due_at is not None


@SOME
@given(cases(), st.data())
def test_doing_an_item_today_never_makes_it_due_earlier(case: Case, data: st.DataObject) -> None:
    """Work done moves a due point on, each side and the expected day.

    Parts of which nobody knows when they were fitted are left aside, and so is the expected day
    where nobody knows the distance of the last time: the job begins a counting that there was not.
    """
    assume(all(each.until is None for each in case.car.statements))
    before = [
        item
        for item in items_of(case)
        if item.state is not State.NO_RECORD and item.component.on is not None
    ]
    assume(before)
    one = data.draw(st.sampled_from(before))
    shown = items_today(case.car, case.book, today=case.today).use.distance_on(case.today)
    assert shown is not None
    job = Job(
        record=RecordId("today"),
        on=case.today,
        at=Decimal(floor(shown.p50)),
        estimated=True,
        items=(one.id,),
    )

    after = by_id(items_of(case, replace(case.car, jobs=(*case.car.jobs, job)))).get(one.id)

    if after is None or after.state is State.NO_RECORD:
        return
    assert (after.due_on or FAR) >= (one.due_on or FAR)
    if one.due_at is not None or after.due_at is None:
        assert (after.expected.p50 or FAR) >= (one.expected.p50 or FAR)
    if after.due_at is not None and one.due_at is not None:
        assert after.due_at >= one.due_at - 1


@SOME
@given(cases(), st.integers(0, 400))
def test_a_reading_moves_no_date_side(case: Case, miles: int) -> None:
    """Dates are counted from what was done; the dial only moves what is counted in distance."""
    read = Reading(
        record=RecordId("unrelated"),
        on=case.today,
        figure=Decimal(case.line[-1].at + miles),
        unit=Unit.MI,
    )

    before = by_id(items_of(case))
    after = by_id(items_of(case, replace(case.car, readings=(*case.car.readings, read))))

    for id_ in before.keys() & after.keys():
        if State.NO_RECORD not in {before[id_].state, after[id_].state}:
            assert after[id_].due_on == before[id_].due_on


def in_km(of: Car) -> Car:
    """Give the same car with a dial in kilometers, every figure converted exactly."""

    def converted(at: Decimal | None) -> Decimal | None:
        return None if at is None else at * KM_PER_MI

    return replace(
        of,
        vehicle=replace(of.vehicle, dial=Dial(unit=Unit.KM, digits=7, tenths=False)),
        readings=tuple(
            replace(each, figure=each.figure * KM_PER_MI, unit=Unit.KM) for each in of.readings
        ),
        components=tuple(replace(each, at=converted(each.at)) for each in of.components),
        jobs=tuple(replace(each, at=converted(each.at)) for each in of.jobs),
        happenings=tuple(replace(each, at=converted(each.at)) for each in of.happenings),
        statements=tuple(replace(each, at=converted(each.at)) for each in of.statements),
    )


@SOME
@given(cases())
def test_the_unit_of_the_dial_changes_no_answer(case: Case) -> None:
    """1 mi = 1.609344 km: the same dates and states, distances in that proportion (10.08)."""
    miles = by_id(items_of(case))
    km = by_id(items_of(case, in_km(case.car)))

    assert miles.keys() == km.keys()
    for id_, one in miles.items():
        other = km[id_]
        assert (other.state, other.may_be, other.due_on) == (one.state, one.may_be, one.due_on)
        assert (other.due_at is None) == (one.due_at is None)
        if one.due_at is not None and other.due_at is not None:
            assert other.due_at == pytest.approx(one.due_at * 1.609344, abs=1e-4)
        for mine, theirs in (
            (one.expected.p10, other.expected.p10),
            (one.expected.p50, other.expected.p50),
            (one.expected.p90, other.expected.p90),
        ):
            assert (mine is None) == (theirs is None)
            if mine is not None and theirs is not None:
                assert abs((mine - theirs).days) <= 1


def shuffled(of: Car, seed: int) -> Car:
    """Give the same car with every table in another order; readings of one day keep theirs."""
    chance = random.Random(seed)
    days = list(dict.fromkeys(each.on for each in of.readings))
    chance.shuffle(days)
    return replace(
        of,
        readings=tuple(each for day in days for each in of.readings if each.on == day),
        components=_shuffled(of.components, chance),
        jobs=_shuffled(of.jobs, chance),
        happenings=_shuffled(of.happenings, chance),
        measurements=_shuffled(of.measurements, chance),
        statements=_shuffled(of.statements, chance),
        declines=_shuffled(of.declines, chance),
        exposures=_shuffled(of.exposures, chance),
        stays=_shuffled(of.stays, chance),
    )


def _shuffled(table: tuple[Row, ...], chance: random.Random) -> tuple[Row, ...]:
    return tuple(chance.sample(table, len(table)))


@SOME
@given(cases(), st.integers(0, 2**16))
def test_the_order_of_the_records_tells_nothing(case: Case, seed: int) -> None:
    assert items_of(case, shuffled(case.car, seed)) == items_of(case)


@SOME
@given(cases(), st.data())
def test_what_is_dated_later_changes_nothing(case: Case, data: st.DataObject) -> None:
    """The record as it stood on a day: what came after is not known yet."""
    items = items_of(case)
    assume(items)
    later = case.today + timedelta(days=data.draw(st.integers(1, 500)))
    at = Decimal(case.line[-1].at + 20_000)
    one = data.draw(st.sampled_from(items))
    car = replace(
        case.car,
        readings=(
            *case.car.readings,
            Reading(record=RecordId("later"), on=later, figure=at, unit=Unit.MI),
        ),
        jobs=(
            *case.car.jobs,
            Job(
                record=RecordId("later-job"),
                on=later,
                at=at,
                items=(one.id,),
                events=(Raised(event="weld"),),
            ),
        ),
        happenings=(
            *case.car.happenings,
            Happening(record=RecordId("later-event"), event="paint", on=later, at=at),
        ),
        declines=(
            *case.car.declines,
            Decline(record=RecordId("later-refusal"), item=one.id, on=later),
        ),
        components=tuple(replace(each, removed_on=later) for each in case.car.components),
    )

    assert [_dated(item) for item in items_of(case, car)] == [_dated(item) for item in items]


def _dated(item: Item) -> Item:
    return replace(item, component=replace(item.component, removed_on=None))


@SOME
@given(shipped_cases(), st.data())
def test_the_items_of_a_removed_part_end(case: Case, data: st.DataObject) -> None:
    """A conversion changes the schedule by itself: what is taken off takes its items along."""
    gone = data.draw(st.sampled_from(case.car.components))
    car = replace(
        case.car,
        components=tuple(
            replace(each, removed_on=case.today) if each is gone else each
            for each in case.car.components
        ),
    )

    left = {item.id.component for item in items_of(case, car)}

    assert gone.record not in left
    assert {item.id for item in items_of(case)} - {item.id for item in items_of(case, car)} == {
        item.id for item in items_of(case) if item.id.component == gone.record
    }


@SOME
@given(small_cases(), st.sampled_from([0, 500]))
def test_a_job_leaves_nothing_at_once_open_of_what_it_did(case: Case, at: int) -> None:
    """An event of a job makes nothing due at 0 that the job did; at a distance it does."""
    rules = [
        replace(
            rule,
            also_after=(EventPoint(event="weld", at=Fraction(at)),),
            first=(),
            every=None,
            age=None,
            exposure={},
        )
        for rule in case.rules
    ]
    job = Job(
        record=RecordId("both"),
        on=case.today,
        at=Decimal(case.line[-1].at),
        items=tuple(ItemId(rule=rule.id, component=RecordId("engine")) for rule in rules),
        events=(Raised(event="weld"),),
    )
    car = replace(case.car, jobs=(job,), happenings=(), statements=())

    items = items_today(car, with_rules(*rules), today=case.today).items

    if at == 0:
        assert items == ()
    else:
        assert [item.due_at for item in items] == [Distance(case.line[-1].at + 500)] * len(rules)
