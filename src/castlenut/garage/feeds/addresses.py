"""Where a feed is found: its secret name, its address here or on the web, and their end."""

from collections.abc import Iterator
from datetime import date
from urllib.parse import urlsplit

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.feed.address import token
from castlenut.feed.feeds import GARAGE_FEED, Feed, owner_feed, vehicle_feed
from castlenut.garage.feeds.making import cars_of, foreseen
from castlenut.garage.garage import CannotRead, Garage
from castlenut.store.values import Value

PORT = 8737
_SECRET_BYTES = 32
_SCHEMES = frozenset({"http", "https"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """A feed by the words people know it by: `name` is a car's slug or an owner; else None."""

    feed: Feed
    name: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedAddress:
    """Where a feed can be subscribed to. `address` None: there is no base and no network.

    `is_public`: it is under the base that others can reach. `until` is the last day it shows.
    """

    subject: Subject
    address: str | None
    is_public: bool
    events: int
    until: date

    @property
    def webcal(self) -> str | None:
        """Give the address as phones open a subscription by."""
        return None if self.address is None else webcal(self.address)


def subjects(garage: Garage) -> Iterator[Subject]:
    """Give every feed there is: of the garage, of each car that can be read, of each owner."""
    yield Subject(feed=GARAGE_FEED, name=None)
    owners: dict[Feed, str] = {}
    for slug in garage.slugs():
        try:
            car = garage.car(slug).car
        except CannotRead:
            continue
        yield Subject(feed=vehicle_feed(car.id), name=slug)
        if car.vehicle.owner:
            owners.setdefault(owner_feed(car.vehicle.owner), car.vehicle.owner)
    for feed in sorted(owners, key=lambda feed: feed.subject):
        yield Subject(feed=feed, name=owners[feed])


def subject_of(garage: Garage, feed: Feed) -> Subject:
    """Give a feed with its name; that of a car or owner who is gone has none."""
    found = (each for each in subjects(garage) if each.feed == feed)
    return next(found, Subject(feed=feed, name=None))


def file_name(garage: Garage, feed: Feed) -> str:
    """Give the name of a feed's file in a folder of the web: it is the secret.

    Raises:
        NotSaved: the garage has no secret yet, and it could not be saved.
    """
    return f"{_token(garage, feed)}.ics"


def target(garage: Garage, feed: Feed) -> str:
    """Give what a request for a feed names: `/<token>/garage.ics`.

    Raises:
        NotSaved: the garage has no secret yet, and it could not be saved.
    """
    return f"/{_token(garage, feed)}/{feed.kind.value}.ics"


def feed_address(garage: Garage, subject: Subject, *, host: str | None, port: int) -> FeedAddress:
    """Give where a feed is found: under the base if there is one, else on this machine.

    `host` is the address of this machine in its network; None where there is none.

    Raises:
        FileRefused: what is published cannot be read.
        NotSaved: the garage has no secret yet, and it could not be saved.
    """
    made = foreseen(garage, cars_of(garage, subject.feed))
    return FeedAddress(
        subject=subject,
        address=address_of(garage, subject.feed, host=host, port=port),
        is_public=garage.settings.feed_base is not None,
        events=made.events,
        until=made.until,
    )


def address_of(garage: Garage, feed: Feed, *, host: str | None, port: int) -> str | None:
    """Give the address of a feed alone, as `feed_address` does; None where there is none.

    Raises:
        NotSaved: the garage has no secret yet, and it could not be saved.
    """
    base = garage.settings.feed_base
    if base is not None:
        return f"{base}/{file_name(garage, feed)}"
    return None if host is None else f"http://{_in_url(host)}:{port}{target(garage, feed)}"


def webcal(address: str) -> str:
    """Give an address as phones open a subscription by."""
    return f"webcal:{address.partition(':')[2]}"


def _in_url(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def set_base(garage: Garage, url: str | None) -> str | None:
    """Keep the public address under which the published folder is served; None ends it.

    Raises:
        BadInput: it is no such address.
        NotSaved: it could not be saved.
    """
    base = None if url is None else _base(url)
    if base != garage.settings.feed_base:
        garage.keep({"feed_base": base})
    return base


def _base(url: str) -> str:
    try:
        parts = urlsplit(url.strip())
        host, _ = parts.hostname, parts.port
    except ValueError:
        host, parts = None, urlsplit("")
    odd = parts.query or parts.fragment or parts.username or "?" in url or "#" in url
    if (
        parts.scheme.lower() not in _SCHEMES
        or not host
        or odd
        or any(map(str.isspace, url.strip()))
    ):
        raise BadInput(
            Fault(
                f'"{url}" is not the address of a folder on the web',
                "base",
                "write it as https://example.org/calendars, without query",
            )
        )
    return url.strip().rstrip("/")


def end_address(garage: Garage, feed: Feed | None) -> None:
    """End the address of a feed, or with None that of every feed: from now on they have new ones.

    Raises:
        NotSaved: it could not be saved; the old addresses hold.
    """
    if feed is None:
        _new_secret(garage)
        return
    before = garage.settings.feed_generations
    generations: dict[str, Value] = {**before, feed.id: before.get(feed.id, 0) + 1}
    garage.keep({"feed_generations": generations})


def _token(garage: Garage, feed: Feed) -> str:
    secret = garage.settings.feed_secret or _new_secret(garage)
    generation = garage.settings.feed_generations.get(feed.id, 0)
    return token(bytes.fromhex(secret), feed.id, generation)


def _new_secret(garage: Garage) -> str:
    """Make the secret that the names of all feeds rest on, and keep it in the garage's record."""
    secret = garage.surroundings.draw(_SECRET_BYTES).hex()
    # The old one leaves the record: nobody finds an ended address in a copy of it.
    garage.keep({"feed_secret": secret}, forgets=garage.settings.feed_secret is not None)
    return secret
