"""A feed made from the garage as it is: which cars are in it, and what is published of them."""

from collections.abc import Collection, Mapping, Sequence

from castlenut.domain.car import Car
from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.naming import choose
from castlenut.feed.event import Alarms, GarageFacts
from castlenut.feed.feeds import (
    GARAGE_FEED,
    Feed,
    FeedKind,
    evened,
    feed_of,
    owner_feed,
    vehicle_feed,
)
from castlenut.feed.ledger import FeedState, Ledger
from castlenut.feed.ledger_values import ledger_of, values_of
from castlenut.feed.publish import Published, publish
from castlenut.feed.uid import namespace
from castlenut.feed.week import as_of, latest_record, monday_of
from castlenut.garage.garage import CannotRead, Garage
from castlenut.store.beside import keep_damaged
from castlenut.store.faults import FileRefused
from castlenut.store.folder import LEDGER
from castlenut.store.ledger_file import ledger_bytes, ledger_tables

_DAMAGED = "damaged: made anew with the same events; the old file is in .castlenut/damaged/"


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedCars:
    """A feed with its cars. `readable` has the ids of all cars, where one cannot be read."""

    feed: Feed
    cars: tuple[CarToday, ...]
    readable: frozenset[str] | None
    told: tuple[str, ...]


def feed_meant(garage: Garage, *, vehicle: str | None = None, owner: str | None = None) -> Feed:
    """Give the feed of a vehicle, of an owner, or with neither of the whole garage.

    Raises:
        BadInput: there is no such vehicle or owner, or its file cannot be read.
    """
    if vehicle is not None:
        return vehicle_feed(garage.car(garage.find(vehicle)).car.id)
    if owner is not None:
        names = {evened(name): name for car in _cars(garage)[0] if (name := car.vehicle.owner)}
        return owner_feed(choose(owner, names.values(), what="owner"))
    return GARAGE_FEED


def cars_of(garage: Garage, feed: Feed) -> FeedCars:
    """Give a feed with its cars as they are now; a car that is gone is in none."""
    cars, told = _cars(garage)
    chosen: Sequence[Car]
    match feed.kind:
        case FeedKind.GARAGE:
            chosen = cars
        case FeedKind.VEHICLE:
            chosen = [car for car in cars if car.id == feed.subject]
        case FeedKind.OWNER:
            chosen = [car for car in cars if evened(car.vehicle.owner or "") == feed.subject]
    return FeedCars(
        feed=feed,
        cars=_reckoned(garage, chosen),
        readable=frozenset(car.id for car in cars) if told else None,
        told=told,
    )


def _cars(garage: Garage) -> tuple[tuple[Car, ...], tuple[str, ...]]:
    """Give the cars that can be read, and a sentence for each that cannot."""
    cars: list[Car] = []
    told: list[str] = []
    for slug in garage.slugs():
        try:
            cars.append(garage.car(slug).car)
        except CannotRead as refused:
            told.append(f"{refused.fault}; its dates stay as they were")
    return tuple(cars), tuple(told)


def _reckoned(garage: Garage, cars: Collection[Car]) -> tuple[CarToday, ...]:
    """Reckon each car for the day that holds all week."""
    return tuple(
        garage.reckoned(car, on=as_of(garage.today_date, latest_record(car))) for car in cars
    )


def published(
    garage: Garage, asked: FeedCars, *, on_disk: str | None = None
) -> tuple[Published, tuple[str, ...]]:
    """Settle a feed and save the ledger, where anything changed in it.

    Also gives sentences to be told. `on_disk`: SHA-256 of the bytes that lie where the feed is
    to be, in hexadecimal.

    Raises:
        FileRefused: what is published cannot be read.
        NotSaved: the disk or the lock did not allow it.
    """
    there = garage.folder.read_ledger()
    if not isinstance(there, bytes | None):
        raise FileRefused(there)
    before = ledger_read(there)
    if before is not None:
        found = _settled(garage, asked, before, on_disk)
        if found.ledger == before:
            return found, ()
    told: list[str] = []
    made: list[Published] = []

    def remade(held: bytes | None) -> bytes:
        # Read again under the lock: another program may have published meanwhile.
        ledger = ledger_read(held)
        if ledger is None:
            keep_damaged(garage.folder, LEDGER, held or b"")
            told.append(f"{LEDGER}: {_DAMAGED}")
            ledger = Ledger()
        made.append(_settled(garage, asked, ledger, on_disk))
        return ledger_bytes(values_of(made[-1].ledger))

    garage.folder.rewrite_ledger(remade, garage.change())
    return made[-1], tuple(told)


def foreseen(garage: Garage, asked: FeedCars) -> Published:
    """Give a feed as it would be published now; nothing is saved.

    Raises:
        FileRefused: what is published cannot be read.
    """
    there = garage.folder.read_ledger()
    if not isinstance(there, bytes | None):
        raise FileRefused(there)
    return _settled(garage, asked, ledger_read(there) or Ledger(), None)


def _settled(garage: Garage, asked: FeedCars, ledger: Ledger, on_disk: str | None) -> Published:
    return publish(
        asked.feed,
        asked.cars,
        _facts(garage),
        ledger,
        monday=monday_of(garage.today_date),
        now=garage.surroundings.now(),
        readable=asked.readable,
        on_disk=on_disk,
    )


def _facts(garage: Garage) -> GarageFacts:
    settings = garage.settings
    return GarageFacts(
        id=namespace(garage.garage_file().vehicle_id),
        name=settings.name,
        address=settings.address,
        telephone=settings.telephone,
        alarms=Alarms(settings.feed_alarms) if settings.feed_alarms else Alarms.VISITS,
    )


def feeds_published(garage: Garage) -> tuple[Feed, ...]:
    """Give the feeds that were made before; none where what is published cannot be read."""
    return tuple(feed for id_ in states_published(garage) if (feed := feed_of(id_)))


def states_published(garage: Garage) -> Mapping[str, FeedState]:
    """Give each feed as it was last made, by id; none where what is published cannot be read."""
    there = garage.folder.read_ledger()
    ledger = ledger_read(there) if isinstance(there, bytes | None) else None
    return ledger.feeds if ledger else {}


def ledger_read(data: bytes | None) -> Ledger | None:
    """Give what is published; None where the file is damaged."""
    if data is None:
        return Ledger()
    tables = ledger_tables(data)
    if tables is None:
        return None
    try:
        return ledger_of(tables)
    except BadInput:
        return None
