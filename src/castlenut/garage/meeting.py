"""Another garage merged into this one: its record, its rules, what its calendar has published."""

from collections.abc import Collection
from pathlib import Path

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.feed.feeds import owner_feed
from castlenut.feed.forgetting import owner_feeds, without_feeds
from castlenut.feed.ledger import Ledger
from castlenut.feed.ledger_values import ledger_of, values_of
from castlenut.feed.reunion import reunited
from castlenut.garage.after_saving import follow
from castlenut.garage.garage import CannotRead, Garage
from castlenut.store.archive import opened
from castlenut.store.faults import FileFault
from castlenut.store.folder import LEDGER, Folder
from castlenut.store.former import delete_former_ledger
from castlenut.store.ledger_file import ledger_bytes, ledger_tables
from castlenut.store.meeting import Met, bring_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """What a merge did: the record's part, and sentences to be told beside it."""

    met: Met
    told: tuple[str, ...]


def merge_garage(garage: Garage, path: Path) -> Merged:
    """Merge another garage, a folder or a zip of one, into this one; the other is only read.

    Raises:
        BadInput: there is no garage at that path.
        NotSaved: the disk or the lock did not allow it; it names what was saved before.
    """
    with opened(path) as other:
        met = bring_in(garage.folder, other, garage.change(), called=str(path))
        garage.changed_files()
        told = _met_ledgers(garage, other, called=str(path))
    garage.changed_files()
    follow(garage, ())
    return Merged(met=met, told=(*met.told, *told))


def _met_ledgers(garage: Garage, other: Folder, *, called: str) -> tuple[str, ...]:
    """Unite what the two calendars have published, so that both go on with the same events."""
    theirs = _ledger(other.read_ledger())
    ours = garage.folder.read_ledger()
    if isinstance(theirs, str):
        return (f"{called}/{LEDGER}: {theirs}",)
    if theirs == Ledger() or isinstance(ours, FileFault):
        return ()
    owners = _owners_here(garage)

    def remade(held: bytes | None) -> bytes:
        known = _ledger(held)
        if isinstance(known, str):
            # Damaged here: the next feed written sets it aside and says so.
            return held or b""
        both = _of_owners(reunited(known, theirs), owners)
        return held if held is not None and both == known else ledger_bytes(values_of(both))

    if remade(ours) != ours:
        change = garage.change()
        now = _ledger(garage.folder.rewrite_ledger(remade, change))
        if isinstance(now, Ledger) and _names_more(_ledger(ours), now):
            delete_former_ledger(garage.folder, change)
    return ()


def _names_more(before: Ledger | str, now: Ledger) -> bool:
    """Tell whether what was published named owners who are in it no longer."""
    return isinstance(before, Ledger) and bool(owner_feeds(before) - owner_feeds(now))


def _owners_here(garage: Garage) -> Collection[str] | None:
    """Give the ids of the feeds of all owners there are; None where a car cannot be read."""
    feeds = set()
    for slug in garage.slugs():
        try:
            owner = garage.car(slug).car.vehicle.owner
        except CannotRead:
            return None
        if owner:
            feeds.add(owner_feed(owner).id)
    return feeds


def _of_owners(ledger: Ledger, owners: Collection[str] | None) -> Ledger:
    """Leave out the feeds of owners whom no car has any more: one of them may be forgotten."""
    return ledger if owners is None else without_feeds(ledger, owner_feeds(ledger) - {*owners})


def _ledger(data: bytes | FileFault | None) -> Ledger | str:
    """Give a ledger, or what is wrong with it."""
    if isinstance(data, FileFault):
        return data.message
    if data is None:
        return Ledger()
    tables = ledger_tables(data)
    try:
        return ledger_of(tables) if tables is not None else "damaged: left out"
    except BadInput:
        return "damaged: left out"
