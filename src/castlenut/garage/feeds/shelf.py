"""The feeds as they are served: made when asked for, kept while nothing has changed."""

from collections.abc import Callable, Collection
from datetime import date
from threading import Lock

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.feed.answer import Address, Held
from castlenut.feed.feeds import Feed
from castlenut.feed.week import monday_of
from castlenut.garage.feeds.addresses import subjects, target
from castlenut.garage.feeds.making import cars_of, feeds_published, published
from castlenut.garage.garage import Garage
from castlenut.store.faults import NotSaved

_Stamps = tuple[tuple[str, tuple[int, int, int]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """What a feed was made of: the files by their stamps, and the week."""

    stamps: _Stamps
    monday: date


class Shelf:
    """The feeds of a garage for those who fetch them, from several threads at once.

    One thread at a time makes them; the others get the last good bytes meanwhile. What cannot be
    made is logged and stays as it was: nothing disappears from a phone for a fault here.
    """

    def __init__(
        self,
        garage: Garage,
        *,
        today: Callable[[], date],
        log: Callable[[str], None],
        unforeseen: Callable[[Exception], str],
    ) -> None:
        """Make nothing yet.

        Args:
            garage: opened for this shelf alone.
            today: gives the day it is.
            log: takes a line for the log.
            unforeseen: keeps the details of an unforeseen error, and gives where they stand.
        """
        self._garage = garage
        self._today = today
        self._log = log
        self._unforeseen = unforeseen
        self._turn = Lock()
        self._addresses: tuple[Address, ...] = ()
        self._addressed: _Seen | None = None
        self._held: dict[Feed, tuple[_Seen | None, Held]] = {}
        self._told: dict[Feed, tuple[str, ...]] = {}

    @property
    def told(self) -> tuple[str, ...]:
        """Give what was wrong when the feeds were last made."""
        return tuple(dict.fromkeys(line for told in self._told.values() for line in told))

    def addresses(self) -> tuple[Address, ...]:
        """Give all feeds by what a request for them names; files are opened only after a change."""
        seen = self._seen()
        if seen != self._addressed and self._turn.acquire(blocking=self._addressed is None):
            try:
                self._look_anew(seen)
            finally:
                self._turn.release()
        return self._addresses

    def held(self, feed: Feed) -> Held | None:
        """Give a feed as it is now, else as it last was; None where it never could be made."""
        seen = self._seen()
        kept = self._held.get(feed)
        if kept is not None and kept[0] == seen:
            return kept[1]
        if self._turn.acquire(blocking=kept is None):
            try:
                self._make(feed, seen)
            finally:
                self._turn.release()
        kept = self._held.get(feed)
        return None if kept is None else kept[1]

    def _seen(self) -> _Seen:
        stamps = tuple(sorted(self._garage.folder.stamps().items()))
        return _Seen(stamps=stamps, monday=monday_of(self._today()))

    def _look_anew(self, seen: _Seen) -> None:
        garage = self._garage
        garage.changed_files()
        try:
            known = tuple(each.feed for each in subjects(garage))
            self._addresses = tuple(
                Address(feed=each, target=target(garage, each))
                for each in (*known, *self._of_unread_cars(known))
            )
        except (BadInput, NotSaved) as refused:
            self._log(str(refused))
        except Exception as error:  # noqa: BLE001 (a door: what is unforeseen is told, the rest served)
            self._log(f"something went wrong; details in {self._unforeseen(error)}")
        # A secret made just now has changed a file: look once more next time.
        self._addressed = seen

    def _of_unread_cars(self, known: Collection[Feed]) -> tuple[Feed, ...]:
        """Give the feeds published before that may be of cars which cannot be read now."""
        if not any(self._is_unread(slug) for slug in self._garage.slugs()):
            return ()
        return tuple(each for each in feeds_published(self._garage) if each not in known)

    def _is_unread(self, slug: str) -> bool:
        try:
            self._garage.car(slug)
        except BadInput:
            return True
        return False

    def _make(self, feed: Feed, seen: _Seen) -> None:
        garage = self._garage
        garage.turn_to(self._today())
        garage.changed_files()
        try:
            asked = cars_of(garage, feed)
            made, told = published(garage, asked)
        except (BadInput, NotSaved) as refused:
            self._tell(feed, (str(refused),))
            self._stays(feed, seen)
            return
        except Exception as error:  # noqa: BLE001 (a door: what is unforeseen is told, the rest served)
            self._tell(feed, (f"something went wrong; details in {self._unforeseen(error)}",))
            self._stays(feed, seen)
            return
        self._tell(feed, (*asked.told, *told))
        if made.data is not None:
            changed = made.ledger.feeds[feed.id].changed
            self._held[feed] = (seen, Held(data=made.data, changed=changed))

    def _stays(self, feed: Feed, seen: _Seen) -> None:
        """Keep the last good bytes, until the files change once more."""
        kept = self._held.get(feed)
        if kept is not None:
            self._held[feed] = (seen, kept[1])

    def _tell(self, feed: Feed, told: tuple[str, ...]) -> None:
        for line in told:
            if line not in self.told:
                self._log(line)
        self._told[feed] = told
