"""What happened to the car."""

from collections.abc import Mapping

from castlenut.domain.naming import choose, other_words
from castlenut.domain.place import Place, places
from castlenut.domain.rules.rule import Event
from castlenut.domain.vocabulary import our_words
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
    also = other_words(
        (words, each.name) for each in events.values() for words in (each.words, *each.also_called)
    )
    typed = text.strip().lower()
    if typed not in events and typed not in also:
        for attempt in dict.fromkeys((our_words(text), typed)):
            by_word = [each.name for each in events.values() if _speaks_of(each, attempt)]
            if len(by_word) == 1:
                return by_word[0]
    return choose(text, events, what="event", also=also, in_trade=True)


def _speaks_of(event: Event, word: str) -> bool:
    """Tell whether a word stands among those of an event."""
    return word in " ".join((event.name, event.words, *event.also_called)).lower().split()
