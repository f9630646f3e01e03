"""What is known of an owner taken out of a car's record, on every copy it will meet."""

from collections.abc import Collection, Mapping

from castlenut.domain.frozen import dataclass
from castlenut.feed.feeds import owner_feed
from castlenut.feed.forgetting import without_feeds
from castlenut.feed.ledger_values import values_of
from castlenut.garage.after_saving import follow
from castlenut.garage.drafts import Saved, SavedRecord
from castlenut.garage.feeds.making import ledger_read
from castlenut.garage.garage import CannotRead, Garage
from castlenut.store.former import delete_former, delete_former_ledger, keeps_damaged
from castlenut.store.ledger_file import ledger_bytes
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Forgotten, set_by
from castlenut.store.values import Value

OWNER_FIELDS = ("owner", "phone", "address", "email")
CAR_FIELDS = ("vin", "plate")
FEEDS_BY_NAME = ("feed_targets", "feed_generations")
"""Settings that name feeds, and so owners."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ForgetAnswer:
    """What was forgotten, and how many former copies of the car's file were deleted."""

    saved: Saved
    copies: int


def forget(garage: Garage, slug: str, *, owner_only: bool = False) -> ForgetAnswer:
    """Forget a car's owner, and its VIN and plate unless `owner_only`.

    The fields leave every revision of the car's record, and the former copies of its file that the
    program keeps are deleted. So do the feeds of an owner whom no other car has: they are kept by
    his name. It cannot be taken back.

    Raises:
        CannotRead: the car's file cannot be read.
        NotSaved: the disk or the lock did not allow it.
    """
    fields = OWNER_FIELDS if owner_only else (*OWNER_FIELDS, *CAR_FIELDS)
    file = garage.file(slug)
    feeds = _feeds_of_owners(file)
    edits = [
        Forgotten(table="vehicle", id=each.id, fields=fields)
        for each in file.records(history=True)
        if each.table == "vehicle"
    ]
    change = garage.change()
    done = garage.folder.save(file, edits, change)
    garage.took(done.file)
    copies = delete_former(garage.folder, done.file, change)
    told = [
        *done.notices,
        *_forget_feeds(garage, feeds - _feeds_of_others(garage, slug)),
        f"backups and other machines keep what they know of {slug} until they merge",
    ]
    if keeps_damaged(garage.folder, done.file):
        told.append(f"a damaged copy of {slug} is kept in .castlenut/damaged/: delete it yourself")
    follow(garage, ())
    return ForgetAnswer(
        saved=Saved(
            slug=slug,
            change=done.change,
            records=tuple(
                SavedRecord(id=record, table=table, vehicle=slug) for table, record in done.records
            ),
            title=f"{', '.join(fields)} of {slug} forgotten",
            told=tuple(told),
        ),
        copies=copies,
    )


def _feeds_of_owners(file: RecordFile) -> frozenset[str]:
    """Give the ids of the feeds of everyone who was ever a car's owner."""
    return frozenset(
        owner_feed(owner).id
        for each in file.records(history=True)
        if each.table == "vehicle"
        for revision in each.revisions
        if isinstance(owner := set_by(revision).get("owner"), str) and owner
    )


def _feeds_of_others(garage: Garage, slug: str) -> frozenset[str]:
    """Give the ids of the feeds of the owners of all other cars that can be read."""
    found: set[str] = set()
    for other in garage.slugs():
        if other == slug:
            continue
        try:
            owner = garage.car(other).car.vehicle.owner
        except CannotRead:
            continue
        if owner:
            found.add(owner_feed(owner).id)
    return frozenset(found)


def _forget_feeds(garage: Garage, feeds: Collection[str]) -> tuple[str, ...]:
    """Take feeds out of the settings and of what is published; give sentences to be told."""
    if not feeds:
        return ()
    told: list[str] = []
    settings = garage.settings
    targets, generations = settings.feed_targets, settings.feed_generations
    if _are_named(garage.garage_file(), feeds):
        ended = sorted(path for path, id_ in targets.items() if id_ in feeds)
        told.extend(
            f"{path}: the calendar of the owner is kept up to date no longer: delete it there"
            for path in ended
        )
        values: dict[str, Mapping[str, Value]] = {
            "feed_targets": {path: id_ for path, id_ in targets.items() if id_ not in feeds},
            "feed_generations": {id_: n for id_, n in generations.items() if id_ not in feeds},
        }
        garage.keep({name: dict(each) or None for name, each in values.items()}, forgets=True)
    _forget_published(garage, feeds)
    return tuple(told)


def _are_named(file: RecordFile, feeds: Collection[str]) -> bool:
    """Tell whether the settings name any of the feeds, or ever did."""
    for record in file.records(history=True):
        for revision in record.revisions:
            for name in FEEDS_BY_NAME:
                table = set_by(revision).get(name)
                if isinstance(table, dict) and {*table, *map(str, table.values())} & {*feeds}:
                    return True
    return False


def _forget_published(garage: Garage, feeds: Collection[str]) -> None:
    there = garage.folder.read_ledger()
    before = ledger_read(there) if isinstance(there, bytes) else None
    if before is None or without_feeds(before, feeds) == before:
        return

    def remade(held: bytes | None) -> bytes:
        ledger = ledger_read(held)
        if ledger is None:
            # Damaged meanwhile: the next feed written sets it aside and says so.
            return held or b""
        return ledger_bytes(values_of(without_feeds(ledger, feeds)))

    change = garage.change()
    garage.folder.rewrite_ledger(remade, change)
    delete_former_ledger(garage.folder, change)
