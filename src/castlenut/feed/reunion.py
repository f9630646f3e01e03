"""Two ledgers that went apart, brought together: the same one, whichever comes first."""

from collections.abc import Callable, Mapping
from typing import TypeVar

from castlenut.feed.ledger import Entry, FeedState, Ledger

T = TypeVar("T")


def reunited(one: Ledger, other: Ledger) -> Ledger:
    """Unite two ledgers: of an event the higher sequence, then the later stamp; the later file.

    What is equal in all that counts is told apart by its text, so that the order never matters.
    """
    return Ledger(
        events=_latest(one.events, other.events, _event_rank),
        feeds=_latest(one.feeds, other.feeds, _feed_rank),
        targets=_latest(one.targets, other.targets, _target_rank),
    )


def _latest(
    one: Mapping[str, T], other: Mapping[str, T], rank: Callable[[T], tuple[object, ...]]
) -> Mapping[str, T]:
    both = {**one, **other}
    for name in one.keys() & other.keys():
        both[name] = max(one[name], other[name], key=rank)
    return both


def _event_rank(entry: Entry) -> tuple[object, ...]:
    return entry.sequence, entry.stamp, repr(entry)


def _feed_rank(feed: FeedState) -> tuple[object, ...]:
    return feed.changed, repr(feed)


def _target_rank(target: Mapping[str, str | None]) -> tuple[object, ...]:
    return target.get("written") or "", repr(sorted(target.items(), key=lambda each: each[0]))
