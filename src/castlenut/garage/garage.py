"""A garage as the faces see it: its cars, its rules, its settings, read once and kept in step."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Collection, Iterator, Mapping
from datetime import date, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from castlenut.domain.car import Car
from castlenut.domain.errors import Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ids import RuleId
from castlenut.domain.rules.on_demand import shipped_on_demand
from castlenut.domain.rules.precedence import rule_book
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.rules.shipped import ShippedTables
from castlenut.garage.car_record import CarRecord, car_record, file_look_at
from castlenut.garage.settings import Settings, settings_of
from castlenut.store import folder as folders
from castlenut.store.beside import rules_text
from castlenut.store.cars import Cars, Stamp
from castlenut.store.faults import FaultWord, FileFault, FileRefused
from castlenut.store.folder import Folder, open_folder
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change, Changed, Deed, Forgotten
from castlenut.store.schema import GARAGE_RECORD
from castlenut.store.shipped import shipped_texts
from castlenut.store.values import Value

if TYPE_CHECKING:
    from castlenut.domain.due import CarToday

_MOST_HELD = 20
"""Cars kept in memory with all their records; those seen longest ago are let go."""
_MOST_RECKONED = 60
"""Cars whose items are kept: a board is gone through again and again, a form asks at every key."""

_ALONE = "the shipped rules are used alone until this is mended"

_Stamp = tuple[tuple[str, Stamp], ...]
"""Of each file of a car its name in the garage, and by what a change of it is seen."""


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


class TakenBack(CannotRead):
    """Taking the car in was taken back: it stands in no list, until it is restored."""

    def __init__(self, file: RecordFile) -> None:
        super().__init__(
            FileFault(
                file=file.place.name,
                word=FaultWord.GONE,
                message="taking this car in was taken back:"
                f' "castlenut restore {file.slug} vehicle" brings it back',
            )
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reckoned:
    """What the items of a car rest on."""

    car: Car
    book: RuleBook
    south: bool
    today: date

    def holds_for(self, now: _Reckoned) -> bool:
        """Tell whether what was reckoned still holds. Car and rules are made anew where changed."""
        return (
            self.car is now.car
            and self.book is now.book
            and (self.south, self.today) == (now.south, now.today)
        )


class Garage:
    """One garage, opened. Cars are read when asked for, and again when their file has changed."""

    def __init__(self, folder: Folder, surroundings: Surroundings) -> None:
        """Open nothing yet: every file is read when it is needed."""
        self.folder = folder
        self.surroundings = surroundings
        self._cars: dict[str, tuple[_Stamp | None, CarRecord]] = {}
        self._reckoned: dict[str, tuple[_Reckoned, CarToday]] = {}
        self._saved: dict[str, tuple[_Stamp | None, RecordFile]] = {}
        self._settings: tuple[Settings, FileFault | None] | None = None
        self._settings_told: tuple[str, ...] = ()
        self._rules: tuple[RuleBook, tuple[Fault, ...]] | None = None
        self._stamps: dict[str, Stamp] | None = None
        self._read_at: dict[str, Stamp | None] = {}
        self._held: CarRecord | None = None
        self._index: tuple[Stamp | None, bool, Cars] | None = None
        self._taken_back: dict[str, tuple[_Stamp | None, bool]] = {}

    @property
    def path(self) -> Path:
        """Give the garage's folder."""
        return self.folder.path

    @property
    def book(self) -> RuleBook:
        """Give the rules in force."""
        return self._read_rules()[0]

    @property
    def shipped_book(self) -> RuleBook:
        """Give the rules as they come with the program, whatever the garage has changed."""
        return rule_book(_shipped(), None)[0]

    @property
    def rule_faults(self) -> tuple[Fault, ...]:
        """Give what is wrong with the garage's own rules; while anything is, they are not used."""
        return self._read_rules()[1]

    @property
    def rule_faults_told(self) -> tuple[str, ...]:
        """Give the same in sentences, each with what it means for the rules."""
        told = (str(fault) for fault in self.rule_faults)
        return tuple(each if _ALONE in each else f"{each}; {_ALONE}" for each in told)

    @property
    def settings(self) -> Settings:
        """Give the garage's settings; defaults where its record cannot be read."""
        return self._read_settings()[0]

    @property
    def settings_fault(self) -> FileFault | None:
        """Give why the garage's own record could not be read, if it could not."""
        return self._read_settings()[1]

    @property
    def settings_told(self) -> tuple[str, ...]:
        """Give what is to be told of the garage's own record: copies counted in, what is odd."""
        self._read_settings()
        return self._settings_told

    @property
    def today_date(self) -> date:
        """Give the day that counts as today."""
        return self.surroundings.today

    def turn_to(self, today: date) -> None:
        """Go on to another day, where the program stays open past midnight."""
        self.surroundings = replace(self.surroundings, today=today)

    def slugs(self) -> tuple[str, ...]:
        """Give the short names of the cars, sorted; those whose taking in was undone left out."""
        cars = self._which_cars(thorough=True).by_slug
        there = {
            slug for slug in cars if not (cars[slug].may_be_struck and self._is_taken_back(slug))
        }
        return tuple(sorted(there | self.vanished()))

    def vanished(self) -> frozenset[str]:
        """Give the cars whose files left the folder and that are still held in memory."""
        return frozenset(slug for slug in {*self._cars, *self._saved} if self._stamp(slug) is None)

    def _which_cars(self, *, thorough: bool = False) -> Cars:
        """Give which file holds which car, found out anew when a file came or went."""
        stamp = self.folder.stamp()
        known = self._index
        if known is None or known[0] != stamp or (thorough and not known[1]):
            known = (stamp, thorough, self.folder.cars(thorough=thorough))
            self._index = known
        return known[2]

    def _is_taken_back(self, slug: str) -> bool:
        """Tell whether a file holds struck records alone; each version of a file is asked once."""
        stamp = self._stamp(slug)
        known = self._taken_back.get(slug)
        if known is None or known[0] != stamp:
            try:
                is_so = self.file(slug).is_taken_back
            except CannotRead:
                is_so = False
            self._taken_back[slug] = known = (stamp, is_so)
        return known[1]

    def find(self, text: str) -> str:
        """Give the short name of the car meant by the beginning of its short name or description.

        Files are opened only where no short name begins so.

        Raises:
            BadInput: no car is meant, or several are.
        """
        slugs = tuple(self._which_cars().by_slug)
        typed = text.strip().lower()
        if typed in slugs:
            return typed
        begun = [slug for slug in slugs if typed and slug.startswith(typed)]
        if len(begun) == 1:
            return begun[0]
        slugs = self.slugs()
        # Imported here: whoever gives a name that is one has no use for it.
        from castlenut.domain.naming import choose

        if begun:
            return choose(text, slugs, what="vehicle")
        also: dict[str, str] = {}
        for slug in slugs:
            try:
                found = self.file(slug)
            except CannotRead:
                continue
            for record in found.table("vehicle"):
                description = record.values.get("description")
                if isinstance(description, str):
                    also.setdefault(description, slug)
        return choose(text, slugs, what="vehicle", also=also)

    def car(self, slug: str) -> CarRecord:
        """Read one car, and no other file; what was read before and has not changed is kept.

        Raises:
            CannotRead: its file is damaged, gone or may not be read.
            TakenBack: taking it in was taken back.
        """
        if self._held is not None and self._held.file.slug == slug:
            return self._held
        stamp = self._stamp(slug)
        held = self._cars.get(slug)
        if held is not None and (stamp is None or held[0] == stamp):
            # A file that vanished is still shown from memory, and the next save makes it anew.
            self._cars[slug] = self._cars.pop(slug)
            return held[1]
        file = self.file(slug)
        if file.is_taken_back:
            raise TakenBack(file)
        record = car_record(file)
        self._cars.pop(slug, None)
        self._cars[slug] = (stamp, record)
        while len(self._cars) > _MOST_HELD:
            del self._cars[next(iter(self._cars))]
        return record

    @contextlib.contextmanager
    def holding(self, record: CarRecord | None) -> Iterator[None]:
        """Answer for a car from one state of it, while the body runs, whatever is on the disk.

        A form drafts so from what it began with: what another changed meanwhile is met when it is
        saved, and becomes a difference where both set a field. None holds nothing.
        """
        before, self._held = self._held, record
        try:
            yield
        finally:
            self._held = before

    def file(self, slug: str) -> RecordFile:
        """Read one car's file, without putting the car together; one just saved is at hand.

        Raises:
            CannotRead: its file is damaged, gone or may not be read.
        """
        if self._held is not None and self._held.file.slug == slug:
            return self._held.file
        stamp = self._stamp(slug)
        saved = self._saved.get(slug)
        if saved is not None and (stamp is None or saved[0] == stamp):
            return saved[1]
        held = self._cars.get(slug)
        if held is not None and (stamp is None or held[0] == stamp):
            return held[1].file
        cars = self._which_cars()
        if slug not in cars.by_slug:
            cars = self._which_cars(thorough=True)
        found = self.folder.load(slug, cars)
        if isinstance(found, FileFault):
            raise CannotRead(found)
        return found

    def today(self, slug: str, *, on: date | None = None) -> CarToday:
        """Give what is due on a car, on the day that counts as today or on another.

        What was reckoned is kept as long as car, day, rules and settings are the same.

        Raises:
            CannotRead: its file cannot be read.
        """
        car = self.car(slug).car
        if on is not None:
            return self.reckoned(car, on=on)
        now = _Reckoned(
            car=car,
            book=self.book,
            south=self.settings.south,
            today=self.surroundings.today,
        )
        before = self._reckoned.pop(slug, None)
        if before is None or not before[0].holds_for(now):
            before = (now, self.reckoned(car))
        self._reckoned[slug] = before
        while len(self._reckoned) > _MOST_RECKONED:
            del self._reckoned[next(iter(self._reckoned))]
        return before[1]

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
        if folders.RULES in changed:
            self._rules = None
        cars = self._which_cars()
        if changed:
            self._index = None
        for name in changed:
            self._read_at.pop(name, None)
            of = name.removeprefix(f"{folders.VEHICLES}/")
            holders = (cars.holder(of), self._which_cars().holder(of))
            for slug in (of.removesuffix(".json"), *(each.slug for each in holders if each)):
                if self._stamp(slug) is not None:
                    self._cars.pop(slug, None)
                    self._saved.pop(slug, None)
        return changed

    def took(self, file: RecordFile) -> None:
        """Take a file as it was just saved: it is no outside change."""
        self._index = None
        if file.place.stem == folders.GARAGE.removesuffix(".json"):
            self._settings = None
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

    def keep(self, values: Mapping[str, Value], *, forgets: bool = False) -> None:
        """Save what the program itself keeps among the settings; None clears a field.

        `forgets`: what those fields held before leaves every revision and every former copy.

        Raises:
            CannotRead: the garage's own record cannot be read.
            NotSaved: the disk or the lock did not allow it.
        """
        change = self.change()
        edit: Deed
        if forgets and self.settings.record is not None:
            edit = Forgotten(
                table=GARAGE_RECORD, id=GARAGE_RECORD, fields=tuple(values), then=values
            )
        else:
            of_record = Added if self.settings.record is None else Changed
            edit = of_record(table=GARAGE_RECORD, id=GARAGE_RECORD, values=values)
        done = self.folder.save(self.garage_file(), [edit], change)
        self.took(done.file)
        if forgets:
            # Loaded here: hardly any command forgets.
            from castlenut.store.former import delete_former

            delete_former(self.folder, done.file, change)

    def _read_stamps(self) -> dict[str, Stamp | None]:
        """Give each file as it was when it was last read; None: it was not there."""
        read = {slug: stamp for slug, (stamp, _) in {**self._saved, **self._cars}.items()}
        cars = {name: each for stamp in read.values() if stamp for name, each in stamp}
        return {**cars, **self._read_at}

    def _stamp(self, slug: str) -> _Stamp | None:
        """Give inode, size and time of all files of a car; None where one cannot be seen."""
        known = self._which_cars().by_slug.get(slug)
        names = known.names if known is not None else (f"{slug}.json",)
        seen = [(name, _stamp_of(self.folder.vehicles / name)) for name in names]
        if any(stamp is None for _, stamp in seen):
            return None
        return tuple(
            (f"{folders.VEHICLES}/{name}", stamp) for name, stamp in seen if stamp is not None
        )

    def _read_settings(self) -> tuple[Settings, FileFault | None]:
        if self._settings is None:
            self._read_at[folders.GARAGE] = _stamp_of(self.path / folders.GARAGE)
            found = self.folder.load_garage()
            if isinstance(found, FileFault):
                self._settings = (Settings(), found)
                self._settings_told = ()
            else:
                self._settings_told = tuple(
                    f"{found.place.name}: {sentence}" for sentence in file_look_at(found)
                )
                records = found.table(folders.GARAGE.removesuffix(".json"))
                self._settings = (settings_of(records[0] if records else None), None)
        return self._settings

    def _read_rules(self) -> tuple[RuleBook, tuple[Fault, ...]]:
        if self._rules is None:
            self._read_at[folders.RULES] = _stamp_of(self.path / folders.RULES)
            text = rules_text(self.folder)
            shipped = _shipped()
            if isinstance(text, FileFault):
                book, _ = rule_book(shipped, None)
                self._rules = (book, (Fault(text.message, text.file, "mend the file"),))
            else:
                self._rules = rule_book(shipped, text)
        return self._rules


def _stamp_of(path: Path) -> Stamp | None:
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
    # Loaded here: a garage is made once.
    from castlenut.store import founding

    folder = founding.make_garage(path, identity=surroundings.new_id(), change=change)
    return Garage(folder, surroundings)
