"""Two garages brought together: what one holds is merged into the other, file by file.

The other garage is read and never written. Cars are matched by their ids, not by file names.
"""

import os
from collections.abc import Mapping
from pathlib import Path

from castlenut.domain.frozen import dataclass
from castlenut.store.beside import photos
from castlenut.store.cars import Cars, asked_slug, proper_slugs
from castlenut.store.content import Content, revisions_of
from castlenut.store.copies import Copy, forgets_in, put_away, united
from castlenut.store.encoding import encoded
from castlenut.store.faults import FaultWord, FileFault, NotSaved, not_saved
from castlenut.store.files import Unread, make_folder, read_plain, remove, write_new
from castlenut.store.folder import PHOTOS, RULES, Folder
from castlenut.store.loading import FilePlace, State, unread_fault
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change, StoredRecord
from castlenut.store.storage import save_bytes
from castlenut.store.values import canonical

IN_THE_WAY = "cannot be read and stands where a car of the other garage belongs: repair it first"


@dataclass(frozen=True, slots=True, kw_only=True)
class Counts:
    """What came in: cars and records that were not here, records added to, revisions."""

    vehicles_new: int = 0
    records_new: int = 0
    records_changed: int = 0
    revisions_new: int = 0

    def __add__(self, other: "Counts") -> "Counts":
        return Counts(
            vehicles_new=self.vehicles_new + other.vehicles_new,
            records_new=self.records_new + other.records_new,
            records_changed=self.records_changed + other.records_changed,
            revisions_new=self.revisions_new + other.revisions_new,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class MetFile:
    """A file that took something in; `differing` are records that did and now hold differences."""

    file: RecordFile
    counts: Counts
    differing: tuple[StoredRecord, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """What became of a merge.

    `left_out` are files on either side that could not be taken, `told` what else is to be said.
    """

    files: tuple[MetFile, ...]
    left_out: tuple[FileFault, ...]
    told: tuple[str, ...]

    @property
    def counts(self) -> Counts:
        """Give what came in, all files together."""
        return sum((each.counts for each in self.files), Counts())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """The cars of one garage: those that could be read by id, and the faults of the others."""

    cars: Cars
    files: Mapping[str, RecordFile]
    faults: Mapping[str, FileFault]
    """By the name of the file."""


def bring_in(ours: Folder, theirs: Folder, change: Change, *, called: str) -> Met:
    """Merge another garage into ours: its cars, its own record, its rules and photos.

    `called` is how the other is named in messages. Files that cannot be read on either side are
    left out, and the rest is merged.

    Raises:
        NotSaved: the disk or the lock did not allow it; it names the files saved before.
    """
    with ours.writing(change) as notices:
        meeting = _Meeting(ours, theirs, change, called)
        try:
            meeting.cars()
            meeting.garage_record()
            meeting.rules()
            meeting.photos()
        except NotSaved as failed:
            names = tuple(each.file.place.name for each in meeting.files)
            raise NotSaved(failed.file, failed.message, names) from failed
    return Met(
        files=tuple(meeting.files),
        left_out=tuple(meeting.left_out),
        told=(*notices, *meeting.told),
    )


class _Meeting:
    """One merge under way, under the lock of our garage."""

    def __init__(self, ours: Folder, theirs: Folder, change: Change, called: str) -> None:
        self.ours = ours
        self.theirs = theirs
        self.change = change
        self.called = called
        self.files: list[MetFile] = []
        self.left_out: list[FileFault] = []
        self.told: list[str] = []

    def cars(self) -> None:
        """Merge the cars, and give each its proper name among those of both garages."""
        here, there = _side(self.ours), _side(self.theirs)
        self.left_out.extend(self._theirs(fault) for fault in there.faults.values())
        asked = {each.id: each.asked for each in here.cars.by_slug.values() if each.id}
        for identity, file in there.files.items():
            slug = asked_slug(file.state.content) or file.slug
            asked[identity] = min(slug, asked.get(identity, slug))
        slugs = proper_slugs(asked)
        moving = [
            identity
            for identity, file in here.files.items()
            if slugs[identity] != file.slug or file.copies
        ]
        for identity in dict.fromkeys((*moving, *there.files)):
            self._car(identity, self.ours.place(slugs[identity]), here, there)

    def _car(self, identity: str, place: FilePlace, here: _Side, there: _Side) -> None:
        holder = here.cars.holder(place.path.name)
        for name in (place.path.name, *(holder.names if holder else ())):
            if (fault := here.faults.get(name)) is not None:
                is_same = holder is not None and holder.id == identity
                self.left_out.append(
                    fault
                    if is_same
                    else FileFault(file=place.name, word=fault.word, message=IN_THE_WAY)
                )
                return
        own = next((each for each in here.cars.by_slug.values() if each.id == identity), None)
        held = here.files.get(identity)
        if own is not None and held is None:
            self.left_out.extend(here.faults[name] for name in own.names if name in here.faults)
            return
        self._file(place, held, there.files.get(identity))

    def _file(self, place: FilePlace, held: RecordFile | None, met: RecordFile | None) -> None:
        """Write what two readings of one file come to, if that is new here or has a new name."""
        before = held.state.content if held is not None else None
        after = met.state.content if met is not None else None
        if before is not None:
            after = before if after is None else united(before, after)
        if after is None:
            return
        counts = _counts(before, after)
        data, lines = encoded(after, held.state.lines if held is not None else {})
        is_there = held is not None and held.place.path == place.path
        has_forgotten = before is not None and bool(forgets_in(after) - forgets_in(before))
        if held is None or not is_there or data != held.state.data:
            save_bytes(
                place.path,
                data,
                room=place.room,
                name=place.name,
                change=self.change.id,
                keep=is_there
                and not has_forgotten
                and held is not None
                and held.state.data is not None,
            )
        if has_forgotten:
            # What the other garage has forgotten is forgotten here as well, in the copy before too.
            remove(place.previous)
        if held is not None:
            stale = list(held.copies)
            if not is_there and held.state.data is not None:
                stale.append(Copy(path=held.place.path, data=held.state.data, counted=0))
            put_away(stale, place.room, whole=after)
        file = RecordFile(place=place, state=State(content=after, data=data, lines=lines))
        if counts.revisions_new:
            self.files.append(MetFile(file=file, counts=counts, differing=_differing(before, file)))

    def garage_record(self) -> None:
        """Merge the garage's own record; the smaller of two ids stays."""
        here, there = self.ours.load_garage(), self.theirs.load_garage()
        if isinstance(there, FileFault):
            self.left_out.append(self._theirs(there))
        elif isinstance(here, FileFault):
            self.left_out.append(here)
        else:
            self._file(self.ours.garage_place, here, there)

    def rules(self) -> None:
        """Take the other's rules where we have none; others are laid beside ours and told."""
        here, there = read_plain(self.ours.path / RULES), read_plain(self.theirs.path / RULES)
        if isinstance(there, Unread):
            self.left_out.append(self._theirs(unread_fault(RULES, there)))
            return
        if there is None or there == here:
            return
        name = RULES
        if here is not None:
            # Imported here: most merges meet the same rules.
            from hashlib import sha256

            name = f"rules.from-{sha256(there).hexdigest()[:8]}.toml"
        if read_plain(self.ours.path / name) == there:
            return
        save_bytes(
            self.ours.path / name,
            there,
            room=self.ours.room,
            name=name,
            change=self.change.id,
            keep=False,
        )
        self.told.append(
            f"{RULES}: taken over from {self.called}"
            if here is None
            else f"{RULES}: other rules stand in {self.called}: yours are used, theirs are"
            f" laid beside them as {name}"
        )

    def photos(self) -> None:
        """Copy the photos that are not here; of two under one name ours stays, and it is told."""
        for path in photos(self.theirs):
            there, target = read_plain(path), self.ours.path / PHOTOS / path.name
            name = f"{PHOTOS}/{path.name}"
            if isinstance(there, Unread):
                self.left_out.append(self._theirs(unread_fault(name, there)))
            if not isinstance(there, bytes) or there == read_plain(target):
                continue
            if os.path.lexists(target):
                self.told.append(f"{name}: differs in {self.called}: yours is kept")
                continue
            try:
                make_folder(target.parent)
                write_new(target, there)
            except OSError as error:
                raise not_saved(name, error) from error

    def _theirs(self, fault: FileFault) -> FileFault:
        """Name a file of the other garage with its folder."""
        return FileFault(
            file=f"{self.called}/{fault.file}",
            word=fault.word,
            message=fault.message,
            line=fault.line,
        )


def _side(folder: Folder) -> _Side:
    cars = folder.cars(thorough=True)
    files: dict[str, RecordFile] = {}
    faults: dict[str, FileFault] = {}
    for slug in sorted(cars.by_slug):
        known, found = cars.by_slug[slug], folder.load(slug, cars)
        if isinstance(found, FileFault):
            faults[Path(found.file).name] = found
            continue
        if known.id is not None:
            files[known.id] = found
        for fault in found.told:
            if fault.word is not FaultWord.COPY:
                faults[Path(fault.file).name] = fault
    for name in cars.loose:
        faults[name] = folder.loose_fault(name)
    return _Side(cars=cars, files=files, faults=faults)


def _counts(before: Content | None, after: Content) -> Counts:
    new = changed = revisions = 0
    had = before.tables if before is not None else {}
    for table, records in after.tables.items():
        for record, value in records.items():
            old = had.get(table, {}).get(record)
            if old is value or (old is not None and canonical(old) == canonical(value)):
                continue
            known = record in had.get(table, {})
            new += not known
            changed += known
            # What is no record at all counts as one revision of it.
            revisions += max(len(revisions_of(value)) - len(revisions_of(old)), 1)
    return Counts(
        vehicles_new=int(before is None),
        records_new=new,
        records_changed=changed,
        revisions_new=revisions,
    )


def _differing(before: Content | None, file: RecordFile) -> tuple[StoredRecord, ...]:
    had = before.tables if before is not None else {}
    return tuple(
        each
        for each in file.records()
        if each.differences
        and had.get(each.table, {}).get(each.id)
        is not file.state.content.tables[each.table][each.id]
    )
