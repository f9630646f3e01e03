"""What was found on a car, what was decided about it, its repair, and notes that fall due."""

from collections.abc import Iterator, Sequence
from datetime import date
from functools import partial

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.findings import (
    REPAIR_CAUTIONS,
    Decided,
    Finding,
    How,
    Nature,
    event_of_repair,
    is_without_metal,
    other_side,
)
from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import Raised
from castlenut.domain.ids import OWN, ItemId, RecordId, short
from castlenut.domain.naming import choose
from castlenut.domain.place import Place, places, touches
from castlenut.domain.rules.precedence import every_from_text
from castlenut.garage import entry
from castlenut.garage.changes.fitting import Fitting, add_component, add_job
from castlenut.garage.drafting import DialThen, Drafting, iso, noted, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.photos import photo as photo_of
from castlenut.store.values import Value

_REPAIR = "repair"
_CAVITY = "cavity"
_PAINT = "paint-seal"
_SHORTEST_END = 4
_DAY_DIGITS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was found, as typed.

    `decided`: what to do about it. `watch`: a distance, a time or a day after which to look again,
    and `every`: how often from then on. `who` and `why` belong to a refusal, `until` to it as well.
    `near`: what a repair there would be near to. `has_other_side`: the other side is to be looked
    at.
    """

    what: str
    where: str | None = None
    nature: str | None = None
    photo: str | None = None
    decided: Decided
    watch: str | None = None
    every: str | None = None
    who: str | None = None
    why: str | None = None
    until: str | None = None
    note: str | None = None
    has_other_side: bool = True


def draft_found(
    garage: Garage,
    slug: str,
    found: Found,
    *,
    on: str | None = None,
    at: str | None = None,
) -> Draft:
    """Record something found, at each of its places; a repair asks for the other side too.

    What was noted as the other side, still to be looked at, is decided by finding it there.

    Raises:
        BadInput: no words, no such place, a file that is none, or a day or distance that cannot be.
    """
    new = Drafting(garage, slug)
    what = " ".join(found.what.split())
    if not what:
        new.fault("nothing is said", where="what", remedy="say what was found, as axle seal leaks")
    nature = new.read(partial(_nature, found.nature)) if found.nature else None
    standing = _places(new, found.where)
    day = new.past_day(on)
    then = new.dial_then(at, day)
    for place in standing:
        record = _decide_or_add(new, found, what, place, nature, day, then)
        if found.photo is not None:
            _add_photo(new, record, found.photo)
        if found.decided is Decided.WATCH:
            _add_note(
                new,
                what=f"look at {what}",
                place=place,
                day=day,
                then=then,
                wait=_wait(new, found.watch, day, field="watch"),
                every=found.every,
                finding=record,
            )
        if found.decided is Decided.DECLINED:
            _add_refusal(new, record, found, day)
    if found.decided is Decided.MEND and found.has_other_side:
        _ask_for_other_sides(new, what, standing, nature, day, then)
    at_places = ", ".join(str(place) for place in standing if place is not None)
    return new.draft(
        f"found {what}{f' at {at_places}' if at_places else ''}, {_TOLD[found.decided]}",
        cautions=REPAIR_CAUTIONS if found.decided is Decided.MEND else (),
    )


_TOLD = {
    Decided.MEND: "to be mended",
    Decided.WATCH: "watched",
    Decided.DECLINED: "the owner said no",
}


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


def draft_watch(
    garage: Garage,
    slug: str,
    title: str,
    *,
    within: str | None = None,
    due: str | None = None,
    every: str | None = None,
    where: str | None = None,
    on: str | None = None,
    at: str | None = None,
    note: str | None = None,
) -> Draft:
    """Note something of this car alone that falls due: after a distance or time, or on a day.

    Raises:
        BadInput: nothing that it could fall due by, no such place, or a day that cannot be.
    """
    new = Drafting(garage, slug)
    what = " ".join(title.split())
    if not what:
        new.fault("nothing is said", where="title", remedy="say what to watch")
    if within is not None and due is not None:
        new.fault("both --in and --due are given", where="in", remedy="give one of the two")
    if within is None and due is None and every is None:
        new.fault(
            "nothing tells when", where="in", remedy="give --in 500mi, --due DATE or --every 3m"
        )
    day = new.past_day(on)
    then = new.dial_then(at, day)
    wait = _wait(new, within if within is not None else due, day, field="in" if within else "due")
    for place in _places(new, where):
        _add_note(
            new, what=what, place=place, day=day, then=then, wait=wait, every=every, note=note
        )
    return new.draft(f"watch: {what}")


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


def _nature(text: str) -> Nature:
    return Nature(choose(text, [each.value for each in Nature], what="kind"))


def _places(new: Drafting, text: str | None) -> tuple[Place | None, ...]:
    if text is None or not text.strip():
        return (None,)
    return new.read(lambda: places(text, dual=new.car.vehicle.dual)) or ()


def _decide_or_add(
    new: Drafting,
    found: Found,
    what: str,
    place: Place | None,
    nature: Nature | None,
    day: date,
    then: DialThen,
) -> str:
    noted_before = next(
        (
            each
            for each in new.car.findings
            if each.decided is None
            and each.mended_by is None
            and each.what.lower() == what.lower()
            and each.place == place
        ),
        None,
    )
    if noted_before is not None:
        values: dict[str, Value] = {"decided": found.decided.value}
        if nature is not None:
            values["kind"] = nature.value
        new.amend("finding", noted_before.record, values)
        return noted_before.record
    return _add(new, what, place, nature, day, then, decided=found.decided, note=found.note)


def _add(
    new: Drafting,
    what: str,
    place: Place | None,
    nature: Nature | None,
    day: date,
    then: DialThen,
    *,
    decided: Decided | None,
    note: str | None,
) -> str:
    return new.add(
        "finding",
        {
            "what": what,
            "place": str(place) if place is not None else None,
            "kind": nature.value if nature is not None else None,
            "on": day.isoformat(),
            "at": number(then.at),
            "decided": decided.value if decided is not None else None,
            "note": noted(note, is_estimated=then.is_estimated),
        },
    )


def _add_photo(new: Drafting, record: str, text: str) -> None:
    kept = new.read(lambda: photo_of(text, record=record))
    if kept is not None:
        new.amend("finding", record, {"photo": kept.name})
        new.photos.append(kept)


def _ask_for_other_sides(
    new: Drafting,
    what: str,
    standing: Sequence[Place | None],
    nature: Nature | None,
    day: date,
    then: DialThen,
) -> None:
    for place in standing:
        other = other_side(place)
        if other is None or other in standing or _is_found(new, what, other):
            continue
        record = _add(new, what, other, nature, day, then, decided=None, note=None)
        new.told.append(
            f"{place} {what}: and {other}? it is to be looked at, {OWN}@{short(RecordId(record))}"
        )


def _is_found(new: Drafting, what: str, place: Place) -> bool:
    return any(
        each.what.lower() == what.lower() and each.place == place for each in new.car.findings
    )


def _add_refusal(new: Drafting, record: str, found: Found, day: date) -> None:
    text = found.until
    until = (
        None
        if text is None
        else new.read(lambda: entry.day(text, today=new.today, past=False, field="until"))
    )
    new.add(
        "decline",
        {
            "item": str(ItemId(rule=OWN, component=RecordId(record))),
            "on": day.isoformat(),
            "who": found.who or None,
            "why": found.why or None,
            "until": iso(until),
        },
    )


def _wait(new: Drafting, text: str | None, day: date, *, field: str) -> str | date | None:
    """Read how long a note waits: an interval as typed, or a day; None where nothing is typed."""
    if text is None or not text.strip():
        return None
    plain = text.strip()
    if field == "watch" and plain.isdigit() and len(plain) <= _DAY_DIGITS:
        new.fault(
            f"{text!r} may be a day or a distance", where=field, remedy=f"write {plain}mi or a date"
        )
        return None
    if field != "due":
        try:
            every_from_text(plain.replace(" ", ""), new.car.vehicle.dial.unit)
        except BadInput:
            if field == "in":
                new.fault(f"{text!r} is no wait", where="in", remedy="write 500mi, 3m or 500mi/3m")
                return None
        else:
            return plain.replace(" ", "")
    found = new.read(lambda: entry.day(plain, today=new.today, past=False, field=field))
    if found is not None and found <= day:
        new.fault(
            f"{found.isoformat()} is not after {day.isoformat()}, the day it was noted",
            where=field,
            remedy="give a later day, or a wait as 500mi or 3m",
        )
    return found


def _add_note(
    new: Drafting,
    *,
    what: str,
    place: Place | None,
    day: date,
    then: DialThen,
    wait: str | date | None,
    every: str | None,
    finding: str | None = None,
    note: str | None = None,
) -> None:
    unit = new.car.vehicle.dial.unit
    repeats = every.replace(" ", "") if every is not None and every.strip() else None
    if repeats is not None:
        new.read(lambda: every_from_text(repeats, unit))
    first = wait if isinstance(wait, str) else repeats if wait is None else None
    if first is not None and then.at is None and not new.faults:
        counted = every_from_text(first, unit)
        if counted.distance is not None:
            new.fault(
                f"{first} cannot be counted: no dial figure is known",
                where="at",
                remedy="give what the dial shows, or a time as 3m",
            )
    new.add(
        "own_item",
        {
            "title": what,
            "place": str(place) if place is not None else None,
            "on": day.isoformat(),
            "at": number(then.at),
            "in": wait if isinstance(wait, str) else None,
            "due_on": iso(wait) if isinstance(wait, date) else None,
            "every": repeats,
            "finding": finding,
            "note": noted(note, is_estimated=then.is_estimated),
        },
    )


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
