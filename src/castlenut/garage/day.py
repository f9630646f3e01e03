"""A day's work as one change: date, dial and who once, then rows in any order."""

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.findings import Decided
from castlenut.domain.frozen import replace
from castlenut.garage import entry
from castlenut.garage.as_if import AsIfSaved
from castlenut.garage.changes import findings
from castlenut.garage.changes.findings import draft_found
from castlenut.garage.changes.happenings import draft_happening
from castlenut.garage.changes.jobs import draft_decline, draft_job, draft_measurement
from castlenut.garage.changes.mending import draft_mended
from castlenut.garage.changes.parts import draft_fit, draft_remove
from castlenut.garage.changes.tread import draft_tread
from castlenut.garage.day_rows import (
    Costs,
    Declined,
    Done,
    Entry,
    Fitted,
    Found,
    Happened,
    Head,
    Measured,
    Mended,
    Removed,
    Tread,
)
from castlenut.garage.drafting import Drafting, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.revisions import Added, Changed, Edit
from castlenut.store.values import Value

_OF_ALL_ROWS = frozenset({"on", "at", "by", "hours", "cost", "note"})
_CAME_OF_IT = frozenset({"happening", "finding"})
"""Tables whose records name the job of their entry without meaning anything else by it."""


def draft_day(
    garage: Garage, slug: str, head: Head, entries: Sequence[Entry], costs: Costs
) -> Draft:
    """Put a day's work together into one change.

    Each row meets the car as the rows before it leave it, so that the entry comes to the same as
    its rows saved one after the other. What is done is one job, however many rows tell it.

    Raises:
        BadInput: with all faults; those of a row stand at `ROW-FIELD`.
    """
    so_far = _Gathered(garage, slug)
    head = _whole(garage, slug, head)
    faults: list[Fault] = []
    for each in entries:
        try:
            so_far.take(each, head)
        except BadInput as refused:
            faults.extend(_at_row(fault, each.row) for fault in refused.faults)
    if not entries:
        faults.append(Fault("nothing is entered", "add", "add a row: done, measured, ..."))
    try:
        so_far.charge(costs)
    except BadInput as refused:
        faults.extend(refused.faults)
    if faults:
        raise BadInput(*dict.fromkeys(faults))
    return so_far.draft()


def _whole(garage: Garage, slug: str, head: Head) -> Head:
    """Give the dial figure in full: `+120` counts from the last reading, not from a row before."""
    if head.at is None or not head.at.startswith("+"):
        return head
    figure = Drafting(garage, slug).figure(head.at, field="at")
    return head if figure is None else replace(head, at=f"{figure:f}")


class _Gathered:
    """The rows taken so far: the car as they leave it, and the edits they come to."""

    def __init__(self, garage: Garage, slug: str) -> None:
        self._garage = garage
        self._slug = slug
        self._as_if = AsIfSaved(garage)
        self._drafts: list[Draft] = []
        self._edits: dict[tuple[str, str], Edit] = {}
        self._job: str | None = None

    def take(self, each: Entry, head: Head) -> None:
        """Take one more row.

        Raises:
            BadInput: with the faults of the row.
        """
        for field, make in _makers(self._as_if, self._slug, head, each):
            draft = _made(field, make)
            if isinstance(each, Done):
                draft = self._in_one_job(draft)
            self._as_if.add(draft)
            self._drafts.append(draft)
            for edit in draft.edits:
                self._put(edit)

    def charge(self, costs: Costs) -> None:
        """Put hours, cost and note on the job.

        Raises:
            BadInput: they cannot be read, or there is no job to put them on.
        """
        if costs.is_empty or not self._drafts:
            return
        hours = entry.hours(costs.hours) if costs.hours is not None else None
        cost = entry.money(costs.cost, field="cost") if costs.cost is not None else None
        job = self._job or next((id_ for table, id_ in self._edits if table == "job"), None)
        if job is None:
            where = next(name for name in ("hours", "cost", "note") if getattr(costs, name))
            raise BadInput(
                Fault("there is no work it belongs to", where, "add a row: done or fitted")
            )
        given: dict[str, Value] = {"hours": number(hours), "cost": cost, "note": costs.note}
        told = {name: value for name, value in given.items() if value is not None}
        self._put(Changed(table="job", id=job, values=told))

    def draft(self) -> Draft:
        """Give all of it as one draft of the car's file as it is."""
        first, more = self._drafts[0], len(self._drafts) - 1
        return replace(
            first,
            file=self._garage.car(self._slug).file,
            edits=tuple(self._with_job(edit) for edit in self._edits.values()),
            told=tuple(dict.fromkeys(told for each in self._drafts for told in each.told)),
            title=f"{first.title} and {more} more" if more else first.title,
            items=tuple(dict.fromkeys(item for each in self._drafts for item in each.items)),
            cautions=tuple(dict.fromkeys(key for each in self._drafts for key in each.cautions)),
            photos=tuple(photo for each in self._drafts for photo in each.photos),
        )

    def _put(self, edit: Edit) -> None:
        """Add an edit to those before it; two of one record become one."""
        key = (edit.table, edit.id)
        before = self._edits.get(key)
        if before is None:
            self._edits[key] = edit
        else:
            self._edits[key] = replace(before, values={**before.values, **edit.values})

    def _in_one_job(self, draft: Draft) -> Draft:
        """Let what a further row did belong to the job of the first."""
        (mine,) = (edit for edit in draft.edits if edit.table == "job")
        if self._job is None:
            self._job = mine.id
            return draft
        job = self._job
        return replace(
            draft,
            edits=(
                Changed(
                    table="job",
                    id=job,
                    values=_both(self._edits["job", job].values, mine.values),
                ),
                *(_naming(edit, job) for edit in draft.edits if edit is not mine),
            ),
        )

    def _with_job(self, edit: Edit) -> Edit:
        is_of_it = isinstance(edit, Added) and edit.table in _CAME_OF_IT
        return _naming(edit, self._job) if is_of_it and self._job is not None else edit


