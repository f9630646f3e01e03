"""What was found on a car, what was decided about it, its repair, and notes that fall due."""

from collections.abc import Sequence
from datetime import date
from functools import partial

from castlenut.domain.findings import (
    REPAIR_CAUTIONS,
    Decided,
    Nature,
    other_side,
)
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import OWN, ItemId, RecordId, short
from castlenut.domain.naming import choose
from castlenut.domain.place import Place
from castlenut.garage import entry
from castlenut.garage.changes.watching import add_note, read_places, read_wait
from castlenut.garage.drafting import DialThen, Drafting, iso, noted, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.photos import photo as photo_of
from castlenut.store.values import Value


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
    what = " ".join(filter(None, found.what.split(" ")))  # a tab or a line break is refused
    if not what:
        new.fault("nothing is said", where="what", remedy="say what was found, as axle seal leaks")
    nature = new.read(partial(_nature, found.nature)) if found.nature else None
    standing = read_places(new, found.where)
    day = new.past_day(on)
    then = new.dial_then(at, day)
    for place in standing:
        record = _decide_or_add(new, found, what, place, nature, day, then)
        if found.photo is not None:
            _add_photo(new, record, found.photo)
        if found.decided is Decided.WATCH:
            add_note(
                new,
                what=f"look at {what}",
                place=place,
                day=day,
                then=then,
                wait=read_wait(new, found.watch, day, field="watch"),
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


def _nature(text: str) -> Nature:
    return Nature(choose(text, [each.value for each in Nature], what="kind"))


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
