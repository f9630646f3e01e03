"""The items of one car alone: its own notes and its findings, as rules the due reckoning takes."""

from collections.abc import Iterator
from fractions import Fraction

from castlenut.domain.car import Car, OwnItem
from castlenut.domain.component import Component, Origin
from castlenut.domain.findings import REPAIR_CAUTIONS, Decided, Finding
from castlenut.domain.ground import Ground
from castlenut.domain.happenings import Grade
from castlenut.domain.ids import OWN, OWN_NOTE, ItemId, RecordId
from castlenut.domain.item import Item
from castlenut.domain.matching import Match
from castlenut.domain.rules.intervals import CAP_DAYS, CAP_MILES
from castlenut.domain.rules.precedence import every_from_text
from castlenut.domain.rules.rule import Basis, Every, Margin, Rule
from castlenut.domain.units import Unit

FINDING = "finding"
_DANGER = 2  # work.md section 2: own items 2
_ON_TIME = Margin(percent=Fraction(0))
_LEAD = Margin(percent=Fraction(10), cap_days=CAP_DAYS, cap_distance=CAP_MILES)


def own_matches(rests_on: Ground) -> Iterator[Match]:
    """Give the car's own notes and findings, each as an item to be reckoned.

    A finding that is watched is reckoned by its note. One that is mended, and a note done once that
    does not come again, make none.
    """
    car, unit = rests_on.car, rests_on.unit
    findings = {each.record: each for each in car.findings}
    watched: set[RecordId] = set()
    for note in car.own_items:
        finding = findings.get(note.finding) if note.finding is not None else None
        if finding is not None:
            watched.add(finding.record)
            if finding.mended_by is not None or finding.decided is not Decided.WATCH:
                continue
        every = _next_of(note, unit, has_been_done=_was_done(note.record, rests_on))
        if every is not None:
            yield Match(rule=_rule_of_note(note, every, unit), component=_note(note), assumed=())
    for finding in car.findings:
        is_watched = finding.decided is Decided.WATCH and finding.record in watched
        if not is_watched and finding.mended_by is None:
            yield Match(rule=_rule_of_finding(finding), component=_found(finding), assumed=())


def open_findings(car: Car) -> tuple[Finding, ...]:
    """Give the findings that are to be mended and are not, in the order they were found."""
    return tuple(
        sorted(
            (each for each in car.findings if each.is_to_be_mended),
            key=lambda each: (each.on, each.record),
        )
    )


def is_to_be_mended(item: Item) -> bool:
    """Tell whether an item is a finding to be mended: a repair ends it, no job does."""
    return item.component.origin is Origin.FINDING and item.rule.cautions == REPAIR_CAUTIONS


def _was_done(record: RecordId, rests_on: Ground) -> bool:
    id_ = ItemId(rule=OWN, component=record)
    return bool(rests_on.done.get(id_)) or any(
        each.grade is Grade.GOOD for each in rests_on.checked.get(id_, ())
    )


def _next_of(note: OwnItem, unit: Unit, *, has_been_done: bool) -> Every | None:
    """Give how long a note waits: first by its own day or distance, then by how often it comes."""
    if has_been_done:
        return None if note.every is None else every_from_text(note.every, unit)
    if note.within is not None:
        return every_from_text(note.within, unit)
    if note.due_on is not None:
        return Every(days=max((note.due_on - note.on).days, 1))
    return None if note.every is None else every_from_text(note.every, unit)


def _rule_of_note(note: OwnItem, every: Every, unit: Unit) -> Rule:
    return Rule(
        id=OWN,
        title=note.title,
        kinds=(OWN_NOTE,),
        part="",
        danger=_DANGER,
        unit=unit,
        every=every,
        lead=_LEAD,
        tolerance=_ON_TIME,
        source=OWN_NOTE,
        basis=Basis.PRACTICE,
        origin="this car",
    )


def _note(note: OwnItem) -> Component:
    return Component(
        record=note.record,
        kind=OWN_NOTE,
        place=note.place,
        origin=Origin.OWN_ITEM,
        on=note.on,
        at=note.at,
    )


def _rule_of_finding(finding: Finding) -> Rule:
    """Give a finding as a point at 0: due the day it was found, and before the car rolls."""
    return Rule(
        id=OWN,
        title=finding.title,
        kinds=(FINDING,),
        part="",
        danger=_DANGER,
        first=(Fraction(0),),
        lead=_LEAD,
        tolerance=_ON_TIME,
        cautions=REPAIR_CAUTIONS if finding.decided is Decided.MEND else (),
        source=OWN_NOTE,
        basis=Basis.PRACTICE,
        origin="this car",
    )


def _found(finding: Finding) -> Component:
    return Component(
        record=finding.record,
        kind=FINDING,
        place=finding.place,
        origin=Origin.FINDING,
        on=finding.on,
        at=finding.at,
    )
