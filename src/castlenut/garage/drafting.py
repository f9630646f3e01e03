"""Putting a draft together: what was typed is read, every fault collected, every edit gathered."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from castlenut.domain.car import Car
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.odometer import Odometer
from castlenut.garage import entry
from castlenut.garage.car_record import CarRecord
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.photos import Photo
from castlenut.store.records import THIS_GARAGE
from castlenut.store.revisions import Added, Changed, Edit, Gone
from castlenut.store.schema import check_record, check_values
from castlenut.store.values import Value, whole_if_whole

if TYPE_CHECKING:
    from castlenut.domain.due import CarToday
    from castlenut.domain.item import Item

T = TypeVar("T")

NOT_KNOWN = frozenset({"-", "unknown", "not known"})
"""Typed for a day or a distance that nobody knows."""

ESTIMATED = "dial figure estimated"
"""Stands as a note where a record has no field of its own to say so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DialThen:
    """What the dial showed when something was done. `at` None: nobody knows."""

    at: Decimal | None
    is_estimated: bool


class Drafting:
    """One change of one car being put together."""

    def __init__(self, garage: Garage, slug: str) -> None:
        """Begin with the car as it stands.

        Raises:
            CannotRead: its file cannot be read.
        """
        self.garage = garage
        self.slug = slug
        self.record: CarRecord = garage.car(slug)
        self.faults: list[Fault] = []
        self.told: list[str] = []
        self.photos: list[Photo] = []
        self._edits: dict[tuple[str, str], Edit] = {}

    @property
    def car(self) -> Car:
        """Give the car as it stands."""
        return self.record.car

    @property
    def today(self) -> date:
        """Give the day that counts as today."""
        return self.garage.surroundings.today

    @cached_property
    def items(self) -> CarToday:
        """Give what is due on the car as it stands."""
        return self.garage.today(self.slug)

    @property
    def odometer(self) -> Odometer:
        """Give the car's dial history, the figures read when jobs were done among it."""
        return self.items.odometer

    def read(self, reading: Callable[[], T]) -> T | None:
        """Read one thing that was typed; its faults are kept until all is read."""
        try:
            return reading()
        except BadInput as bad:
            self.faults.extend(bad.faults)
            return None

    def whole(self, part: Callable[[], None]) -> None:
        """Do a part of the change whole, or nothing of it.

        Raises:
            BadInput: with the faults of that part alone.
        """
        edits, before = dict(self._edits), len(self.faults)
        try:
            part()
        except BadInput as bad:
            self.faults.extend(bad.faults)
        found = self.faults[before:]
        if found:
            self._edits = edits
            del self.faults[before:]
            raise BadInput(*found)

    def named(self, text: str) -> tuple[Item, ...]:
        """Give the items that an argument means; none where it means none, the fault being kept."""
        # Imported here: a reading names no item.
        from castlenut.domain.naming import find_items

        rules = self.garage.book.rules
        return self.read(lambda: find_items(text, self.items.items, rules)) or ()

    def fault(self, what: str, *, where: str, remedy: str) -> None:
        """Keep a fault."""
        self.faults.append(Fault(what, where, remedy))

    def past_day(self, text: str | None, *, field: str = "on") -> date:
        """Read the day something was done; none typed is today. A fault gives today."""
        if text is None:
            return self.today
        found = self.read(lambda: entry.day(text, today=self.today, past=True, field=field))
        if found is None:
            return self.today
        self.check_made(found, field=field)
        return found

    def check_made(self, day: date, *, field: str) -> None:
        """Keep a fault for a day before the car was made.

        Cars of a model year are built from the year before on.
        """
        year = self.car.vehicle.year
        if year is not None and day.year < year - 1:
            self.fault(
                f"{day.isoformat()} is before the car was made, {year}",
                where=field,
                remedy="give a later day, or correct the vehicle's year",
            )

    def figure(self, text: str, *, field: str) -> Decimal | None:
        """Read what the dial showed, in the dial's unit."""
        dial = self.car.vehicle.dial
        last = self.odometer.last()
        found = self.read(
            lambda: entry.distance(text, dial, field=field, last=last.shown if last else None)
        )
        return None if found is None else entry.on_dial(found, dial)

    def dial_then(self, text: str | None, on: date, *, field: str = "at") -> DialThen:
        """Read what the dial showed on a day; none typed is the estimate for it, marked so."""
        if text is not None and text.strip().lower() in NOT_KNOWN:
            return DialThen(at=None, is_estimated=False)
        if text is not None:
            at = self.figure(text, field=field)
            if at is not None:
                self._tell_misfit(at, on)
            return DialThen(at=at, is_estimated=False)
        for placed in reversed(self.odometer.sound):
            if placed.reading.on == on:
                return DialThen(at=placed.shown, is_estimated=False)
        estimate = self._estimate(on)
        if estimate is None:
            self.told.append("no dial figure is known for that day: give one with --at")
            return DialThen(at=None, is_estimated=False)
        self.told.append(
            f"dial figure taken as {whole_if_whole(estimate):,} {self.car.vehicle.dial.unit.value},"
            " estimated"
        )
        return DialThen(at=estimate, is_estimated=True)

    def _estimate(self, on: date) -> Decimal | None:
        """Give what the dial is thought to have shown; None where nothing tells.

        Readings tell of a time before them as long as they span, and no further back.
        """
        sound = self.odometer.sound
        band = self.items.use.distance_on(on)
        if band is None or not sound:
            return None
        first, last = sound[0].reading.on, sound[-1].reading.on
        if on < first and first - on > last - first:
            return None
        return self.odometer.shown_of(band.p50)

    def _tell_misfit(self, at: Decimal, on: date) -> None:
        """Tell where a dial figure lies outside the readings around its day: kept as typed."""
        distance = self.odometer.distance_of(at, on)
        if distance is None:
            return
        sound = self.odometer.sound
        before = next((each for each in reversed(sound) if each.reading.on <= on), None)
        after = next((each for each in sound if each.reading.on >= on), None)
        for placed, sign, word in ((before, 1, "lower"), (after, -1, "higher")):
            if placed is None or placed.distance is None:
                continue
            if sign * (placed.distance - distance) > 1:
                self.told.append(
                    f"{whole_if_whole(at):,} is {word} than the reading"
                    f" {whole_if_whole(placed.shown):,} of {placed.reading.on.isoformat()}:"
                    " kept as typed"
                )

    def who(self, by: str | None) -> str:
        """Give who did it, as records hold it."""
        plain = (by or "").strip()
        return THIS_GARAGE if plain.lower() in {"", THIS_GARAGE, "us", "me"} else plain

    def add(self, table: str, values: Mapping[str, Value]) -> str:
        """Add a record, and give its id. Fields of None are left out."""
        record = self.garage.surroundings.new_id()
        given = {name: value for name, value in values.items() if value is not None}
        self.faults.extend(check_record(table, given))
        self._edits[table, record] = Added(table=table, id=record, values=given)
        return record

    def amend(self, table: str, record: str, values: Mapping[str, Value]) -> None:
        """Set fields of a record; several times for one record adds up."""
        self.faults.extend(check_values(table, values))
        before = self._edits.get((table, record))
        merged = {**(before.values if before else {}), **values}
        if isinstance(before, Added):
            self._edits[table, record] = Added(table=table, id=record, values=merged)
        else:
            self._edits[table, record] = Changed(table=table, id=record, values=merged)

    def strike(self, table: str, record: str, *, gone: bool, why: str | None) -> None:
        """Strike a record, or restore it."""
        values: dict[str, Value] = {} if why is None else {"note": why}
        self.faults.extend(check_values(table, values))
        self._edits[table, record] = Gone(table=table, id=record, gone=gone, values=values)

    def draft(
        self, title: str, *, items: Sequence[ItemId] = (), cautions: Sequence[str] = ()
    ) -> Draft:
        """Give the draft.

        Raises:
            BadInput: with every fault met.
        """
        if self.faults:
            raise BadInput(*dict.fromkeys(self.faults))
        return Draft(
            slug=self.slug,
            file=self.record.file,
            edits=tuple(self._edits.values()),
            told=tuple(self.told),
            title=title,
            items=tuple(items),
            cautions=tuple(cautions),
            photos=tuple(self.photos),
        )


def number(value: Decimal | None) -> Value:
    """Give a figure as records hold it."""
    return None if value is None else whole_if_whole(value)


def iso(value: date | None) -> Value:
    """Give a day as records hold it."""
    return None if value is None else value.isoformat()


def noted(note: str | None, *, is_estimated: bool) -> Value:
    """Give a note, with a remark where the dial figure of the record is an estimate."""
    remarks: Sequence[str | None] = (note, ESTIMATED if is_estimated else None)
    return "; ".join(remark for remark in remarks if remark) or None