def _made(field: str | None, make: Callable[[], Draft]) -> Draft:
    try:
        return make()
    except BadInput as refused:
        if field is None:
            raise
        raise BadInput(
            *(
                fault if fault.where in _OF_ALL_ROWS else replace(fault, where=field)
                for fault in refused.faults
            )
        ) from refused


def _both(one: Mapping[str, Value], other: Mapping[str, Value]) -> Mapping[str, Value]:
    """Give the lists of two jobs as those of one; what was done is not included besides."""
    items, includes, events = (
        list(dict.fromkeys((*_texts(one, name), *_texts(other, name))))
        for name in ("items", "includes", "events")
    )
    found = {
        "items": items,
        "includes": [each for each in includes if each not in items],
        "events": events,
    }
    return {name: list[Value](value) or None for name, value in found.items()}


def _texts(values: Mapping[str, Value], name: str) -> Sequence[str]:
    value = values.get(name)
    return [str(each) for each in value] if isinstance(value, list) else []


def _naming(edit: Edit, job: str) -> Edit:
    return replace(edit, values={**edit.values, "job": job})


Make = tuple[str | None, Callable[[], Draft]]
"""What makes a change of a row, with the field that its faults stand at; None: their own."""


def _makers(garage: Garage, slug: str, head: Head, each: Entry) -> Sequence[Make]:
    """Give what makes the change or changes of a row, one after the other."""
    on, at, by = head.on, head.at, head.by
    match each:
        case Done(items=items, values=values, left_out=left_out):
            job = partial(draft_job, measured=values, left_out=left_out)
            return ((None, partial(job, garage, slug, items, on=on, at=at, by=by)),)
        case Mended(findings=found, how=how):
            mended = partial(draft_mended, garage, slug, how=how, on=on, at=at, by=by)
            return tuple((None, partial(mended, finding=finding)) for finding in found)
        case Measured(items=items, values=values):
            measure = partial(draft_measurement, garage, slug, on=on, at=at, by=by)
            pairs = zip(items, values, strict=True)
            return tuple((None, partial(measure, item=item, value=text)) for item, text in pairs)
        case Tread(depths=depths):
            tread = partial(draft_tread, garage, slug, on=on, at=at, by=by)
            return tuple((where, partial(tread, [(where, text)])) for where, text in depths)
        case Declined(items=items, who=who, why=why, until=until):
            decline = partial(draft_decline, who=who, why=why, until=until)
            return ((None, partial(decline, garage, slug, items, on=on)),)
        case Happened(event=event, where=where):
            happening = partial(draft_happening, where=where)
            return ((None, partial(happening, garage, slug, event, on=on, at=at)),)
        case Found():
            return ((None, partial(draft_found, garage, slug, _found(each), on=on, at=at)),)
        case Fitted(kind=kind, places=places, part=part):
            fields = {"part": part} if part else {}
            fit = partial(draft_fit, garage, slug, kind, places, fields)
            return ((None, partial(fit, on=on, at=at, by=by)),)
        case Removed(record=record, why=why):
            return ((None, partial(draft_remove, garage, slug, record, on=on, at=at, why=why)),)


def _found(each: Found) -> findings.Found:
    return findings.Found(
        what=each.what,
        where=each.where,
        nature=each.nature,
        photo=each.photo,
        decided=Decided(each.decided),
        watch=each.watch,
        every=each.every,
        who=each.who,
        has_other_side=each.has_other_side,
    )


def _at_row(fault: Fault, row: int) -> Fault:
    """Put a fault at the row it is of; those of the head and the costs stay where they are."""
    if fault.where in _OF_ALL_ROWS:
        return fault
    return replace(fault, where=f"{row}-{fault.where}")
