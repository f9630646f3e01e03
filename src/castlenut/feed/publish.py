"""One feed, from the records of its cars and what was published before to its bytes."""

import hashlib
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, datetime

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass, replace
from castlenut.feed.candidate import Kind, Scope
from castlenut.feed.event import GarageFacts, short_name
from castlenut.feed.feeds import COLORS, Feed, FeedKind, feed_name
from castlenut.feed.ledger import Entry, FeedState, Ledger
from castlenut.feed.settling import Settling
from castlenut.feed.sheet import Sheet
from castlenut.feed.uid import GARAGE_SUBJECT


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """One feed as it is published now.

    `data` None: what is on disk is it, to the byte. `until` is the last day it looks ahead to.
    """

    ledger: Ledger
    data: bytes | None
    events: int
    until: date


def publish(
    feed: Feed,
    cars: Sequence[CarToday],
    facts: GarageFacts,
    ledger: Ledger,
    *,
    monday: date,
    now: datetime,
    readable: Collection[str] | None,
    on_disk: str | None,
) -> Published:
    """Settle a feed and give its bytes, where those on disk are not the same.

    Args:
        feed: which feed.
        cars: its cars, each reckoned for the day that `week.as_of` gives; sold ones too.
        facts: what is told of the garage.
        ledger: what is published.
        monday: the first day of this week.
        now: the instant that changed events are stamped with.
        readable: ids of all vehicles whose files can be read, where some cannot; else None. One
            that cannot be read keeps its events as last published.
        on_disk: SHA-256 of the bytes now on disk, in hexadecimal; None if there are none.
    """
    before = ledger.feeds.get(feed.id)
    vehicles = _vehicles(before, cars, readable)
    settling = Settling(feed=feed, facts=facts, monday=monday, now=now)
    here = {car.car.id for car in cars}
    unread = [name for each, name in vehicles.items() if readable is not None and each not in here]
    ledger = settling.settled(cars, ledger, unread=unread)
    if feed.kind is FeedKind.GARAGE and readable is None:
        ledger = settling.without_others(cars, ledger)
    is_empty = all(
        entry.scope.kind is Kind.EMPTY for _, entry in _entries(settling, vehicles, ledger)
    )
    ledger = settling.with_empty(cars, ledger, is_empty=is_empty)
    sheet = Sheet(
        feed=feed.id,
        # a car that cannot be read gives its feed no other name
        name=(before.name if before and unread and not cars else "")
        or feed_name(feed, facts, cars, tuple(vehicles.values())),
        color=COLORS[feed.kind],
        until=feed.until(monday),
        entries=dict(_entries(settling, vehicles, ledger)),
    )
    if before and before.source == sheet.source and on_disk == before.digest:
        state, data = replace(before, vehicles=vehicles), None
    else:
        state, data = _rendered(sheet, before, vehicles, now=now)
    return Published(
        ledger=replace(ledger, feeds={**ledger.feeds, feed.id: state}),
        data=None if state.digest == on_disk else data,
        events=state.events,
        until=state.until,
    )


def _vehicles(
    before: FeedState | None, cars: Sequence[CarToday], readable: Collection[str] | None
) -> Mapping[str, str]:
    """Give the vehicles of a feed with their short names: those that cannot be read stay in it."""
    vehicles: dict[str, str] = {
        car.car.id: short_name(car.car.vehicle) for car in cars if car.car.vehicle.sold_on is None
    }
    if before is not None and readable is not None:
        here = {*readable, *(car.car.id for car in cars)}
        vehicles |= {each: name for each, name in before.vehicles.items() if each not in here}
    return vehicles


def _entries(
    settling: Settling, vehicles: Collection[str], ledger: Ledger
) -> Iterator[tuple[str, Entry]]:
    feed = settling.feed
    for uid, entry in ledger.events.items():
        if (
            entry.gone_on is None
            and entry.scope.audience == feed.audience.value
            and _is_of(feed, entry.scope, vehicles)
            and settling.is_in_view(entry)
        ):
            yield uid, entry


def _is_of(feed: Feed, scope: Scope, vehicles: Collection[str]) -> bool:
    match scope.kind:
        case Kind.EMPTY:
            return scope.subject == feed.id
        case Kind.OPEN_WORK if feed.kind is FeedKind.GARAGE:
            return scope.subject == GARAGE_SUBJECT
        case Kind.ITEM | Kind.VISIT | Kind.OWN_CHECKS | Kind.OPEN_WORK:
            return scope.subject in vehicles


def _rendered(
    sheet: Sheet, before: FeedState | None, vehicles: Mapping[str, str], *, now: datetime
) -> tuple[FeedState, bytes]:
    # Loaded here: the library costs more than all the rest of a write in which nothing changed.
    from castlenut.feed.calendar import render

    rendered = render(sheet)
    digest = hashlib.sha256(rendered.data).hexdigest()
    state = FeedState(
        digest=digest,
        source=sheet.source,
        changed=before.changed if before and before.digest == digest else now,
        until=rendered.until,
        events=rendered.events,
        name=sheet.name,
        vehicles=vehicles,
    )
    return state, rendered.data
