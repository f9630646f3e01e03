"""Notes of one car alone that fall due, a finding that is watched among them."""

from datetime import date

from castlenut.domain.errors import BadInput
from castlenut.domain.place import Place, places
from castlenut.domain.rules.precedence import every_from_text
from castlenut.garage import entry
from castlenut.garage.drafting import DialThen, Drafting, iso, noted, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage

_DAY_DIGITS = 2


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
    what = " ".join(filter(None, title.split(" ")))  # a tab or a line break is refused
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
    wait = read_wait(
        new, within if within is not None else due, day, field="in" if within else "due"
    )
    for place in read_places(new, where):
        add_note(new, what=what, place=place, day=day, then=then, wait=wait, every=every, note=note)
    return new.draft(f"watch: {what}")


def read_wait(new: Drafting, text: str | None, day: date, *, field: str) -> str | date | None:
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


def add_note(
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
    """Add a note to a change; what it could never fall due by is kept as a fault."""
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


def read_places(new: Drafting, text: str | None) -> tuple[Place | None, ...]:
    """Read the places of something found or watched; none typed is the car as a whole."""
    if text is None or not text.strip():
        return (None,)
    return new.read(lambda: places(text, dual=new.car.vehicle.dual)) or ()
