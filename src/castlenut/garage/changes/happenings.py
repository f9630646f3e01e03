"""What happened to the car."""

from collections.abc import Mapping

from castlenut.domain.naming import choose
from castlenut.domain.place import Place, places
from castlenut.domain.rules.rule import Event
from castlenut.garage.drafting import Drafting, noted, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage

_OWN_COMMAND = {"layup": "layup --from DATE", "layup-end": "layup --to DATE"}


def draft_happening(
    garage: Garage,
    slug: str,
    event: str,
    *,
    on: str | None = None,
    at: str | None = None,
    where: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record an event, found by any word of it; at several places it is several records.

    Raises:
        BadInput: no such event or place, or a day that cannot be.
    """
    new = Drafting(garage, slug)
    name = new.read(lambda: find_event(event, garage.book.events))
    if name in _OWN_COMMAND:
        new.fault(
            f"{name} has its dates kept as an exposure",
            where="event",
            remedy=f"use {_OWN_COMMAND[name]}",
        )
    day = new.past_day(on)
    then = new.dial_then(at, day)
    standing: tuple[Place | None, ...] = (None,)
    if where is not None:
        standing = new.read(lambda: places(where, dual=new.car.vehicle.dual)) or ()
    for place in standing if name is not None else ():
        new.add(
            "happening",
            {
                "event": name,
                "on": day.isoformat(),
                "at": number(then.at),
                "place": str(place) if place is not None else None,
                "note": noted(note, is_estimated=then.is_estimated),
            },
        )
    at_places = ", ".join(str(place) for place in standing if place is not None)
    return new.draft(f"{name} on {day.isoformat()}{f' at {at_places}' if at_places else ''}")


def find_event(text: str, events: Mapping[str, Event]) -> str:
    """Give the event meant by its name, the beginning of it, or any word of what it is called.

    Raises:
        BadInput: no event is meant, or several are.
    """
    also: dict[str, str] = {}
    for each in events.values():
        for words in (each.words, *each.also_called):
            also.setdefault(words, each.name)
    typed = text.strip().lower()
    by_word = {
        each.name
        for each in events.values()
        if typed and typed in " ".join((each.name, each.words, *each.also_called)).lower().split()
    }
    if typed not in events and typed not in also and len(by_word) == 1:
        return by_word.pop()
    return choose(text, events, what="event", also=also)
