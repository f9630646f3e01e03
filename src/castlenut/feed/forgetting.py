"""Owners taken out of what is published: their feeds, by whose ids their names are known."""

from collections.abc import Collection

from castlenut.domain.frozen import replace
from castlenut.feed.feeds import FeedKind, feed_of
from castlenut.feed.ledger import Ledger


def without_feeds(ledger: Ledger, feeds: Collection[str]) -> Ledger:
    """Give a ledger without some feeds, by id, and without what stood in no other."""
    if not feeds:
        return ledger
    return replace(
        ledger,
        events={
            uid: entry for uid, entry in ledger.events.items() if entry.scope.subject not in feeds
        },
        feeds={id_: state for id_, state in ledger.feeds.items() if id_ not in feeds},
    )


def owner_feeds(ledger: Ledger) -> frozenset[str]:
    """Give the ids of the owners' feeds that were ever made or stood empty."""
    named = {*ledger.feeds, *(entry.scope.subject for entry in ledger.events.values())}
    return frozenset(id_ for id_ in named if (feed := feed_of(id_)) and feed.kind is FeedKind.OWNER)
