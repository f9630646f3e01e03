"""A garage as the faces see it: its cars, its rules, its settings, read once and kept in step."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from castlenut.domain.car import Car
from castlenut.domain.errors import Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import RecordId, RuleId, VehicleId, short
from castlenut.domain.rules.on_demand import shipped_on_demand
from castlenut.domain.rules.precedence import rule_book
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.rules.shipped import ShippedTables
from castlenut.garage.settings import Settings, settings_of
from castlenut.store import folder as folders
from castlenut.store.faults import FileFault, FileRefused
from castlenut.store.fields import shown
from castlenut.store.folder import Folder, open_folder
from castlenut.store.record_file import RecordFile
from castlenut.store.records import car_of
from castlenut.store.revisions import Added, Change, Changed, StoredRecord
from castlenut.store.schema import GARAGE_RECORD, PRIVATE
from castlenut.store.shipped import shipped_texts
from castlenut.store.values import Value

if TYPE_CHECKING:
    from castlenut.domain.due import CarToday

_MOST_HELD = 20
"""Cars kept in memory with all their records; those seen longest ago are let go."""

_MOST_RECKONED = 60
"""Cars of which is kept what is due on them today: a board is gone through again and again."""

_Stamp = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What the garage needs of the world: day, instant, ids, this machine, the command's word.

    `device` is asked only when something is saved. `draw` gives so many
    bytes that nobody can guess.
    """

    today: date
    now: Callable[[], datetime]
    new_id: Callable[[], str]
    draw: Callable[[int], bytes]
    device: Callable[[], str]
    command: str


