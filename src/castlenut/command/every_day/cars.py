"""The cars a command asks about: one by name, or all; what cannot be read is told and left out."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from castlenut.command.output import tell
from castlenut.garage.car_record import file_look_at
from castlenut.garage.garage import CannotRead

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from castlenut.command.call import Call
    from castlenut.garage.car_record import CarRecord
    from castlenut.garage.garage import Garage
    from castlenut.store.faults import FileFault
    from castlenut.store.record_file import RecordFile

Read = TypeVar("Read")


class CarsAsked:
    """The car that the call names, or every car, by slug; each is read when its turn comes.

    So a command over many cars holds one at a time. What needs a look is told as they are read, and
    `unread` has the faults of those that could not be, once they are all through.
    """

    def __init__(self, call: Call, garage: Garage) -> None:
        """Find the cars, and read none yet.

        Raises:
            BadInput: the car named is not there.
        """
        self._garage = garage
        self._named = call.maybe("vehicle")
        self._slugs = garage.slugs() if self._named is None else (garage.find(self._named),)
        self.unread: list[FileFault] = []

    def __iter__(self) -> Iterator[tuple[str, CarRecord]]:
        """Read one car after another.

        Raises:
            CannotRead: the car named cannot be read.
        """
        for slug, record in self._each(self._garage.car):
            _tell_of(slug, record.look_at)
            yield slug, record

    def files(self) -> Iterator[tuple[str, RecordFile]]:
        """Read the file of one car after another, and put no car together.

        Raises:
            CannotRead: the file of the car named cannot be read.
        """
        for slug, file in self._each(self._garage.file):
            _tell_of(slug, file_look_at(file))
            yield slug, file

    def _each(self, read: Callable[[str], Read]) -> Iterator[tuple[str, Read]]:
        for slug in self._slugs:
            try:
                found = read(slug)
            except CannotRead as refused:
                if self._named is not None:
                    raise
                self.unread.append(refused.fault)
                tell(str(refused.fault))
                continue
            yield slug, found


def _tell_of(slug: str, sentences: Iterable[str]) -> None:
    for sentence in sentences:
        tell(f"vehicles/{slug}.json: {sentence}")
