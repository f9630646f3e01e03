"""Open occurrences of a car, and the event each makes for an audience."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from enum import Enum
from itertools import chain
from uuid import UUID

from castlenut.domain.car import Car
from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import OWN, RecordId, VehicleId
from castlenut.domain.item import Item
from castlenut.domain.vehicle import Vehicle
from castlenut.domain.working import Anchored, Binds, From, State
from castlenut.feed import description
from castlenut.feed.candidate import WEEK_BEFORE, Candidate
from castlenut.feed.text import UNTITLED, cut, lines_of, one_line
from castlenut.feed.uid import Audience, item_uid

SHORT_NAME = 20
LONGEST_SUMMARY = 60
LONGEST_DESCRIPTION = {Audience.GARAGE: 300, Audience.OWNER: 450}
_DECLINED = " (declined)"
_OWN_NOTES = "Own notes"


class Alarms(Enum):
    """Which events ring, as set for the garage."""

    VISITS = "visits"
    ALL = "all"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class GarageFacts:
    """What a feed tells of the garage, and the identity all UIDs rest on."""

    id: UUID
    name: str = ""
    address: str = ""
    telephone: str = ""
    alarms: Alarms = Alarms.VISITS


@dataclass(frozen=True, slots=True, kw_only=True)
class Occurrence:
    """Items of one rule that stand on one baseline record: one job to come, and so one event.

    `rule` is the rule's id, of an own item its record's. `lead` falls due first: its day
    is the day of the event, and its due point is told.
    """

    vehicle: VehicleId
    rule: str
    baseline: RecordId | None
    items: tuple[Item, ...]
    lead: Item
    state: State

    @property
    def title(self) -> str:
        """Give what is to be done and where: `wheel bearings, repack LF RF`."""
        places = [str(item.place) for item in self.items if item.place is not None]
        between = ", " if any(" " in place for place in places) else " "
        title = begun_small(one_line(self.items[0].rule.title) or UNTITLED)
        return f"{title} {between.join(places)}".strip()


def occurrences(
    car: CarToday, *, among: Callable[[Item], bool] = lambda _: True
) -> tuple[Occurrence, ...]:
    """Give the open occurrences of a car: what has a record, the owner's own checks left aside.

    `among` tells of an item whether it is looked at. Of a sold car there are none.
    """
    if car.car.vehicle.sold_on is not None:
        return ()
    entered_with = _entered_with(car.car)
    together: dict[tuple[str, RecordId | None], list[Item]] = {}
    for item in car.items:
        if not item.rule.is_own_check and item.reckoned is not State.NO_RECORD and among(item):
            rule = item.id.component if item.id.rule == OWN else item.id.rule
            anchor = anchor_of(item)
            baseline = None if anchor is None else entered_with.get(anchor, anchor)
            together.setdefault((rule, baseline), []).append(item)
    return tuple(
        _occurrence(car.car.id, rule, baseline, items)
        for (rule, baseline), items in sorted(
            together.items(), key=lambda pair: (pair[0][0], pair[0][1] or "")
        )
    )


def _occurrence(
    vehicle: VehicleId, rule: str, baseline: RecordId | None, items: Sequence[Item]
) -> Occurrence:
    placed = sorted(items, key=lambda item: (item.place.order if item.place else (-1, ""), item.id))
    counted = [item for item in placed if item.state is not State.DECLINED] or placed
    first = min(counted, key=lambda item: (natural_day(item) or date.max, not is_exact(item)))
    states = {item.state for item in counted}
    worst = next(
        state
        for state in (State.OVERDUE, State.DUE, State.AHEAD, State.DECLINED)
        if state in states
    )
    return Occurrence(
        vehicle=vehicle,
        rule=rule,
        baseline=baseline,
        items=tuple(placed),
        lead=first,
        state=worst,
    )


def natural_day(item: Item) -> date | None:
    """Give the day an item falls due by itself; it may lie in the past. None: not known."""
    return item.expected.p50 or item.due_on


def is_exact(item: Item) -> bool:
    """Tell whether no reading moves the day: a calendar day, an age, a season, an event.

    A point some distance after an event is reached by driving, so its day is no more exact than
    that of any other distance.
    """
    if item.binds is Binds.EVENT:
        return item.due_on is not None and item.due_on == natural_day(item)
    return item.binds in {Binds.DATE, Binds.AGE, Binds.SEASON}


_BEGINNINGS = {From.FITTED, From.MADE, From.LABEL, From.LAID_UP, From.NOTED, From.FOUND}


def anchor_of(item: Item) -> RecordId | None:
    """Give the record an occurrence rests on: the last job, else the fitting, else the event.

    Not simply the baseline of the side that decides: that changes with the readings where one side
    counts from the last job and another from an event, and the event on the phones must not.
    """
    anchors = [step for step in item.working if isinstance(step, Anchored) and step.record]
    if not anchors:
        return item.baseline.record if item.baseline is not None else None
    latest = max(anchors, key=lambda step: (_weight(step), step.on or date.min, step.record or ""))
    return latest.record


def _entered_with(car: Car) -> Mapping[RecordId, RecordId]:
    """Give, for records that came of one entry, the one record that stands for all of them.

    Parts fitted and figures measured in a job go by the job; one answer given at intake for several
    places goes by the first of its records, whatever became of the parts since.
    """
    found = {part.record: part.job for part in car.components if part.job}
    found |= {taken.record: taken.job for taken in car.measurements if taken.job}
    answers: dict[tuple[object, ...], RecordId] = {}
    for each in sorted(car.statements, key=lambda statement: statement.record):
        what = (each.answer, each.kind, each.item, each.on, each.at, each.until, each.until_at)
        found[each.record] = answers.setdefault(what, each.record)
    return found


def _weight(step: Anchored) -> int:
    if step.how is From.EVENT:
        return 0
    return 1 if step.how in _BEGINNINGS else 2


def item_candidate(
    occurrence: Occurrence, vehicle: Vehicle, audience: Audience, facts: GarageFacts
) -> Candidate | None:
    """Give the event of an occurrence; None where no day is known."""
    items, lead, dial = occurrence.items, occurrence.lead, vehicle.dial
    on = natural_day(lead)
    if on is None:
        return None
    after = (
        *description.window_lines(lead, dial),
        *description.limit_lines(lead),
        *description.interval_lines(lead, dial),
        *description.last_done_lines(lead, dial),
        *(description.part_lines(items) if audience is Audience.GARAGE else ()),
        *(contact_lines(facts) if audience is Audience.OWNER else ()),
        *description.closing_lines(lead),
    )
    is_declined = occurrence.state is State.DECLINED
    return Candidate(
        uid=item_uid(facts.id, audience, occurrence.vehicle, occurrence.rule, occurrence.baseline),
        on=on,
        is_exact=is_exact(lead),
        summary=summary(vehicle, occurrence.title, _DECLINED if is_declined else ""),
        category=one_line(lead.rule.part) or _OWN_NOTES,
        before=cleaned(tuple(description.due_lines(lead, dial))),
        expected=one_line(description.expected_line(lead)),
        after=cleaned(after),
        longest=LONGEST_DESCRIPTION[audience],
        alarms=_alarms(lead, facts, is_declined=is_declined),
    )


def _alarms(item: Item, facts: GarageFacts, *, is_declined: bool) -> tuple[str, ...]:
    has_no_tolerance = item.rule.tolerance.percent == 0
    rings = facts.alarms is Alarms.ALL or (facts.alarms is Alarms.VISITS and has_no_tolerance)
    return (WEEK_BEFORE,) if rings and not is_declined else ()


def contact_lines(facts: GarageFacts) -> tuple[str, ...]:
    """Give the line by which an owner reaches the garage, of what is set."""
    told = [one_line(text) for text in (facts.name, facts.address, facts.telephone)]
    line = ", ".join(text for text in told if text)
    return (f"{line}.",) if line else ()


def cleaned(lines: Sequence[str]) -> tuple[str, ...]:
    """Give lines made fit for the file; one that holds a break becomes several."""
    return tuple(chain.from_iterable(lines_of(line) for line in lines))


def full_name(vehicle: Vehicle) -> str:
    """Give a vehicle's name as one clean line, never empty."""
    return one_line(vehicle.description) or UNTITLED


def short_name(vehicle: Vehicle) -> str:
    """Give a vehicle's name for a title."""
    return cut(full_name(vehicle), SHORT_NAME)


def summary(vehicle: Vehicle, what: str, ending: str = "") -> str:
    """Give a title: the vehicle, what is to be done, and an ending that is never cut off."""
    whole = f"{short_name(vehicle)}: {one_line(what)}"
    return cut(whole, LONGEST_SUMMARY - len(ending)) + ending


def begun_small(title: str) -> str:
    """Give a title as it stands inside a line: a capital goes where a lower-case word follows."""
    return title[0].lower() + title[1:] if title[1:2].islower() else title
