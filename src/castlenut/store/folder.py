"""The garage's folder: which files it has, reading and saving them."""

import contextlib
import os
import stat
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.store.cars import Cars, Stamp, cars_among
from castlenut.store.content import FileKind, new_content
from castlenut.store.copies import assembled
from castlenut.store.faults import (
    FaultWord,
    FileFault,
    FileRefused,
    FolderRefused,
    NotSaved,
    not_saved,
)
from castlenut.store.files import (
    Unread,
    make_folder,
    read_plain,
    remove,
    sync_folder,
)
from castlenut.store.loading import FilePlace, State, load, unread_fault
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change, Deed
from castlenut.store.slug import check_slug

if TYPE_CHECKING:
    # What only a save needs is loaded in it: reading commands start a quarter sooner without.
    from castlenut.store.saving import Saved

GARAGE = "garage.json"
RULES = "rules.toml"
LEDGER = "feed.json"
VEHICLES = "vehicles"
PHOTOS = "photos"
ROOM = ".castlenut"
NO_CAR = "is no car's file by its name: name it as the car's, or move it away"
_DAY_S = 86_400


@dataclass(frozen=True, slots=True, kw_only=True)
class Folder:
    """A garage on the disk. Holds nothing open and nothing in memory."""

    path: Path

    @property
    def room(self) -> Path:
        """Give the program's own folder in the garage: lock, temporary and former files."""
        return self.path / ROOM

    @property
    def vehicles(self) -> Path:
        """Give the folder of the cars' files."""
        return self.path / VEHICLES

    def place(self, slug: str) -> FilePlace:
        """Give where a car's file lies, or would."""
        return FilePlace(
            path=self.vehicles / f"{slug}.json",
            kind=FileKind.VEHICLE,
            name=f"{VEHICLES}/{slug}.json",
            stem=slug,
            room=self.room,
        )

    @property
    def garage_place(self) -> FilePlace:
        """Give where the garage's own record lies."""
        return FilePlace(
            path=self.path / GARAGE,
            kind=FileKind.GARAGE,
            name=GARAGE,
            stem="garage",
            room=self.room,
        )

    def file_names(self) -> tuple[str, ...]:
        """Name every `.json` entry among the cars' files, sorted, dot files left out.

        Beside the cars' own files it may hold copies that a sync program made under other names.
        """
        try:
            names = os.listdir(self.vehicles)  # noqa: PTH208 - names only
        except FileNotFoundError:
            return ()
        except NotADirectoryError:
            raise _no_folder_of_cars() from None
        except PermissionError:
            raise FileRefused(unread_fault(VEHICLES, Unread.PERMISSION)) from None
        return tuple(
            sorted(name for name in names if name.endswith(".json") and not name.startswith("."))
        )

    def cars(self, *, thorough: bool = False) -> Cars:
        """Give which file holds which car; see `cars_among`."""
        return cars_among(self.vehicles, self.file_names(), thorough=thorough)

    def stamp(self) -> Stamp | None:
        """Give inode, size and time of the folder of cars: it changes when a file comes or goes."""
        try:
            seen = self.vehicles.stat()
        except OSError:
            return None
        return seen.st_ino, seen.st_size, seen.st_mtime_ns

    def slugs(self) -> tuple[str, ...]:
        """Give the short name of every car that has a file, sorted."""
        return tuple(sorted(self.cars(thorough=True).by_slug))

    def load(self, slug: str, cars: Cars | None = None) -> RecordFile | FileFault:
        """Read a car with all its files. What is wrong with them costs this car only.

        `cars`: which file holds which car, where that is known already.
        """
        place = self.place(slug)
        known = (cars or self.cars()).by_slug.get(slug)
        if known is None and cars is None:
            known = self.cars(thorough=True).by_slug.get(slug)
        main = load(place)
        if isinstance(main, FileFault):
            return main
        if known is None or not known.others:
            return _one_file(place, main)
        if known.main is None:
            main = None
        found = assembled(place, main, [self.vehicles / name for name in known.others])
        if found.state is None:
            return found.told[0] if found.told else _gone(place)
        return RecordFile(place=place, state=found.state, copies=found.copies, told=found.told)

    def loose_fault(self, name: str) -> FileFault:
        """Say what is wrong with a file among the cars' of which it cannot be told whose it is."""
        place = self.place(name.removesuffix(".json"))
        found = load(place)
        if isinstance(found, FileFault):
            return found
        return FileFault(file=place.name, word=FaultWord.NOT_A_FILE, message=NO_CAR)

    def load_garage(self) -> RecordFile | FileFault:
        """Read the garage's own record; where it cannot be read, default settings hold."""
        place = self.garage_place
        main = load(place)
        if isinstance(main, FileFault):
            return main
        found = assembled(place, main, self.garage_copies())
        if found.state is None:
            return _gone(place)
        return RecordFile(place=place, state=found.state, copies=found.copies, told=found.told)

    def garage_copies(self) -> tuple[Path, ...]:
        """Give the second copies of the garage's own record that a sync program left."""
        try:
            names = os.listdir(self.path)  # noqa: PTH208 - names only
        except OSError:
            return ()
        return tuple(
            self.path / name
            for name in sorted(names)
            if name.startswith("garage") and name.endswith(".json") and name != GARAGE
        )

    def new_vehicle(self, slug: str, vehicle_id: str) -> RecordFile:
        """Give the file of a new car, not yet saved.

        A name whose car was taken back gives the file that car had.

        Raises:
            BadInput: the name may not be, or is another car's.
        """
        place = self.place(check_slug(slug))
        cars = self.cars(thorough=True)
        if os.path.lexists(place.path) or slug in cars.by_slug:
            there = self.load(slug, cars)
            if isinstance(there, RecordFile) and there.is_taken_back:
                # Taking it in was taken back: the same car may be taken in again.
                return there
            raise BadInput(
                Fault(f"{slug} is in the garage already", "short name", "choose another name")
            )
        return RecordFile(
            place=place,
            state=State(content=new_content(FileKind.VEHICLE, vehicle_id), data=None),
        )

    def save(self, held: RecordFile, edits: Sequence[Deed], change: Change) -> "Saved":
        """Save one change of one file; see `save_all`."""
        return self.save_all([(held, edits)], change)[0]

    def save_all(
        self, parts: Sequence[tuple[RecordFile, Sequence[Deed]]], change: Change
    ) -> "tuple[Saved, ...]":
        """Save one change over one or more files, in the order given. It is durable on return.

        Every part is checked before the first is written. Where one cannot be written, those before
        it stand; NotSaved names them.

        Raises:
            BadInput: the edits cannot be; nothing was written.
            FileRefused: a file on the disk cannot be used; nothing was written.
            NotSaved: the disk or the lock did not allow it.
        """
        from castlenut.store.moving import others_of
        from castlenut.store.saving import Saved, commit, prepare

        with self.writing(change) as notices:
            prepared = []
            first = 0
            for held, edits in parts:
                others = others_of(self, held, change)
                prepared.append(prepare(held, edits, change, first=first, others=others))
                first = prepared[-1].next_place
            saved: list[Saved] = []
            for each in prepared:
                try:
                    one = commit(each)
                except NotSaved as failed:
                    names = tuple(done.file.place.name for done in saved)
                    raise NotSaved(failed.file, failed.message, names) from failed
                saved.append(
                    Saved(
                        file=one.file,
                        change=one.change,
                        records=one.records,
                        notices=(*notices, *one.notices),
                    )
                )
        return tuple(saved)

    @contextlib.contextmanager
    def writing(self, change: Change) -> Iterator[tuple[str, ...]]:
        """Hold the garage's lock; gives sentences to be told. For what is saved beside the records.

        Raises:
            NotSaved: another program holds it for long, or the folder cannot be written.
        """
        from castlenut.store.lock import NO_LOCK, held_lock

        try:
            if make_folder(self.room):
                sync_folder(self.path)
        except OSError as error:
            raise not_saved("garage", error) from error
        with held_lock(self.room, change) as is_offered:
            self._sweep(change)
            yield () if is_offered else (NO_LOCK,)

    def _sweep(self, change: Change) -> None:
        """Remove temporary files that a killed save left more than a day ago."""
        oldest = change.at.timestamp() - _DAY_S
        with contextlib.suppress(OSError), os.scandir(self.room / "tmp") as entries:
            for entry in entries:
                if entry.stat(follow_symlinks=False).st_mtime < oldest:
                    remove(Path(entry.path))

    def read_ledger(self) -> bytes | FileFault | None:
        """Give the bytes of what the feed has published; None if it has published nothing."""
        data = read_plain(self.path / LEDGER)
        return unread_fault(LEDGER, data) if isinstance(data, Unread) else data

    def rewrite_ledger(self, remade: Callable[[bytes | None], bytes], change: Change) -> bytes:
        """Save the feed's ledger as `remade` makes it of what is there; equal bytes touch nothing.

        Raises:
            FileRefused: what is there cannot be read, and is not written over.
            NotSaved: the disk or the lock did not allow it.
        """
        from castlenut.store.storage import save_bytes

        with self.writing(change):
            there = self.read_ledger()
            if isinstance(there, FileFault):
                raise FileRefused(there)
            data = remade(there)
            if data != there:
                save_bytes(
                    self.path / LEDGER,
                    data,
                    room=self.room,
                    name=LEDGER,
                    change=change.id,
                    keep=there is not None,
                )
        return data

    def stamps(self) -> Mapping[str, Stamp]:
        """Give inode, size and time of every file of the record, to see what changed outside."""
        paths = [self.path / GARAGE, self.path / RULES]
        paths.extend(self.vehicles / name for name in self.file_names())
        found = {}
        for path in paths:
            with contextlib.suppress(OSError):
                seen = path.lstat()
                found[path.relative_to(self.path).as_posix()] = (
                    seen.st_ino,
                    seen.st_size,
                    seen.st_mtime_ns,
                )
        return found

    def is_open_to_others(self) -> bool:
        """Tell whether other users of the machine may read the garage's own record."""
        try:
            mode = (self.path / GARAGE).stat().st_mode
        except OSError:
            return False
        return os.name == "posix" and bool(mode & (stat.S_IRWXG | stat.S_IRWXO))

    def may_be_written(self) -> bool:
        """Tell whether this user may save in the garage, as far as it can be told beforehand."""
        folders = (self.path, self.vehicles if self.vehicles.is_dir() else self.path)
        return all(os.access(folder, os.W_OK | os.X_OK) for folder in folders)


