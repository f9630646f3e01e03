"""The three kinds of feed: of the garage, of one vehicle, of all vehicles of one owner."""

from collections.abc import Sequence
from datetime import date
from enum import Enum

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import VehicleId
from castlenut.domain.months import end_of_month_after
from castlenut.feed.event import GarageFacts, full_name
from castlenut.feed.text import cut, one_line
from castlenut.feed.uid import Audience

_LONGEST_NAME = 60
_DASH = " \N{EN DASH} "
_DUE = f"{_DASH}due"
_NAMELESS_GARAGE = "Garage"
# Readers show the escapes of these three in X-WR-CALNAME as they stand.
_ESCAPED = str.maketrans({"\\": " ", ";": " ", ",": " "})


class FeedKind(Enum):
    """What a feed is of."""

    GARAGE = "garage"
    VEHICLE = "vehicle"
    OWNER = "owner"


_MONTHS_AHEAD = {FeedKind.GARAGE: 12, FeedKind.VEHICLE: 18, FeedKind.OWNER: 18}
LONGEST_VIEW = 18
COLORS = {
    FeedKind.GARAGE: "darkorange",
    FeedKind.VEHICLE: "steelblue",
    FeedKind.OWNER: "seagreen",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """One feed. `subject` is the id of its vehicle or the evened name of its owner, else empty."""

    kind: FeedKind
    subject: str = ""

    @property
    def id(self) -> str:
        """Give what it is kept by: `garage`, `vehicle|<id>`, `owner|<name>`."""
        return f"{self.kind.value}|{self.subject}" if self.subject else self.kind.value

    @property
    def audience(self) -> Audience:
        """Give who reads it."""
        return Audience.OWNER if self.kind is FeedKind.OWNER else Audience.GARAGE

    def until(self, monday: date) -> date:
        """Give the last day it looks ahead to in the week of a Monday."""
        return end_of_view(monday, _MONTHS_AHEAD[self.kind])


GARAGE_FEED = Feed(kind=FeedKind.GARAGE)


def vehicle_feed(vehicle: VehicleId) -> Feed:
    """Give the feed of one vehicle."""
    return Feed(kind=FeedKind.VEHICLE, subject=vehicle)


def owner_feed(owner: str) -> Feed:
    """Give the feed of one owner."""
    return Feed(kind=FeedKind.OWNER, subject=evened(owner))


def feed_of(id_: str) -> Feed | None:
    """Give the feed that is kept by an id; None for a text that is no such id."""
    kind, _, subject = id_.partition("|")
    if kind not in {each.value for each in FeedKind}:
        return None
    feed = Feed(kind=FeedKind(kind), subject=subject)
    return feed if bool(subject) is (feed.kind is not FeedKind.GARAGE) else None


def evened(name: str) -> str:
    """Give a name without differences of case and blanks: two ways of writing are one owner."""
    return one_line(name).casefold()


def end_of_view(monday: date, months: int) -> date:
    """Give the last day of the month that lies some months after the month of a Monday."""
    return end_of_month_after(monday.replace(day=1), months)


def feed_name(
    feed: Feed, facts: GarageFacts, cars: Sequence[CarToday], names: Sequence[str]
) -> str:
    """Give the name a phone lists the feed by; `names` are the short names of its vehicles."""
    subject = one_line(facts.name) or _NAMELESS_GARAGE
    if feed.kind is FeedKind.OWNER and names:
        whole = cut(f"{subject}{_DASH}{' & '.join(sorted(names))}", _LONGEST_NAME)
    else:
        if feed.kind is FeedKind.VEHICLE and cars:
            subject = full_name(cars[0].car.vehicle)
        whole = cut(subject, _LONGEST_NAME - len(_DUE)) + _DUE
    return one_line(whole.translate(_ESCAPED))
