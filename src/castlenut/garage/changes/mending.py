"""The repair of a finding: it becomes a part, and raises what falls due by it."""

from collections.abc import Iterator, Sequence
from datetime import date

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.findings import (
    Finding,
    How,
    event_of_repair,
    is_without_metal,
)
from castlenut.domain.happenings import Raised
from castlenut.domain.ids import OWN, RecordId, short
from castlenut.domain.naming import choose
from castlenut.domain.place import Place, touches
from castlenut.garage import entry
from castlenut.garage.changes.fitting import Fitting, add_component, add_job
from castlenut.garage.drafting import DialThen, Drafting, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value

_REPAIR = "repair"
_CAVITY = "cavity"
_PAINT = "paint-seal"
_SHORTEST_END = 4


def draft_mended(
    garage: Garage,
    slug: str,
    finding: str,
    how: str,
    *,
    on: str | None = None,
    at: str | None = None,
    by: str | None = None,
    near: str | None = None,
    hours: str | None = None,
    cost: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record the repair of a finding: it becomes a component, and raises what welding raises.

    Behind new metal lies a cavity: where none is recorded there, it is put on record, so that its
    wax falls due.

    Raises:
        BadInput: no such finding, one that is mended already, or a day before it was found.
    """
    new = Drafting(garage, slug)
    meant = find_finding(new, finding)
    if meant.mended_by is not None:
        raise BadInput(
            Fault(
                f"{meant.what} ({short(meant.record)}) is mended already",
                "finding",
                "name another; correct or strike takes a repair back",
            )
        )
    chosen = new.read(lambda: choose(how, [each.value for each in How], what="how"))
    kind = garage.book.kinds[_REPAIR]
    near_to = None
    if near is not None:
        near_to = new.read(lambda: choose(near, kind.attributes["near"], what="near"))
    day = new.past_day(on)
    if day < meant.on:
        new.fault(
            f"{day.isoformat()} is before it was found, {meant.on.isoformat()}",
            where="on",
            remedy=f"give a day from {meant.on.isoformat()} on",
        )
    then = new.dial_then(at, day)
    told_hours = new.read(lambda: entry.hours(hours)) if hours is not None else None
    told_cost = new.read(lambda: entry.money(cost, field="cost")) if cost is not None else None
    if chosen is None:
        return new.draft("mended")
    way = How(chosen)
    event = event_of_repair(way, meant.nature)
    fitting = Fitting(on=day, then=then, job=None)
    raised = () if event is None else (Raised(event=event, place=meant.place),)
    job = add_job(new, fitting, raised, by=by, note=note or f"mended {meant.what}: {way.value}")
    new.amend("job", job, {"hours": number(told_hours), "cost": told_cost})
    fitting = Fitting(on=day, then=then, job=job)
    attributes: dict[str, Value] = {"by": way.value}
    if near_to is not None:
        attributes["near"] = near_to
    repair = add_component(new, kind, meant.place, {"attributes": attributes}, fitting)
    new.amend("finding", meant.record, {"mended_by": repair})
    if is_without_metal(way, meant.nature):
        _needs_no_paint(new, repair)
    elif event is not None:
        _add_cavity(new, meant.place, day)
    return new.draft(
        f"mended {meant.what}{f' at {meant.place}' if meant.place else ''}: {way.value}"
    )


def find_finding(new: Drafting, text: str) -> Finding:
    """Give the finding meant: by its id, by the end of it, by its item, or by words of it.

    Words mean one that is to be mended before one that is watched, then one that is mended, and
    last the other side of one.

    Raises:
        BadInput: none is meant, or several are.
    """
    plain = text.strip().lower()
    end = plain.removeprefix(f"{OWN}@")
    found = [each for each in new.car.findings if each.record.endswith(end)]
    if len(end) < _SHORTEST_END or not found:
        found = [
            finding
            for note in new.car.own_items
            for finding in new.car.findings
            if finding.record == note.finding
            and len(end) >= _SHORTEST_END
            and note.record.endswith(end)
        ]
    if not found:
        found = [each for each in new.car.findings if _says(each, plain)]
        found = next(filter(None, _in_turn(found)), [])
    if len(found) == 1:
        return found[0]
    known = [each for each in new.car.findings if each.mended_by is None]
    names = ", ".join(_name(each) for each in (found or known))
    if found:
        raise BadInput(Fault(f"{text!r} may be {names}", "finding", "name one by its 8 digits"))
    raise BadInput(
        Fault(
            f"no finding {text!r} on {new.slug}",
            "finding",
            f"name one of {names}" if names else "castlenut found records one first",
        )
    )


def _in_turn(found: Sequence[Finding]) -> Iterator[list[Finding]]:
    yield [each for each in found if each.is_to_be_mended]
    yield [each for each in found if each.decided is not None and each.mended_by is None]
    yield [each for each in found if each.mended_by is not None]
    yield list(found)


def _says(finding: Finding, plain: str) -> bool:
    said = f"{finding.what} {finding.place or ''}".lower().split()
    words = plain.split()
    return bool(words) and all(any(each.startswith(word) for each in said) for word in words)


def _name(finding: Finding) -> str:
    place = f" {finding.place}" if finding.place is not None else ""
    return f"{finding.what}{place} ({short(finding.record)})"


def _needs_no_paint(new: Drafting, repair: str) -> None:
    """Say on the record that a new part for a leak or for play leaves no bare metal to paint."""
    new.add(
        "statement",
        {
            "item": f"{_PAINT}~{short(RecordId(repair))}",
            "answer": "n/a",
            "on": new.today.isoformat(),
            "why": "a part was renewed: no bare metal",
        },
    )


def _add_cavity(new: Drafting, place: Place | None, day: date) -> None:
    if place is None or any(
        part.kind == _CAVITY and touches(part.place_on(day), place) for part in new.car.fitted(day)
    ):
        return
    kind = new.garage.book.kinds[_CAVITY]
    not_known = Fitting(on=None, then=DialThen(at=None, is_estimated=False), job=None)
    add_component(new, kind, place, {}, not_known)
    new.told.append(f"cavity {place} put on record, behind the repair: its wax falls due")
