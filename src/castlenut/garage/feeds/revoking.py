"""Ending addresses: the old ones are answered as any unknown one, published files are renamed."""

from castlenut.domain.errors import BadInput
from castlenut.feed.feeds import Feed
from castlenut.garage.feeds.addresses import end_address, file_name
from castlenut.garage.feeds.targets import bring_up_to_date, published_feeds, remove_old
from castlenut.garage.garage import Garage
from castlenut.store.faults import NotSaved


def revoke(garage: Garage, feed: Feed | None) -> tuple[str, ...]:
    """End the address of a feed, or with None that of every feed.

    The published folders get the file under its new name, and the old file is removed. Gives a
    sentence for each target that could not be brought up to date.

    Raises:
        NotSaved: it could not be saved; the old addresses hold.
    """
    old = {each.id: file_name(garage, each) for each in published_feeds(garage)}
    end_address(garage, feed)
    try:
        remove_old(garage, old)
        return tuple(
            f"{each.path}: {each.fault}" for each in bring_up_to_date(garage) if each.fault
        )
    except (BadInput, NotSaved) as refused:
        return (str(refused),)
