"""Writing a feed of the garage, of a car or of an owner into a file."""

import hashlib
import os
from collections.abc import Collection, Sequence
from datetime import date
from pathlib import Path

from castlenut.domain.car import Car
from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.naming import choose
from castlenut.feed.address import token
from castlenut.feed.event import Alarms, GarageFacts
from castlenut.feed.feeds import GARAGE_FEED, Feed, evened, owner_feed, vehicle_feed
from castlenut.feed.ledger import Ledger
from castlenut.feed.ledger_values import ledger_of, values_of
from castlenut.feed.publish import Published, publish
from castlenut.feed.uid import namespace
from castlenut.feed.week import as_of, latest_record, monday_of
from castlenut.garage.garage import CannotRead, Garage
from castlenut.store.faults import FileRefused
from castlenut.store.files import Unread, read_plain
from castlenut.store.folder import GARAGE, LEDGER, ROOM, RULES, VEHICLES
from castlenut.store.ledger_file import ledger_bytes, ledger_tables
from castlenut.store.outside import write_outside
from castlenut.store.revisions import Added, Changed, Edit
from castlenut.store.schema import GARAGE_RECORD

_SECRET_BYTES = 32
_RECORD = frozenset({GARAGE, LEDGER, ROOM, RULES, VEHICLES})
_DAMAGED = "damaged: made anew with the same events; the old file is in .castlenut/damaged/"


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedWritten:
    """A feed as it now lies in its file.

    `bytes` is its size, `until` the last day it looks ahead to. `changed`: False where the file was
    the same to the byte and was not touched. `told`: sentences to be told beside it.
    """

    path: Path
    bytes: int
    events: int
    until: date
    changed: bool
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """A feed with its cars. `readable` has the ids of all cars, where one cannot be read."""

    feed: Feed
    cars: tuple[CarToday, ...]
    readable: frozenset[str] | None
    told: tuple[str, ...]


def write_feed(
    garage: Garage, path: Path, *, vehicle: str | None = None, owner: str | None = None
) -> FeedWritten:
    """Write the feed of a vehicle, of an owner, or with neither of the whole garage.

    In a folder the file takes the feed's secret name.

    Raises:
        BadInput: there is no such vehicle or owner, or a file that is needed cannot be read.
        NotSaved: the disk or the lock did not allow it; the old file stands whole.
    """
    asked = _asked(garage, vehicle=vehicle, owner=owner)
    if path.is_dir():
        path = path / f"{_token(garage, asked.feed)}.ics"
    there = _there(garage, path)
    on_disk = hashlib.sha256(there).hexdigest() if isinstance(there, bytes) else None
    published, told = _published(garage, asked, on_disk)
    data = there if published.data is None and isinstance(there, bytes) else published.data
    if published.data is not None:
        write_outside(path, published.data)
    return FeedWritten(
        path=path,
        bytes=len(data or b""),
        events=published.events,
        until=published.until,
        changed=published.data is not None,
        told=(*asked.told, *told),
    )


def _there(garage: Garage, path: Path) -> bytes | Unread | None:
    """Give what lies where the feed is to be written.

    Raises:
        BadInput: it is no place for a feed: a device, or a file of the garage's record.
    """
    target = Path(os.path.realpath(path))
    home = Path(os.path.realpath(garage.path))
    if target.is_relative_to(home) and target.relative_to(home).parts[0] in _RECORD:
        raise BadInput(Fault("belongs to the garage's record", str(path), "choose another file"))
    there = read_plain(target)
    if there is Unread.OTHER:
        raise BadInput(Fault("is a pipe or a device", str(path), "name a file or a folder"))
    return there


def _asked(garage: Garage, *, vehicle: str | None, owner: str | None) -> _Asked:
    if vehicle is not None:
        car = garage.car(garage.find(vehicle)).car
        return _Asked(
            feed=vehicle_feed(car.id), cars=_reckoned(garage, [car]), readable=None, told=()
        )
    cars: list[Car] = []
    told: list[str] = []
    for slug in garage.slugs():
        try:
            cars.append(garage.car(slug).car)
        except CannotRead as refused:
            told.append(f"{refused.fault}; its dates stay as they were")
    feed = GARAGE_FEED
    chosen: Sequence[Car] = cars
    if owner is not None:
        names = {evened(name): name for car in cars if (name := car.vehicle.owner)}
        feed = owner_feed(choose(owner, names.values(), what="owner"))
        chosen = [car for car in cars if evened(car.vehicle.owner or "") == feed.subject]
    return _Asked(
        feed=feed,
        cars=_reckoned(garage, chosen),
        readable=frozenset(car.id for car in cars) if told else None,
        told=tuple(told),
    )


def _reckoned(garage: Garage, cars: Collection[Car]) -> tuple[CarToday, ...]:
    """Reckon each car for the day that holds all week."""
    return tuple(
        garage.reckoned(car, on=as_of(garage.today_date, latest_record(car))) for car in cars
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


def _published(
    garage: Garage, asked: _Asked, on_disk: str | None
) -> tuple[Published, tuple[str, ...]]:
    """Settle the feed and save the ledger, where anything changed in it."""
    facts = _facts(garage)
    now = garage.surroundings.now()

    def published_from(ledger: Ledger) -> Published:
        return publish(
            asked.feed,
            asked.cars,
            facts,
            ledger,
            monday=monday_of(garage.today_date),
            now=now,
            readable=asked.readable,
            on_disk=on_disk,
        )

    there = garage.folder.read_ledger()
    if isinstance(there, bytes | None):
        ledger = _ledger(there)
        if ledger is not None:
            published = published_from(ledger)
            if published.ledger == ledger:
                return published, ()
    else:
        raise FileRefused(there)
    told: list[str] = []
    made: list[Published] = []

    def remade(held: bytes | None) -> bytes:
        # Read again under the lock: another program may have published meanwhile.
        before = _ledger(held)
        if before is None:
            garage.folder.keep_damaged(LEDGER, held or b"")
            told.append(f"{LEDGER}: {_DAMAGED}")
            before = Ledger()
        made.append(published_from(before))
        return ledger_bytes(values_of(made[-1].ledger))

    garage.folder.rewrite_ledger(remade, garage.change())
    return made[-1], tuple(told)


def _ledger(data: bytes | None) -> Ledger | None:
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


def _token(garage: Garage, feed: Feed) -> str:
    settings = garage.settings
    secret = settings.feed_secret or _new_secret(garage)
    return token(bytes.fromhex(secret), feed.id, settings.feed_generations.get(feed.id, 0))


def _new_secret(garage: Garage) -> str:
    """Make the secret that the names of all feeds rest on, and keep it in the garage's record."""
    secret = garage.surroundings.draw(_SECRET_BYTES).hex()
    held = garage.garage_file()
    values = {"feed_secret": secret}
    edit: Edit = (
        Changed(table=GARAGE_RECORD, id=GARAGE_RECORD, values=values)
        if garage.settings.record
        else Added(table=GARAGE_RECORD, id=GARAGE_RECORD, values=values)
    )
    garage.took(garage.folder.save(held, [edit], garage.change()).file)
    return secret
