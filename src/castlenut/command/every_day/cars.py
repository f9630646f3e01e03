"""The cars a command asks about: one by name, or all; what cannot be read is told and left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command.output import tell
from castlenut.domain.frozen import dataclass
from castlenut.garage.garage import CannotRead, CarRecord

if TYPE_CHECKING:
    from castlenut.command.call import Call
    from castlenut.garage.garage import Garage
    from castlenut.store.faults import FileFault


@dataclass(frozen=True, slots=True, kw_only=True)
class CarsAsked:
    """The cars that could be read, by slug, and the faults of those that could not."""

    read: tuple[tuple[str, CarRecord], ...]
    unread: tuple[FileFault, ...]


def cars_asked(call: Call, garage: Garage) -> CarsAsked:
    """Read the car that the call names, or every car, and tell what needs a look.

    Raises:
        BadInput: the car named is not there or cannot be read.
    """
    named = call.maybe("vehicle")
    slugs = garage.slugs() if named is None else (garage.find(named),)
    read: list[tuple[str, CarRecord]] = []
    unread: list[FileFault] = []
    for slug in slugs:
        try:
            record = garage.car(slug)
        except CannotRead as refused:
            if named is not None:
                raise
            unread.append(refused.fault)
            tell(str(refused.fault))
            continue
        read.append((slug, record))
        for sentence in record.look_at:
            tell(f"vehicles/{slug}.json: {sentence}")
    return CarsAsked(read=tuple(read), unread=tuple(unread))
