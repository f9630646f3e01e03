"""What has to be opened for a job, and the events that opening it raises, each at its place."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from castlenut.domain.component import Component
from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import Raised
from castlenut.domain.place import Place, Spot, corners_of, spots, touches
from castlenut.domain.rules.rule import Access, Per


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """An access opened at a place; no place is the whole car, or every wheel."""

    key: str
    place: Place | None


def opened(
    keys: Iterable[str],
    at: Place | None,
    accesses: Mapping[str, Access],
    *,
    fitted: Sequence[Component],
    dual: bool,
) -> tuple[Opened, ...]:
    """Give what is opened for work at a place, with all that it implies, each once.

    Of alternatives (a hub comes off with its caliper or its drum) the one counts that is there.
    """
    found: dict[Opened, None] = {}
    ahead = [(key, at) for key in keys]
    while ahead:
        key, here = ahead.pop(0)
        access = accesses.get(key)
        if access is None:
            continue
        for place in _counted_at(access.per, here, dual=dual):
            one = Opened(key=key, place=place)
            if one in found:
                continue
            found[one] = None
            ahead.extend((each, place) for each in _implied(access, place, fitted))
    return tuple(found)


def events_of(openings: Iterable[Opened], accesses: Mapping[str, Access]) -> tuple[Raised, ...]:
    """Give the events that openings raise, each once."""
    return tuple(
        dict.fromkeys(
            Raised(event=event, place=each.place)
            for each in openings
            if (event := accesses[each.key].event) is not None
        )
    )


def access_of(event: str, accesses: Mapping[str, Access]) -> str | None:
    """Give the access whose opening raises an event."""
    return next((access.key for access in accesses.values() if access.event == event), None)


def _implied(access: Access, place: Place | None, fitted: Sequence[Component]) -> Iterator[str]:
    for each in access.implies:
        alternatives = each.split("|")
        if len(alternatives) == 1:
            yield each
            continue
        here = {part.kind for part in fitted if touches(part.place, place)}
        there = next((key for key in alternatives if _opens(key) & here), None)
        if there is not None:
            yield there


def _opens(key: str) -> set[str]:
    """Give the kinds whose presence tells that an access is there."""
    return {"caliper": {"caliper", "brake pad", "rotor"}, "drum": {"drum", "brake shoe"}}.get(
        key, {key}
    )


def _counted_at(per: Per, at: Place | None, *, dual: bool) -> tuple[Place | None, ...]:
    """Give the places at which an access is counted: a corner for a wheel, an end for an axle."""
    if at is None or at.spot is None:
        return (None,)
    match per:
        case Per.CAR:
            return (None,)
        case Per.WHEEL:
            return tuple(Place(each.spot) for each in corners_of(at, dual=dual)) or (None,)
        case Per.AXLE:
            return (_covering(at.spot, (Spot.FRONT, Spot.REAR)),)
        case Per.SIDE:
            return (_covering(at.spot, (Spot.L, Spot.R)),)


def _covering(spot: Spot, of: Sequence[Spot]) -> Place | None:
    return next((Place(each) for each in of if spot in spots(each)), None)