class CannotRead(FileRefused):
    """A car's file cannot be read. `fault` tells why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CarRecord:
    """One car with its file.

    `look_at`: what needs a look, in sentences: records set aside, and fields for which two copies
    of the file hold different values.
    """

    car: Car
    file: RecordFile
    look_at: tuple[str, ...]


class Garage:
    """One garage, opened. Cars are read when asked for, and again when their file has changed."""

    def __init__(self, folder: Folder, surroundings: Surroundings) -> None:
        """Open nothing yet: every file is read when it is needed."""
        self.folder = folder
        self.surroundings = surroundings
        self._cars: dict[str, tuple[_Stamp | None, CarRecord]] = {}
        self._saved: dict[str, tuple[_Stamp | None, RecordFile]] = {}
        self._reckoned: dict[str, tuple[_Stamp | None, date, CarToday]] = {}
        self._settings: tuple[Settings, FileFault | None] | None = None
        self._rules: tuple[RuleBook, tuple[Fault, ...]] | None = None
        self._stamps: dict[str, _Stamp] | None = None
        self._read_at: dict[str, _Stamp | None] = {}

    @property
    def path(self) -> Path:
        """Give the garage's folder."""
        return self.folder.path

    @property
    def book(self) -> RuleBook:
        """Give the rules in force."""
        return self._read_rules()[0]

    @property
    def rule_faults(self) -> tuple[Fault, ...]:
        """Give what is wrong with the garage's own rules; while anything is, they are not used."""
        return self._read_rules()[1]

    @property
    def settings(self) -> Settings:
        """Give the garage's settings; defaults where its record cannot be read."""
        return self._read_settings()[0]

    @property
    def settings_fault(self) -> FileFault | None:
        """Give why the garage's own record could not be read, if it could not."""
        return self._read_settings()[1]

    @property
    def today_date(self) -> date:
        """Give the day that counts as today."""
        return self.surroundings.today

    def turn_to(self, today: date) -> None:
        """Go on to another day, where the program stays open past midnight."""
        self.surroundings = replace(self.surroundings, today=today)

    def slugs(self) -> tuple[str, ...]:
        """Give the short names of the cars, sorted, without opening a file."""
        return self.folder.slugs()

    def find(self, text: str) -> str:
        """Give the short name of the car meant by the beginning of its short name or description.

        Files are opened only where no short name begins so.

        Raises:
            BadInput: no car is meant, or several are.
        """
        slugs = self.slugs()
        typed = text.strip().lower()
        if typed in slugs:
            return typed
        begun = [slug for slug in slugs if typed and slug.startswith(typed)]
        if len(begun) == 1:
            return begun[0]
        # Imported here: whoever gives a name that is one has no use for it.
        from castlenut.domain.naming import choose

        if begun:
            return choose(text, slugs, what="vehicle")
        also: dict[str, str] = {}
        for slug in slugs:
            found = self.folder.load(slug)
            if isinstance(found, RecordFile):
                for record in found.table("vehicle"):
                    description = record.values.get("description")
                    if isinstance(description, str):
                        also.setdefault(description, slug)
        return choose(text, slugs, what="vehicle", also=also)

    def car(self, slug: str) -> CarRecord:
        """Read one car, and no other file; what was read before and has not changed is kept.

        Raises:
            CannotRead: its file is damaged, gone or may not be read.
        """
        stamp = self._stamp(slug)
        held = self._cars.get(slug)
        if held is not None and stamp is not None and held[0] == stamp:
            self._cars[slug] = self._cars.pop(slug)
            return held[1]
        record = car_record(self.file(slug))
        self._cars.pop(slug, None)
        self._cars[slug] = (stamp, record)
        while len(self._cars) > _MOST_HELD:
            del self._cars[next(iter(self._cars))]
        return record

    def file(self, slug: str) -> RecordFile:
        """Read one car's file, without putting the car together; one just saved is at hand.

        Raises:
            CannotRead: its file is damaged, gone or may not be read.
        """
        stamp = self._stamp(slug)
        saved = self._saved.get(slug)
        if saved is not None and stamp is not None and saved[0] == stamp:
            return saved[1]
        held = self._cars.get(slug)
        if held is not None and stamp is not None and held[0] == stamp:
            return held[1].file
        found = self.folder.load(slug)
        if isinstance(found, FileFault):
            raise CannotRead(found)
        return found

    def today(self, slug: str, *, on: date | None = None) -> CarToday:
        """Give what is due on a car, on the day that counts as today or on another.

        What was reckoned is kept as long as car, day, rules and settings are the same.

        Raises:
            CannotRead: its file cannot be read.
        """
        if on is not None:
            return self.reckoned(self.car(slug).car, on=on)
        stamp, today = self._stamp(slug), self.surroundings.today
        held = self._reckoned.pop(slug, None)
        if held is not None and stamp is not None and held[:2] == (stamp, today):
            self._reckoned[slug] = held
            return held[2]
        found = self.reckoned(self.car(slug).car)
        self._reckoned[slug] = (stamp, today, found)
        while len(self._reckoned) > _MOST_RECKONED:
            del self._reckoned[next(iter(self._reckoned))]
        return found

    def today_by_rule(self, slug: str, rule: RuleId) -> CarToday:
        """Give what is due on a car, of the kinds of part that one rule is about.

        Raises:
            CannotRead: its file cannot be read.
        """
        return self.reckoned(self.car(slug).car, kinds=self.book.kinds_of[rule])

    def reckoned(
        self, car: Car, *, on: date | None = None, kinds: Collection[str] | None = None
    ) -> CarToday:
        """Give what is due on a car as it stands in memory; with `kinds` on such parts only."""
        # Imported here: a reading that is saved asks nothing of it.
        from castlenut.domain.due import items_today

        return items_today(
            car,
            self.book,
            today=on or self.surroundings.today,
            south=self.settings.south,
            kinds=kinds,
        )

    def changed_files(self) -> tuple[str, ...]:
        """Name the files that changed on the disk since this was last asked or they were read.

        Settings and rules that changed are read again when next asked for.
        """
        now = dict(self.folder.stamps())
        before = {**(now if self._stamps is None else self._stamps), **self._read_stamps()}
        changed = tuple(
            sorted(name for name in {*now, *before} if now.get(name) != before.get(name))
        )
        self._stamps = now
        if folders.GARAGE in changed:
            self._settings = None
            self._reckoned.clear()
        if folders.RULES in changed:
            self._rules = None
            self._reckoned.clear()
        for name in changed:
            self._read_at.pop(name, None)
            slug = name.removeprefix(f"{folders.VEHICLES}/").removesuffix(".json")
            self._cars.pop(slug, None)
            self._saved.pop(slug, None)
        return changed

    def took(self, file: RecordFile) -> None:
        """Take a file as it was just saved: it is no outside change."""
        if file.place.stem == folders.GARAGE.removesuffix(".json"):
            self._settings = None
            self._reckoned.clear()
            self._read_at.pop(folders.GARAGE, None)
        else:
            self._cars.pop(file.slug, None)
            self._saved[file.slug] = (self._stamp(file.slug), file)
        if self._stamps is not None:
            name = file.place.path.relative_to(self.path).as_posix()
            stamp = self.folder.stamps().get(name)
            if stamp is not None:
                self._stamps[name] = stamp

    def change(self) -> Change:
        """Begin a change: its id, the instant, this machine."""
        return Change(
            id=self.surroundings.new_id(),
            at=self.surroundings.now(),
            by=self.surroundings.device(),
            doing=self.surroundings.command,
        )

    def garage_file(self) -> RecordFile:
        """Give the file of the garage's own record.

        Raises:
            CannotRead: it cannot be read.
        """
        found = self.folder.load_garage()
        if isinstance(found, FileFault):
            raise CannotRead(found)
        return found

    def keep(self, values: Mapping[str, Value]) -> None:
        """Save what the program itself keeps among the settings; None clears a field.

        Raises:
            CannotRead: the garage's own record cannot be read.
            NotSaved: the disk or the lock did not allow it.
        """
        of_record = Added if self.settings.record is None else Changed
        edit = of_record(table=GARAGE_RECORD, id=GARAGE_RECORD, values=values)
        self.took(self.folder.save(self.garage_file(), [edit], self.change()).file)

    def _read_stamps(self) -> dict[str, _Stamp | None]:
        """Give each file as it was when it was last read; None: it was not there."""
        cars = {slug: stamp for slug, (stamp, _) in {**self._saved, **self._cars}.items()}
        read = {f"{folders.VEHICLES}/{slug}.json": stamp for slug, stamp in cars.items()}
        return {**read, **self._read_at}

    def _stamp(self, slug: str) -> _Stamp | None:
        return _stamp_of(self.folder.place(slug).path)

    def _read_settings(self) -> tuple[Settings, FileFault | None]:
        if self._settings is None:
            self._read_at[folders.GARAGE] = _stamp_of(self.path / folders.GARAGE)
            found = self.folder.load_garage()
            if isinstance(found, FileFault):
                self._settings = (Settings(), found)
            else:
                records = found.table(folders.GARAGE.removesuffix(".json"))
                self._settings = (settings_of(records[0] if records else None), None)
        return self._settings

    def _read_rules(self) -> tuple[RuleBook, tuple[Fault, ...]]:
        if self._rules is None:
            self._read_at[folders.RULES] = _stamp_of(self.path / folders.RULES)
            text = self.folder.rules_text()
            shipped = _shipped()
            if isinstance(text, FileFault):
                book, _ = rule_book(shipped, None)
                self._rules = (book, (Fault(text.message, text.file, "mend the file"),))
            else:
                self._rules = rule_book(shipped, text)
        return self._rules