def open_folder(path: Path) -> Folder:
    """Open a garage. Nothing is written.

    Raises:
        FolderRefused: there is no garage.
        FileRefused: it was written by a newer program, or its folder of cars is none.
    """
    if not os.path.lexists(path / GARAGE):
        raise FolderRefused(
            f'no garage at {path}: make one with "castlenut --garage {path} add SLUG"',
            folder=str(path),
            remedy="make one with add",
        )
    folder = Folder(path=path)
    if os.path.lexists(folder.vehicles) and not folder.vehicles.is_dir():
        raise _no_folder_of_cars()
    garage = load(folder.garage_place)
    if isinstance(garage, FileFault) and garage.word is FaultWord.NEWER:
        raise FileRefused(garage)
    return folder


def _no_folder_of_cars() -> FileRefused:
    return FileRefused(
        FileFault(
            file=VEHICLES,
            word=FaultWord.NOT_A_FILE,
            message="vehicles is not a folder: move it away",
        )
    )


def _one_file(place: FilePlace, main: State | None) -> RecordFile | FileFault:
    return _gone(place) if main is None else RecordFile(place=place, state=main)


def _gone(place: FilePlace) -> FileFault:
    return FileFault(
        file=place.name, word=FaultWord.GONE, message="is gone from the folder: put it back"
    )
