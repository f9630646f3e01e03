"""All feeds of a garage at a glance: where each is found, and what was last made of it."""

from castlenut.domain.frozen import dataclass
from castlenut.feed.ledger import FeedState
from castlenut.garage.feeds.addresses import Subject, address_of, subjects
from castlenut.garage.feeds.making import states_published
from castlenut.garage.feeds.targets import Target, targets
from castlenut.garage.garage import Garage


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedRow:
    """One feed. `description` is its car's; `last` is as it was last made, None if it never was."""

    subject: Subject
    description: str | None
    address: str | None
    last: FeedState | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    """The feeds, where they are published, and the base of their addresses."""

    feeds: tuple[FeedRow, ...]
    targets: tuple[Target, ...]
    base: str | None


def overview(garage: Garage, *, host: str | None, port: int) -> Overview:
    """Give all feeds with their addresses; nothing is reckoned.

    Raises:
        NotSaved: the garage has no secret yet, and it could not be saved.
    """
    states = states_published(garage)
    return Overview(
        feeds=tuple(
            FeedRow(
                subject=each,
                description=_description(garage, each),
                address=address_of(garage, each.feed, host=host, port=port),
                last=states.get(each.feed.id),
            )
            for each in subjects(garage)
        ),
        targets=targets(garage),
        base=garage.settings.feed_base,
    )


def _description(garage: Garage, subject: Subject) -> str | None:
    is_car = subject.name is not None and subject.name in garage.slugs()
    return garage.car(subject.name).car.vehicle.description if is_car and subject.name else None