def _stamp_of(path: Path) -> _Stamp | None:
    try:
        seen = path.lstat()
    except OSError:
        return None
    return seen.st_ino, seen.st_size, seen.st_mtime_ns


@cache
def _shipped() -> ShippedTables:
    """Give the rules that come with the program, each read once a run."""
    return shipped_on_demand(shipped_texts())


def open_garage(path: Path, surroundings: Surroundings) -> Garage:
    """Open the garage at a path. Nothing is written.

    Raises:
        BadInput: there is none, or it cannot be read.
    """
    return Garage(open_folder(path), surroundings)


def make_garage(path: Path, surroundings: Surroundings) -> Garage:
    """Open the garage at a path, and make it first where there is none.

    Raises:
        BadInput: the folder holds other things.
        NotSaved: it could not be made.
    """
    change = Change(
        id=surroundings.new_id(),
        at=surroundings.now(),
        by=surroundings.device(),
        doing=surroundings.command,
    )
    folder = folders.make_garage(path, identity=surroundings.new_id(), change=change)
    return Garage(folder, surroundings)


def car_record(file: RecordFile) -> CarRecord:
    """Put a car together from its file."""
    read = car_of(VehicleId(file.vehicle_id), file.slug, file.records())
    return CarRecord(
        car=read.car,
        file=file,
        look_at=(
            *(fault.message for fault in file.faults),
            *read.set_aside,
            *differences_of(file.records()),
        ),
    )


def file_look_at(file: RecordFile) -> tuple[str, ...]:
    """Say what of a file needs a look, whatever car it makes."""
    return *(fault.message for fault in file.faults), *differences_of(file.records())


def differences_of(records: Sequence[StoredRecord]) -> tuple[str, ...]:
    """Say of each field on which copies differ which values there are, and which is used."""
    return tuple(
        f"{record.table} {short(RecordId(record.id))}: {field} is "
        + ", or ".join(f"{_told(field, each.value)} by {each.by}" for each in alternatives)
        + "; the first is used until one is chosen"
        for record in records
        for field, alternatives in sorted(record.differences.items())
    )


def _told(field: str, value: Value) -> str:
    return "one text" if field in PRIVATE else shown(value)
