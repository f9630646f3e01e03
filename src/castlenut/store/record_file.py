"""A file of records as it is held in memory: a car's, or the garage's own."""

from collections.abc import Iterator
from functools import cached_property

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import VehicleId
from castlenut.store.content import revisions_of
from castlenut.store.copies import Copy
from castlenut.store.faults import FaultWord, FileFault
from castlenut.store.loading import FilePlace, State, record_faults
from castlenut.store.revisions import StoredRecord, as_record, short_of
from castlenut.store.schema import control_fields

_SHORTEST = 4  # digits of a record's id that may stand for it


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A record that does not check: kept as it is at each write, and answered by nothing."""

    table: str
    id: str
    why: str


@dataclass(frozen=True, kw_only=True)
class RecordFile:
    """A file of records that could be read, or a new one that was not saved yet.

    Not slotted: its records are worked out once, when first asked for.
    """

    place: FilePlace
    state: State
    copies: tuple[Copy, ...] = ()
    told: tuple[FileFault, ...] = ()
    """What is told of the copies: how much they add, which of them cannot be read."""

    @property
    def slug(self) -> str:
        """Give the file's name without its ending: the car's short name, or `garage`."""
        return self.place.stem

    @property
    def vehicle_id(self) -> VehicleId:
        """Give the id in the header: a car's, on which calendar events rest, or the garage's."""
        return VehicleId(self.state.content.identity)

    @property
    def is_saved(self) -> bool:
        """Tell whether the file was on the disk when it was last looked at."""
        return self.state.data is not None

    @property
    def is_taken_back(self) -> bool:
        """Tell whether all that was ever in the file is struck: taking the car in was undone."""
        return bool(self._every) and not self._live and not self.state.content.set_aside

    def records(self, *, history: bool = False) -> tuple[StoredRecord, ...]:
        """Give the records, struck ones only with `history`, sorted by table and id."""
        return self._every if history else self._live

    def table(self, name: str) -> tuple[StoredRecord, ...]:
        """Give the live records of one table, sorted by id."""
        return tuple(each for each in self._live if each.table == name)

    def record(self, table: str, record: str) -> StoredRecord | None:
        """Give one record, struck or not; None if there is none that checks."""
        content = self.state.content
        value = content.tables.get(table, {}).get(record)
        if value is None or (table, record) in content.set_aside:
            return None
        return as_record(table, record, revisions_of(value))

    def named(self, text: str) -> StoredRecord:
        """Give the record meant by an id, the end of one (8 digits as a rule), or `vehicle`.

        Raises:
            BadInput: none is meant, or several are; the candidates are named.
        """
        wanted = text.strip().lower()
        if wanted == "vehicle":
            found = [each for each in self._live if each.table == "vehicle"]
            found = found or [each for each in self._every if each.table == "vehicle"]
        else:
            found = [each for each in self._every if each.id == wanted]
        if not found and len(wanted) >= _SHORTEST:
            found = [each for each in self._every if each.id.endswith(wanted)]
        if len(found) == 1:
            return found[0]
        if found:
            candidates = ", ".join(f"{each.id} ({each.table})" for each in found[:6])
            raise BadInput(
                Fault(
                    f"{wanted!a} may be {len(found)} records", "record", f"name one: {candidates}"
                )
            )
        aside = next((each for each in self.set_aside if each.id.endswith(wanted or "?")), None)
        if aside is not None:
            raise BadInput(
                Fault(
                    f"{short_of(aside.id)} is set aside: {aside.why}",
                    "record",
                    "mend its line in the file",
                )
            )
        raise BadInput(
            Fault(f"{wanted!a} is no record of {self.slug}", "record", "see records --ids")
        )

    @property
    def set_aside(self) -> tuple[SetAside, ...]:
        """Give the records that do not check, sorted by table and id."""
        return tuple(
            SetAside(table=table, id=record, why=why)
            for (table, record), why in sorted(self.state.content.set_aside.items())
        )

    @property
    def faults(self) -> tuple[FileFault, ...]:
        """Give what is wrong: records set aside, records that stood twice, copies of the file."""
        return *self.told, *record_faults(self.place, self.state.content)

    def odd_characters(self) -> Iterator[FileFault]:
        """Give each field whose text may not reach a terminal as it is."""
        for each in self._live:
            for name in control_fields(each.table, each.values):
                yield FileFault(
                    file=self.place.name,
                    word=FaultWord.CHARACTERS,
                    message=f"record {short_of(each.id)}: {name} holds control characters",
                )

    @cached_property
    def _every(self) -> tuple[StoredRecord, ...]:
        found = [
            as_record(table, record, revisions)
            for table, record, revisions in self.state.content.usable()
        ]
        return tuple(sorted(found, key=lambda each: (each.table, each.id)))

    @cached_property
    def _live(self) -> tuple[StoredRecord, ...]:
        return tuple(each for each in self._every if not each.gone)
