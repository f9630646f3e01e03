"""Cars brought under their proper names before one of them is saved."""

from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

from castlenut.store.cars import CarFiles, Cars
from castlenut.store.content import FileKind
from castlenut.store.copies import put_away
from castlenut.store.encoding import encoded
from castlenut.store.faults import FileFault, FileRefused
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Change
from castlenut.store.storage import save_bytes


class HoldsCars(Protocol):
    """What of a garage's folder is needed here."""

    @property
    def room(self) -> Path:
        """Give the program's own folder in the garage."""

    @property
    def vehicles(self) -> Path:
        """Give the folder of the cars' files."""

    def cars(self, *, thorough: bool = False) -> Cars:
        """Give which file holds which car."""

    def load(self, slug: str, cars: Cars | None = None) -> RecordFile | FileFault:
        """Read a car with all its files."""

    def garage_copies(self) -> tuple[Path, ...]:
        """Give the second copies of the garage's own record."""


def others_of(folder: HoldsCars, held: RecordFile, change: Change) -> Sequence[Path]:
    """Give the further files of a car, and make room for it under its proper name.

    The caller holds the lock. Another car that holds that name is moved to its own first.

    Raises:
        FileRefused: the other car cannot be read.
        NotSaved: the disk did not allow it.
    """
    if held.place.kind is FileKind.GARAGE:
        return folder.garage_copies()
    identity = held.state.content.identity
    cars = folder.cars(thorough=bool(held.copies))
    holder = cars.holder(held.place.path.name)
    if holder is not None and holder.id not in {None, identity}:
        if holder.main is None:
            _move(folder, holder, cars, change)
        cars = folder.cars(thorough=True)
    known = cars.by_id().get(identity)
    own = held.place.path.name
    return [folder.vehicles / name for name in (known.names if known else ()) if name != own]


def _move(folder: HoldsCars, car: CarFiles, cars: Cars, change: Change) -> None:
    """Write a car under its proper name, the new file first, and put its other files away."""
    found = folder.load(car.slug, cars)
    if isinstance(found, FileFault):
        raise FileRefused(found)
    data, _ = encoded(found.state.content, {})
    save_bytes(
        found.place.path,
        data,
        room=folder.room,
        name=found.place.name,
        change=change.id,
        keep=found.state.data is not None,
    )
    put_away(found.copies, folder.room, whole=found.state.content)
