"""Another garage merged into this one: its record, its rules, what its calendar has published."""

from pathlib import Path

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.feed.ledger import Ledger
from castlenut.feed.ledger_values import ledger_of, values_of
from castlenut.feed.reunion import reunited
from castlenut.garage.garage import Garage
from castlenut.store.archive import opened
from castlenut.store.faults import FileFault
from castlenut.store.folder import LEDGER, Folder
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
        told = _met_ledgers(garage, other, called=str(path))
    garage.changed_files()
    return Merged(met=met, told=(*met.told, *told))


def _met_ledgers(garage: Garage, other: Folder, *, called: str) -> tuple[str, ...]:
    """Unite what the two calendars have published, so that both go on with the same events."""
    theirs = _ledger(other.read_ledger())
    ours = garage.folder.read_ledger()
    if isinstance(theirs, str):
        return (f"{called}/{LEDGER}: {theirs}",)
    if theirs == Ledger() or isinstance(ours, FileFault):
        return ()

    def remade(held: bytes | None) -> bytes:
        known = _ledger(held)
        if isinstance(known, str):
            # Damaged here: the next feed written sets it aside and says so.
            return held or b""
        both = reunited(known, theirs)
        return held if held is not None and both == known else ledger_bytes(values_of(both))

    if remade(ours) != ours:
        garage.folder.rewrite_ledger(remade, garage.change())
    return ()


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
