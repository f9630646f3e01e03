"""A day's work as it was typed, put together into one change."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from castlenut.domain.errors import BadInput, Fault
from castlenut.garage.changes.happenings import draft_happening
from castlenut.garage.changes.jobs import draft_decline, draft_job, draft_measurement
from castlenut.garage.changes.parts import draft_fit, draft_remove
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage

_OF_ALL_ROWS = frozenset({"on", "at", "by", "hours", "cost", "note"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What holds for the whole day: when, what the dial showed, who did it.

    `at` None: the estimate, so marked. `by` None: this garage.
    """

    on: str
    at: str | None
    by: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """Items done: their arguments, the values measured on the first of them, what is left out."""

    row: int
    items: tuple[str, ...]
    values: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Items measured, with a value each."""

    row: int
    items: tuple[str, ...]
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Declined:
    """Items that the owner said no to."""

    row: int
    items: tuple[str, ...]
    who: str | None
    why: str | None
    until: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """Something that happened to the car."""

    row: int
    event: str
    where: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A part fitted."""

    row: int
    kind: str
    places: str | None
    part: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Removed:
    """A part taken off, by its record."""

    row: int
    record: str
    why: str | None


Entry = Done | Measured | Declined | Happened | Fitted | Removed


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """Hours, cost and note of the job."""

    hours: str | None
    cost: str | None
    note: str | None


def drafted(garage: Garage, slug: str, head: Head, entries: Sequence[Entry], costs: Costs) -> Draft:
    """Put a day's work together into one change.

    Raises:
        BadInput: with all faults; those of a row stand at `ROW-FIELD`.
    """
    drafts: list[Draft] = []
    faults: list[Fault] = []
    done = [each for each in entries if isinstance(each, Done)]
    if done:
        try:
            drafts.append(_job(garage, slug, head, done, costs))
        except BadInput as refused:
            faults.extend(_job_faults(garage, slug, head, done, costs) or refused.faults)
    for entry in entries:
        if not isinstance(entry, Done):
            try:
                drafts.extend(_drafts(garage, slug, head, entry))
            except BadInput as refused:
                faults.extend(_at_row(fault, entry.row) for fault in refused.faults)
    if not entries:
        faults.append(Fault("nothing is entered", "add", "add a row: done, measured, ..."))
    if faults:
        raise BadInput(*dict.fromkeys(faults))
    return _together(drafts)


def _job_faults(
    garage: Garage, slug: str, head: Head, done: Sequence[Done], costs: Costs
) -> tuple[Fault, ...]:
    """Give the faults of a job row by row, each at its row."""
    faults: list[Fault] = []
    for each in done:
        try:
            _job(garage, slug, head, [each], costs)
        except BadInput as refused:
            faults.extend(_at_row(fault, each.row) for fault in refused.faults)
    return tuple(faults)


def _job(garage: Garage, slug: str, head: Head, done: Sequence[Done], costs: Costs) -> Draft:
    # values go with the first items in order, so rows with values stand first
    rows = sorted(done, key=lambda each: not each.values)
    pairs = [pair for each in rows for pair in zip(each.items, each.values, strict=False)]
    others = [item for each in rows for item in each.items[len(each.values) :]]
    return draft_job(
        garage,
        slug,
        [item for item, _ in pairs] + others,
        on=head.on,
        at=head.at,
        by=head.by,
        measured=[value for _, value in pairs],
        hours=costs.hours,
        cost=costs.cost,
        note=costs.note,
        left_out=[item for each in rows for item in each.left_out],
    )


def _drafts(
    garage: Garage,
    slug: str,
    head: Head,
    entry: Measured | Declined | Happened | Fitted | Removed,
) -> tuple[Draft, ...]:
    on, at, by = head.on, head.at, head.by
    match entry:
        case Measured(items=items, values=values):
            return tuple(
                draft_measurement(garage, slug, item, value, on=on, at=at, by=by)
                for item, value in zip(items, values, strict=True)
            )
        case Declined(items=items, who=who, why=why, until=until):
            return (draft_decline(garage, slug, items, who=who, why=why, until=until, on=on),)
        case Happened(event=event, where=where):
            return (draft_happening(garage, slug, event, on=on, at=at, where=where),)
        case Fitted(kind=kind, places=places, part=part):
            fields = {"part": part} if part else {}
            return (draft_fit(garage, slug, kind, places, fields, on=on, at=at, by=by),)
        case Removed(record=record, why=why):
            return (draft_remove(garage, slug, record, on=on, at=at, why=why),)


def _at_row(fault: Fault, row: int) -> Fault:
    """Put a fault at the row it is of; those of the head and the costs stay where they are."""
    if fault.where in _OF_ALL_ROWS:
        return fault
    return replace(fault, where=f"{row}-{fault.where}")


def _together(drafts: Sequence[Draft]) -> Draft:
    """Give several drafts of one car as one: one change, one undo."""
    first, more = drafts[0], len(drafts) - 1
    return replace(
        first,
        edits=tuple(edit for each in drafts for edit in each.edits),
        told=tuple(dict.fromkeys(told for each in drafts for told in each.told)),
        title=f"{first.title} and {more} more" if more else first.title,
        items=tuple(dict.fromkeys(item for each in drafts for item in each.items)),
        cautions=tuple(dict.fromkeys(key for each in drafts for key in each.cautions)),
    )
