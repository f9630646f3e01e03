"""What follows every save: the garage in memory, and what is published of it, keep in step."""

from collections.abc import Iterable

from castlenut.garage.garage import Garage
from castlenut.store.record_file import RecordFile


def follow(garage: Garage, files: Iterable[RecordFile]) -> None:
    """Take files as they were just saved, and bring the published feeds up to date.

    A feed that cannot be written hinders nothing; that is kept beside it.
    """
    for file in files:
        garage.took(file)
    if garage.settings.feed_targets:
        # Loaded here: most garages publish nothing, and a save must start quickly.
        from castlenut.garage.feeds.targets import bring_up_to_date

        bring_up_to_date(garage)
